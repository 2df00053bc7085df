"""What the rule table says of one condition, whatever the client: rules, stages, and what is left of the library.

Plain computation. A stage is a stretch between two limits of the condition's windows.
"""

from collections import Counter
from collections.abc import Mapping
from datetime import date, timedelta
from functools import lru_cache
from types import SimpleNamespace
from typing import NamedTuple

from library import changes, tables
from library.flag_dates import PREGNANCY_DAYS
from library.precautions import judge
from library.stricter import Window
from library.verdicts import VERDICTS

# Any day serves to count from: what is said here is said in days after it.
BASE = date(2026, 1, 5)
# What a strip shows after the last limit: the stretch that has no end.
AFTER = 42


class Stage(NamedTuple):
    """A stretch of a condition; `window` None where the day is not known or the condition counts none."""

    window: Window | None
    all: Mapping[str, int]
    home: Mapping[str, int]
    by_apparatus: Mapping[str, Mapping[str, int]]


def limits(condition: str, table: tables.Table) -> list[int]:
    """Return the days at which the rules of a condition begin or end, nought among them; [] where none do."""
    found = {
        day
        for rule in table.rules_of.get(condition, ())
        if rule.basis != "ongoing"
        for day in (rule.from_day, rule.to_day)
        if day is not None
    }
    return sorted(found | {0}) if found else []


def windows(condition: str, table: tables.Table) -> list[Window]:
    """Return the stages of a condition one after the other; [] where it counts no days."""
    days, basis = limits(condition, table), table.conditions[condition]["window_basis"]
    ends = [*days[1:], None]
    return [Window(basis, first, end) for first, end in zip(days, ends, strict=True)] if days else []


def days_shown(condition: str, table: tables.Table) -> int:
    """Return how many days a picture of the condition shows."""
    last = max(limits(condition, table), default=0)
    if table.conditions[condition]["window_basis"] == "gestation_days":
        return max(PREGNANCY_DAYS, last + AFTER)
    return last + max(AFTER, last // 4)


def tracks(condition: str, table: tables.Table) -> list[tuple[str, list[tuple[int, int, str]]]]:
    """Return the demands whose verdict follows the days: (demand, stretches in days after day nought)."""
    days = days_shown(condition, table)
    found = changes.tracks([_flag(condition, BASE)], BASE, days, table=table)
    return [
        (row.demand, [((s.first - BASE).days, (s.end - BASE).days, s.verdict) for s in row.spans])
        for row in found
    ]


@lru_cache(maxsize=96)
def stages(condition: str, table: tables.Table) -> tuple[Stage, ...]:
    """Count the library's exercises by verdict in every stage: the day not known first, where days count.

    No change is chosen, both sides are affected, and time on the back counts as long.
    """
    found = [_stage(None, _flag(condition, None), BASE, table)]
    for window in windows(condition, table):
        day = BASE + timedelta(days=window.from_day or 0)
        found.append(_stage(window, _flag(condition, BASE), day, table))
    return tuple(found)


def _flag(condition: str, nought: date | None) -> SimpleNamespace:
    due = nought + timedelta(days=PREGNANCY_DAYS) if nought else None
    return SimpleNamespace(condition=condition, side="both", on=nought, due=due)


def _stage(window, flag, day, table) -> Stage:
    everything, home, by_apparatus = Counter(), Counter(), {}
    for key, facts in tables.exercises().items():
        verdict = judge([flag], key, day, table=table).verdict
        everything[verdict] += 1
        by_apparatus.setdefault(facts["apparatus"], Counter())[verdict] += 1
        if facts["home_ok"]:
            home[verdict] += 1
    return Stage(window, everything, home, by_apparatus)


def rules_by_verdict(condition: str, table: tables.Table) -> dict[str, dict[str, list[tables.Rule]]]:
    """Return verdict -> demand -> rules in order of time, strictest first, demands in order of the table."""
    found = {verdict: {} for verdict in VERDICTS if verdict != "none"}
    ordered = sorted(
        table.rules_of.get(condition, ()),
        key=lambda r: (table.demand_order.get(r.demand, -1), r.from_day or 0),
    )
    for rule in ordered:
        found[rule.verdict].setdefault(rule.demand, []).append(rule)
    return {verdict: demands for verdict, demands in found.items() if demands}
