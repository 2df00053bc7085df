"""How far the client goes, set from the recording screen: in its place, and back to the row with what was typed."""

import html
import re

import pytest
from django.urls import reverse

from sessions.demo import factories as f
from sessions.models import Entry, OwnWay
from studio.models import AuditEntry
from tests.sessions.recorded import entry_id, make_session

pytestmark = pytest.mark.django_db
HALF = {"by": "share", "value": 50}


@pytest.fixture
def held(instructor, now):
    return make_session(instructor)


def at(held, name="record_far") -> str:
    return reverse(f"sessions:{name}", args=[held.attendance.public_id])


def typed(held, row=None, **more) -> dict:
    """Return what the recording screen of a row sends, with something typed."""
    row = row or held.scooter
    sides = {"reps_left": "7", "reps_right": "5", "quality_left": "2", "note": "Slow, and long."}
    return {"item": row.public_id, "id": entry_id(1), **sides, "springs": f"{held.light.public_id}:1", **more}


def hidden(text: str) -> dict:
    """Return the hidden values of the form that goes back, by name."""
    back = text[text.index('action="') : text.index("</form>")]
    return {n: html.unescape(v) for n, v in re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', back)}


def value_of(text: str, name: str) -> str:
    field = re.search(rf'<input[^>]*name="{name}"[^>]*>', text)[0]
    return re.search(r'value="([^"]*)"', field)[1]


HTMX = {"HX-Request": "true", "HX-Target": "fl"}


class TestThere:
    def test_it_stands_in_the_place_of_the_screen_with_what_was_typed(self, held, as_instructor):
        text = as_instructor.post(at(held), typed(held, do="ask"), headers=HTMX).content.decode()
        assert "<html" not in text and 'id="fl"' in text and 'target="_blank"' not in text
        assert held.scooter.content.name in text and "limit-form" in text
        kept = hidden(text)
        assert (kept["reps_left"], kept["note"], kept["item"]) == (
            "7",
            "Slow, and long.",
            held.scooter.public_id,
        )
        assert "do" not in kept

    def test_the_screen_leads_there_in_place(self, held, as_instructor):
        for limits in ({}, {"left": HALF}):
            if limits:
                f.OwnWayFactory(client=held.client, exercise=held.scooter.exercise, limit=limits)
            text = as_instructor.get(at(held, "record"), {"item": held.scooter.public_id}).content.decode()
            assert f'formaction="{at(held)}"' in text
            assert (
                reverse("sessions:own_way", args=[held.client.public_id, held.scooter.exercise.public_id])
                not in text
            )

    def test_by_its_address_it_is_a_page_of_its_own(self, held, as_instructor):
        text = as_instructor.get(at(held), {"item": held.clam.public_id}).content.decode()
        assert "<html" in text and "limit-form" in text
        assert AuditEntry.objects.filter(action="record.read").count() == 1

    @pytest.mark.parametrize("asked", [{}, {"item": ""}], ids=["no row", "an empty one"])
    def test_without_a_row_it_leads_to_the_record(self, held, as_instructor, asked):
        assert as_instructor.get(at(held), asked).url == at(held, "record")

    def test_a_row_of_another_plan_is_not_there(self, held, as_instructor):
        other = f.PlanItemFactory().public_id
        assert as_instructor.post(at(held), typed(held, item=other, do="ask")).status_code == 404

    def test_somebody_elses_record_is_refused(self, held, as_owner, as_desk):
        assert as_owner.get(at(held), {"item": held.clam.public_id}).status_code == 403
        assert as_desk.get(at(held), {"item": held.clam.public_id}).status_code in (403, 404)

    def test_only_the_picture_comes_while_somebody_types(self, held, as_instructor):
        sent = typed(held, version=0, number_left="30", by_left="share", do="limit_show")
        headers = {"HX-Request": "true", "HX-Target": "limit-picture"}
        text = as_instructor.post(at(held), sent, headers=headers).content.decode()
        assert "30 % of the way" in text and "limit-form" not in text
        assert not OwnWay.objects.exists()

    def test_a_touched_part_is_typed_in_and_the_rest_goes_along(self, held, as_instructor):
        sent = typed(held, version=0, number_left="", by_left="share", quick="left:25")
        text = as_instructor.post(at(held), sent, headers=HTMX).content.decode()
        assert value_of(text, "number_left") == "25" and "Not kept yet." in text
        kept = hidden(text)
        assert kept["reps_left"] == "7" and not {"quick", "number_left", "by_left"} & kept.keys()

    def test_what_is_wrong_is_said_and_nothing_is_lost(self, held, as_instructor):
        sent = typed(held, version=0, number_left="0", by_left="share", do="limit")
        answer = as_instructor.post(at(held), sent, headers=HTMX)
        assert answer.status_code == 422 and "1 to 100 per cent" in answer.content.decode()
        assert hidden(answer.content.decode())["note"] == "Slow, and long."


class TestBack:
    def keep(self, browser, held, row=None, headers=HTMX, **more):
        own = OwnWay.objects.of(held.client.pk, (row or held.scooter).exercise)
        sent = {"version": own.version if own else 0, "by_left": "share", "number_left": "50", "do": "limit"}
        return browser.post(at(held), typed(held, row, **sent | more), headers=headers)

    def is_as_typed(self, text, held) -> None:
        assert f'name="item" value="{held.scooter.public_id}"' in text
        assert value_of(text, "reps_left") == "7" and value_of(text, "reps_right") == "5"
        assert "Slow, and long." in text and "data-unsaved" in text
        assert value_of(text, "id") == str(entry_id(1))

    @pytest.mark.parametrize("headers", [HTMX, {}], ids=["in place", "without script"])
    def test_kept_it_comes_back_to_the_row_as_it_was_typed(self, held, as_instructor, headers):
        text = self.keep(as_instructor, held, headers=headers).content.decode()
        self.is_as_typed(text, held)
        assert "Kept." in text and "half way" in text and ("<html" in text) is (not headers)
        assert OwnWay.objects.get().limit == {"left": HALF}
        assert not Entry.objects.exists()

    def test_back_without_keeping_it_is_as_it_was_typed(self, held, as_instructor):
        text = as_instructor.post(at(held), typed(held, do="ask"), headers=HTMX).content.decode()
        sent = {**hidden(text), "do": "judge"}
        self.is_as_typed(
            as_instructor.post(at(held, "record_entry"), sent, headers=HTMX).content.decode(), held
        )
        assert not OwnWay.objects.exists()

    def test_kept_after_another_one_both_are_shown(self, held, as_instructor):
        self.keep(as_instructor, held, number_left="25")
        answer = self.keep(as_instructor, held, version=0)
        text = answer.content.decode()
        assert answer.status_code == 409 and "a quarter of the way" in text
        assert hidden(text)["reps_left"] == "7"

    def test_a_row_that_is_recorded_says_what_it_was_done_with(self, held, as_instructor):
        f.EntryFactory(record=held.record, plan_item=held.clam, exercise=held.clam.exercise)
        text = self.keep(as_instructor, held, held.clam).content.decode()
        assert "Kept for the next time. This row was recorded with: the whole way." in text

    def test_another_exercise_in_the_row_keeps_its_own(self, held, as_instructor):
        other = f.ExerciseFactory(key="mat_bridge_hold")
        text = self.keep(
            as_instructor, held, held.curl, instead=other.public_id, by_both="share", number_both="50"
        ).content.decode()
        assert f'name="instead" value="{other.public_id}"' in text
        assert OwnWay.objects.get().exercise == other

    def test_a_handout_that_shows_more_is_named(self, held, as_instructor):
        f.HandoutFactory(client=held.client, exercises=["mat_pelvic_curl", "mat_clam"])
        text = self.keep(as_instructor, held, held.clam).content.decode()
        assert "shows more than this" in text

    def test_a_closed_record_keeps_nothing(self, held, as_instructor):
        held.record.signed_off_at = held.record.started_at
        held.record.finished_at = held.record.started_at
        held.record.save()
        answer = self.keep(as_instructor, held)
        assert answer.status_code in (302, 200) and not OwnWay.objects.exists()
