"""An upgrade over an edited exercise: both texts side by side, chosen field by field, nothing overwritten silently."""

import pytest
from django.urls import reverse

from library import versions_apart
from library.actions import own as own_actions
from library.actions import upgrades as actions
from library.actions.loading import load_library
from library.models import Exercise, ExerciseVersion
from library.models.upgrades import meeting_of, meetings
from sessions.demo import factories as f
from studio.actions.audit import Actor
from studio.models import AuditEntry
from tests.library.data_copy import rewrite, row

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]
CLAM = "mat_clam"


@pytest.fixture
def loaded(shelf):
    load_library(folder=shelf)
    return shelf


def edited(person, **text) -> ExerciseVersion:
    """Let the studio have a version of its own of the clam, with these words."""
    exercise = Exercise.objects.get(key=CLAM)
    payload = exercise.current.payload
    payload = {**payload, "text": {**payload["text"], **text}}
    return own_actions.add_version(
        actor=Actor(person=person), exercise=exercise, payload=payload, base=exercise.current
    )


def upgrade(folder, **text):
    rewrite(folder, "en/mat.json", lambda rows: row(rows, CLAM).update(text))
    return load_library(folder=folder)


def clam() -> Exercise:
    return Exercise.objects.select_related("current").get(key=CLAM)


def page_of(exercise) -> str:
    return reverse("library:settle", args=[exercise.public_id])


def both(owner, loaded):
    """The purpose changed on both sides, the dose only as shipped, the cautions only here."""
    edited(owner, purpose="Our purpose.", cautions="Our cautions.")
    upgrade(loaded, purpose="Their purpose.", dose="Their dose.")
    return clam()


def numbers(exercise) -> dict:
    met = meeting_of(exercise)
    return {"ours": met.ours.number, "theirs": met.theirs.number}


def test_nothing_to_choose_while_only_one_side_has_changed(owner, loaded):
    assert meetings(owner) == []
    edited(owner, purpose="Our purpose.")
    assert meetings(owner) == []
    rewrite(loaded, "en/mat.json", lambda rows: row(rows, "mat_plank").update(purpose="Theirs."))
    load_library(folder=loaded)
    assert meetings(owner) == []


def test_the_studios_holds_until_somebody_chooses(owner, loaded):
    exercise = both(owner, loaded)
    assert exercise.current.text["purpose"] == "Our purpose."
    (met,) = meetings(owner)
    assert (met.base.number, met.ours.number, met.theirs.number) == (1, 2, 3)
    rows = versions_apart.apart(met.base.payload, met.ours.payload, met.theirs.payload)
    assert {(one.field[1], one.both_changed) for one in rows} == {("purpose", True), ("dose", False)}


def test_the_page_shows_both_and_what_they_began_with(as_owner, owner, loaded):
    exercise = both(owner, loaded)
    text = as_owner.get(reverse("library:changed")).content.decode()
    assert "2 fields differ" in text and "1 changed on both sides" in text
    text = as_owner.get(page_of(exercise)).content.decode()
    began = exercise.versions.get(number=1).text["purpose"]
    for words in ("Our purpose.", "Their purpose.", "Their dose.", began.split(",")[0]):
        assert words in text
    assert "Our cautions." not in text


def test_what_both_changed_has_to_be_chosen(as_owner, owner, loaded):
    exercise = both(owner, loaded)
    answer = as_owner.post(page_of(exercise), {**numbers(exercise), "field_1": "theirs"})
    assert (answer.status_code, "Choose one of the two." in answer.content.decode()) == (422, True)
    assert clam().current.number == 2


CHOICES = {
    "one of each": ({"field_0": "ours", "field_1": "theirs"}, "Our purpose.", "Their dose.", 4),
    "the other way": ({"field_0": "theirs", "field_1": "ours"}, "Their purpose.", None, 4),
    "ours in all": ({"all": "ours"}, "Our purpose.", None, 4),
    "theirs in all that differ": ({"all": "theirs"}, "Their purpose.", "Their dose.", 4),
}


@pytest.mark.parametrize(("chosen", "purpose", "dose", "number"), CHOICES.values(), ids=CHOICES)
def test_each_field_is_as_it_was_chosen_and_both_stay_on_file(
    as_owner, owner, loaded, chosen, purpose, dose, number
):
    exercise = both(owner, loaded)
    before = dict(exercise.versions.values_list("number", "content_hash"))
    dose = dose or exercise.current.text["dose"]
    assert as_owner.post(page_of(exercise), {**numbers(exercise), **chosen}).status_code == 302
    now = clam().current
    assert (now.text["purpose"], now.text["dose"], now.text["cautions"]) == (purpose, dose, "Our cautions.")
    assert (now.number, now.origin, now.base.number, now.author) == (number, "studio", 3, owner)
    after = dict(exercise.versions.values_list("number", "content_hash"))
    assert before.items() <= after.items()
    assert meetings(owner) == []
    assert AuditEntry.objects.filter(action="exercise.settled").count() == 1


