"""Dates of flags: pregnancy, windows, clearance."""

from datetime import date, timedelta
from types import SimpleNamespace

import pytest
from dateutil.relativedelta import relativedelta

from library.flag_dates import gestation_days
from library.precautions import clearance, gestation, judge, window_end
from library.tables import rule_table

RULES = {rule.id: rule for rule in rule_table().rules}


def flag(condition, **kwargs):
    return SimpleNamespace(condition=condition, **kwargs)


# Naegele's rule, as textbooks of obstetrics give it: due date = first day of the last period, plus one
# year, less three months, plus seven days. It and 280 days differ by the lengths of months.
LAST_PERIODS = [date(2025, 1, 1), date(2025, 12, 8), date(2026, 2, 28), date(2026, 6, 30), date(2027, 9, 30)]


@pytest.mark.parametrize("last_period", LAST_PERIODS, ids=str)
def test_280_days_agree_with_naegeles_rule_within_three_days(last_period):
    naegele = last_period + relativedelta(years=1, months=-3, days=7)
    due = last_period + timedelta(days=280)
    assert abs((naegele - due).days) <= 3
    assert gestation_days(due, last_period) == 0
    assert gestation_days(due, due) == 280


# Standard obstetric dating: 40 weeks and 0 days at the due date; weeks are completed weeks.
AGES = [
    (date(2027, 4, 14), date(2027, 4, 14), (40, 0)),
    (date(2027, 4, 14), date(2027, 4, 13), (39, 6)),
    (date(2027, 4, 14), date(2026, 11, 25), (20, 0)),
    (date(2027, 4, 14), date(2026, 11, 24), (19, 6)),
    (date(2027, 4, 14), date(2027, 4, 21), (41, 0)),
    (date(2028, 3, 10), date(2028, 2, 29), (38, 4)),
    (date(2027, 4, 14), date(2026, 7, 8), (0, 0)),
]


@pytest.mark.parametrize(("due", "on", "age"), AGES, ids=[f"{w}w{d}d" for _, _, (w, d) in AGES])
def test_weeks_and_days_of_pregnancy(due, on, age):
    assert gestation(due, on) == age
    # The same by calendar steps, counted by another library: so many weeks and days after the start.
    start = due - relativedelta(weeks=40)
    assert start + relativedelta(weeks=age[0], days=age[1]) == on


@pytest.mark.parametrize("due", [None, date(2027, 12, 1)], ids=["no due date", "not yet begun"])
def test_no_age_without_a_pregnancy_that_has_begun(due):
    assert gestation(due, date(2026, 11, 25)) is None


# R149: hip replacement, 0 to 84 days. R156: the same from 84 days on. R363: pregnancy, day 98 to 196.
ENDS = [
    ("R149", {"on": date(2026, 3, 2)}, date(2026, 5, 25)),
    ("R149", {"on": None}, None),
    ("R149", {"on": "long_ago"}, None),
    ("R156", {"on": date(2026, 3, 2)}, None),
    ("R001", {"on": date(2026, 3, 2)}, None),
    ("R363", {"due": date(2027, 4, 14)}, date(2027, 1, 20)),
    ("R363", {"due": None, "on": date(2026, 3, 2)}, None),
]


@pytest.mark.parametrize(("rule", "dates", "end"), ENDS)
def test_when_a_rule_stops_for_a_client(rule, dates, end):
    assert window_end(RULES[rule], flag("x", **dates)) == end


def test_the_day_a_rule_stops_is_the_first_day_it_is_silent():
    hip = flag("hip_replacement_posterior", side="left", on=date(2026, 3, 2))
    exercise = SimpleNamespace(
        id="x", demands=["hip_internal_rotation"], demand_sides={"hip_internal_rotation": "named"}
    )
    before = judge([hip], exercise, date(2026, 5, 24), side="left")
    (reason,) = before.reasons
    assert (reason.rule, reason.until, reason.last_day) == ("R151", date(2026, 5, 25), date(2026, 5, 24))
    after = judge([hip], exercise, reason.until, side="left")
    assert [r.rule for r in after.reasons] == ["R157"]


def test_a_date_still_to_come_has_no_end_to_show():
    hip = flag("hip_replacement_posterior", side="left", on=date(2027, 3, 2))
    judged = judge([hip], "mat_saw", date(2026, 11, 25))
    assert judged.reasons
    assert {reason.until for reason in judged.reasons} == {None}


# Levels by the table: hip and heart surgery until 84 days; concussion 14 days in writing, then ask.
TODAY = date(2026, 11, 25)
WRITTEN, ASK = "written_before_start", "ask"
LEVELS = [
    ("hip_replacement_posterior", {"on": TODAY - timedelta(days=83)}, (WRITTEN, TODAY + timedelta(days=1))),
    ("hip_replacement_posterior", {"on": TODAY - timedelta(days=84)}, None),
    ("hip_replacement_posterior", {"on": None}, (WRITTEN, None)),
    ("hip_replacement_posterior", {"on": TODAY + timedelta(days=9)}, (WRITTEN, None)),
    ("hip_replacement_posterior", {"on": "long_ago"}, None),
    ("concussion_recent", {"on": TODAY - timedelta(days=13)}, (WRITTEN, TODAY + timedelta(days=1))),
    ("concussion_recent", {"on": TODAY - timedelta(days=14)}, (ASK, None)),
    ("concussion_recent", {"on": "long_ago"}, (ASK, None)),
    ("pregnancy", {"due": date(2027, 4, 14)}, (ASK, None)),
    ("pregnancy", {"on": "long_ago"}, (ASK, None)),
    ("cardiac_surgery_sternotomy", {"on": "long_ago"}, (WRITTEN, None)),
    ("osteoporosis", {}, None),
    ("gout_of_the_moon", {}, (ASK, None)),
]


@pytest.mark.parametrize(("condition", "dates", "expected"), LEVELS)
def test_what_must_be_asked_first(condition, dates, expected):
    found = clearance([flag(condition, **dates)], TODAY)
    assert [(c.condition, c.level, c.until) for c in found] == ([(condition, *expected)] if expected else [])


def test_what_must_be_asked_comes_strictest_first_and_with_its_note():
    flags = [flag("pregnancy"), flag("hip_replacement_posterior"), flag("osteoporosis")]
    found = clearance(flags, TODAY)
    assert [(c.condition, c.flag) for c in found] == [("hip_replacement_posterior", 1), ("pregnancy", 0)]
    assert "surgeon" in found[0].note
