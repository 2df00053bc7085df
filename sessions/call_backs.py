"""When a handout that is out in the world has become wrong. Plain computation.

An item is a dict: `key` (library id), `facts` (a list: those that were issued, and those the exercise has now
where they are others), `sides`, `adaptations`, `seconds` (planned time, None where it was not kept), and
`verdict`, the word of the judge when it was issued. Items stand in their printed order: minutes on the back
add up over neighbours, as they do in a plan.
"""

import datetime as dt
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace

from library.precautions import Judgement
from library.verdicts import RANK
from sessions import judging, planning


@dataclass(frozen=True)
class Wrong:
    """An exercise that is judged stricter than when it was issued. `judgement`: what the judge says now."""

    key: str
    before: str
    judgement: Judgement

    @property
    def verdict(self) -> str:
        return self.judgement.verdict


def wrong_items(items: Iterable[dict], flags: Iterable, on: dt.date, *, table=None) -> list[Wrong]:
    """Return the items whose verdict on this day is stricter than the one they were issued with.

    table: the rule table in force, which may have become stricter; None is the table as shipped.
    """
    flags, items = list(flags), list(items)
    placed = zip(items, _places(items), strict=True)
    found = [
        Wrong(item["key"], item["verdict"], _now(item, place, flags, on, table)) for item, place in placed
    ]
    return [wrong for wrong in found if RANK[wrong.verdict] > RANK[wrong.before]]


def _row(item: dict, facts: dict) -> judging.PlanRow:
    return judging.PlanRow(planning.Row(facts), sides=item["sides"], adaptations=tuple(item["adaptations"]))


def _places(items: list[dict]) -> list[judging.Place]:
    """Return what its neighbours make of each item. Where a time was not kept, no spell on the back is known."""
    rows = [_row(item, item["facts"][-1]) for item in items]
    seconds = [item.get("seconds") for item in items]
    if None in seconds:
        return [
            replace(place, supine_seconds=None)
            for place in judging.on_a_sheet(judging.timed(rows, [0] * len(rows)))
        ]
    return judging.on_a_sheet(judging.timed(rows, seconds))


def _now(item: dict, place: judging.Place, flags: list, on: dt.date, table) -> Judgement:
    """Return the strictest judgement over the facts: a later look at an exercise may know more of it."""
    judged = [
        judging.judge_placed(flags, _row(item, facts), place, on, table=table) for facts in item["facts"]
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
