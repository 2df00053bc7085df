"""The stop sheet and incidents: no way to note a sign and go on, urgent signs lead with the number."""

import re

import pytest
from django.urls import reverse
from django.utils.html import escape

from sessions.models import Entry, Incident
from tests.sessions.recorded import entry_id, make_session

pytestmark = pytest.mark.django_db


@pytest.fixture
def held(instructor, now):
    return make_session(instructor)


def to(held, name="record"):
    return reverse(f"sessions:{name}", args=[held.attendance.public_id])


def typed(item, number=1, **values):
    return {"item": item.public_id, "id": str(entry_id(number)), **values}


def text_of(response):
    return response.content.decode()


# the stop sheet


SIGNS = ("tingling", "numb_or_weak", "pain")
WAYS = ("save", "as_planned", "skip", "")


@pytest.mark.parametrize("sign", SIGNS)
@pytest.mark.parametrize("way", WAYS, ids=lambda way: way or "no button")
@pytest.mark.parametrize("htmx", [True, False], ids=["htmx", "plain"])
def test_nothing_notes_a_sign_and_goes_on(as_instructor, held, sign, way, htmx):
    headers = {"HX-Request": "true"} if htmx else {}
    values = {"reps_left": "5", "note": "O'Brien said =SUM(1)", f"felt_{sign}_left": "1"}
    answer = as_instructor.post(
        to(held, "record_entry"), typed(held.scooter, do=way, **values), headers=headers
    )
    page = text_of(answer)
    assert answer.status_code == 422 and not Entry.objects.exists()
    assert "Stop this exercise" in page and "Stop the session" in page
    # All that was typed goes along.
    for name, value in values.items():
        assert f'type="hidden" name="{name}" value="{escape(value)}"' in page
    assert ("HX-Retarget" in answer.headers) is htmx
    assert ('<div class="only" data-stop-pain>' in page) is (sign == "pain")


def test_touched_by_mistake_gives_back_what_was_typed_without_the_sign(as_instructor, held):
    values = {"reps_left": "5", "felt_pain_left": "1", "felt_stretch_right": "1", "quality_right": "4"}
    page = text_of(as_instructor.post(to(held, "record_entry"), typed(held.scooter, do="back", **values)))
    assert re.search(r'name="reps_left" id="id_reps_left" value="5"', page)
    assert re.search(r'name="felt_stretch_right"[^>]*checked', page)
    assert not re.search(r'name="felt_pain_left"[^>]*checked', page) and not Entry.objects.exists()


def test_stop_without_script_is_a_page_with_everything_typed(as_instructor, held):
    page = text_of(as_instructor.post(to(held, "record_stop"), typed(held.curl, do="ask", reps_both="3")))
    assert 'name="reps_both" value="3"' in page and "In Pelvic curl, 10:15." in page
    ring, ask = page.index("Ring 999 first"), page.index("Stop, then ask or refer")
    for words in ("Chest pain", "Short of breath", "faint", "ending their life"):
        assert ring < page.index(words) < ask
    assert page.index("New numbness") > ask


def test_stopping_the_exercise_starts_an_incident_and_keeps_what_was_felt(as_instructor, held, now):
    values = {"reps_left": "8", "reps_right": "3", "felt_tingling_left": "1"}
    answer = as_instructor.post(
        to(held, "record_stop"),
        typed(held.scooter, do="stop_exercise", sign="tingling", side="left", **values),
    )
    assert answer.url == to(held)
    incident = Incident.objects.get()
    assert (incident.sign, incident.side, incident.at) == ("tingling", "left", now)
    assert (incident.unit, incident.session_stopped) == (held.reformer, False)
    entry = Entry.objects.get()
    kept = {side.side: (side.repetitions, side.felt) for side in entry.sides.all()}
    # The left number was the plan's own: nobody said how much of it was done.
    assert kept == {"left": (None, ["tingling"]), "right": (3, [])} and entry.note == "stopped"


URGENT = ("chest", "breath", "faint", "headache", "stroke_signs", "self_harm_thoughts")


