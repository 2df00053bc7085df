"""Typing the paper form: what is kept, what it proposes, and that the desk writes it once."""

import datetime as dt

import pytest
from django.urls import reverse

from clients.actions import intake as actions
from clients.models import CareProfile, Flag, FlagStatus, Submission
from sessions.demo.factories import CareProfileFactory, ClientFactory, FlagFactory, SubmissionFactory
from studio.actions.audit import Actor
from studio.models import AuditEntry, Studio
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


# What is kept


def test_answers_are_kept_as_given(as_desk, desk, client):
    send(
        as_desk,
        client,
        **KNEE,
        group_eyes_neuro="not_sure",
        limits_words="No kneeling.",
        limits_by="Dr Thornquill",
        limits_dated="2026-11-01",
        hurts="Left knee on stairs",
        wishes="Garden\nStairs",
        home=["band", "wall"],
        touch="ask",
    )
    row = Submission.objects.get()
    assert (row.client, row.typed_by, row.given_by, row.form_version) == (client, desk, "paper", 1)
    assert row.given_on == dt.date(2026, 11, 20)
    assert row.answers["groups"]["hip_knee_foot"] == "yes"
    assert row.answers["groups"]["eyes_neuro"] == "not_sure"
    assert row.answers["conditions"] == {
        "knee_replacement": {"side": "left", "when": "date", "on": "2026-10-02"}
    }
    assert row.answers["limits"] == {"words": "No kneeling.", "by": "Dr Thornquill", "dated": "2026-11-01"}
    assert row.answers["wishes"].split() == ["Garden", "Stairs"]
    assert row.answers["home"] == ["band", "wall"]


def test_flags_are_proposed_in_the_same_step(as_desk, desk, client):
    send(as_desk, client, **KNEE, limits_words="No kneeling.", limits_by="Dr Thornquill")
    knee, limit = Flag.objects.with_state()
    assert (knee.condition, knee.side, knee.when, knee.event_on) == (
        "knee_replacement",
        "left",
        "date",
        dt.date(2026, 10, 2),
    )
    assert (limit.about, limit.words, limit.clinician) == ("unsettled", "No kneeling.", "Dr Thornquill")
    assert {knee.state, limit.state} == {"proposed"}
    assert knee.submission == Submission.objects.get()
    assert AuditEntry.objects.filter(action="intake.recorded", person=desk).count() == 1


def test_a_failure_keeps_nothing_at_all(desk, client, monkeypatch):
    """Answers and flags are one step: no flag without its form, no form without its flags."""

    def break_down(**kwargs):
        raise RuntimeError

    monkeypatch.setattr(FlagStatus.objects, "create", break_down)
    with pytest.raises(RuntimeError):
        actions.record(
            actor=Actor(person=desk, role="front_desk"),
            studio=Studio.objects.get(),
            client=client,
            given_by="paper",
            given_on=dt.date(2026, 11, 20),
            answers={"conditions": {"scoliosis": {}}},
        )
    assert not Submission.objects.exists()
    assert not Flag.objects.exists()
    assert not AuditEntry.objects.filter(action="intake.recorded").exists()


def test_weeks_on_a_day_become_a_due_date(as_desk, client):
    send(
        as_desk,
        client,
        group_pregnancy_postnatal="yes",
        ticked=["pregnancy"],
        **{
            "pregnancy-due_how": "weeks",
            "pregnancy-weeks": "12",
            "pregnancy-days": "3",
            "pregnancy-weeks_on": "2026-11-20",
        },
    )
    flag = Flag.objects.get()
    # 20 November 2026 plus 280 - 87 days, by the calendar.
    assert flag.due_on == dt.date(2027, 6, 1)
    kept = Submission.objects.get().answers["conditions"]["pregnancy"]
    assert kept == {"due": "2027-06-01", "weeks": 12, "days": 3, "weeks_on": "2026-11-20"}


def test_same_flag_is_not_proposed_twice(as_owner, as_desk, client):
    send(as_desk, client, **KNEE)
    send(as_owner, client, **KNEE)
    assert Submission.objects.count() == 2
    assert Flag.objects.count() == 1


def test_other_side_is_proposed_beside(as_owner, client):
    FlagFactory(client=client, condition="knee_replacement", side="right", on=dt.date(2026, 10, 2))
    send(as_owner, client, **KNEE)
    assert Flag.objects.count() == 2


def test_an_ended_flag_is_proposed_again(as_owner, client):
    FlagFactory(
        client=client, condition="knee_replacement", side="left", on=dt.date(2026, 10, 2), state="ended"
    )
    send(as_owner, client, **KNEE)
    assert Flag.objects.count() == 2


def test_home_and_touch_fill_an_empty_profile(as_desk, client):
    send(as_desk, client, home=["band"], touch="no")
    care = CareProfile.objects.get()
    assert (care.home_equipment, care.touch) == (["band"], "no")


def test_home_and_touch_leave_what_an_instructor_noted(as_owner, client):
    CareProfileFactory(client=client, home_equipment=["ring"], touch="")
    send(as_owner, client, home=["band"], touch="no")
    care = CareProfile.objects.get()
    assert (care.home_equipment, care.touch, care.version) == (["ring"], "no", 2)


def test_instructor_notes_what_was_told(as_instructor, client):
    answer = send(as_instructor, client, given_by="spoken")
    assert answer.url == reverse("clients:flags", args=[client.public_id])
    assert Submission.objects.get().given_by == "spoken"


def test_desk_cannot_claim_it_was_told(as_desk, client):
    send(as_desk, client, given_by="spoken")
    assert Submission.objects.get().given_by == "paper"


# Reading


def test_answers_show_what_was_recorded_and_are_audited(as_instructor, as_desk, instructor, client):
    send(as_desk, client, **KNEE, hurts="Left knee on stairs", limits_words="No kneeling.", home=["band"])
    answer = as_instructor.get(reverse("clients:answers", args=[client.public_id]))
    text = answer.content.decode()
    for words in (
        "Knee replacement, left, 2 Oct 2026",
        "Left knee on stairs",
        "No kneeling.",
        "band",
        "Typed by Juniper",
        "Nobody has compared it with medical records.",
    ):
        assert words in text
    assert AuditEntry.objects.filter(action="answers.read", person=instructor).count() == 1


@pytest.mark.parametrize(
    "answers",
    [
        pytest.param({}, id="nothing"),
        pytest.param({"groups": None, "conditions": None, "limits": None, "home": None}, id="empty parts"),
        pytest.param({"conditions": {"gone_condition": {"side": "left"}}}, id="condition no longer listed"),
        pytest.param({"home": ["sofa"], "touch": "maybe"}, id="values no longer listed"),
    ],
)
def test_odd_answers_still_show(as_instructor, client, answers):
    SubmissionFactory(client=client, answers=answers)
    answer = as_instructor.get(reverse("clients:answers", args=[client.public_id]))
    assert answer.status_code == 200
    for name in answers.get("conditions") or ():
        assert name in answer.content.decode()


def test_answers_take_the_same_queries_for_two_and_for_twelve(
    as_instructor, client, django_assert_num_queries
):
    def add(number):
        for _n in range(number):
            SubmissionFactory(client=client)

    place = reverse("clients:answers", args=[client.public_id])
    add(2)
    as_instructor.get(place)
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connection) as two:
        as_instructor.get(place)
    add(10)
    with django_assert_num_queries(len(two)):
        as_instructor.get(place)


def test_no_answers_yet(as_instructor, client):
    text = as_instructor.get(reverse("clients:answers", args=[client.public_id])).content.decode()
    assert "No answers yet" in text
