"""The front desk meets no health word: not on a page, not in a search, not by an address typed by hand."""

import datetime as dt

import pytest
from django.urls import reverse

from sessions.demo.factories import (
    BookingFactory,
    CareProfileFactory,
    ClientFactory,
    FlagFactory,
    FlagStatusFactory,
    GoalFactory,
    InstructionFactory,
    RecordFactory,
    SubmissionFactory,
)
from studio.models import AuditEntry

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]

WORD = "xylograph"
HEALTH_PAGES = ("answers", "flags", "flag_add", "instruction_add", "goals", "care")


@pytest.fixture
def client(house):
    """A client of whom every health row holds the planted word."""
    client = ClientFactory(full_name="Ottoline Brackwater")
    form = SubmissionFactory(
        client=client,
        answers={
            "groups": {"bone_spine": "yes"},
            "conditions": {"scoliosis": {}},
            "hurts": WORD,
            "wishes": WORD,
            "home_other": WORD,
            "limits": {"words": WORD, "by": WORD, "dated": ""},
        },
    )
    flag = FlagFactory(client=client, condition="scoliosis", note=WORD, submission=form)
    FlagStatusFactory(flag=flag, state="active", reason=WORD)
    InstructionFactory(client=client, words=WORD, clinician=WORD)
    GoalFactory(client=client, words=WORD, ratings=[(dt.date(2026, 11, 1), 3)])
    CareProfileFactory(client=client, home_equipment=[WORD], touch="no")
    booking = BookingFactory(clients=[client])
    RecordFactory(attendance=booking.attendances.get(), next_time=WORD)
    return client


def desk_pages(client):
    """Every page of this app that the desk may open, and the pages of the day that show the client."""
    return [
        ("/clients/", None),
        ("/clients/", {"words": "ottoline"}),
        ("/clients/", {"words": WORD}),
        ("/clients/new/", None),
        (reverse("clients:contact", args=[client.public_id]), None),
        (reverse("clients:intake", args=[client.public_id]), None),
        (reverse("sessions:client", args=[client.public_id]), None),
        (reverse("sessions:today"), None),
        (reverse("sessions:bookings"), None),
    ]


def test_planted_word_is_on_no_page_of_the_desk(as_desk, client):
    for address, data in desk_pages(client):
        answer = as_desk.post(address, data) if data else as_desk.get(address)
        assert answer.status_code == 200, address
        text = answer.content.decode()
        shown = text.replace(f'value="{WORD}"', "")  # what the desk typed into the search itself
        assert WORD not in shown, address
        for word in ("coliosis", "No touch", "Avoid", "Modify"):
            assert word not in shown, address


@pytest.mark.parametrize("name", HEALTH_PAGES)
def test_health_pages_are_refused_and_audited(as_desk, desk, client, name):
    answer = as_desk.get(reverse(f"clients:{name}", args=[client.public_id]))
    assert answer.status_code == 403
    assert WORD not in answer.content.decode()
    assert AuditEntry.objects.filter(action="access.refused", person=desk).count() == 1


def test_health_writes_are_refused(as_desk, client):
    flag, goal = client.flags.first(), client.goals.first()
    places = [
        reverse("clients:flag_state", args=[client.public_id, flag.public_id]),
        reverse("clients:flag_change", args=[client.public_id, flag.public_id]),
        reverse("clients:flag_add", args=[client.public_id]),
        reverse("clients:instruction_add", args=[client.public_id]),
        reverse("clients:goal_add", args=[client.public_id]),
        reverse("clients:goal_change", args=[client.public_id, goal.public_id]),
        reverse("clients:goal_rate", args=[client.public_id, goal.public_id]),
        reverse("clients:goal_state", args=[client.public_id, goal.public_id]),
        reverse("clients:care", args=[client.public_id]),
    ]
    for place in places:
        assert as_desk.post(place, {"state": "ended", "reason": "x", "version": 1}).status_code == 403, place


def test_search_does_not_look_into_health(as_desk, client):
    assert "Nobody by that name" in as_desk.post("/clients/", {"words": WORD}).content.decode()


def test_a_refused_form_says_nothing_of_the_one_on_file(as_desk, client):
    from tests.clients.forms import intake

    text = as_desk.post(reverse("clients:intake", args=[client.public_id]), intake()).content.decode()
    assert WORD not in text
    assert "coliosis" not in text


def test_nobody_signed_in_sees_nothing(as_nobody, client):
    for name in ("contact", "intake", *HEALTH_PAGES):
        answer = as_nobody.get(reverse(f"clients:{name}", args=[client.public_id]))
        assert answer.status_code == 302, name


def test_no_message_carries_a_health_word(as_instructor, client):
    """A message may be shown to whoever signs in next on the same device."""
    flag = FlagFactory(client=client, condition="migraine", state="proposed", note=WORD)
    place = reverse("clients:flag_state", args=[client.public_id, flag.public_id])
    as_instructor.post(place, {"state": "active", "version": 1})
    kept = str(dict(as_instructor.session))
    assert "igraine" not in kept
    assert WORD not in kept
