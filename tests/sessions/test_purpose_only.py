"""An exercise of which only the purpose is written goes through a session like any other, and not on paper."""

import pytest
from django.urls import reverse

from sessions import home_rules, home_wording
from sessions.actions import home_practice as home_actions
from sessions.demo import factories as f
from sessions.models import HomePractice, PlanItem, may_go_home
from studio.actions.audit import Actor
from tests.sessions.home_steps import items, offered, page, typed, url
from tests.sessions.plan_scene import FOUND, Scene
from tests.sessions.recorded import entry_id, make_session

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]

FOR = "For a wide and easy back."


def bare(key, *, drawn=False, text=None):
    """Return a shipped exercise as it is before its words and its drawing come."""
    exercise = f.ExerciseFactory(key=key)
    payload = exercise.current.payload
    payload = {
        **payload,
        "text": text or {"id": key, "purpose": FOR},
        "pose": payload["pose"] if drawn else None,
    }
    exercise.current = f.ExerciseVersionFactory(exercise=exercise, payload=payload)
    exercise.save()
    return exercise


@pytest.fixture
def client():
    return f.ClientFactory()


class TestAHandout:
    def test_does_not_offer_it(self, as_instructor, client):
        bare("mat_clam", drawn=True)
        bare("mat_plank", text=f.ExerciseFactory(key="mat_plank").current.text)
        f.ExerciseFactory(key="mat_pelvic_curl")
        assert offered(as_instructor.get(url(client, add=""))) == ["Pelvic curl"]
        assert offered(as_instructor.get(url(client, add="", words="clam"))) == []

    @pytest.mark.parametrize(
        ("key", "drawn", "whole", "says"),
        [
            ("mat_clam", True, False, "Its words for the client are not written yet."),
            ("mat_clam", False, True, "It is not drawn yet, so it cannot be printed."),
            ("ref_frog", True, False, "That exercise is not for home."),
        ],
        ids=["no words", "no drawing", "only in the studio"],
    )
    def test_refuses_it_with_a_plain_sentence(self, as_instructor, client, key, drawn, whole, says):
        text = f.ExerciseFactory(key=key).current.text if whole else None
        answer = as_instructor.post(
            url(client, "home_exercise"), typed(bare(key, drawn=drawn, text=text), client)
        )
        assert answer.status_code == 422
        assert says in page(answer)
        assert items(client) == []

    def test_is_not_opened_at_it_by_its_address(self, as_instructor, client):
        exercise = bare("mat_clam", drawn=True)
        answer = as_instructor.get(url(client, exercise=exercise.public_id))
        assert answer.status_code == 200
        assert answer.context["side"]["kind"] != "item"

    def test_cannot_be_made_of_it_past_the_page(self, client, instructor, now):
        exercise = bare("mat_clam", drawn=True)
        with pytest.raises(home_actions.NotForHome):
            home_actions.save_item(
                actor=Actor(person=instructor, role="instructor", device="tablet"),
                client=client,
                exercise=exercise,
                item=home_rules.usual(exercise.public_id, exercise.current.facts),
                expected=0,
                today=now.date(),
            )
        assert not HomePractice.objects.exists()

    def test_takes_it_once_words_and_drawing_are_there(self, client):
        assert may_go_home(f.ExerciseFactory(key="mat_clam"))

    def test_has_a_sentence_for_every_reason(self):
        reasons = (home_rules.STUDIO_ONLY, home_rules.NO_WORDS, home_rules.NO_DRAWING)
        said = [home_wording.off_paper(reason) for reason in reasons]
        assert len(set(said)) == 3
        assert all(sentence.endswith(".") for sentence in said)


class TestASession:
    def test_finds_it_and_plans_it(self, as_instructor, instructor):
        scene, exercise = Scene(instructor), bare("ref_frog")
        plan = scene.plan("mat_pelvic_curl")
        found = as_instructor.get(scene.url("plan_add"), {"words": "frog", "q": "frog"}, headers=FOUND)
        assert exercise.public_id in found.content.decode()
        answer = as_instructor.post(
            scene.url("plan_add"), {"version": plan.version, "exercise": exercise.public_id}
        )
        assert answer.status_code in (200, 302)
        item = PlanItem.objects.get(exercise=exercise)
        for address in (scene.url(), scene.item_url(item)):
            shown = as_instructor.get(address)
            assert shown.status_code == 200
            assert "fig-none" in shown.content.decode()
            assert "<img" not in shown.content.decode()

    def test_records_it_with_its_purpose_where_a_cue_would_stand(self, as_instructor, instructor):
        held, exercise = make_session(instructor), bare("mat_swimming")
        item = f.PlanItemFactory(plan=held.plan, exercise=exercise)
        address = reverse("sessions:record", args=[held.attendance.public_id])
        shown = as_instructor.get(address, {"item": item.public_id}).content.decode()
        assert item.content.name in shown
        assert f'<p class="cue">{FOR}</p>' in shown
        assert "fig-none" in shown
        saved = as_instructor.post(
            reverse("sessions:record_entry", args=[held.attendance.public_id]),
            {"item": item.public_id, "id": str(entry_id(1)), "do": "as_planned"},
        )
        assert saved.status_code == 302
        for name in ("timeline", "client", "progress"):
            told = as_instructor.get(reverse(f"sessions:{name}", args=[held.client.public_id]))
            assert told.status_code == 200

    def test_the_cue_of_a_whole_one_is_its_first(self, as_instructor, instructor):
        held = make_session(instructor)
        address = reverse("sessions:record", args=[held.attendance.public_id])
        shown = as_instructor.get(address, {"item": held.curl.public_id}).content.decode()
        assert held.curl.content.text["cues"][0] in shown
