"""The page of the figure, further: numbers of the apparatus, and demands opened again by another movement."""

import copy
import html
import re

import pytest
from django.urls import reverse

from library.actions import own as actions
from library.actions import own_figure as figure_actions
from library.body import all_poses
from library.body.surfaces import FOOTBAR
from library.models import Exercise, ExerciseDraft
from library.own_scene import numbers
from sessions.demo import factories as f
from studio.actions.audit import Actor
from tests.library.test_own_figure_page import CURL, begun, form_in, in_words, laid_shelf, page_of, typed

__all__ = ["laid_shelf"]
pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now", "laid_shelf")]
FOOTWORK = "ref_foot_heels"


class TestApparatus:
    def seen(self, browser, draft, **changes):
        sent = typed(browser, draft, **changes, do="show")
        return browser.post(page_of(draft), sent, headers={"HX-Request": "true", "HX-Target": "figure-view"})

    def slot(self, text, name) -> str:
        return html.unescape(re.search(rf'<div class="fig-says" id="says-{name}".*?</div>', text, re.S)[0])

    def test_its_numbers_stand_there_with_plain_labels_in_centimetres(self, as_instructor):
        draft = begun(as_instructor, FOOTWORK)
        text = as_instructor.get(page_of(draft)).content.decode()
        values = form_in(text)
        x, z = all_poses()[FOOTWORK]["scene"].get("bar", FOOTBAR)
        assert (float(values["scene-bar-0"]), float(values["scene-bar-1"])) == (100 * x, 100 * z)
        assert 'aria-label="Foot bar: Height, cm"' in text and values["scene-box"] == ""

    def test_a_mat_without_numbers_has_no_such_part(self, as_instructor):
        text = as_instructor.get(page_of(begun(as_instructor))).content.decode()
        assert ('id="scene"' in text) is bool(numbers(CURL["scene"]))

    def test_a_changed_number_changes_picture_and_figure(self, as_instructor):
        draft = begun(as_instructor, FOOTWORK)
        before = self.seen(as_instructor, draft).content.decode()
        height = float(typed(as_instructor, draft)["scene-bar-1"]) + 3
        after = self.seen(as_instructor, draft, **{"scene-bar-1": f"{height:g}"}).content.decode()
        assert re.findall(r' d="[^"]+"', before) != re.findall(r' d="[^"]+"', after)
        sent = typed(as_instructor, draft, **{"scene-bar-1": f"{height:g}", "do": "write"})
        assert as_instructor.post(page_of(draft), sent).status_code == 302
        assert in_words(draft)["scene"]["bar"][1] == pytest.approx(height / 100)

    @pytest.mark.parametrize(
        ("changes", "slot", "says"),
        [
            ({"scene-bar-1": "150"}, "scene-bar", "Type centimetres from 30 to 110."),
            ({"scene-bar-1": ""}, "scene-bar", "Type centimetres from 30 to 110."),
            ({"scene-bar-1": "high"}, "scene-bar", "Type centimetres from 30 to 110."),
            ({"scene-bar-0": "nan"}, "scene-bar", "Type centimetres from -500 to 500."),
            ({"scene-box": "round"}, "scene-box", "Choose one from the list."),
            ({"scene-bar-0": "300"}, "scene-bar", "cm away from where it should touch"),
        ],
        ids=[
            "too high",
            "empty",
            "no number",
            "not a number at all",
            "no such box",
            "out of reach of the feet",
        ],
    )
    def test_what_is_wrong_is_said_beside_it_and_kept(self, as_instructor, changes, slot, says):
        draft = begun(as_instructor, FOOTWORK)
        answer = as_instructor.post(page_of(draft), typed(as_instructor, draft, **changes, do="write"))
        text = answer.content.decode()
        assert answer.status_code == 422 and says in self.slot(text, slot)
        for name, value in changes.items():
            assert value == "round" or form_in(text)[name] == value
        assert in_words(draft) == draft.payload["pose"]

    def test_a_box_comes_and_can_be_touched_then(self, as_instructor):
        draft = begun(as_instructor, FOOTWORK)
        text = as_instructor.get(page_of(draft)).content.decode()
        assert '<option value="box"' not in text
        shown = as_instructor.post(
            page_of(draft), typed(as_instructor, draft, **{"scene-box": "long", "do": "show"})
        ).content.decode()
        assert '<option value="box"' in shown and form_in(shown)["scene-box"] == "long"

    def test_a_box_that_is_touched_cannot_go(self, as_instructor):
        key = next(
            key
            for key, pose in all_poses().items()
            if pose["scene"].get("box") and any(touch.get("on") == "box" for touch in pose["start"]["touch"])
        )
        draft = begun(as_instructor, key)
        answer = as_instructor.post(
            page_of(draft), typed(as_instructor, draft, **{"scene-box": "", "do": "write"})
        )
        assert answer.status_code == 422
        assert "Something still touches the box." in self.slot(answer.content.decode(), "scene-box")


