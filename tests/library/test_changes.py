"""What changes when, against a judge asked day by day.

The check asks `judge` on every single day about an exercise made of one demand, and never looks at a window: so
it would notice a limit that `changes` does not step on. The worked cases are counted by hand from the dates
(40 weeks from the last period to the due date: Naegele's rule; windows of weeks after birth and of gestation as in
the rule table, whose sources stand there).
"""

from datetime import date, timedelta
from types import SimpleNamespace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from library import changes, tables
from library.precautions import chips, judge

TODAY = date(2026, 11, 25)
WEEKS_16 = 112


def flag(condition=None, **kwargs):
    return SimpleNamespace(condition=condition, **kwargs)


def judged(flags, day, side):
    """The verdict on every demand that loads one side of the body, or either where it has no sides."""
    demands = list(tables.rule_table().demands)
    exercise = SimpleNamespace(id="x", demands=demands, demand_sides=dict.fromkeys(demands, "named"))
    return {name: found.verdict for name, found in judge(flags, exercise, day, side=side).demands.items()}


def day_by_day(flags, start, days):
    """(day, demand, before, after, side) asked day by day, told as one where both sides change alike."""
    dates = [start + timedelta(days=n) for n in range(days + 1)]
    by_side = {side: [judged(flags, day, side) for day in dates] for side in ("left", "right")}
    found = []
    for demand in tables.rule_table().demands:
        steps = {
            side: [
                (day, demand, before[demand], after[demand])
                for day, before, after in zip(dates[1:], said, said[1:], strict=False)
                if before[demand] != after[demand]
            ]
            for side, said in by_side.items()
        }
        if steps["left"] == steps["right"]:
            steps = {None: steps["left"]}
        found += [(*step, side) for side, these in steps.items() for step in these]
    return sorted(found, key=lambda step: step[0])


def said(flags, start, days):
    return [tuple(change) for change in changes.changes(flags, start, days)]


BORN = date(2026, 11, 2)
CASES = {
    "pregnant, 12 weeks today": [flag("pregnancy", due=TODAY + timedelta(days=280 - 84))],
    "pregnant, due inside": [flag("pregnancy", due=TODAY + timedelta(days=40))],
    "born three weeks ago": [flag("postnatal_vaginal", on=BORN)],
    "caesarean": [flag("postnatal_caesarean", on=BORN)],
    "two knees, eight weeks apart": [
        flag("knee_replacement", side="left", on=date(2026, 9, 1)),
        flag("knee_replacement", side="right", on=date(2026, 10, 27)),
    ],
    "operation still to come": [flag("hip_replacement_posterior", side="left", on=date(2026, 12, 20))],
    "date not known": [flag("spinal_surgery")],
    "long ago": [flag("spinal_surgery", on="long_ago")],
    "a word with an end over a rule": [
        flag("postnatal_vaginal", on=BORN),
        flag(instruction="jump_impact", verdict="watch", by="Midwife", words="", until=date(2026, 12, 9)),
    ],
    "a word that begins later": [
        flag("glaucoma"),
        flag(instruction="inversion", verdict="none", by="Dr Osei", words="", on=date(2026, 12, 1)),
    ],
}


@pytest.mark.parametrize("flags", CASES.values(), ids=CASES)
def test_every_change_is_on_the_day_on_which_the_judge_changes(flags):
    expected = day_by_day(flags, TODAY, WEEKS_16)
    found = said(flags, TODAY, WEEKS_16)
    assert sorted(found, key=str) == sorted(expected, key=str)
    assert [step[0] for step in found] == sorted(step[0] for step in found)


DATED = [c["id"] for c in tables.rule_table().conditions.values() if c["window_basis"] != "ongoing"]
FLAGS = st.builds(
    lambda condition, days, side: flag(
        condition, on=TODAY - timedelta(days=days), due=TODAY + timedelta(days=days), side=side
    ),
    st.sampled_from(DATED),
    st.integers(-30, 300),
    st.sampled_from(["left", "right", "both", "unknown"]),
)


