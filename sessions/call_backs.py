"""When a handout that is out in the world has become wrong. Plain computation.

An item is a dict: `key` (library id), `facts` (a list: those that were issued, and those the exercise has now
where they are others), `sides`, `adaptations`, and `verdict`, the word of the judge when it was issued.
"""

import datetime as dt
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from library.precautions import Judgement
from library.verdicts import RANK
from sessions import judging


@dataclass(frozen=True)
class Wrong:
    """An exercise that is judged stricter than when it was issued. `judgement`: what the judge says now."""

    key: str
    before: str
    judgement: Judgement

    @property
    def verdict(self) -> str:
        return self.judgement.verdict


def wrong_items(items: Iterable[dict], flags: Iterable, on: dt.date) -> list[Wrong]:
    """Return the items whose verdict on this day is stricter than the one they were issued with."""
    flags = list(flags)
    found = [Wrong(item["key"], item["verdict"], _now(item, flags, on)) for item in items]
    return [wrong for wrong in found if RANK[wrong.verdict] > RANK[wrong.before]]


def _now(item: dict, flags: list, on: dt.date) -> Judgement:
    """Return the strictest judgement over the facts: a later look at an exercise may know more of it."""
    judged = [
        judging.judge_facts(flags, facts, on, sides=item["sides"], adaptations=item["adaptations"])
        for facts in item["facts"]
    ]
    return max(judged, key=lambda judgement: RANK[judgement.verdict])


def is_closed(closings: Iterable[tuple[Collection, Mapping]], flags: Collection, wrong: list[Wrong]) -> bool:
    """Return whether somebody has dealt with everything that is wrong now.

    closings: (flags, verdicts) of each: the ids of the flags there were, and the word of the judge for each
    exercise then. flags: the ids there are now. One more flag, or a stricter word, and it is open again.
    """
    return any(
        set(flags) <= set(then)
        and all(RANK[one.verdict] <= RANK[verdicts.get(one.key, "none")] for one in wrong)
        for then, verdicts in closings
    )
