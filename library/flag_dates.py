"""A client's flags read as plain values, and what their dates mean.

A flag is any object with `condition` or `instruction`, `verdict`, `words`, `by`, `until`, `side`,
`on` and `due`; an attribute that is missing or empty counts as None. `on` is the date of the event,
'long_ago', or None where nobody knows.
"""

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from operator import attrgetter
from typing import NamedTuple

from library.tables import Rule, Table, rule_table

LONG_AGO = "long_ago"
ONE_SIDE = ("left", "right")
PREGNANCY_DAYS = 280  # from the first day of the last period to the due date
LEVELS = ("written_before_start", "ask", "none")


class FlagFacts(NamedTuple):
    """One flag as plain values, fit to be a key."""

    condition: str | None
    instruction: str | None
    verdict: str | None
    words: str
    by: str
    until: date | None
    side: str | None
    on: date | str | None
    due: date | None


_READ = attrgetter(*FlagFacts._fields)


class Clearance(NamedTuple):
    """What to ask before the start because of one condition; `until` is the first day it no longer holds."""

    condition: str
    level: str
    note: str
    until: date | None
    flag: int


def plain_date(value) -> date | None:
    """A date as a date, a moment as its date; anything else counts as unknown."""
    if isinstance(value, datetime):
        return value.date()
    return value if isinstance(value, date) else None


def flag_values(flag) -> tuple:
    """The attributes of a flag as they stand, in the order of `FlagFacts`; what is missing is None."""
    try:
        return _READ(flag)
    except AttributeError:
        return tuple([getattr(flag, name, None) for name in FlagFacts._fields])


def flag_facts(values: tuple) -> FlagFacts:
    """Make sense of a flag's values. Nothing here raises: what cannot be understood counts as unknown."""
    condition, instruction, verdict, words, by, until, side, on, due = (value or None for value in values)
    return FlagFacts(
        condition=condition,
        instruction=instruction,
        verdict=verdict,
        words=str(words or ""),
        by=str(by or ""),
        until=plain_date(until),
        side=side,
        on=on if on == LONG_AGO else plain_date(on),
        due=plain_date(due),
    )


def gestation_days(due: date, on: date) -> int:
    """Days of pregnancy on a date: 280 at the due date (dating from the last period, Naegele's rule)."""
    return PREGNANCY_DAYS - (due - on).days


def gestation(due: date | None, on: date) -> tuple[int, int] | None:
    """Weeks and days of pregnancy on a date; None without a due date or before the pregnancy began."""
    due = plain_date(due)
    if due is None or gestation_days(due, on) < 0:
        return None
    return divmod(gestation_days(due, on), 7)


def day_nought(basis: str, flag: FlagFacts) -> date | None:
    """Day 0 of a basis for this flag, where a date says so and the calendar has that day."""
    if basis == "gestation_days":
        begins = flag.due.toordinal() - PREGNANCY_DAYS if flag.due else 0
        return date.fromordinal(begins) if begins > 0 else None
    if basis == "event_days":
        return plain_date(flag.on)
    return None


def days_on(basis: str, flag: FlagFacts, on: date) -> int | None:
    """Days since day 0; None where the date is unknown or still to come."""
    start = day_nought(basis, flag)
    if start is None or start > on:
        return None
    return (on - start).days


def in_window(rule: Rule, flag: FlagFacts, on: date) -> bool:
    """Does the rule's window hold on this date?

    Windows are half-open: from_day counts, to_day does not. An unknown or future date puts every
    window in force. 'Long ago' leaves only windows with a beginning and no end; it is no answer to
    'how far along is the pregnancy', so there it counts as unknown.
    """
    if rule.basis == "ongoing":
        return True
    if rule.basis == "event_days" and flag.on == LONG_AGO:
        return rule.from_day is not None and rule.to_day is None
    days = days_on(rule.basis, flag, on)
    if days is None:
        return True
    begun = rule.from_day is None or rule.from_day <= days
    return begun and (rule.to_day is None or days < rule.to_day)


def window_end(rule: Rule, flag) -> date | None:
    """The first day on which the rule no longer holds for this flag; None where it has no end or no date."""
    facts = flag if isinstance(flag, FlagFacts) else flag_facts(flag_values(flag))
    start = day_nought(rule.basis, facts)
    if start is None or rule.to_day is None:
        return None
    return start + timedelta(days=rule.to_day)


def clearance(flags: Iterable, on: date, *, table: Table | None = None) -> list[Clearance]:
    """What has to be asked or had in writing before starting, strictest first.

    Conditions that ask for nothing are left out.

    A level holds for `until_day` days after the event (None: always) and is followed by
    `then_level`. An unknown or future date keeps the first level; 'long ago' goes to the level that
    follows, where one period has an end. A condition outside the table asks.
    """
    table = table or rule_table()
    found = []
    for place, flag in enumerate(flags or ()):
        facts = flag_facts(flag_values(flag))
        if facts.condition is None:
            continue
        row = table.conditions.get(facts.condition)
        if row is None:
            found.append(Clearance(facts.condition, "ask", "", None, place))
            continue
        level, until = _level(row, facts, on)
        if level != "none":
            found.append(Clearance(facts.condition, level, row["clearance"]["note"], until, place))
    return sorted(found, key=lambda c: (LEVELS.index(c.level), c.condition, c.flag))


def _level(row: dict, flag: FlagFacts, on: date) -> tuple[str, date | None]:
    rule, limit = row["clearance"], row["clearance"]["until_day"]
    if limit is None:
        return rule["level"], None
    after = rule.get("then_level", "none")
    if row["window_basis"] == "event_days" and flag.on == LONG_AGO:
        return after, None
    days = days_on(row["window_basis"], flag, on)
    if days is None:
        return rule["level"], None
    if days < limit:
        return rule["level"], on + timedelta(days=limit - days)
    return after, None