@pytest.mark.parametrize("sign", URGENT)
def test_an_urgent_sign_ends_the_session_and_leads_with_the_number(as_instructor, held, sign):
    answer = as_instructor.post(
        to(held, "record_stop"), typed(held.curl, do="stop_exercise", sign=sign), follow=True
    )
    page = text_of(answer)
    assert Incident.objects.get().session_stopped is True
    assert page.index("Ring 999") < page.index("Kept already")
    # No further exercise is offered.
    record = text_of(as_instructor.get(to(held)))
    assert "save-next" not in record and "Close the session" in record


def test_of_words_of_self_harm_the_record_keeps_that_help_was_called(as_instructor, held):
    answer = as_instructor.post(
        to(held, "record_stop"), {"do": "stop_session", "sign": "self_harm_thoughts"}, follow=True
    )
    page = text_of(answer)
    assert Incident.objects.get().sign == "help_called" and "Help was called" in page
    assert "Thank you for telling me." in page and "No details." in page
    assert "ending their life" not in page


EASED = {"lighter_spring": "Eased: lighter spring", "smaller_range": "Eased: smaller range"}


@pytest.mark.parametrize("do, words", EASED.items(), ids=EASED)
def test_pain_that_is_plain_muscle_discomfort_goes_on_lighter(as_instructor, held, do, words):
    values = {"reps_left": "8", "reps_right": "8", "felt_pain_left": "1"}
    answer = as_instructor.post(
        to(held, "record_stop"), typed(held.scooter, do=do, sign="pain", side="left", **values)
    )
    assert answer.url == f"{to(held)}?item={held.scooter.public_id}"
    assert Entry.objects.get().note == words and not Incident.objects.exists()
    # The sign is on file and answered: the same row is saved without being asked again.
    answer = as_instructor.post(
        to(held, "record_entry"), typed(held.scooter, do="save", note=words, **values)
    )
    assert answer.status_code == 302


NOT_EASED = {
    "tingling": ("tingling", {"felt_tingling_left": "1"}, 404),
    "numb or weak": ("numb_or_weak", {"felt_numb_or_weak_left": "1"}, 404),
    "a sign of the list": ("nerve", {}, 404),
    "pain said, tingling ticked": ("pain", {"felt_pain_left": "1", "felt_tingling_right": "1"}, 422),
}


@pytest.mark.parametrize("sign, felt, status", NOT_EASED.values(), ids=NOT_EASED)
def test_numbness_and_tingling_are_offered_nothing_lighter(as_instructor, held, sign, felt, status):
    answer = as_instructor.post(
        to(held, "record_stop"), typed(held.scooter, do="lighter_spring", sign=sign, reps_left="8", **felt)
    )
    assert answer.status_code == status and not Entry.objects.exists()


def test_stop_works_with_numbers_that_cannot_be_read(as_instructor, held):
    as_instructor.post(
        to(held, "record_stop"),
        typed(held.scooter, do="stop_session", reps_left="many", reps_right="3", quality_left="2"),
    )
    kept = {s.side: (s.repetitions, s.quality) for s in Entry.objects.get().sides.all()}
    assert Incident.objects.count() == 1 and kept == {"left": (None, 2), "right": (3, None)}


# incidents


def test_an_incident_without_words_is_asked_for_at_the_close(as_instructor, held):
    as_instructor.post(to(held, "record_stop"), typed(held.curl, do="stop_exercise", sign="asked"))
    assert "nothing is written about it yet" in text_of(as_instructor.get(to(held, "record_close")))
    incident = Incident.objects.get()
    address = reverse("sessions:incident", args=[incident.public_id])
    assert as_instructor.post(address, {"words": " "}).status_code == 422
    page = text_of(as_instructor.post(address, {"words": "Sat down, water."}, follow=True))
    assert "Sat down, water." in page and "25 Nov 2026, 10:15, Maris" in page
    assert "nothing is written about it yet" not in text_of(as_instructor.get(to(held, "record_close")))


def test_the_desk_reads_no_incident(as_desk, as_instructor, held):
    as_instructor.post(to(held, "record_stop"), {"do": "stop_session", "sign": "chest"})
    address = reverse("sessions:incident", args=[Incident.objects.get().public_id])
    assert as_desk.get(address).status_code == 403
