"""What changes when: the days on which the verdicts of a client's flags change. Plain computation.

Verdicts follow the date only through limits: of a rule's window, the day an event comes to pass, the last
day a clinician named, the day an instruction begins to count. So the judge is asked on those days alone.
"""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from library import flag_dates, precautions, tables

DAY = timedelta(days=1)
SIDES = ("left", "right")


class Change(NamedTuple):
    """From the day `on` the verdict about `demand` is `after`, the day before it was `before`.

    `demand` is a demand of the table, or what an instruction or an unknown condition names. `side` is set
    where the change is of one side of the body only.
    """

    on: date
    demand: str
    before: str
    after: str
    side: str | None = None


class Span(NamedTuple):
    """A stretch with one verdict: `first` counts, `end` does not."""

    first: date
    end: date
    verdict: str


class Track(NamedTuple):
    """The verdicts about one demand through time, on one side where the sides differ."""

    demand: str
    side: str | None
    spans: tuple[Span, ...]


def changes(flags: Iterable, start: date, days: int, *, table=None) -> list[Change]:
    """What changes after `start`, up to and with the day `start` + `days`, in order of date and table.

    flags: as `library.precautions.judge` takes them; only those that count. Time on the back counts as
    long, as in `chips`. Each side of the body is looked at by itself and both are told as one where they
    change alike.
    """
    found = []
    for track in tracks(flags, start, days, table=table):
        for before, after in zip(track.spans, track.spans[1:], strict=False):
            found.append(Change(after.first, track.demand, before.verdict, after.verdict, track.side))
    return sorted(found, key=lambda change: change.on)


def tracks(flags: Iterable, start: date, days: int, *, table=None) -> list[Track]:
    """The demands whose verdict changes in that time, each with its stretches, in order of the table."""
    flags, table = list(flags), table or tables.rule_table()
    end = start + timedelta(days=days + 1)
    moments = [start, *(day for day in limits(flags, table=table) if start < day < end)]
    seen = [_verdicts(flags, day, table) for day in moments]
    subjects = {subject: None for verdicts in seen for subject in verdicts}
    found = []
    for subject in sorted(subjects, key=lambda one: (table.demand_order.get(one, -1), one)):
        by_side = {
            side: _spans(moments, [_of(verdicts, subject, side) for verdicts in seen], end) for side in SIDES
        }
        if by_side["left"] == by_side["right"]:
            by_side = {None: by_side["left"]}
        found += [Track(subject, side, spans) for side, spans in by_side.items() if len(spans) > 1]
    return found


def limits(flags: Iterable, *, table=None) -> list[date]:
    """The days on which anything about these flags may change, sorted, each once."""
    table, found = table or tables.rule_table(), set()
    for flag in flags:
        facts = flag_dates.flag_facts(flag_dates.flag_values(flag))
        if facts.instruction:
            found.update(_of_instruction(facts))
        for rule in table.rules_of.get(facts.condition, ()):
            found.update(_of_rule(rule, facts))
    return sorted(found)


def _of_instruction(facts) -> set[date]:
    begins = flag_dates.plain_date(facts.on)
    days = {begins} if begins else set()
    # The last day an instruction counts may be the last day there is.
    return days | {facts.until + DAY} if facts.until and facts.until < date.max else days


def _of_rule(rule, facts) -> set[date]:
    """Day nought, when an event that was still to come has happened, and both limits of the window."""
    start = flag_dates.day_nought(rule.basis, facts)
    if start is None:
        return set()
    room = (date.max - start).days
    return {start + timedelta(days=n) for n in (0, rule.from_day, rule.to_day) if n is not None and n <= room}


def _verdicts(flags, day, table) -> dict[str, dict[str, str]]:
    """Subject -> side of the body -> verdict, on one day."""
    found = {}
    for chip in precautions.chips(flags, day, table=table):
        subject = chip.demand or chip.exercise or chip.condition or ""
        one_each = chip.sides and table.is_sided(subject)
        found[subject] = dict(chip.sides) if one_each else dict.fromkeys(SIDES, chip.verdict)
    return found


def _of(verdicts, subject, side) -> str:
    return verdicts.get(subject, {}).get(side, "none")


def _spans(moments: Sequence[date], verdicts: Sequence[str], end: date) -> tuple[Span, ...]:
    """Join neighbouring stretches that say the same."""
    found: list[Span] = []
    for place, (first, verdict) in enumerate(zip(moments, verdicts, strict=True)):
        last = moments[place + 1] if place + 1 < len(moments) else end
        if found and found[-1].verdict == verdict:
            found[-1] = found[-1]._replace(end=last)
        else:
            found.append(Span(first, last, verdict))
    return tuple(found)
