"""A client's story by date: sessions, flags, goals, handouts in one order. Plain computation."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

# On one day the flag and the goal come before the session they were known in, the handout after it.
KINDS = ("flag", "goal", "session", "incident", "handout")


@dataclass(frozen=True)
class Event:
    """Something on a day. `thing` is what the page shows of it."""

    on: dt.date
    kind: str
    thing: object


def in_order(events: Iterable[Event], *, newest_first: bool = True) -> list[Event]:
    """Return events by date, and on one day in the order of KINDS; both turned round for newest first."""
    rows = sorted(events, key=lambda e: (e.on, KINDS.index(e.kind)))
    return rows[::-1] if newest_first else rows


@dataclass(frozen=True)
class Gap:
    """How left stands to right on one entry, as steps: never a mean, never a percentage."""

    left: int | None
    right: int | None

    @property
    def behind(self) -> str:
        """Return the side that is behind by the steps, or '' when even or when one was not noted."""
        if self.left is None or self.right is None or self.left == self.right:
            return ""
        return "left" if self.left < self.right else "right"
