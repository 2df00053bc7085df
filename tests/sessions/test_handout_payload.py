"""The payload of a handout: what it holds, what it refuses, and the days of its calendar."""

import json
from datetime import date, timedelta

import pytest
from dateutil.relativedelta import MO, relativedelta

from sessions import handout
from tests.sessions.handout_samples import handout_values, items


def changed(**changes) -> list[dict]:
    """Return the sample's exercises with the first one changed."""
    first, *rest = items()
    return [first | changes, *rest]


def test_payload_survives_json_both_ways():
    made = handout.build(**handout_values())
    kept = json.loads(json.dumps(handout.as_json(made)))
    assert handout.from_json(kept) == made
    assert handout.as_json(handout.from_json(kept)) == kept


def test_texts_are_trimmed_and_names_are_kept_letter_by_letter():
    name = "  <b>O'Brien 王 {x} %s =SUM(1)  "
    assert handout.build(**handout_values(client=name)).client == name.strip()


@pytest.mark.parametrize("place", ["", "items", "dose", "count", "often"])
def test_payload_has_no_place_for_health(place):
    """No flag, condition, reason or goal goes on paper that lies about at home: unknown keys are refused."""
    for word in ("condition", "flag", "reason", "goal", "verdict"):
        kept = handout.as_json(handout.build(**handout_values()))
        first = kept["items"][0]
        target = {
            "": kept,
            "items": first,
            "dose": first["dose"],
            "count": first["dose"]["left"],
            "often": first["often"],
        }[place]
        target[word] = "osteoporosis"
        with pytest.raises(handout.HandoutError) as refused:
            handout.from_json(kept)
        assert refused.value.problems[0][1] == "unknown"


PROBLEMS = [
    ("no name to call them", {"client": "  "}, ("client", "missing", None)),
    ("no emergency number", {"emergency": ""}, ("emergency", "missing", None)),
    ("no telephone", {"telephone": ""}, ("telephone", "missing", None)),
    ("a name of 301 letters", {"client": "x" * 301}, ("client", "too_long", 300)),
    ("one exercise", {"items": items()[:1]}, ("items", "too_few", 2)),
    ("five exercises", {"items": items() + items()[:2]}, ("items", "too_many", 4)),
    (
        "seven exercises agreed to",
        {"items": items() * 2 + items()[:1], "more_agreed": True},
        ("items", "too_many", 6),
    ),
    ("an unknown paper", {"paper": "a3"}, ("paper", "unknown", None)),
    ("five weeks", {"weeks": 5}, ("weeks", "too_many", 4)),
    ("version 0", {"version": 0}, ("version", "not_a_number", None)),
    ("looked at before it is issued", {"look_again": date(2026, 5, 12)}, ("look_again", "order", None)),
    ("no pose", {"items": changed(pose={})}, ("items.0.pose", "missing", None)),
    ("no words", {"items": changed(how=" ")}, ("items.0.how", "missing", None)),
    ("a long cue", {"items": changed(cue="x" * 241)}, ("items.0.cue", "too_long", 240)),
    (
        "seven adaptations",
        {"items": changed(adaptations=["Less."] * 7)},
        ("items.0.adaptations", "too_many", 6),
    ),
    ("no dose", {"items": changed(dose={})}, ("items.0.dose", "missing", None)),
    ("an empty dose", {"items": changed(dose={"both": {}})}, ("items.0.dose", "missing", None)),
    (
        "a dose of nought",
        {"items": changed(dose={"both": {"times": 0}})},
        ("items.0.dose", "not_a_number", None),
    ),
    (
        "a dose of half",
        {"items": changed(dose={"both": {"times": 1.5}})},
        ("items.0.dose", "not_a_number", None),
    ),
    (
        "sides and none",
        {"items": changed(dose={"both": {"times": 8}, "left": {"times": 8}})},
        ("items.0.dose", "too_many", 1),
    ),
    (
        "sides of unknown meaning",
        {"items": changed(dose={"left": {"times": 8}, "means": "ear"})},
        ("items.0.dose", "unknown", None),
    ),
    ("no days", {"items": changed(often={})}, ("items.0.often", "missing", None)),
    ("eight days a week", {"items": changed(often={"days": 8})}, ("items.0.often", "too_many", 7)),
    ("an eighth weekday", {"items": changed(often={"weekdays": [7]})}, ("items.0.often", "unknown", None)),
    (
        "days and weekdays",
        {"items": changed(often={"days": 3, "weekdays": [0]})},
        ("items.0.often", "too_many", None),
    ),
]


@pytest.mark.parametrize(
    ("changes", "problem"), [row[1:] for row in PROBLEMS], ids=[row[0] for row in PROBLEMS]
)
def test_what_may_not_be_issued_is_named(changes, problem):
    with pytest.raises(handout.HandoutError) as refused:
        handout.build(**handout_values(**changes))
    assert refused.value.problems == (problem,)


