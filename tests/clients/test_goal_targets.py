"""A goal's number: set, refused where it makes no sense, taken off, and drawn on the progress page."""

import datetime as dt
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from clients.models import Goal
from sessions.demo import factories as f
from studio.models import AuditEntry

pytestmark = pytest.mark.django_db

GOOD = {"measure": "knee_to_wall_lunge", "side": "left", "target": "10.5", "by": "2027-07-01", "version": 1}


@pytest.fixture
def goal(now):
    return f.GoalFactory(words="The harbour steps")


def post(browser, goal, **changed):
    place = reverse("clients:goal_aim", args=[goal.client.public_id, goal.public_id])
    return browser.post(place, {**GOOD, **changed})


def test_number_is_kept_in_whole_tenths_and_audited(as_instructor, instructor, goal):
    assert post(as_instructor, goal).status_code == 302
    goal.refresh_from_db()
    assert (goal.measure, goal.side, goal.target, goal.target_on) == (
        "knee_to_wall_lunge", "left", 105, dt.date(2027, 7, 1),
    )  # fmt: skip
    assert goal.target_value == Decimal("10.5")
    entry = AuditEntry.objects.get(action="goal.changed")
    assert (entry.person, entry.fields) == (instructor, ["measure", "side", "target", "target_on"])


def test_no_measure_takes_the_number_off(as_instructor, goal):
    post(as_instructor, goal)
    post(as_instructor, goal, measure="", version=2)
    goal.refresh_from_db()
    assert (goal.measure, goal.side, goal.target, goal.target_on) == ("", "", None, None)


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"target": ""}, "Write the number to reach."),
        ({"target": "ten"}, "Write a number, such as 10 or 8.5."),
        ({"target": "26"}, "This measure goes from 0.0 cm to 25.0 cm. Write a number between."),
        ({"target": "8.55"}, "One decimal is enough, such as 8.5."),
        ({"side": ""}, "Choose a side."),
        ({"by": "soon"}, "Type the date as day, month, year."),
    ],
    ids=["empty", "word", "outside", "too_fine", "no_side", "no_date"],
)
def test_what_makes_no_sense_is_said_at_the_field_and_kept(as_instructor, goal, changed, sentence):
    answer = post(as_instructor, goal, **changed)
    html = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in html
    if "target" in changed:
        assert f'value="{changed["target"]}"' in html or not changed["target"]
    goal.refresh_from_db()
    assert goal.measure == ""


def test_of_two_at_once_the_second_sees_the_first(as_owner, as_instructor, goal):
    post(as_owner, goal)
    answer = post(as_instructor, goal, target="12")
    html = answer.content.decode()
    assert answer.status_code == 409
    assert "Knee to wall, left, 10.5 cm by 1 Jul 2027" in html
    assert 'value="12"' in html
    assert post(as_instructor, goal, target="12", version=2).status_code == 302
    goal.refresh_from_db()
    assert goal.target == 120


def test_database_refuses_half_a_number(goal):
    with pytest.raises(IntegrityError), transaction.atomic():
        Goal.objects.filter(pk=goal.pk).update(measure="side_bridge")


def test_goal_is_a_line_on_the_progress_page_and_a_tick_on_the_client_page(as_instructor, instructor, goal):
    for day, left in ((dt.date(2026, 9, 1), 60), (dt.date(2026, 11, 1), 80)):
        f.MeasurementFactory(client=goal.client, on=day, left=left, right=110, author=instructor)
    post(as_instructor, goal, target="10")
    progress = as_instructor.get(reverse("sessions:progress", args=[goal.client.public_id])).content.decode()
    # Once for wide and once for tall screens, on the left panel only.
    assert progress.count("Goal 10 cm by July") == 2
    page = as_instructor.get(reverse("sessions:client", args=[goal.client.public_id])).content.decode()
    assert page.count('class="ch-goal"') == 1
    assert "Knee to wall, left, 10 cm by 1 Jul 2027" in page


def test_a_goal_reached_is_no_line_any_more(as_instructor, instructor, goal):
    f.MeasurementFactory(client=goal.client, on=dt.date(2026, 9, 1), author=instructor)
    post(as_instructor, goal)
    goal.refresh_from_db()
    goal.state, goal.closed_on = "reached", dt.date(2026, 11, 20)
    goal.save()
    progress = as_instructor.get(reverse("sessions:progress", args=[goal.client.public_id])).content.decode()
    assert "Goal 10" not in progress
    assert "Goal reached" in progress
