"""Exercises of a handout that its page shows farther than the client is to go by now. Plain computation.

A limit that was lowered, set anew or moved to the other side makes a page wrong; one that was raised does not, nor
one that stops nothing of what the page draws.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from library.body import limits as ranges
from sessions.handout_limits import Limit, Limits, as_given
from sessions.handout_parts import Item

# Nearer than this, in shares of the way, two limits are one: a drawing does not tell them apart.
_ALIKE = 0.005


@dataclass(frozen=True)
class Shortened:
    """An exercise that the page shows farther than it is to go now, and on which sides.

    item: as it is printed. sides: 'left', 'right', or None for work without sides. now: the client's limits as they
    are kept.
    """

    item: Item
    sides: tuple[str | None, ...]
    now: dict

    @property
    def key(self) -> str:
        return self.item.exercise

    def limits_of(self, side: str | None) -> tuple[dict | None, dict | None]:
        """Return what the page says of a side and what holds now; None is the whole way."""
        return self.item.limits.of(side), _limits(self.now).of(side)


def is_shorter(pose: Mapping, before: dict | None, now: dict | None) -> bool:
    """Return whether a limit stops a drawn movement earlier than the one before it.

    One that the drawing cannot tell stops it earlier in doubt, unless it is the one there was.
    """
    if not now or now == before:
        return False
    leading = ranges.lead(pose)
    share, was = ranges.share_of(now, leading), ranges.share_of(before, leading)
    if share is None:
        return True
    # Where the page could not tell its own limit, it draws the whole way.
    return ranges.effect_of(share) != ranges.NO_EFFECT and share < (1.0 if was is None else was) - _ALIKE


def shortened(
    items: Iterable[Item], now: Mapping[str, dict], closed: Iterable[Mapping] = ()
) -> list[Shortened]:
    """Return the exercises of a page that go farther on it than now, in their order.

    now: library id -> the client's limits, as kept. closed: the same of each time that somebody dealt with the page;
    what has not been lowered further since then counts no more.
    """
    closed = list(closed)
    found = (_one(item, now[item.exercise], closed) for item in items if now.get(item.exercise))
    return [one for one in found if one]


def _one(item: Item, now: dict, closed: list[Mapping]) -> Shortened | None:
    sides = _shorter(item, item.limits, now)
    before = [then[item.exercise] for then in closed if item.exercise in then]
    if not sides or any(not _shorter(item, _limits(limits), now) for limits in before):
        return None
    return Shortened(item, sides, now)


def _shorter(item: Item, before: Limits, now: dict) -> tuple[str | None, ...]:
    after = _limits(now)
    return tuple(side for side in item.dose.sides if is_shorter(item.pose, before.of(side), after.of(side)))


def _limits(kept: dict) -> Limits:
    return Limits(**{side: Limit(**limit) for side, limit in as_given(kept).items()})
