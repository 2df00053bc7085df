"""Another exercise on the recording screen: two touches, the plan as it was, the record as it went."""

import pytest
from django.urls import reverse

from library import tables
from sessions.actions import plans as plan_actions
from sessions.demo import factories as f
from sessions.models import Entry, PlanItem
from tests.sessions.plan_scene import text
from tests.sessions.recorded import entry_id, make_session, queries_of

pytestmark = pytest.mark.django_db
HTMX = {"HX-Request": "true"}


@pytest.fixture
def held(house, now, instructor):
    """A session under way at the scooter, with a small shelf around it."""
    for key in ("st_split_squat", "mat_bridge_hold", "ref_bottom_lift", "mat_roll_up", "st_hip_hinge"):
        f.ExerciseFactory(key=key)
    return make_session(instructor)


def to(held, name="record"):
    return reverse(f"sessions:{name}", args=[held.attendance.public_id])


def exercise(key):
    return f.ExerciseFactory(key=key)


def choose(browser, held, key, item=None, **more):
    data = {"item": (item or held.scooter).public_id, "instead": exercise(key).public_id, **more}
    return browser.get(to(held), data, headers=HTMX)


def save(browser, held, key="", *, number=1, item=None, do="save", **typed):
    data = {"item": (item or held.scooter).public_id, "id": str(entry_id(number)), "do": do, **typed}
    if key:
        data["instead"] = exercise(key).public_id
    return browser.post(to(held, "record_entry"), data, headers=HTMX)


def test_two_touches_lead_from_the_screen_to_the_swap(held, as_instructor):
    screen = as_instructor.get(to(held), {"item": held.scooter.public_id}).content.decode()
    assert f'formaction="{to(held, "record_instead")}"' in screen
    first = as_instructor.post(
        to(held, "record_instead"), {"item": held.scooter.public_id, "do": "ask"}, headers=HTMX
    )
    found = first.context["found"]
    assert found and "avoid" not in {one["verdict"] for one in found}
    link = f"instead={found[0]['exercise'].public_id}"
    assert link in first.content.decode()
    second = choose(as_instructor, held, found[0]["exercise"].key)
    assert second.status_code == 200
    assert second.context["content"].name == found[0]["name"]
    assert "instead of Scooter" in text(second)


def test_it_works_without_script(held, as_instructor):
    page = as_instructor.post(to(held, "record_instead"), {"item": held.scooter.public_id, "do": "ask"})
    assert "<html" in page.content.decode() and "Instead of Scooter" in text(page)
    data = {"item": held.scooter.public_id, "instead": exercise("mat_bridge_hold").public_id}
    screen = as_instructor.get(to(held), data).content.decode()
    assert "<html" in screen
    assert f'name="instead" value="{data["instead"]}"' in screen


def test_the_swap_shows_its_set_up_and_its_verdict_at_once(held, as_instructor):
    f.FlagFactory(client=held.client, condition="osteopenia", state="active")
    screen = choose(as_instructor, held, "mat_bird_dog")
    assert exercise("mat_bird_dog").current.text["set_up"][:30] in text(screen)
    assert set(screen.context["sheets"]) == {"left", "right"}
    assert "No rule" in text(screen)


def test_springs_of_the_last_time_are_hooked_on(held, as_instructor, instructor):
    day = held.attendance.booking.wall_day.replace(day=18)
    earlier = make_session(instructor, client=held.client, wall_day=day)
    setting = {"springs": [{"spring": held.heavy.public_id, "name": "Heavy", "grade": "heavy", "count": 1}]}
    f.EntryFactory(record=earlier.record, exercise=exercise("ref_bottom_lift"), setting=setting)
    screen = choose(as_instructor, held, "ref_bottom_lift")
    assert screen.context["values"]["springs"] == [f"{held.heavy.public_id}:1"]


def test_the_record_says_what_was_done_instead_of_what_and_the_plan_stays(held, as_instructor):
    before = PlanItem.objects.filter(pk=held.scooter.pk).values().get()
    answer = save(as_instructor, held, "mat_bridge_hold", reps_both="8")
    assert answer.status_code == 200
    entry = Entry.objects.get()
    assert (entry.exercise.key, entry.state, entry.plan_item_id) == (
        "mat_bridge_hold",
        "changed",
        held.scooter.pk,
    )
    assert entry.exercise_version == exercise("mat_bridge_hold").current
    assert entry.instead_of.planned == exercise("ref_scooter").current
    assert entry.verdict["verdict"] == "none"
    assert PlanItem.objects.filter(pk=held.scooter.pk).values().get() == before
    for name, at in (("record", held.attendance), ("timeline", held.client)):
        page = text(as_instructor.get(reverse(f"sessions:{name}", args=[at.public_id]), {"item": ""}))
        if name == "timeline":
            assert "Bridge hold" in page and "instead of Scooter" in page


def test_nothing_typed_differs_and_still_it_is_changed(held, as_instructor):
    usual = str(
        (tables.exercise("mat_bridge_hold")["reps_min"] + tables.exercise("mat_bridge_hold")["reps_max"] + 1)
        // 2
    )
    save(as_instructor, held, "mat_bridge_hold", do="as_planned", reps_both=usual)
    entry = Entry.objects.get()
    assert entry.state == "changed"
    assert entry.sides.get().repetitions == int(usual)


