"""A client's flags on one date, read against the rule table, before any exercise is looked at.

A page judges many exercises for the same client and day; this part of the work is the same for all
of them and is kept for the last few clients.
"""

from collections.abc import Iterable, Mapping
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from library.flag_dates import ONE_SIDE, days_on, flag_facts, in_window, plain_date, window_end
from library.tables import Table
from library.verdicts import RANK, Chip, DemandVerdict, Reason, reason_order

# A day's people, for spells on the back of both lengths; the page of the day reads the flags of all of them.
KEPT = 64
ASK = "Not in the table: ask."
UNCLASSIFIED = "Not yet classified: ask."


class Entry(NamedTuple):
    """A reason with the sides of the body it speaks to; `rules` where it outranks the table there.

    For an instruction on an exercise the sides are those of the record, not of the body.
    """

    reason: Reason
    left: bool
    right: bool
    rules: bool = False


class Standing(NamedTuple):
    """What the flags say, by subject.

    `rules` and `demand_words`: demand id -> entries of the table and of clinicians.
    `exercise_words`: the same for every other subject of an instruction, which is taken for an
    exercise id. `asks`: what the table does not know. `memo` keeps demand verdicts already weighed, `chips`
    the flags at a glance once they were asked for.
    """

    rules: Mapping[str, tuple[Entry, ...]]
    demand_words: Mapping[str, tuple[Entry, ...]]
    exercise_words: Mapping[str, tuple[Entry, ...]]
    asks: tuple[Reason, ...]
    memo: dict[tuple, DemandVerdict]
    chips: list[Chip]


@lru_cache(maxsize=KEPT)
def standing(flags: tuple[tuple, ...], on: date, spell: str, table: Table) -> Standing:
    """Read flags (tuples of `flag_dates.flag_values`) for one date; `spell` is 'short' or 'long'."""
    rules, demand_words, exercise_words = {}, {}, {}
    asks = []
    for place, flag in enumerate(map(flag_facts, flags)):
        if flag.condition in table.conditions:
            for entry in _rule_entries(flag, place, on, spell, table):
                rules.setdefault(entry.reason.demand, []).append(entry)
        elif flag.condition or not flag.instruction:
            asks.append(ask(place, flag, condition=flag.condition))
        subject = flag.instruction
        if not subject or (flag.until and on > flag.until):
            continue
        if subject in table.demands:
            demand_words.setdefault(subject, []).append(_word(flag, place, on, demand=subject))
        else:
            exercise_words.setdefault(subject, []).append(_word(flag, place, on, exercise=subject))
    asks.sort(key=reason_order)
    by_subject = (_sorted(rules), _sorted(demand_words), _sorted(exercise_words))
    return Standing(*by_subject, tuple(asks), {}, [])


def ask(place, flag=None, *, condition=None, exercise=None, demand=None, text=ASK, code="not_in_table"):
    """The reason for what the table does not know: 'watch', and a word to ask."""
    return Reason(
        kind="ask",
        verdict="watch",
        condition=condition,
        exercise=exercise,
        demand=demand,
        text=text,
        side=flag.side if flag else None,
        by=flag.by if flag else "",
        words=flag.words if flag else "",
        flag=place,
        code=code,
    )


def _sorted(entries: dict) -> dict:
    return {
        subject: tuple(sorted(found, key=lambda entry: reason_order(entry.reason)))
        for subject, found in entries.items()
    }


def _rule_entries(flag, place, on, spell, table) -> Iterable[Entry]:
    sided = table.conditions[flag.condition]["sided"]
    left = not sided or flag.side != "right"
    right = not sided or flag.side != "left"
    for rule in table.rules_of.get(flag.condition, ()):
        if rule.spell not in (None, spell) or not in_window(rule, flag, on):
            continue
        dated = days_on(rule.basis, flag, on) is not None
        reason = Reason(
            kind="rule",
            verdict=rule.verdict,
            condition=rule.condition,
            rule=rule.id,
            demand=rule.demand,
            text=rule.reason,
            adaptation=rule.adaptation,
            sources=rule.sources,
            until=window_end(rule, flag) if dated else None,
            side=(flag.side or "unknown") if sided else None,
            flag=place,
            by=rule.by,
            since=rule.since,
            support=rule.support,
            source_text=rule.source_text,
        )
        yield Entry(reason, left, right)


def _word(flag, place, on, *, demand=None, exercise=None) -> Entry:
    """A clinician's instruction. Where it is in doubt it may make things stricter and outranks nothing."""
    known = flag.verdict in RANK
    sure = flag.side in (None, "both", *ONE_SIDE)
    dated = plain_date(flag.on)
    reason = Reason(
        kind="instruction",
        verdict=flag.verdict if known else "watch",
        demand=demand,
        exercise=exercise,
        text=flag.words,
        until=flag.until,
        side=flag.side,
        by=flag.by,
        words=flag.words,
        flag=place,
    )
    outranks = known and sure and not (dated and dated > on)
    return Entry(reason, flag.side != "right", flag.side != "left", outranks)
