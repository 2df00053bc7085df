"""Writing an exercise of the studio's own: step by step, checked, kept as a version, planned once classified."""

import html
import re

import pytest
from django.urls import reverse

from library.actions import own as actions
from library.models import Exercise, ExerciseDraft, ExerciseVersion
from sessions.actions import plans as plan_actions
from sessions.demo import factories as f
from studio.actions.audit import Actor
from studio.models import AuditEntry, Stale
from tests import shelf as shelves

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now", "laid_shelf")]


@pytest.fixture
def laid_shelf(db):
    shelves.load()


def field_values(page: str) -> dict:
    """What a browser would send of a form as it stands: every field with its value, every ticked box."""
    found: dict[str, list[str]] = {}
    for tag in re.findall(r"<input[^>]*>", page):
        name, value = _of(tag, "name"), _of(tag, "value")
        boxed = re.search(r'type="(checkbox|radio)"', tag)
        if name and (not boxed or " checked" in tag):
            found.setdefault(name, []).append(value or "on" if boxed else value)
    for name, inside in re.findall(r'<select[^>]*name="([^"]+)"[^>]*>(.*?)</select>', page, re.S):
        chosen = re.search(r'<option value="([^"]*)"[^>]*selected', inside)
        found[name] = [chosen[1] if chosen else ""]
    for name, inside in re.findall(r'<textarea[^>]*name="([^"]+)"[^>]*>(.*?)</textarea>', page, re.S):
        found[name] = [html.unescape(inside).strip()]
    return {name: values if len(values) > 1 else values[0] for name, values in found.items()}


def _of(tag: str, name: str) -> str:
    found = re.search(rf'\b{name}="([^"]*)"', tag)
    return html.unescape(found[1]) if found else ""


def form_of(browser, path) -> dict:
    text = browser.get(path).content.decode()
    sheet = re.search(r'<form method="post" action="[^"]*/drafts/[^"]*".*?</form>', text, re.S)[0]
    return field_values(sheet)


def step(draft, name) -> str:
    return reverse("library:own_step", args=[draft.public_id, name])


def look(draft) -> str:
    return reverse("library:own_look", args=[draft.public_id])


def keep(browser, draft):
    return browser.post(look(draft), form_of(browser, look(draft)))


def begun(browser, key="mat_pelvic_curl") -> ExerciseDraft:
    like = Exercise.objects.get(key=key)
    answer = browser.post(reverse("library:own_new"), {"like": like.public_id})
    assert answer.status_code == 302
    return ExerciseDraft.objects.latest("pk")


def test_from_another_every_step_as_it_stands_makes_an_unclassified_exercise(as_instructor):
    draft = begun(as_instructor)
    sent = {**form_of(as_instructor, step(draft, "what")), "name": "Curl over a towel"}
    assert as_instructor.post(step(draft, "what"), sent).status_code == 302
    for name in ("work", "around", "words"):
        answer = as_instructor.post(step(draft, name), form_of(as_instructor, step(draft, name)))
        assert answer.status_code == 302, answer.content.decode()
    answer = keep(as_instructor, draft)
    exercise = Exercise.objects.get(key__startswith="own_")
    assert answer.url == reverse("library:exercise", args=[exercise.public_id])
    version = exercise.current
    assert (version.number, version.origin, version.base.exercise.key) == (1, "studio", "mat_pelvic_curl")
    assert (version.author.is_instructor, version.is_classified, version.facts["demands"]) == (
        True,
        False,
        None,
    )
    assert "Not yet classified" in as_instructor.get(answer.url).content.decode()
    assert AuditEntry.objects.filter(action="exercise.made").count() == 1
    assert not AuditEntry.objects.filter(action="exercise.classified").exists()


def test_what_was_copied_says_all_the_same_but_name_and_demands(as_instructor):
    draft = begun(as_instructor)
    before = draft.base.payload
    sent = {**form_of(as_instructor, step(draft, "what")), "name": "Curl over a towel"}
    as_instructor.post(step(draft, "what"), sent)
    for name in ("work", "around", "words"):
        as_instructor.post(step(draft, name), form_of(as_instructor, step(draft, name)))
    keep(as_instructor, draft)
    after = Exercise.objects.get(key__startswith="own_").current.payload
    unlike = {name for name in before["facts"] if before["facts"][name] != after["facts"][name]}
    assert unlike <= {"id", "name", "alt_names", "historic_mat_no", "demands", "demand_sides"}
    assert {**before["text"], "id": ""} == {**after["text"], "id": ""}


