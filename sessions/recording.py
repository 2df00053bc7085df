"""One entry as it went: what each side did, as planned or not, skipped, stopped, eased. Plain computation.

Empty is never zero: None and '' mean that nothing was noted. A plan row is anything with `sides`,
`repetitions`, `repetitions_right`, `seconds`, `seconds_right`, `setting` and `adaptations`.
"""

import hashlib
import uuid
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

# What becomes of an entry, as the record keeps it.
DONE, CHANGED, SKIPPED = "done", "changed", "skipped"
# The felt words that open the stop sheet, the gravest first.
STOP_FELT = ("numb_or_weak", "tingling", "pain")
NOTE_AT_MOST = 240
# What may be typed, so that a word of ours still fits before it.
TYPED_AT_MOST = 200


@dataclass(frozen=True)
class SideDone:
    """What one side did. None and '' mean not noted."""

    repetitions: int | None = None
    seconds: int | None = None
    range: str = ""
    quality: int | None = None
    felt: tuple[str, ...] = ()

    @property
    def counted(self) -> tuple[int | None, int | None]:
        return self.repetitions, self.seconds


@dataclass(frozen=True)
class Done:
    """One entry as it went: the device's id, what became of it, and its sides ('left', 'right', 'both').

    adaptations: those that were done; None as planned.
    """

    id: uuid.UUID
    state: str
    sides: dict[str, SideDone] = field(default_factory=dict)
    setting: dict = field(default_factory=dict)
    note: str = ""
    adaptations: tuple[str, ...] | None = None


def planned(item) -> dict[str, tuple[int | None, int | None]]:
    """Return what a plan row asks of each side: side -> (repetitions, seconds)."""
    left = (item.repetitions, item.seconds)
    right = (
        item.repetitions if item.repetitions_right is None else item.repetitions_right,
        item.seconds if item.seconds_right is None else item.seconds_right,
    )
    both = {"both": {"left": left, "right": right}, "left": {"left": left}, "right": {"right": right}}
    return both.get(item.sides, {"both": left})


def as_planned(item, entry_id: uuid.UUID, typed: Done | None = None) -> Done:
    """Return a plan row as done exactly so: its numbers, its springs and its changes.

    typed: what was said beside the numbers; its quality, range, felt words and note are kept.
    """
    typed = typed or Done(entry_id, DONE)
    sides = {
        name: replace(typed.sides.get(name, SideDone()), repetitions=count, seconds=held)
        for name, (count, held) in planned(item).items()
    }
    return Done(entry_id, DONE, sides, item.setting, typed.note)


def settled(item, typed: Done) -> Done:
    """Return the entry as 'done as planned' where its numbers and its setting are those of the plan."""
    counts = {name: side.counted for name, side in typed.sides.items()}
    same = _noted(counts) == _noted(planned(item)) and _hooked(typed.setting) == _hooked(item.setting)
    as_chosen = typed.adaptations is None or set(typed.adaptations) == set(item.adaptations)
    return replace(typed, state=DONE if same and as_chosen else CHANGED)


def _noted(counts: dict) -> dict:
    return {name: pair for name, pair in counts.items() if pair != (None, None)}


def _hooked(setting: dict) -> tuple[dict, dict]:
    """Return a setting so that two can be compared: springs by their id, and the free words."""
    springs = {s["spring"]: s["count"] for s in setting.get("springs", ()) if s.get("count")}
    return springs, {name: value for name, value in setting.items() if name != "springs" and value}


def skipped(typed: Done) -> Done:
    """Return an entry as skipped: no numbers, its note, and a stop sign where one was ticked."""
    sides = {name: SideDone(felt=_stops(side.felt)) for name, side in typed.sides.items()}
    return Done(typed.id, SKIPPED, _said(sides), note=typed.note)


def stopped(item, typed: Done, word: str) -> Done:
    """Return an entry that was broken off: its numbers only where they were changed by hand.

    The controls begin with the plan's numbers; how many of them were done before the stop nobody said.
    """
    asked = planned(item)
    sides = {
        name: replace(side, repetitions=None, seconds=None) if side.counted == asked.get(name) else side
        for name, side in typed.sides.items()
    }
    sides = _said(sides)
    return replace(typed, state=CHANGED if sides else SKIPPED, sides=sides, note=_joined(word, typed.note))


def eased(typed: Done, words: str) -> Done:
    """Return an entry that goes on lighter or smaller, with the words of the choice in its note."""
    return replace(typed, state=CHANGED, note=_joined(words, typed.note))


def _said(sides: dict[str, SideDone]) -> dict[str, SideDone]:
    return {name: side for name, side in sides.items() if side != SideDone()}


def _joined(word: str, note: str) -> str:
    if not note or word in note:
        return note or word
    return f"{word}; {note}"[:NOTE_AT_MOST]


def _stops(felt: Iterable[str]) -> tuple[str, ...]:
    return tuple(sign for sign in felt if sign in STOP_FELT)


def is_stop(felt: Iterable[str] | None) -> bool:
    """Return whether a sign to stop is among some felt words."""
    return bool(_stops(felt or ()))


def signs_of(pairs: Iterable[tuple[str, Iterable[str]]]) -> set[tuple[str, str]]:
    """Return every stop sign among (side, felt words) as (side, sign)."""
    return {(name, sign) for name, felt in pairs for sign in _stops(felt)}


def gravest(signs: set[tuple[str, str]]) -> tuple[str, str] | None:
    """Return the gravest of some signs and where it was felt ('left', 'right', 'both'), or None."""
    for sign in STOP_FELT:
        sides = [name for name, felt in signs if felt == sign]
        if sides:
            return sign, "both" if len(sides) > 1 else sides[0]
    return None


def flags_mark(flags: Iterable) -> str:
    """Return a short mark of a client's active flags, to notice that others count by now. A flag has public_id."""
    ids = sorted(flag.public_id for flag in flags)
    return hashlib.sha256(" ".join(ids).encode()).hexdigest()[:24]
