"""Home practice with two people at the same sheet, parts of the page for htmx, and what is logged."""

import pytest

from sessions.actions import home_practice as actions
from sessions.demo import factories as f
from sessions.models import HomePractice
from studio.actions.audit import Actor
from studio.models import AuditEntry, Stale
from tests.sessions.home_steps import add, items, page, save_whole, typed, url

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]


@pytest.fixture
def client():
    """A client who has a chair and a wall at home."""
    client = f.ClientFactory()
    f.CareProfileFactory(client=client, home_equipment=["sturdy_chair", "wall"])
    return client


def test_of_two_who_change_an_exercise_the_second_sees_both_and_loses_nothing(
    as_instructor, as_owner, client
):
    add(as_instructor, client, "mat_clam", repetitions=10)
    exercise = f.ExerciseFactory(key="mat_clam")
    mine = typed(exercise, client, repetitions=6, cue="Heels together.")
    theirs = typed(exercise, client, repetitions=12)
    as_owner.post(url(client, "home_exercise"), theirs)
    answer = as_instructor.post(url(client, "home_exercise"), mine)
    assert answer.status_code == 409
    pairs = {
        pair["label"]: (pair["theirs"], pair["yours"]) for pair in answer.context["side"]["conflict"]["pairs"]
    }
    assert pairs == {"Dose": ("12 each side", "6 each side"), "Cue": ("", "Heels together.")}
    assert items(client)[0]["repetitions"] == 12
    form = answer.context["side"]["form"]
    again = typed(exercise, client, repetitions=6, cue="Heels together.", version=form["version"].value())
    assert as_instructor.post(url(client, "home_exercise"), again).status_code == 302
    assert (items(client)[0]["repetitions"], items(client)[0]["cue"]) == (6, "Heels together.")


def test_of_two_who_begin_a_sheet_the_second_is_told(as_instructor, as_owner, client):
    curl, clam = f.ExerciseFactory(key="mat_pelvic_curl"), f.ExerciseFactory(key="mat_clam")
    mine, theirs = typed(curl, client, cue="Slowly."), typed(clam, client)
    as_owner.post(url(client, "home_exercise"), theirs)
    answer = as_instructor.post(url(client, "home_exercise"), mine)
    assert answer.status_code == 409
    assert "not on the sheet" in page(answer)
    assert "Slowly." in page(answer)
    assert len(items(client)) == 1


def test_of_two_who_change_the_whole_the_second_sees_both(as_instructor, as_owner, client):
    save_whole(as_owner, client, moment="after a walk")
    answer = save_whole(as_instructor, client, moment="before breakfast", version=0)
    assert answer.status_code == 409
    assert "after a walk" in page(answer)
    assert "before breakfast" in page(answer)
    assert HomePractice.objects.get().moment == "after a walk"


@pytest.mark.parametrize("name", ["home_move", "home_remove"])
def test_a_touch_on_an_old_sheet_changes_nothing_and_says_so(as_instructor, client, name):
    for key in ("mat_pelvic_curl", "mat_clam"):
        add(as_instructor, client, key)
    before = items(client)
    body = {"version": 1, "exercise": before[0]["exercise"], "way": "later"}
    answer = as_instructor.post(url(client, name), body, follow=True)
    assert "Look again" in page(answer)
    assert items(client) == before


def test_a_stale_save_writes_nothing_at_all(instructor, client):
    practice = f.HomePracticeFactory(client=client, exercises=["mat_clam"])
    entries = AuditEntry.objects.count()
    with pytest.raises(Stale):
        actions.remove_item(
            actor=Actor(person=instructor), client=client, exercise_id="any", expected=practice.version + 1
        )
    assert AuditEntry.objects.count() == entries


def test_every_change_is_in_the_log(as_instructor, client):
    add(as_instructor, client, "mat_clam")
    entry = AuditEntry.objects.get(action="home_practice.changed")
    assert entry.fields == ["items"]
    assert entry.thing_id == HomePractice.objects.get().public_id


def test_a_part_for_htmx_is_the_part_alone(as_instructor, client):
    f.ExerciseFactory(key="mat_clam")
    head = {"HX-Request": "true", "HX-Target": "plan"}
    answer = as_instructor.get(url(client, add=""), headers=head)
    assert "<html" not in page(answer)
    assert 'id="plan"' in page(answer)
    found = as_instructor.get(
        url(client, words="clam"), headers={"HX-Request": "true", "HX-Target": "home-found"}
    )
    assert 'id="home-found"' in page(found)
    assert 'id="plan"' not in page(found)


FOUR = ("mat_pelvic_curl", "mat_clam", "mat_bridge_hold", "st_wall_slide")
QUERIES = 19


@pytest.mark.parametrize("full", [False, True], ids=["two exercises", "five exercises"])
def test_queries_do_not_grow_with_the_sheet(as_instructor, client, full, django_assert_num_queries):
    keys = [*FOUR, "mat_cat"] if full else FOUR[:2]
    for key in [*FOUR, "mat_cat"]:
        f.ExerciseFactory(key=key)
    practice = f.HomePracticeFactory(client=client, exercises=keys)
    assert len(practice.items) == len(keys)
    f.FlagFactory(client=client, condition="frozen_shoulder", side="left")
    as_instructor.get(url(client, add=""))
    with django_assert_num_queries(QUERIES):
        as_instructor.get(url(client, add=""))