NOTHING = {
    "what": {
        "name": "Towel pull, sitting", "alt_names": "", "apparatus": "small_prop", "position": "seated",
        "level": "foundation", "families": ["arm_press_pull"], "main_skill": "scapular_control", "skills": [],
    },
    "work": {
        "breath": "out_on_effort", "reps_min": 6, "reps_max": 10, "seconds_per_rep": 4, "setup_s": 15,
        "sides": "both_together", "switch_s": 0,
    },
    "around": {
        "home_ok": "on", "home_props": ["towel"], "faults": ["shoulders_creep_up"], "adaptations": ["slower"],
    },
    "words": {"purpose": "Sitting tall, the blades slide down while both hands pull a towel apart."},
}  # fmt: skip


def written_from_nothing(browser) -> ExerciseDraft:
    assert browser.post(reverse("library:own_new"), {"like": ""}).status_code == 302
    draft = ExerciseDraft.objects.latest("pk")
    for place, (name, typed) in enumerate(NOTHING.items(), start=1):
        answer = browser.post(step(draft, name), {**typed, "version": place})
        assert answer.status_code == 302, answer.content.decode()
    return draft


def test_from_nothing_with_no_more_than_a_purpose(as_instructor):
    draft = written_from_nothing(as_instructor)
    assert keep(as_instructor, draft).status_code == 302
    version = Exercise.objects.get(key__startswith="own_").current
    assert (version.base, version.has_words, version.pose) == (None, False, None)


def test_classifying_is_an_act_of_its_own_for_no_demand_too(as_instructor):
    keep(as_instructor, written_from_nothing(as_instructor))
    exercise = Exercise.objects.get(key__startswith="own_")
    answer = as_instructor.post(reverse("library:own_change", args=[exercise.public_id]), {"step": "demands"})
    draft = ExerciseDraft.objects.latest("pk")
    assert answer.url == step(draft, "demands")
    refused = as_instructor.post(answer.url, {"version": 1})
    assert refused.status_code == 422
    assert "Tick what it asks, or say that nothing on the list applies." in refused.content.decode()
    as_instructor.post(answer.url, {"version": 1, "nothing": "on"})
    assert keep(as_instructor, draft).status_code == 302
    exercise.refresh_from_db()
    assert (exercise.current.number, exercise.current.facts["demands"]) == (2, [])
    assert exercise.current.base.number == 1
    assert AuditEntry.objects.filter(action="exercise.classified").count() == 1


def test_all_forty_demands_are_offered_with_their_meaning(as_instructor):
    text = as_instructor.get(step(begun(as_instructor), "demands")).content.decode()
    assert len(re.findall(r'type="checkbox" name="tick_\w+"', text)) == 40
    assert "Rounding the spine forward against resistance" in text


WRONG = {
    "no name": ("what", {"name": ""}, "Give it a name."),
    "a name that is taken": ("what", {"name": "Clam, side-lying"}, "Another exercise has this name."),
    "no families": ("what", {"families": []}, "Touch at least one."),
    "not on the list": ("what", {"apparatus": "cloud"}, "Choose one from the list."),
    "more at least than at most": (
        "work",
        {"reps_min": 12},
        "The lowest number is no more than the highest.",
    ),
    "no number": ("work", {"setup_s": "soon"}, "Type a whole number from 5 to 120."),
    "sides without their meaning": ("work", {"sides": "alternating"}, "Say what right means"),
    "springs where there are none": ("work", {"spring_grade": "light"}, "This apparatus has no springs."),
    "too long in all": (
        "work",
        {"reps_min": 30, "reps_max": 30, "seconds_per_rep": 30},
        "more than 240 seconds",
    ),
    "props that stay here": ("around", {"home_ok": ""}, "This is only for what may go home."),
    "a stage without an idea": ("around", {"transfer_stage": "load"}, "Choose an idea and a stage together"),
    "an easier one that is harder": ("around", {"regression_to_0": "mat_teaser"}, "of no harder level"),
    "no purpose": ("words", {"purpose": ""}, "This needs a sentence."),
    "half the words": ("words", {"set_up": "Sit."}, "Write this too, or leave all but the purpose empty"),
}