def test_sending_the_swap_twice_leaves_one_entry(held, as_instructor):
    save(as_instructor, held, "mat_bridge_hold", reps_both="8")
    save(as_instructor, held, "mat_bridge_hold", reps_both="8")
    entry = Entry.objects.get()
    assert entry.instead_of.planned.name == "Scooter"


def test_coming_back_to_the_row_shows_the_swap_and_its_numbers(held, as_instructor):
    save(as_instructor, held, "mat_bridge_hold", reps_both="6")
    screen = as_instructor.get(to(held), {"item": held.scooter.public_id})
    assert screen.context["content"].name == "Bridge hold"
    assert screen.context["values"]["reps_both"] == 6


def test_as_planned_after_all(held, as_instructor):
    save(as_instructor, held, "mat_bridge_hold", reps_both="6")
    screen = as_instructor.get(to(held), {"item": held.scooter.public_id, "instead": ""})
    assert screen.context["content"].name == "Scooter"
    save(as_instructor, held, number=2, reps_left="8", reps_right="8")
    entry = Entry.objects.get()
    assert entry.exercise.key == "ref_scooter"
    assert not hasattr(Entry.objects.get(), "instead_of")


def test_skip_skips_what_was_planned(held, as_instructor):
    save(as_instructor, held, "mat_bridge_hold", do="skip")
    entry = Entry.objects.get()
    assert (entry.exercise.key, entry.state) == ("ref_scooter", "skipped")


def test_taking_back_leaves_the_row_as_planned(held, as_instructor):
    save(as_instructor, held, "mat_bridge_hold", reps_both="6")
    answer = as_instructor.post(to(held, "record_undo"), headers=HTMX)
    assert answer.context["content"].name == "Scooter"
    assert not Entry.objects.exists()


def test_an_entry_with_a_stop_sign_is_never_written_over_by_a_swap(held, as_instructor, instructor):
    sign = {"do": "stop_exercise", "sign": "pain", "side": "left", "felt_pain_left": "on"}
    as_instructor.post(
        to(held, "record_stop"), {"item": held.scooter.public_id, "id": str(entry_id(1)), **sign}
    )
    assert Entry.objects.get().exercise.key == "ref_scooter"
    save(as_instructor, held, "mat_bridge_hold", number=2, reps_both="6")
    assert [(e.exercise.key, e.plan_item_id) for e in Entry.objects.order_by("sequence")] == [
        ("ref_scooter", None),
        ("mat_bridge_hold", held.scooter.pk),
    ]


def test_a_sign_that_is_ticked_comes_before_the_swap(held, as_instructor):
    data = {"item": held.scooter.public_id, "do": "ask", "felt_tingling_left": "on"}
    answer = as_instructor.post(to(held, "record_instead"), data)
    assert answer.status_code == 422
    assert "Tingling" in text(answer)


def test_what_was_typed_comes_back_with_back(held, as_instructor):
    data = {"item": held.scooter.public_id, "do": "ask", "reps_left": "3", "note": "knee drifts"}
    page = as_instructor.post(to(held, "record_instead"), data)
    kept = dict(page.context["kept"])
    screen = as_instructor.post(to(held, "record_entry"), {**kept, "do": "judge"})
    assert screen.context["values"]["reps_left"] == "3"
    assert screen.context["values"]["note"] == "knee drifts"


def test_what_is_to_be_avoided_by_now_leads_back_to_the_list(held, as_instructor):
    f.FlagFactory(client=held.client, condition="osteoporosis", state="active")
    data = {"item": held.scooter.public_id, "instead": exercise("mat_roll_up").public_id}
    answer = as_instructor.get(to(held), data, follow=True)
    assert answer.request["PATH_INFO"] == to(held, "record_instead")
    assert "Look again" in text(answer)


def test_what_was_done_is_kept_whatever_the_judge_says_by_now(held, as_instructor):
    f.FlagFactory(client=held.client, condition="osteoporosis", state="active")
    save(as_instructor, held, "mat_roll_up", reps_both="4")
    entry = Entry.objects.get()
    assert (entry.exercise.key, entry.verdict["verdict"]) == ("mat_roll_up", "avoid")


def test_nobody_but_the_author_looks_for_a_swap(held, as_other_instructor):
    answer = as_other_instructor.get(to(held, "record_instead"), {"item": held.scooter.public_id})
    assert answer.status_code in (403, 404)


def test_the_list_asks_the_same_however_long_the_plan_is(held, as_instructor):
    def look():
        as_instructor.post(
            to(held, "record_instead"), {"item": held.scooter.public_id, "do": "ask"}, headers=HTMX
        )

    look()
    few = queries_of(look)
    for _n in range(9):
        f.PlanItemFactory(plan=held.plan, exercise__key="mat_clam", sides="both", first_side="left")
    assert queries_of(look) == few <= 40


def test_next_time_starts_from_what_was_done_without_the_minutes_of_the_other(
    held, as_instructor, instructor
):
    PlanItem.objects.filter(pk=held.scooter.pk).update(minutes=9)
    save(as_instructor, held, "mat_bridge_hold", reps_both="6")
    plan = plan_actions.start(
        actor=held.actor,
        attendance=f.AttendanceFactory(client=held.client, booking=f.BookingFactory(instructor=instructor)),
        record=held.record,
    )
    row = plan.items.get()
    assert (row.exercise.key, row.minutes, row.unit, row.sides, row.repetitions) == (
        "mat_bridge_hold",
        None,
        None,
        "",
        6,
    )
