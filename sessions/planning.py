"""How long a plan takes, and what its rows ask for. Plain computation."""

from collections.abc import Iterable, Sequence
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
    hold: seconds of one repetition where it is held; None takes the exercise's own time. minutes: what the
    instructor typed in its place, or None.
    """

    facts: dict
    left: int = 0
    right: int = 0
    both: int = 0
    hold: int | None = None
    minutes: int | None = None


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
    switch = facts["switch_s"] if row.left and row.right else 0
    return facts["setup_s"] + (row.left + row.right + row.both) * each + switch


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
    """Return the whole session: check-in, rows at the pace, changes of apparatus, close."""
    rows = list(rows)
    moving = sum(row_seconds(row, pace) for row in rows) + changes(rows) * pace.change_seconds
    return pace.check_in_seconds + moving + pace.close_seconds


def whole_minutes(seconds: float) -> int:
    """Return minutes as they are shown: rounded up, since a session that runs over helps nobody."""
    return int(-(-seconds // 60))
