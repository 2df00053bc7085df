"""The desk types a paper form once, and what is wrong with it is said at its place."""

import datetime as dt

import pytest
from django.urls import reverse

from clients.actions import intake as actions
from clients.models import Client, Flag, Submission
from sessions.demo.factories import ClientFactory, SubmissionFactory
from studio.actions.audit import Actor
from studio.models import Studio
from tests.clients.forms import intake

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]


@pytest.fixture
def client(house):
    return ClientFactory(birth_date=dt.date(1980, 5, 3))


def address(client):
    return reverse("clients:intake", args=[client.public_id])


def send(browser, client, **changed):
    return browser.post(address(client), intake(**changed))


KNEE = {
    "group_hip_knee_foot": "yes",
    "ticked": ["knee_replacement"],
    "knee_replacement-side": "left",
    "knee_replacement-when": "date",
    "knee_replacement-on": "2026-10-02",
}


# The desk writes once


def test_desk_saves_and_hears_who_reads_it(as_desk, client):
    answer = as_desk.post(address(client), intake(**KNEE), follow=True)
    text = answer.content.decode()
    assert "Saved. An instructor reads it next." in text
    assert "Knee replacement" not in text


def test_desk_finds_a_sentence_and_no_content_afterwards(as_desk, client):
    send(as_desk, client, **KNEE, hurts="Xylograph knee")
    answer = as_desk.get(address(client))
    text = answer.content.decode()
    assert "A form is on file." in text
    assert "Xylograph" not in text
    assert "<textarea" not in text
    assert answer.headers["Cache-Control"] == "no-store"


def test_desk_cannot_write_a_second(as_desk, client):
    send(as_desk, client)
    answer = send(as_desk, client, hurts="Second try")
    text = answer.content.decode()
    assert answer.status_code == 409
    assert Submission.objects.count() == 1
    assert "Second try" not in text


def test_two_at_the_desk_at_once_make_one(desk, client):
    """The look and the write are one transaction under the write lock."""
    given = {
        "actor": Actor(person=desk, role="front_desk"),
        "studio": Studio.objects.get(),
        "client": client,
        "given_by": "paper",
        "given_on": dt.date(2026, 11, 20),
        "answers": {},
    }
    actions.record(**given)
    with pytest.raises(actions.AlreadyRecorded):
        actions.record(**given)


def test_form_by_an_instructor_closes_the_desks_too(as_desk, client):
    SubmissionFactory(client=client)
    assert "A form is on file." in as_desk.get(address(client)).content.decode()


@pytest.mark.parametrize("method", ["get", "post"])
def test_switched_off_by_the_owner(as_desk, client, method):
    Studio.objects.update(desk_types_intake=False)
    answer = getattr(as_desk, method)(address(client), intake() if method == "post" else None)
    assert answer.status_code == 403
    assert "The owner has switched typing at the desk off." in answer.content.decode()
    assert not Submission.objects.exists()


def test_switch_leaves_instructors_alone(as_instructor, client):
    Studio.objects.update(desk_types_intake=False)
    assert send(as_instructor, client).status_code == 302


def test_desk_reads_no_answers(as_desk, client):
    SubmissionFactory(client=client)
    assert as_desk.get(reverse("clients:answers", args=[client.public_id])).status_code == 403


def test_owner_at_the_desk_still_reads(house, client):
    """Somebody with two jobs may do what either may."""
    from sessions.demo.factories import StaffFactory
    from tests.people import signed_in

    both = signed_in(StaffFactory(front_desk=True, instructor=True))
    SubmissionFactory(client=client)
    assert send(both, client).status_code == 302


# What is wrong is said at its place, and kept


@pytest.mark.parametrize(
    ("changed", "field", "sentence"),
    [
        pytest.param(
            {"contact_same": None}, "contact_same", "Compare, then tick.", id="contact not compared"
        ),
        pytest.param({"given_on": ""}, "given_on", "Type the date.", id="no date"),
        pytest.param({"given_on": "2026-11-26"}, "given_on", "still to come", id="a form of tomorrow"),
        pytest.param({"given_on": "1979-01-01"}, "given_on", "before the client was born", id="before birth"),
        pytest.param({"group_eyes_neuro": None}, "group_eyes_neuro", "Choose an answer.", id="no answer"),
        pytest.param({"group_eyes_neuro": "maybe"}, "group_eyes_neuro", "maybe", id="an answer that is none"),
        pytest.param(
            {"group_eyes_neuro": "no", "ticked": ["migraine"]},
            "group_eyes_neuro",
            "something is ticked below",
            id="no, and a tick",
        ),
        pytest.param(
            {"limits_by": "Dr Thornquill"}, "limits_words", "What did they say?", id="who but not what"
        ),
        pytest.param({"limits_words": "x" * 301}, "limits_words", "300 letters at most", id="too long"),
        pytest.param(
            {"limits_words": "x", "limits_dated": "2027-01-01"},
            "limits_dated",
            "still to come",
            id="future word",
        ),
        pytest.param({"hurts": "x" * 2001}, "hurts", "2000 letters at most", id="too many words"),
        pytest.param({"home": ["sofa"]}, "home", "sofa", id="a thing that is not on the list"),
    ],
)
def test_wrong_form(as_desk, client, changed, field, sentence):
    answer = send(as_desk, client, **{"tablets": "Keepsake tablets", **changed})
    text = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in " ".join(answer.context["form"].errors[field])
    assert "Nothing is saved yet." in text
    assert "Keepsake tablets" in text
    assert not Submission.objects.exists()


