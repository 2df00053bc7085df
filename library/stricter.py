"""What a studio may make stricter: what the table says already, all through a window of days.

Plain computation. A rule of the studio stands beside those of the table and the strictest counts, so one that
says no more than the table would change nothing; it is refused with what the table says.
"""

from collections.abc import Iterable
from typing import NamedTuple

from library.tables import Rule, Table
from library.verdicts import BY_RANK, RANK

SPELLS = ("short", "long")


class Window(NamedTuple):
    """When a rule holds, as in `library.tables.Rule`: from_day counts, to_day does not; None has no end."""

    basis: str = "ongoing"
    from_day: int | None = None
    to_day: int | None = None
    spell: str | None = None


ALWAYS = Window()


def window_of(rule: Rule) -> Window:
    """Return the window of a rule of the table."""
    return Window(rule.basis, rule.from_day, rule.to_day, rule.spell)


def stricter_than(verdict: str) -> tuple[str, ...]:
    """Return the verdicts stricter than this one, the laxest first; none after 'avoid'."""
    return BY_RANK[RANK[verdict] + 1 :]


def rules_on(table: Table, condition: str, demand: str) -> tuple[Rule, ...]:
    """Return every rule of the table on this condition and demand, in its order."""
    return tuple(rule for rule in table.rules_of.get(condition, ()) if rule.demand == demand)


def said(table: Table, condition: str, demand: str, window: Window = ALWAYS) -> str:
    """Return the laxest verdict that the table gives anywhere in the window; 'none' where it is once silent."""
    rules = rules_on(table, condition, demand)
    spells = (window.spell,) if window.spell else SPELLS
    ranks = []
    for spell in spells:
        speaking = [rule for rule in rules if rule.spell in (None, spell)]
        ranks.extend(_rank(_on_day(speaking, day)) for day in _days(speaking, window))
        if window.basis == "ongoing":
            # 'Long ago': what has an end has ended, and what has no beginning does not begin.
            ranks.append(_rank(rule for rule in speaking if _outlasts(rule)))
    return BY_RANK[min(ranks)]


def _days(rules: Iterable[Rule], window: Window) -> list[int]:
    """Return the days of the window on which what the rules say may change, its first day among them."""
    first, end = window.from_day or 0, window.to_day
    limits = {day for rule in rules for day in (rule.from_day, rule.to_day) if day is not None}
    return [first, *sorted(day for day in limits if first < day and (end is None or day < end))]


def _on_day(rules: Iterable[Rule], day: int) -> list[Rule]:
    return [
        rule
        for rule in rules
        if rule.basis == "ongoing"
        or ((rule.from_day or 0) <= day and (rule.to_day is None or day < rule.to_day))
    ]


def _outlasts(rule: Rule) -> bool:
    if rule.basis != "event_days":
        return True
    return rule.from_day is not None and rule.to_day is None


def _rank(rules: Iterable[Rule]) -> int:
    return max((RANK[rule.verdict] for rule in rules), default=0)