def test_a_fifth_exercise_needs_a_yes():
    five = items() + items()[:2]
    assert len(handout.build(**handout_values(items=five, more_agreed=True)).items) == 5


def test_every_problem_is_told_at_once():
    with pytest.raises(handout.HandoutError) as refused:
        handout.build(**handout_values(client="", weeks=9, paper="b5"))
    assert {field for field, _code, _number in refused.value.problems} == {"client", "weeks", "paper"}


@pytest.mark.parametrize(
    ("kept", "code"),
    [
        ({}, "unknown"),
        ({"schema": 2}, "unknown"),
        ({"schema": 1, "items": []}, "missing"),
    ],
    ids=["nothing", "another schema", "half of it"],
)
def test_a_broken_record_is_refused(kept, code):
    with pytest.raises(handout.HandoutError) as refused:
        handout.from_json(kept)
    assert refused.value.problems[0][1] == code


def test_a_date_that_is_none_is_refused():
    kept = handout.as_json(handout.build(**handout_values())) | {"issued": "13 May"}
    with pytest.raises(handout.HandoutError) as refused:
        handout.from_json(kept)
    assert ("issued", "not_a_date", None) in refused.value.problems


@pytest.mark.parametrize(
    ("dose", "side"),
    [
        ({"both": {"times": 8}}, None),
        ({"left": {"times": 8}, "right": {"times": 8}}, "right"),
        ({"left": {"times": 8}}, "left"),
        ({"right": {"times": 8}}, "right"),
    ],
    ids=["no sides", "both sides", "left only", "right only"],
)
def test_figures_show_the_side_that_works(dose, side):
    assert handout.build(**handout_values(items=changed(dose=dose))).items[0].dose.drawn_side == side


# The calendar. Dates are checked against python-dateutil, which counts by its own arithmetic.


@pytest.mark.parametrize("weeks", [1, 2, 3, 4])
@pytest.mark.parametrize(
    "start", [date(2026, 5, 11), date(2026, 5, 13), date(2028, 2, 28), date(2026, 12, 30)]
)
def test_weeks_run_on_without_a_gap(start, weeks):
    rows = handout.calendar(
        handout.build(**handout_values(issued=start, look_again=None, start=start, weeks=weeks))
    )
    assert [day for row in rows for day in row] == [start + relativedelta(days=+n) for n in range(7 * weeks)]


def test_a_calendar_can_start_on_the_monday_before_and_leaves_the_past_blank():
    issued = date(2026, 5, 13)
    monday = issued + relativedelta(weekday=MO(-1))
    made = handout.build(**handout_values(issued=issued, start=monday))
    rows = handout.calendar(made)
    assert rows[0][0] == monday
    assert handout.marks(made, made.items[0], rows[0]) == ("", "", *["halves"] * 5)


@pytest.mark.parametrize("days", range(1, 8))
def test_days_a_week_are_spread_evenly(days):
    """Evenly means that gaps differ by at most a day: from memory, Bjorklund's even spacing of k in n."""
    first = date(2026, 5, 13)
    often = handout.Often(days=days)
    on = [n for n in range(21) if handout.is_on(often, first, first + timedelta(days=n))]
    assert [sum(7 * week <= n < 7 * week + 7 for n in on) for week in range(3)] == [days] * 3
    gaps = {later - earlier for earlier, later in zip(on, on[1:], strict=False)}
    assert max(gaps) - min(gaps) <= 1
    assert on[0] == 0


def test_named_weekdays_follow_the_standard_calendar():
    """13 May 2026 is a Wednesday by the Gregorian calendar, so that a row from it starts with a Wednesday."""
    made = handout.build(**handout_values(items=changed(often={"weekdays": [0, 2, 4]})))
    row = handout.calendar(made)[0]
    ticked = [day for day, mark in zip(row, handout.marks(made, made.items[0], row), strict=True) if mark]
    assert [day.isoformat() for day in ticked] == ["2026-05-13", "2026-05-15", "2026-05-18"]


@pytest.mark.parametrize(
    ("dose", "mark"),
    [
        ({"both": {"times": 8}}, "whole"),
        ({"left": {"times": 8}, "right": {"times": 8}}, "halves"),
        ({"left": {"times": 8}}, "left"),
        ({"right": {"times": 8}}, "right"),
    ],
    ids=["whole disc", "two halves", "left half", "right half"],
)
def test_a_day_of_practice_is_ticked_by_side(dose, mark):
    made = handout.build(**handout_values(items=changed(dose=dose)))
    assert handout.marks(made, made.items[0], handout.calendar(made)[0]) == (mark,) * 7