@pytest.mark.parametrize(
    ("condition", "typed", "sentence"),
    [
        pytest.param("frozen_shoulder", {}, "Left, right, both, or not known?", id="no side"),
        pytest.param("ankle_sprain", {"side": "left"}, "A date, more than a year ago", id="no date"),
        pytest.param("ankle_sprain", {"side": "left", "when": "date"}, "Type the date", id="date not typed"),
        pytest.param(
            "ankle_sprain", {"side": "left", "when": "date", "on": "2026-11-26"}, "still to come", id="future"
        ),
        pytest.param(
            "ankle_sprain",
            {"side": "left", "when": "date", "on": "1979-01-01"},
            "before the client",
            id="unborn",
        ),
        pytest.param(
            "ankle_sprain",
            {"side": "left", "when": "unknown", "on": "2026-01-01"},
            "Wipe the date",
            id="two answers",
        ),
        pytest.param("pregnancy", {}, "Due date, weeks on a day", id="pregnancy without a word"),
        pytest.param("pregnancy", {"due_how": "due"}, "Type the due date", id="due date not typed"),
        pytest.param(
            "pregnancy", {"due_how": "due", "due": "2028-01-01"}, "further ahead", id="due too far ahead"
        ),
        pytest.param(
            "pregnancy", {"due_how": "due", "due": "2026-10-01"}, "note a birth instead", id="due long past"
        ),
        pytest.param(
            "pregnancy",
            {"due_how": "weeks", "weeks": "43", "weeks_on": "2026-11-20"},
            "42 weeks at most",
            id="weeks",
        ),
        pytest.param(
            "pregnancy",
            {"due_how": "weeks", "weeks": "12", "days": "7", "weeks_on": "2026-11-20"},
            "0 to 6",
            id="days",
        ),
        pytest.param("pregnancy", {"due_how": "weeks", "weeks": "12"}, "On which day", id="weeks on no day"),
        pytest.param(
            "pregnancy",
            {"due_how": "unknown", "due": "2027-01-01"},
            "Something is typed below",
            id="known after all",
        ),
    ],
)
def test_wrong_condition(as_desk, client, condition, typed, sentence):
    group = {"frozen_shoulder": "shoulder_arm", "ankle_sprain": "hip_knee_foot"}.get(
        condition, "pregnancy_postnatal"
    )
    fields = {f"{condition}-{name}": value for name, value in typed.items()}
    answer = send(as_desk, client, ticked=[condition], **{f"group_{group}": "yes"}, **fields)
    text = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in text
    assert f'value="{condition}" checked' in text
    for value in typed.values():
        assert f'value="{value}"' in text
    assert not Submission.objects.exists()


@pytest.mark.parametrize(
    "typed",
    [
        pytest.param({"side": "unknown", "when": "unknown"}, id="nothing known"),
        pytest.param({"side": "both", "when": "long_ago"}, id="long ago"),
        pytest.param({"side": "left", "on": "2026-11-25"}, id="a date without saying so"),
    ],
)
def test_right_condition(as_desk, client, typed):
    fields = {f"ankle_sprain-{name}": value for name, value in typed.items()}
    answer = send(as_desk, client, group_hip_knee_foot="yes", ticked=["ankle_sprain"], **fields)
    assert answer.status_code == 302
    assert Flag.objects.get().side == typed["side"]


def test_a_due_date_is_weighed_against_the_day_of_the_form(as_desk, client):
    """A form that lay about for months is typed as it stands; the flag then says to ask about the birth."""
    answer = send(
        as_desk,
        client,
        given_on="2026-05-01",
        group_pregnancy_postnatal="yes",
        ticked=["pregnancy"],
        **{"pregnancy-due_how": "due", "pregnancy-due": "2026-06-01"},
    )
    assert answer.status_code == 302


def test_unknown_condition_is_ignored(as_desk, client):
    send(as_desk, client, ticked=["no_such_thing"])
    assert not Flag.objects.exists()


def test_later_form_starts_with_nothing_spoken_of(as_instructor, client):
    SubmissionFactory(client=client)
    text = as_instructor.get(address(client)).content.decode()
    assert text.count('value="left_empty" checked') == 8


def test_first_form_has_no_answer_chosen(as_desk, client):
    text = as_desk.get(address(client)).content.decode()
    assert 'type="radio" name="group_bone_spine" value="no">' in text
    assert "checked" not in text


# What the desk may know of it


@pytest.mark.parametrize(
    ("changed", "asks"),
    [
        pytest.param({}, False, id="no to everything"),
        pytest.param(KNEE, True, id="a flag is proposed"),
        pytest.param({"group_eyes_neuro": "not_sure"}, True, id="not sure counts as yes"),
        pytest.param({"group_eyes_neuro": "yes"}, True, id="yes without a name"),
        pytest.param({"group_eyes_neuro": "left_empty"}, True, id="left empty"),
        pytest.param({"limits_words": "No kneeling."}, True, id="a clinician's words"),
    ],
)
def test_ask_before_booking_until_it_is_settled(as_desk, client, changed, asks):
    """One neutral line whatever the cause is: common practice, no source."""
    send(as_desk, client, **changed)
    assert Client.objects.with_desk_marks().get(pk=client.pk).ask_first is asks


def test_asked_and_answered_takes_the_line_away(as_desk, as_instructor, client):
    send(as_desk, client, group_eyes_neuro="not_sure")
    send(as_instructor, client, given_by="spoken")
    assert Client.objects.with_desk_marks().get(pk=client.pk).ask_first is False
