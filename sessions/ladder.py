"""How far a client is with each exercise: secure, in work, next. Plain computation.

The studio's own rule of going up, offered as a hint and decided by the instructor (common practice, no source; two
sessions running as in the two-for-two rule of strength training, ACSM position stand 2009, from memory): Steady or
better on both sides in two sessions running without a sign of harm is secure; at the top of the repetition range as
well, what grows from it may be next. Whether the breath flowed is nowhere written down and stays to be asked.
"""

import datetime as dt
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

SECURE, WORKING, NEXT = "secure", "working", "next"
STEADY = 3
RUNNING = 2
# Felt words that speak against going up.
AGAINST = frozenset(["pinch", "tingling", "numb_or_weak", "pain"])


@dataclass(frozen=True)
class Side:
    """What one side did; None is not noted."""

    quality: int | None = None
    repetitions: int | None = None
    felt: Collection[str] = ()


@dataclass(frozen=True)
class Went:
    """One entry of an exercise: its session (any mark that orders sessions), its day, its sides by name."""

    session: tuple
    on: dt.date
    sides: Mapping[str, Side] = field(default_factory=dict)
    skipped: bool = False


@dataclass(frozen=True)
class Standing:
    """kind: SECURE, WORKING or ''. ready: whether what grows from it may come next. last: the day it was last done."""

    kind: str = ""
    ready: bool = False
    last: dt.date | None = None


def standing(entries: Iterable[Went], facts: Mapping) -> Standing:
    """Return how far somebody is with one exercise, from all its entries; skipped ones count only by a sign."""
    sessions: dict[tuple, list[Went]] = {}
    for one in entries:
        if not one.skipped or _against(one):
            sessions.setdefault(one.session, []).append(one)
    done = [one for rows in sessions.values() for one in rows if not one.skipped]
    if not done:
        return Standing()
    last = max(one.on for one in done)
    newest = [sessions[mark] for mark in sorted(sessions, reverse=True)[:RUNNING]]
    secure = len(newest) == RUNNING and all(_steady(rows, facts) for rows in newest)
    ready = secure and all(_full(rows, facts) for rows in newest)
    return Standing(SECURE if secure else WORKING, ready, last)


def _against(one: Went) -> bool:
    return any(AGAINST & set(side.felt) for side in one.sides.values())


def _steady(rows: Sequence[Went], facts) -> bool:
    if any(_against(one) or one.skipped for one in rows):
        return False
    return all(noted and min(noted) >= STEADY for noted in _noted(rows, facts, "quality"))


def _full(rows: Sequence[Went], facts) -> bool:
    return all(noted and max(noted) >= facts["reps_max"] for noted in _noted(rows, facts, "repetitions"))


def _noted(rows, facts, what: str) -> list[list[int]]:
    """Return what was noted in one session for each side that must have it.

    A number for both at once speaks for each side only where the sides work together or in turn.
    """
    if facts["sides"] == "both_together":
        wanted = [("both", "left", "right")]
    elif facts["sides"] == "alternating":
        wanted = [("left", "both"), ("right", "both")]
    else:
        wanted = [("left",), ("right",)]
    values = [(name, getattr(side, what)) for one in rows for name, side in one.sides.items()]
    return [[value for name, value in values if name in names and value is not None] for names in wanted]


def upcoming(
    known: Mapping[str, Standing], facts: Mapping[str, Mapping], left_out: Collection[str] = ()
) -> set[str]:
    """Return what may come next: not done yet, and grown from something ready.

    Nothing it grows from is still in work, and it is not among those left out (what the rules say to avoid).
    """
    found = set()
    for key, one in facts.items():
        below = [known.get(low, Standing()) for low in one["progression_of"] if low in facts]
        tried = [low for low in below if low.kind]
        if (
            not known.get(key, Standing()).kind
            and key not in left_out
            and any(low.ready for low in tried)
            and all(low.kind == SECURE for low in tried)
        ):
            found.add(key)
    return found