class TestDemands:
    """A figure that moves otherwise may ask something else of the body: somebody goes through it again."""

    def changing(self, browser, key="mat_pelvic_curl") -> ExerciseDraft:
        row = Exercise.objects.get(key=key)
        browser.post(reverse("library:own_change", args=[row.public_id]), {"step": "figure"})
        return ExerciseDraft.objects.latest("pk")

    def facts(self, draft) -> dict:
        return ExerciseDraft.objects.get(pk=draft.pk).payload["facts"]

    @pytest.mark.parametrize(
        ("changes", "opened"),
        [
            ({"start-both-shoulder_out": "40"}, True),
            ({"end-body-nod": "5"}, True),
            ({"turn": "30"}, False),
            ({"arrow_y": "4"}, False),
            ({}, False),
        ],
        ids=["an arm elsewhere", "another end", "seen from elsewhere", "the arrow", "nothing"],
    )
    def test_are_opened_by_what_moves_otherwise(self, as_owner, changes, opened):
        draft = self.changing(as_owner)
        before = self.facts(draft)["demands"]
        assert before is not None
        answer = as_owner.post(page_of(draft), typed(as_owner, draft, **changes, do="write"), follow=True)
        now = ExerciseDraft.objects.get(pk=draft.pk).payload
        assert now["facts"]["demands"] == (None if opened else before)
        assert ("Go through what it asks of the body again" in answer.content.decode()) is opened
        if opened:
            assert now["suggested"]["demands"] == before
            fresh = ExerciseDraft.objects.get(pk=draft.pk)
            slips = actions.slips_of(fresh, draft.begun_by)
            assert [slip.field for slip in slips] == ["demands"]

    def test_are_opened_by_the_apparatus(self, as_owner):
        draft = self.changing(as_owner, FOOTWORK)
        height = float(typed(as_owner, draft)["scene-bar-1"]) + 3
        as_owner.post(page_of(draft), typed(as_owner, draft, **{"scene-bar-1": f"{height:g}", "do": "write"}))
        assert self.facts(draft)["demands"] is None

    def test_stay_where_a_figure_is_drawn_for_the_first_time_or_taken_away(self, as_owner):
        draft = self.changing(as_owner)
        as_owner.post(page_of(draft), {"do": "none", "version": draft.version})
        assert self.facts(draft)["demands"] is not None
        undrawn = f.DraftFactory(payload={**draft.payload, "pose": None}, base=None)
        pose = ExerciseDraft.objects.get(pk=draft.pk).base.pose
        actor = Actor(person=draft.begun_by)
        assert not figure_actions.write_figure(
            actor=actor, draft=undrawn, expected=undrawn.version, pose=pose
        )

    def test_an_exercise_made_from_nothing_remembers_the_figure_that_was_taken_away(self, as_owner):
        made = self.changing(as_owner)
        pose = copy.deepcopy(made.base.pose)
        draft, actor = f.DraftFactory(payload={**made.payload, "pose": None}, base=None), Actor(made.begun_by)

        def write(pose) -> bool:
            return figure_actions.write_figure(actor=actor, draft=draft, expected=draft.version, pose=pose)

        assert [write(one) for one in (pose, None, None, pose, None)] == [False] * 5
        other = {**pose, "end": {**pose["end"], "body": {**pose["end"]["body"], "nod": 5.0}}}
        assert write(other)
        assert self.facts(draft)["demands"] is None

    def test_taking_it_away_and_drawing_another_opens_them_all_the_same(self, as_owner):
        draft = self.changing(as_owner)
        sent = typed(as_owner, draft, **{"end-body-nod": "5", "do": "write"})
        as_owner.post(page_of(draft), {"do": "none", "version": draft.version})
        now = ExerciseDraft.objects.get(pk=draft.pk)
        pose = {**copy.deepcopy(now.base.pose)}
        pose["end"]["body"] = {**pose["end"]["body"], "nod": float(sent["end-body-nod"])}
        actor = Actor(person=draft.begun_by)
        assert figure_actions.write_figure(actor=actor, draft=now, expected=now.version, pose=pose)
        assert self.facts(draft)["demands"] is None