@pytest.mark.parametrize(("name", "changed", "says"), WRONG.values(), ids=WRONG)
def test_what_is_wrong_is_said_at_the_field_and_nothing_typed_is_lost(as_instructor, name, changed, says):
    draft = written_from_nothing(as_instructor)
    before = ExerciseDraft.objects.get(pk=draft.pk)
    sent = {**NOTHING[name], **changed, "version": before.version}
    answer = as_instructor.post(step(draft, name), sent)
    text = answer.content.decode()
    assert answer.status_code == 422
    assert says in text.replace("&#x27;", "'")
    shown = field_values(re.search(r'<form method="post" action="[^"]*/drafts/.*?</form>', text, re.S)[0])
    for field, typed in sent.items():
        if typed not in ("", [], "cloud"):
            assert str(shown.get(field)) in (str(typed), str(typed[0]) if isinstance(typed, list) else "")
    assert ExerciseDraft.objects.get(pk=draft.pk).payload == before.payload


def test_a_sided_demand_needs_its_side(as_instructor):
    draft = begun(as_instructor, "mat_clam")
    sent = form_of(as_instructor, step(draft, "demands"))
    sided = next(name for name in sent if name.startswith("side_") and sent[name])
    answer = as_instructor.post(step(draft, "demands"), {**sent, sided: ""})
    assert (answer.status_code, "Say which side is loaded." in answer.content.decode()) == (422, True)


class TestChangingAShippedOne:
    def draft(self, browser, key="mat_pelvic_curl", step_name="what"):
        row = Exercise.objects.get(key=key)
        browser.post(reverse("library:own_change", args=[row.public_id]), {"step": step_name})
        return ExerciseDraft.objects.latest("pk")

    def test_it_makes_a_version_of_the_studio_and_leaves_the_shipped_one(self, as_owner):
        draft = self.draft(as_owner, step_name="words")
        sent = {**form_of(as_owner, step(draft, "words")), "purpose": "Our own purpose."}
        as_owner.post(step(draft, "words"), sent)
        text = as_owner.get(look(draft)).content.decode()
        assert "Our own purpose." in text and draft.base.text["purpose"] in text
        keep(as_owner, draft)
        row = Exercise.objects.get(key="mat_pelvic_curl")
        old, new = row.versions.order_by("number")
        assert row.current == new
        assert (new.number, new.origin, new.base, new.text["purpose"]) == (
            2,
            "studio",
            old,
            "Our own purpose.",
        )
        assert new.facts == old.facts and new.pose == old.pose and new.is_classified
        entry = AuditEntry.objects.get(action="exercise.changed")
        assert entry.fields == ["purpose"]

    def test_what_bears_on_the_demands_holds_it_back_until_they_are_gone_through(self, as_owner):
        draft = self.draft(as_owner)
        sent = {**form_of(as_owner, step(draft, "what")), "position": "seated"}
        as_owner.post(step(draft, "what"), sent)
        assert "are to be gone through again" in as_owner.get(look(draft)).content.decode()
        with pytest.raises(actions.Broken):
            actions.keep(actor=Actor(person=draft.begun_by), draft=draft_now(draft), expected=2, seen=1)
        as_owner.post(step(draft, "demands"), {**form_of(as_owner, step(draft, "demands"))})
        assert keep(as_owner, draft).status_code == 302
        assert Exercise.objects.get(key="mat_pelvic_curl").current.pose is None

    def test_demands_are_left_out_only_with_a_reason_that_stays_on_file(self, as_owner):
        draft = self.draft(as_owner, "mat_teaser", "demands")
        sent = form_of(as_owner, step(draft, "demands"))
        out = next(name for name in sent if name.startswith("tick_") and "supine" not in name)
        del sent[out]
        answer = as_owner.post(step(draft, "demands"), sent)
        assert (answer.status_code, "Say why." in answer.content.decode()) == (422, True)
        as_owner.post(step(draft, "demands"), {**sent, "reason": "We keep the head down."})
        keep(as_owner, draft)
        version = Exercise.objects.get(key="mat_teaser").current
        assert out.removeprefix("tick_") not in version.facts["demands"]
        assert version.note == "We keep the head down."

    def test_two_people_get_the_same_draft_and_who_is_second_sees_both_texts(self, as_owner, as_instructor):
        draft = self.draft(as_owner)
        assert self.draft(as_instructor) == draft
        sent = form_of(as_owner, step(draft, "what"))
        as_instructor.post(step(draft, "what"), {**sent, "name": "From the instructor"})
        answer = as_owner.post(step(draft, "what"), {**sent, "name": "From the owner"})
        text = answer.content.decode()
        assert answer.status_code == 409
        assert "From the instructor" in text and "From the owner" in text

    def test_keeping_twice_makes_one_version(self, as_owner):
        draft = self.draft(as_owner, step_name="words")
        as_owner.post(
            step(draft, "words"), {**form_of(as_owner, step(draft, "words")), "purpose": "Our own purpose."}
        )
        sent = form_of(as_owner, look(draft))
        as_owner.post(look(draft), sent)
        as_owner.post(look(draft), sent)
        assert ExerciseVersion.objects.filter(origin="studio").count() == 1

    def test_a_version_that_came_meanwhile_is_looked_at_first(self, as_owner):
        draft = self.draft(as_owner, step_name="words")
        as_owner.post(step(draft, "words"), {**form_of(as_owner, step(draft, "words")), "purpose": "Ours."})
        sent = form_of(as_owner, look(draft))
        row = draft.exercise
        row.current = f.ExerciseVersionFactory(exercise=row, payload={**row.current.payload, "pose": None})
        row.save()
        answer = as_owner.post(look(draft), sent)
        assert "Somebody changed this meanwhile" in answer.content.decode()
        assert not ExerciseVersion.objects.filter(origin="studio").exists()

    def test_put_away_leaves_the_shelf_as_it_was(self, as_owner):
        draft = self.draft(as_owner)
        as_owner.post(reverse("library:own_drop", args=[draft.public_id]), {"version": 1})
        assert draft_now(draft).state == "dropped"
        with pytest.raises(actions.Over):
            actions.write_step(actor=Actor(person=draft.begun_by), draft=draft, expected=2, facts={})
        assert not ExerciseVersion.objects.filter(origin="studio").exists()

    def test_a_stale_write_is_refused(self, as_owner):
        draft = self.draft(as_owner)
        with pytest.raises(Stale):
            actions.write_step(
                actor=Actor(person=draft.begun_by), draft=draft, expected=7, facts={"name": "x"}
            )


