"""How long a plan takes, and what its rows ask for. Plain computation."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

# Mat, standing and small props share the floor: going between them is no change of apparatus.
FLOOR = frozenset({"mat", "standing", "small_prop"})


@dataclass(frozen=True)
class Pace:
    """The studio's four numbers. pace_percent stretches the bare count; the rest are seconds."""

    pace_percent: int = 160
    change_seconds: int = 75
    check_in_seconds: int = 300
    close_seconds: int = 240


@dataclass(frozen=True)
class Row:
    """What the sums need of one plan row.

    facts: the exercise's facts. left, right, both: repetitions of each side, or of both together.
    hold: seconds of one repetition where it is held; None takes the exercise's own time. hold_right: the same
    for the right side, where it differs. minutes: what the instructor typed in its place, or None. pause:
    seconds of rest written after it; they are no part of the row's own time, and of the session's as they are.
    """

    facts: dict
    left: int = 0
    right: int = 0
    both: int = 0
    hold: int | None = None
    hold_right: int | None = None
    minutes: int | None = None
    pause: int = 0


def is_sided(facts: dict) -> bool:
    """Return whether left and right are counted apart."""
    return facts["sides"] != "both_together"


def usual_repetitions(facts: dict) -> int:
    """Return the middle of the usual range, rounded half up."""
    return (facts["reps_min"] + facts["reps_max"] + 1) // 2


def bare_seconds(row: Row) -> float:
    """Return set-up + repetitions x seconds each + the switch of sides (library time formula).

    The switch counts only where both sides are done one after the other.
    """
    facts = row.facts
    each = row.hold if row.hold is not None else facts["seconds_per_rep"]
    on_the_right = row.hold_right if row.hold_right is not None else each
    switch = facts["switch_s"] if row.left and row.right else 0
    return facts["setup_s"] + (row.left + row.both) * each + row.right * on_the_right + switch


def row_seconds(row: Row, pace: Pace) -> float:
    """Return what the row takes with talking and care: the typed minutes, or the bare time at the pace."""
    if row.minutes is not None:
        return row.minutes * 60
    return bare_seconds(row) * pace.pace_percent / 100


def place(facts: dict) -> str:
    """Return where the exercise is done: an apparatus, or 'floor'."""
    return "floor" if facts["apparatus"] in FLOOR else facts["apparatus"]


def changes(rows: Sequence[Row]) -> int:
    """Return how often the apparatus changes from one row to the next."""
    places = [place(row.facts) for row in rows]
    return sum(1 for before, after in zip(places, places[1:], strict=False) if before != after)


def total_seconds(rows: Iterable[Row], pace: Pace) -> float:
    """Return the whole session: check-in, rows at the pace and the rest after them, changes, close."""
    rows = list(rows)
    moving = sum(row_seconds(row, pace) + row.pause for row in rows) + changes(rows) * pace.change_seconds
    return pace.check_in_seconds + moving + pace.close_seconds


def whole_minutes(seconds: float) -> int:
    """Return minutes as they are shown: rounded up, since a session that runs over helps nobody."""
    return int(-(-seconds // 60))


def shown_minutes(seconds: float) -> int:
    """Return the minutes of one row as they are shown: rounded half up, never nothing."""
    return max(int(seconds / 60 + 0.5), 1)


def one_side_affected(sides: Iterable[str | None]) -> str | None:
    """Return 'left' or 'right' where that is the only side that flags name, else None.

    A flag on both sides, or on a side nobody knows, counts as both; one without sides does not count.
    """
    named = set()
    for side in sides:
        named |= {"left", "right"} if side in ("both", "unknown") else {side} & {"left", "right"}
    return named.pop() if len(named) == 1 else None


def again(facts: dict, done: Mapping[str, tuple[int | None, int | None]], *, apart: bool = False) -> dict:
    """Return sides and dose for doing an exercise again, from what was done of it.

    done: 'left', 'right' or 'both' -> (repetitions, seconds held), None where it was not noted. apart: the
    two sides were planned with numbers of their own, so each keeps what was done. Otherwise both get the
    same number, the smaller of the two: the weaker side sets it (common practice, no source). Where nothing
    was noted the usual repetitions stand. Keys are those of a plan row: sides, repetitions, seconds,
    repetitions_right, seconds_right.
    """
    sides = ""
    if is_sided(facts):
        named = [side for side in ("left", "right") if side in done]
        sides = named[0] if len(named) == 1 else "both"
    left, right = done.get("left"), done.get("right")
    values = {"sides": sides, "repetitions_right": None, "seconds_right": None}
    if sides == "both" and apart and left and right:
        values["repetitions"], values["seconds"] = left
        values["repetitions_right"] = right[0] if right[0] != left[0] else None
        values["seconds_right"] = right[1] if right[1] != left[1] else None
    else:
        noted = done.values() if sides != "both" or not (left and right) else (left, right)
        values["repetitions"] = min((n for n, _held in noted if n is not None), default=None)
        values["seconds"] = min((held for _n, held in noted if held is not None), default=None)
    if values["repetitions"] is None and values["seconds"] is None:
        values["repetitions"] = usual_repetitions(facts)
    return values
