"""The sums of the diary: wall-clock times, overlaps, opening hours, late or in time. Plain computation."""

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from zoneinfo import ZoneInfo


@dataclass(frozen=True)
class Slot:
    """A stretch of time. `start` and `end` are aware; `end` does not belong to it."""

    start: dt.datetime
    end: dt.datetime

    def overlaps(self, other: "Slot") -> bool:
        """Return whether the two share any time. One that ends as the other begins does not."""
        return self.start < other.end and other.start < self.end


class NoSuchTime(ValueError):
    """The wall clock never shows this time: the clocks go forward over it."""


def slot(day: dt.date, time: dt.time, minutes: int, zone: str) -> Slot:
    """Return the slot that begins at a wall-clock time in a zone (an IANA name) and lasts so many minutes.

    An hour that the clocks show twice means the first of the two (PEP 495, fold 0). Raises NoSuchTime for
    an hour that is skipped.
    """
    there = ZoneInfo(zone)
    start = dt.datetime.combine(day, time, tzinfo=there).astimezone(dt.UTC)
    if start.astimezone(there).time().replace(fold=0) != time:
        raise NoSuchTime(f"{time:%H:%M} does not exist on {day}")
    return Slot(start, start + dt.timedelta(minutes=minutes))


def within_hours(time: dt.time, minutes: int, hours: Iterable[tuple[dt.time, dt.time]]) -> bool:
    """Return whether the whole stretch lies in one open stretch of its day (wall-clock times)."""
    begin = time.hour * 60 + time.minute
    return any(
        opens.hour * 60 + opens.minute <= begin and begin + minutes <= closes.hour * 60 + closes.minute
        for opens, closes in hours
    )


def free_starts(
    day: dt.date,
    minutes: int,
    hours: Iterable[tuple[dt.time, dt.time]],
    zone: str,
    fits: Callable[[Slot], bool],
    step: int = 30,
) -> list[dt.time]:
    """Return the wall-clock times of a day at which so many minutes fit, a step (minutes) apart, from each opening.

    fits: says of a slot whether nothing else stands in it. Hours that the clocks skip are left out.
    """
    found = []
    for opens, closes in hours:
        last = closes.hour * 60 + closes.minute - minutes
        for begin in range(opens.hour * 60 + opens.minute, last + 1, step):
            time = dt.time(*divmod(begin, 60))
            try:
                if fits(slot(day, time, minutes, zone)):
                    found.append(time)
            except NoSuchTime:
                continue
    return sorted(found)


def most_at_once(slots: Iterable[Slot], within: Slot) -> int:
    """Return the largest number of slots that run at the same moment inside a stretch."""
    inside = [s for s in slots if s.overlaps(within)]
    return max((sum(1 for s in inside if s.start <= at.start < s.end) for at in [*inside, within]), default=0)


def notice_is_late(start: dt.datetime, told: dt.datetime, hours: int, zone: str) -> bool:
    """Return whether a cancellation comes late: less than so many hours before, by the wall clock.

    The wall clock decides, so that a change of the clocks moves nobody's limit: 24 hours before Sunday
    09:00 is Saturday 09:00. Exactly on the limit is in time.
    """
    there = ZoneInfo(zone)
    begin = start.astimezone(there).replace(tzinfo=None)
    return told.astimezone(there).replace(tzinfo=None) > begin - dt.timedelta(hours=hours)