def test_once_nothing_of_the_studios_is_left_the_shipped_one_is_current_and_follows_upgrades(owner, loaded):
    edited(owner, purpose="Our purpose.")
    upgrade(loaded, purpose="Their purpose.")
    exercise = clam()
    take = [("text", "purpose")]
    actions.settle(actor=Actor(person=owner), exercise=exercise, take=take, **numbers(exercise))
    assert clam().current.origin == "shipped"
    upgrade(loaded, purpose="Their next.")
    assert clam().current.text["purpose"] == "Their next."


def test_a_later_upgrade_asks_again_only_about_what_is_new(owner, loaded):
    exercise = both(owner, loaded)
    actions.settle(actor=Actor(person=owner), exercise=exercise, take=[], **numbers(exercise))
    upgrade(loaded, harder="Their harder way.")
    (met,) = meetings(owner)
    rows = versions_apart.apart(met.base.payload, met.ours.payload, met.theirs.payload)
    assert [(one.field[1], one.both_changed) for one in rows] == [("harder", False)]


def test_who_is_second_or_looks_at_an_older_page_writes_nothing(as_owner, owner, loaded):
    exercise = both(owner, loaded)
    seen = numbers(exercise)
    upgrade(loaded, purpose="Their purpose, mended.")
    answer = as_owner.post(page_of(exercise), {**seen, "all": "theirs"})
    assert (answer.status_code, clam().current.number) == (409, 2)
    with pytest.raises(own_actions.MovedOn):
        actions.settle(actor=Actor(person=owner), exercise=exercise, take=[], **seen)


def test_a_choice_that_does_not_hold_together_is_refused_in_words(as_owner, owner, loaded):
    edited(owner, purpose="Ours.")
    faults = ["goes_too_fast"]
    rewrite(loaded, "exercises/mat.json", lambda data: row(data["exercises"], CLAM).update(faults=faults))
    watch = [{"fault": "goes_too_fast", "see": "It rushes.", "say": "Slower."}]
    upgrade(loaded, watch=watch)
    exercise = clam()
    answer = as_owner.post(page_of(exercise), {**numbers(exercise), "field_0": "theirs", "field_1": "ours"})
    assert answer.status_code == 422
    assert "Say for each of its faults what to see and what to say" in answer.content.decode()
    assert clam().current.number == 2


def test_more_demands_as_shipped_are_said_aloud(as_owner, owner, loaded):
    edited(owner, purpose="Ours.")
    rewrite(
        loaded, "exercises/mat.json", lambda data: row(data["exercises"], CLAM)["demands"].append("inversion")
    )
    load_library(folder=loaded)
    text = as_owner.get(page_of(clam())).content.decode()
    assert "As it ships now it asks more of the body:" in text


def test_an_approved_plan_and_a_handout_keep_the_version_they_were_made_with(owner, loaded):
    exercise = both(owner, loaded)
    plan = f.PlanFactory(exercises=[CLAM])
    item = plan.items.get()
    item.exercise_version = exercise.current
    item.save()
    handout = f.HandoutFactory()
    payload, pdf = handout.payload, bytes(handout.pdf)
    take = [("text", "purpose"), ("text", "dose")]
    actions.settle(actor=Actor(person=owner), exercise=exercise, take=take, **numbers(exercise))
    item.refresh_from_db()
    handout.refresh_from_db()
    assert item.content.number == 2
    assert item.content.text["purpose"] == "Our purpose."
    assert (handout.payload, bytes(handout.pdf)) == (payload, pdf)


def test_a_copy_of_a_shipped_one_is_not_asked_about(owner, loaded):
    like = Exercise.objects.select_related("current").get(key=CLAM)
    draft = own_actions.begin(actor=Actor(person=owner), like=like)
    facts = {"name": "Our clam"}
    own_actions.write_step(actor=Actor(person=owner), draft=draft, expected=1, facts=facts)
    own_actions.keep(actor=Actor(person=owner), draft=draft, expected=2, seen=0)
    upgrade(loaded, purpose="Their purpose.")
    assert meetings(owner) == []
