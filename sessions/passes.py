"""Prepaid passes as sums: what is left, which pass a session is taken from, what is booked ahead.

Days are plain dates of the studio and are never shifted by a time zone: a pass holds on its last day, whole.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace

# These come to a session's worth: the hour was held. Whoever cancels in time keeps theirs. A house rule.
USING = frozenset({"done", "cancelled_late", "no_show"})
# These will come to one, as far as anybody knows.
AHEAD = frozenset({"booked", "arrived"})


@dataclass(frozen=True)
class Holding:
    """A pass as the sums need it, without its price. key: whatever names it; left: sessions left on it."""

    key: int
    left: int
    bought_on: dt.date
    last_day: dt.date | None = None

    def covers(self, day: dt.date) -> bool:
        """Return whether the pass holds on a day: from the day it was bought to its last day, both included."""
        return self.bought_on <= day and (self.last_day is None or day <= self.last_day)


@dataclass(frozen=True)
class Standing:
    """How somebody stands with their passes on a day. kind: 'left', 'last', 'none', 'ended' or 'no_pass'."""

    kind: str
    left: int = 0


def balance(deltas: Iterable[int]) -> int:
    """Return what is left on a pass: the sum of its ledger."""
    return sum(deltas)


def take_from(holdings: Iterable[Holding], day: dt.date) -> Holding | None:
    """Return the pass that a session of a day is taken from, or None where no pass holds one.

    Of those that cover the day and still hold a session, the one that ends first: what is bought later is not
    used up while something older runs out. Passes without a last day come after those that have one.
    """
    there = [one for one in holdings if one.left > 0 and one.covers(day)]
    return min(there, key=lambda one: (one.last_day or dt.date.max, one.bought_on, one.key), default=None)


def ahead(holdings: Iterable[Holding], days: Iterable[dt.date]) -> tuple[dict[int, int], int]:
    """Return how many coming bookings each pass will pay for, by its key, and how many none will.

    days: the days of the bookings that are still to come, each once for every booking.
    """
    now = {one.key: one for one in holdings}
    counts, beyond = dict.fromkeys(now, 0), 0
    for day in sorted(days):
        found = take_from(now.values(), day)
        if found is None:
            beyond += 1
            continue
        counts[found.key] += 1
        now[found.key] = replace(found, left=found.left - 1)
    return counts, beyond


def standing(holdings: Iterable[Holding], day: dt.date) -> Standing:
    """Return what is left to somebody on a day, all their passes together."""
    holdings = list(holdings)
    left = sum(one.left for one in holdings if one.covers(day))
    if left:
        return Standing("last" if left == 1 else "left", left)
    if not holdings:
        return Standing("no_pass")
    over = any(one.left > 0 and one.last_day and one.last_day < day for one in holdings)
    return Standing("ended" if over else "none")


def state(holding: Holding, day: dt.date) -> str:
    """Return what a pass is on a day: 'used_up', 'ended' (with sessions unused), 'to_begin' or 'running'."""
    if holding.left == 0:
        return "used_up"
    if holding.last_day and holding.last_day < day:
        return "ended"
    return "running" if holding.covers(day) else "to_begin"
