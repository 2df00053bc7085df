"""A judgement at a glance: its reasons merged by what they are about, strictest first. Plain computation."""

from datetime import date
from typing import NamedTuple

from library import tables
from library.precautions import Judgement
from library.verdicts import RANK, Reason, last_end

# So many chips stand at first; a plan row shows one.
AT_FIRST = 3


class Merged(NamedTuple):
    """What a judgement says of one demand, or of the exercise as a whole (demand None).

    `loads` is the side of the body the demand loads here ('left', 'right', 'both', None); `until` when
    the verdict stops, as the judge says it, None without an end; `carries` the adaptation it rests on,
    `without` the verdict without that adaptation; `added_by` the adaptation that brings the demand along.
    """

    verdict: str
    demand: str | None
    reasons: tuple[Reason, ...]
    loads: str | None = None
    until: date | None = None
    carries: str | None = None
    without: str | None = None
    added_by: str | None = None


def merged(judgement: Judgement) -> list[Merged]:
    """Merge the reasons of a judgement by demand, strictest first; what no rule speaks to is left out.

    Within a verdict: the exercise as a whole first, then demands with more reasons before those with
    fewer, then the order of the table. A demand that a clinician has lifted to 'none' comes last.
    """
    found = []
    if judgement.exercise_reasons:
        reasons = judgement.exercise_reasons
        verdict = max((reason.verdict for reason in reasons), key=RANK.__getitem__)
        found.append(Merged(verdict, None, reasons, until=last_end(reasons, verdict)))
    for row in judgement.demands.values():
        if row.reasons:
            found.append(
                Merged(
                    row.verdict,
                    row.demand,
                    row.reasons,
                    row.loads,
                    row.until,
                    row.carries,
                    row.without,
                    row.added_by,
                )
            )
    places = tables.rule_table().demand_order
    return sorted(found, key=lambda one: _order(one, places))


def _order(one: Merged, places) -> tuple:
    decides = sum(1 for r in one.reasons if r.verdict == one.verdict and not r.outranked)
    return (-RANK[one.verdict], one.demand is not None, -decides, places.get(one.demand, -1))