@settings(max_examples=12, deadline=None, derandomize=True)
@given(st.lists(FLAGS, min_size=1, max_size=3))
def test_any_flags_change_as_the_judge_changes_day_by_day(flags):
    assert sorted(said(flags, TODAY, 60), key=str) == sorted(day_by_day(flags, TODAY, 60), key=str)


def test_a_pregnant_client_of_twelve_weeks():
    """Due 9 June 2027, so day 0 is 2 September 2026: 14 weeks on 9 December, 16 on 23 December, 28 on 17 March."""
    due = date(2027, 6, 9)
    found = changes.changes([flag("pregnancy", due=due)], TODAY, WEEKS_16)
    assert {change.on for change in found} <= {date(2026, 12, 9), date(2026, 12, 23), date(2027, 3, 17)}
    assert {change.on for change in found} >= {date(2026, 12, 9), date(2026, 12, 23)}
    prone = [change for change in found if change.demand == "prone_lying"]
    assert prone
    assert prone[-1].after == "avoid"


@pytest.mark.parametrize("today", [date(2026, 11, 9), date(2026, 12, 21), date(2027, 2, 1)])
def test_a_client_after_a_birth_on_three_dates(today):
    """Born 2 November 2026: six weeks end on 13 December, twelve on 24 January, 26 on 2 May (2 Nov + 182 days)."""
    steps = {date(2026, 12, 14), date(2027, 1, 25), date(2027, 5, 3)}
    found = changes.changes([flag("postnatal_vaginal", on=BORN)], today, 26 * 7)
    assert found
    assert {change.on for change in found} <= {step for step in steps if today < step}


def test_a_day_that_is_a_limit_today_is_no_change_to_come():
    found = changes.changes([flag("postnatal_vaginal", on=BORN)], date(2026, 12, 14), 7)
    assert found == []


def test_an_operation_to_come_counts_at_once_and_changes_on_its_day():
    """A date still to come puts every window in force; on its day only the first windows stay."""
    later = flag("hip_replacement_posterior", side="left", on=date(2026, 12, 20))
    assert date(2026, 12, 20) in changes.limits([later])


def test_what_a_clinician_said_of_an_exercise_ends_the_day_after_its_last_day():
    told = flag(instruction="mat_roll_up", verdict="avoid", words="", by="Surgeon", until=date(2026, 12, 1))
    assert changes.changes([told], TODAY, 20) == [(date(2026, 12, 2), "mat_roll_up", "avoid", "none", None)]


def test_the_stretches_of_a_track_follow_each_other_without_a_hole():
    for track in changes.tracks([flag("postnatal_caesarean", on=BORN)], TODAY, WEEKS_16):
        assert track.spans[0].first == TODAY
        assert track.spans[-1].end == TODAY + timedelta(days=WEEKS_16 + 1)
        for one, other in zip(track.spans, track.spans[1:], strict=False):
            assert one.end == other.first
            assert one.verdict != other.verdict


def test_the_first_stretch_is_what_the_chips_say_today():
    flags = CASES["pregnant, 12 weeks today"]
    today = {chip.demand: chip.verdict for chip in chips(flags, TODAY)}
    for track in changes.tracks(flags, TODAY, WEEKS_16):
        assert track.spans[0].verdict == today.get(track.demand, "none")


def test_a_due_date_without_a_day_nought_counts_as_unknown():
    """280 days before 7 October of year 1 the calendar has no day; every window is in force, and nothing changes."""
    early, unknown = flag("pregnancy", due=date(1, 10, 7)), flag("pregnancy")
    assert [c.verdict for c in chips([early], TODAY)] == [c.verdict for c in chips([unknown], TODAY)]
    assert changes.limits([early]) == []
    assert changes.limits([flag("pregnancy", due=date(1, 10, 8))])[0] == date.min


def test_a_day_at_the_end_of_the_calendar_is_no_error():
    told = flag(instruction="inversion", verdict="avoid", words="", by="x", until=date.max, on=date.max)
    assert date.max in changes.limits([told, flag("postnatal_vaginal", on=date.max)])
