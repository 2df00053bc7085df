"""Goals in the client's words, with the client's number."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from clients.models import Goal, GoalRating
from sessions.demo.factories import ClientFactory, GoalFactory, SubmissionFactory
from studio.models import AuditEntry

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]

TODAY = dt.date(2026, 11, 25)


@pytest.fixture
def client(house):
    return ClientFactory()


def goals(client):
    return reverse("clients:goals", args=[client.public_id])


def of(goal, name):
    return reverse(f"clients:goal_{name}", args=[goal.client.public_id, goal.public_id])


def text_of(answer):
    return answer.content.decode()


def test_goal_is_added(as_instructor, instructor, client):
    place = reverse("clients:goal_add", args=[client.public_id])
    as_instructor.post(place, {"words": "Lift the violin case to the top shelf"})
    goal = Goal.objects.get()
    assert (goal.words, goal.set_on, goal.state) == ("Lift the violin case to the top shelf", TODAY, "open")
    assert AuditEntry.objects.get(action="goal.added").person == instructor


@pytest.mark.parametrize(
    ("words", "sentence"),
    [("", "as the client says it"), ("   ", "as the client says it"), ("x" * 241, "240 letters at most")],
)
def test_wrong_words_of_a_new_goal(as_instructor, client, words, sentence):
    answer = as_instructor.post(reverse("clients:goal_add", args=[client.public_id]), {"words": words})
    assert answer.status_code == 422
    assert sentence in text_of(answer)
    assert words.strip() in text_of(answer)
    assert not Goal.objects.exists()


def test_words_are_changed(as_instructor, client):
    goal = GoalFactory(client=client)
    as_instructor.post(of(goal, "change"), {"words": "Take the steps without the rail", "version": 1})
    goal.refresh_from_db()
    assert (goal.words, goal.version) == ("Take the steps without the rail", 2)


def test_two_at_once_second_sees_both_texts(as_instructor, as_owner, client):
    goal = GoalFactory(client=client, words="First words")
    as_owner.post(of(goal, "change"), {"words": "Words of the owner", "version": 1})
    answer = as_instructor.post(of(goal, "change"), {"words": "Words of the instructor", "version": 1})
    text = text_of(answer)
    goal.refresh_from_db()
    assert answer.status_code == 409
    assert goal.words == "Words of the owner"
    assert "Words of the owner" in text
    assert ">Words of the instructor</textarea>" in text
    assert 'name="version" value="2"' in text


def test_empty_words_are_said_at_the_goal(as_instructor, client):
    goal = GoalFactory(client=client)
    answer = as_instructor.post(of(goal, "change"), {"words": "", "version": 1})
    assert answer.status_code == 422
    assert "as the client says it" in text_of(answer)


@pytest.mark.parametrize("value", [0, 10])
def test_rating(as_instructor, instructor, client, value):
    goal = GoalFactory(client=client)
    as_instructor.post(of(goal, "rate"), {"value": value})
    rating = GoalRating.objects.get()
    assert (rating.value, rating.on, rating.author) == (value, TODAY, instructor)


@pytest.mark.parametrize("value", ["", "11", "-1", "5.5", "five"])
def test_number_that_is_none(as_instructor, client, value):
    goal = GoalFactory(client=client)
    answer = as_instructor.post(of(goal, "rate"), {"value": value})
    assert answer.status_code == 422
    assert "Choose a number from 0 to 10." in text_of(answer)
    assert not GoalRating.objects.exists()


def test_second_number_of_a_day_stands_beside_the_first(as_instructor, client):
    goal = GoalFactory(client=client)
    as_instructor.post(of(goal, "rate"), {"value": 3})
    as_instructor.post(of(goal, "rate"), {"value": 4})
    assert [rating.value for rating in goal.ratings.all()] == [3, 4]
    assert "<b>4</b>" in text_of(as_instructor.get(goals(client)))


@pytest.mark.parametrize(("state", "closed"), [("reached", TODAY), ("put_aside", TODAY), ("open", None)])
def test_state(as_instructor, client, state, closed):
    goal = GoalFactory(client=client, state="reached" if state == "open" else "open", closed_on=None)
    as_instructor.post(of(goal, "state"), {"state": state, "version": 1})
    goal.refresh_from_db()
    assert (goal.state, goal.closed_on) == (state, closed)


def test_state_set_by_two_at_once(as_instructor, as_owner, client):
    goal = GoalFactory(client=client)
    as_owner.post(of(goal, "state"), {"state": "reached", "version": 1})
    answer = as_instructor.post(of(goal, "state"), {"state": "put_aside", "version": 1}, follow=True)
    goal.refresh_from_db()
    assert goal.state == "reached"
    assert "Somebody changed this goal" in text_of(answer)


def test_wishes_of_the_form_can_become_goals(as_instructor, client):
    SubmissionFactory(client=client, answers={"wishes": "- Garden again\n\nTop shelf\nGarden again"})
    GoalFactory(client=client, words="top shelf")
    assert as_instructor.get(goals(client)).context["wishes"] == ["Garden again"]


def test_reads_are_audited(as_instructor, instructor, client):
    as_instructor.get(goals(client))
    assert AuditEntry.objects.get(action="goals.read").person == instructor


def test_goal_of_another_client_is_missing(as_instructor, client):
    goal = GoalFactory()
    place = reverse("clients:goal_rate", args=[client.public_id, goal.public_id])
    assert as_instructor.post(place, {"value": 3}).status_code == 404
    assert not GoalRating.objects.exists()


def test_same_queries_for_two_and_for_twelve(as_instructor, client):
    def count():
        with CaptureQueriesContext(connection) as found:
            as_instructor.get(goals(client))
        return len(found)

    GoalFactory.create_batch(2, client=client, ratings=[(TODAY, 3)])
    count()
    two = count()
    GoalFactory.create_batch(10, client=client, ratings=[(TODAY, 3), (TODAY, 4)])
    assert count() == two
