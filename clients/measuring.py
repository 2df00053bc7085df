"""A client's measures: what the flags hold back, and how the tests of one measure compare. Plain computation."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from types import SimpleNamespace

from clients import glance
from library import measure_wording as wording
from library import measures
from library import wording as library_words
from library.glance import merged
from library.measures import Change, Gap, Measure
from library.precautions import judge

SIDES = ("left", "right")


@dataclass(frozen=True, slots=True)
class Held:
    """What the flags say of one side of a measure: `verdict`, and `sheet` for the verdict sheet."""

    side: str
    verdict: str
    sheet: dict

    @property
    def back(self) -> bool:
        """Whether the side is held back."""
        return self.verdict == "avoid"


def judged(flags: Iterable, of: Measure, on: dt.date, *, table=None) -> dict[str, Held]:
    """Return side -> what a client's active flags say of taking the measure on that side on a date.

    table: the rule table in force; None is the table as shipped.
    """
    flags = list(flags)
    demand_sides = {demand: means for demand, means in of.demands.items() if means}
    task = SimpleNamespace(id=None, demands=tuple(of.demands), demand_sides=demand_sides)
    return {side: _held(judge(flags, task, on, side=side, table=table), side) for side in SIDES}


def _held(judgement, side: str) -> Held:
    first = next((one for one in merged(judgement) if one.demand), None)
    decides = first and first.verdict == judgement.verdict
    said = library_words.demand_short(first.demand) if decides else ""
    said = said[:1].lower() + said[1:]
    if decides and first.loads:
        said = f"{said}, {library_words.side_word(side)}"
    sheet = {
        "verdict": judgement.verdict,
        "text": said,
        "rows": glance.reason_rows(judgement.reasons),
    }
    return Held(side, judgement.verdict, sheet)


def held_back(found: dict[str, Held]) -> list[Held]:
    """Return what is held back, left first; one for both sides (`side` 'both') where the reasons are the same."""
    back = [one for one in found.values() if one.back]
    if len(back) == len(SIDES) and back[0].sheet == back[1].sheet:
        return [Held("both", back[0].verdict, back[0].sheet)]
    return back


@dataclass(frozen=True, slots=True)
class Compared:
    """One test beside the first of its measure: values, the gap, and each side's change since then."""

    row: object
    left: str
    right: str
    gap: str
    changes: dict[str, str]


def compared(of: Measure, rows: Iterable) -> list[Compared]:
    """Return each test of one measure, oldest first, compared with the first on file.

    rows: standing rows with `left_value`, `right_value` and `same_way(other)`, oldest first.
    """
    rows = list(rows)
    return [_compared(of, rows[0], row) for row in rows]


def _compared(of: Measure, first, row) -> Compared:
    changes = {}
    if row is not first:
        changes = {
            side: wording.change_words(of, change) for side, change in _changes(of, first, row).items()
        }
    found = gap_of(of, row)
    return Compared(
        row=row,
        left=shown(of, row.left_value),
        right=shown(of, row.right_value),
        gap=wording.gap_words(of, found) if found else "",
        changes=changes,
    )


def _changes(of: Measure, first, row) -> dict[str, Change]:
    pairs = {side: (getattr(first, f"{side}_value"), getattr(row, f"{side}_value")) for side in SIDES}
    same = row.same_way(first)
    return {
        side: measures.change(of, before, now, protocol_same=same)
        for side, (before, now) in pairs.items()
        if before is not None and now is not None
    }


def gap_of(of: Measure, row) -> Gap | None:
    """Return the gap of one test; None where only one side was taken."""
    if row.left_value is None or row.right_value is None:
        return None
    return measures.gap(of, row.left_value, row.right_value)


def shown(of: Measure, value) -> str:
    """A value with its unit; empty for a side that was not taken."""
    return "" if value is None else wording.value_words(of, value)
