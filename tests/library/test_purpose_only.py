"""An exercise of which only the purpose is written, or that is not drawn: its page, its place in lists."""

import pytest
from django.template import Context, Template
from django.urls import reverse
from django.utils.html import escape

from library import facts_wording, tables, vocabulary_wording, wording
from sessions.demo import factories as f
from tests.sessions.recorded import queries_of

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]

LATER = "The steps of this one are not written yet."


def bare(key, *, drawn=False):
    """Return a shipped exercise with nothing but its facts and a purpose."""
    exercise = f.ExerciseFactory(key=key)
    payload = exercise.current.payload
    text = {"id": key, "purpose": "What it is for."}
    payload = {**payload, "text": text, "pose": payload["pose"] if drawn else None}
    exercise.current = f.ExerciseVersionFactory(exercise=exercise, payload=payload)
    exercise.save()
    return exercise


def shown(browser, exercise):
    return browser.get(reverse("library:exercise", args=[exercise.public_id])).content.decode()


def test_the_page_says_the_purpose_and_one_quiet_line(as_instructor):
    page = shown(as_instructor, bare("mat_clam"))
    assert "What it is for." in page
    assert page.count(LATER) == 1
    headings = ("Steps", "Cues", "When you see, say", "In the client’s words")
    assert [heading for heading in headings if f">{heading}<" in page] == []


def test_a_whole_one_says_nothing_of_the_kind(as_instructor):
    assert LATER not in shown(as_instructor, f.ExerciseFactory(key="mat_clam"))


def test_the_page_says_what_the_facts_know(as_instructor):
    page = shown(as_instructor, bare("ref_bottom_lift"))
    facts = tables.exercise("ref_bottom_lift")
    words = [
        vocabulary_wording.spring_usual(facts),
        vocabulary_wording.label("breath", facts["breath"]),
        facts_wording.repetitions(facts),
        *vocabulary_wording.labels("fault", facts["faults"]),
        *vocabulary_wording.labels("skill", facts["skills"]),
        *vocabulary_wording.labels("accessories", facts["accessories"]),
        *map(wording.demand_short, facts["demands"]),
        *map(wording.demand_definition, facts["demands"]),
        facts_wording.transfer_family(facts["transfer_family"]),
    ]
    assert [word for word in words if escape(word).casefold() not in page.casefold()] == []


def test_the_page_leads_to_easier_harder_and_the_same_idea_elsewhere(as_instructor):
    clam = bare("mat_clam")
    # From the catalogue: the leg lift grows from the clam; the pump to the side carries its idea to the chair.
    lift, pump = f.ExerciseFactory(key="mat_side_leg_lift"), bare("ch_standing_pump_side")
    page = shown(as_instructor, clam)
    for other in (lift, pump):
        assert reverse("library:exercise", args=[other.public_id]) in page
    assert reverse("library:exercise", args=[clam.public_id]) in shown(as_instructor, lift)
    assert 'aria-current="true">Clam, side-lying</b>' in page


def test_an_exercise_of_no_family_says_nothing_of_one(as_instructor):
    assert "The same idea elsewhere" not in shown(as_instructor, bare("mat_rest_stretch"))


def test_what_could_go_home_says_that_words_are_missing(as_instructor):
    assert "on a handout only once" in shown(as_instructor, bare("mat_clam"))
    assert "on a handout only once" not in shown(as_instructor, bare("ref_frog"))


def test_an_empty_place_stands_where_nothing_is_drawn(as_instructor):
    undrawn, drawn = bare("mat_clam"), bare("mat_plank", drawn=True)
    draw = Template('{% load library %}{% exercise_figure exercise "end" %}')
    assert draw.render(Context({"exercise": undrawn})).startswith('<span class="fig-none">')
    assert draw.render(Context({"exercise": drawn})).startswith("<svg")
    for page in (shown(as_instructor, undrawn), as_instructor.get(reverse("library:list")).content.decode()):
        assert "fig-none" in page
        assert "<img" not in page


def test_it_is_found_in_the_list_like_any_other(as_instructor):
    exercise = bare("ref_bottom_lift")
    page = as_instructor.get(reverse("library:list")).content.decode()
    assert reverse("library:exercise", args=[exercise.public_id]) in page


def test_the_page_takes_as_many_queries_whatever_stands_around_the_exercise(library, as_instructor):
    # Studio, session, person, signing in, then the shelf: everything around the exercise stands on it.
    keys = ("mat_clam", "mat_plank", "ref_frog", "mat_toe_tap", "mat_rest_stretch")
    addresses = [reverse("library:exercise", args=[f.ExerciseFactory(key=key).public_id]) for key in keys]
    as_instructor.get(addresses[0])
    counted = [queries_of(lambda at=address: as_instructor.get(at)) for address in addresses]
    assert len(set(counted)) == 1
    assert max(counted) <= 7


@pytest.mark.parametrize(
    ("facts", "said"),
    [
        (
            {"reps_min": 8, "reps_max": 12, "seconds_per_rep": 4, "sides": "one_then_other"},
            "8 to 12 on each side, 4 s",
        ),
        (
            {"reps_min": 10, "reps_max": 10, "seconds_per_rep": 6, "sides": "both_together"},
            "10 times, 6 s each",
        ),
        (
            {"reps_min": 2, "reps_max": 3, "seconds_per_rep": 15, "sides": "both_together"},
            "2 to 3 times, 15 s each",
        ),
        (
            {"reps_min": 5, "reps_max": 5, "seconds_per_rep": 3, "sides": "alternating"},
            "5 on each side, 3 s each",
        ),
    ],
    ids=["a range on each side", "a number", "a range", "a number on each side"],
)
def test_repetitions_in_words(facts, said):
    assert facts_wording.repetitions(facts).startswith(said)


def test_every_transfer_family_has_its_own_words():
    families = [row["id"] for row in tables.transfer_families()]
    words = [facts_wording.transfer_family(family) for family in families]
    assert set(facts_wording.TRANSFER_FAMILIES) == set(families)
    assert len(set(words)) == len(families) == 20
    with pytest.raises(LookupError, match="'tf_none' has no words"):
        facts_wording.transfer_family("tf_none")
