"""The cases of the second hand notice a change in the table: each verdict flipped, each window shifted.

A fixed sample of the rules that the cases exercise; for each a copy of the table is changed in one place and
the cases that speak of its condition are judged again. Left out are changes that no verdict can show: a day
on which another rule of the same condition and demand is as strict.
"""

import random
from copy import deepcopy
from functools import cache

from library.precautions import judge
from library.tables import Table, rule_data
from library.verdicts import RANK
from tests.rows import each

from .cases_screening import CASES

SEED, SAMPLE = 1125, 64
ROWS = {row["id"]: row for row in rule_data()["rules"]}


def _judged(case, table=None):
    return judge(case["flags"], case["exercise"], case["on"], side=case["side"], table=table)


@cache
def _exercised() -> tuple[str, ...]:
    """Ids of the rules that decide something in some case."""
    return tuple(sorted({r.rule for case in CASES for r in _judged(case).reasons if r.rule}))


def _cases_of(condition) -> list:
    return [case for case in CASES if any(flag.condition == condition for flag in case["flags"])]


def _notices(changed: dict) -> bool:
    """Does some case come out otherwise than written, with one row of the table changed?

    The table holds the rows of the conditions that these cases speak of; no other row is asked.
    """
    cases = _cases_of(changed["condition"])
    spoken_of = {flag.condition for case in cases for flag in case["flags"]}
    rows = [changed if row["id"] == changed["id"] else row for row in ROWS.values()]
    table = Table({**rule_data(), "rules": [row for row in rows if row["condition"] in spoken_of]})
    for case in cases:
        judged = _judged(case, table)
        found = {demand: judged.demands[demand].verdict for demand in case["demands"]}
        if (judged.verdict, found) != (case["verdict"], case["demands"]):
            return True
    return False


def _holds(row, day) -> bool:
    window = row["window"]
    begun = window["from_day"] is None or window["from_day"] <= day
    return begun and (window["to_day"] is None or day < window["to_day"])


def _overlaid(row, day) -> bool:
    """Is another rule of the same condition and demand as strict on this day?"""
    return any(
        RANK[other["verdict"]] >= RANK[row["verdict"]] and _holds(other, day)
        for other in ROWS.values()
        if other["id"] != row["id"]
        and (other["condition"], other["demand"], other.get("spell"))
        == (row["condition"], row["demand"], row.get("spell"))
    )


def _day_that_changes(row, end, by) -> int:
    """The day that a shifted window gains or loses."""
    day = row["window"][end]
    return day if by > 0 else day - 1


@cache
def sampled() -> tuple[str, ...]:
    exercised = _exercised()
    return tuple(random.Random(SEED).sample(exercised, min(SAMPLE, len(exercised))))


def flips() -> list[tuple]:
    return [
        (rule, verdict)
        for rule in sampled()
        for verdict in ("avoid", "modify", "watch")
        if verdict != ROWS[rule]["verdict"]
    ]


def shifts() -> list[tuple]:
    return [
        (rule, end, by)
        for rule in sampled()
        for end in ("from_day", "to_day")
        for by in (-1, 1)
        if ROWS[rule]["window"][end]  # an end that is there; day 0 has no day before it
        and not _overlaid(ROWS[rule], _day_that_changes(ROWS[rule], end, by))
    ]


def test_the_cases_exercise_many_rules_and_the_sample_has_both_kinds():
    shifted = {rule for rule, _, _ in shifts()}
    assert len(_exercised()) >= 40
    assert len(sampled()) >= 40
    assert len(shifted) >= 15
    assert len(set(sampled()) - shifted) >= 15


@each("rule", sampled)
def test_the_cases_pass_before_a_change(rule):
    assert not _notices(ROWS[rule])


@each("rule, verdict", flips)
def test_a_flipped_verdict_is_noticed(rule, verdict):
    assert _notices({**ROWS[rule], "verdict": verdict})


@each("rule, end, by", shifts)
def test_a_shifted_window_is_noticed(rule, end, by):
    changed = deepcopy(ROWS[rule])
    changed["window"][end] += by
    assert _notices(changed)