def draft_now(draft) -> ExerciseDraft:
    return ExerciseDraft.objects.get(pk=draft.pk)


class TestNotYetClassified:
    @pytest.fixture
    def unclassified(self, as_instructor):
        keep(as_instructor, written_from_nothing(as_instructor))
        return Exercise.objects.select_related("current").get(key__startswith="own_")

    def test_goes_into_no_plan(self, unclassified, as_instructor, instructor):
        plan = f.PlanFactory(attendance__booking__instructor=instructor, exercises=[])
        with pytest.raises(plan_actions.NotClassified):
            plan_actions.add_item(
                actor=Actor(person=instructor), plan=plan, exercise=unclassified, expected=plan.version
            )
        answer = as_instructor.post(
            reverse("sessions:plan_add", args=[plan.attendance.public_id]),
            {"exercise": unclassified.public_id, "version": plan.version},
        )
        assert (answer.status_code, "is not yet classified" in answer.content.decode()) == (422, True)
        assert not plan.items.exists()

    def test_goes_on_no_page_for_home(self, unclassified, as_instructor):
        client = f.ClientFactory()
        answer = as_instructor.post(
            reverse("sessions:home_exercise", args=[client.public_id]),
            {"exercise": unclassified.public_id, "version": 0, "quick": "1"},
        )
        assert (answer.status_code, "Not yet classified" in answer.content.decode()) == (422, True)

    def test_is_proposed_in_place_of_nothing(self, unclassified):
        from library import alternatives

        shelf = {row.key: row.current.facts for row in Exercise.objects.with_content()}
        assert unclassified.key in shelf
        for key in list(shelf)[:40]:
            found = alternatives.nearest(key, None, exercises=shelf, limit=50)
            assert unclassified.key not in {one.id for one in found}
