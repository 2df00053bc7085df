"""Every case written by a second hand from the published tables: verdicts, clearance, ages."""

from collections import Counter
from types import SimpleNamespace

from library.flag_dates import days_on, flag_facts, flag_values
from library.precautions import clearance, gestation, judge
from tests.rows import each

from .cases_screening import AGES, CASES, CLEARANCE


def test_the_cases_are_many_and_each_has_a_name_and_a_source():
    assert len(CASES) >= 80
    assert max(Counter(case["id"] for case in CASES).values()) == 1
    assert all(case["source"] for case in CASES)


@each("case", CASES, ids=lambda case: case["id"])
def test_verdict(case):
    judged = judge(case["flags"], case["exercise"], case["on"], side=case["side"])
    found = {demand: judged.demands[demand].verdict for demand in case["demands"]}
    assert (judged.verdict, found) == (case["verdict"], case["demands"])


@each("row", CLEARANCE, ids=lambda row: row.id)
def test_clearance(row):
    pregnancy = row.condition == "pregnancy" and not isinstance(row.event, str)
    dates = {"due": row.event} if pregnancy else {"on": row.event}
    found = clearance([SimpleNamespace(condition=row.condition, **dates)], row.on)
    assert [c.level for c in found] == ([] if row.level == "none" else [row.level])


@each("row", AGES, ids=lambda row: row.id)
def test_age(row):
    if row.kind == "gestation":
        assert gestation(row.anchor, row.on) == (row.weeks, row.days)
    else:
        event = flag_facts(flag_values(SimpleNamespace(condition="x", on=row.anchor)))
        assert divmod(days_on("event_days", event, row.on), 7) == (row.weeks, row.days)
