"""Another exercise in a row of the plan: what is offered, one touch, and the way back."""

import pytest

from sessions import swapping
from sessions.demo import factories as f
from sessions.models import PlanItem, PlanSwap
from studio.models import AuditEntry
from tests.sessions.plan_scene import HTMX, SIDE, Scene, springs, text

pytestmark = pytest.mark.django_db

SHELF = ("mat_pelvic_curl", "mat_half_roll_back", "arc_bridge", "lb_roll_back", "ref_bottom_lift", "mat_clam")


@pytest.fixture
def scene(house, now, instructor):
    """A plan with the round back on the short box for a client with brittle bones, and a small shelf."""
    scene = Scene(instructor)
    f.FlagFactory(client=scene.client, condition="osteoporosis", state="active")
    for key in SHELF:
        f.ExerciseFactory(key=key)
    scene.planned = scene.plan("ref_short_box_round")
    scene.row = scene.planned.items.get()
    return scene


def offered(scene, browser):
    page = browser.get(scene.item_url(scene.row, "plan_item_instead"))
    return page.context["side"]["found"]


def swap(scene, browser, key, *, version=1, **headers):
    data = {"version": version, "instead": f.ExerciseFactory(key=key).public_id}
    return browser.post(scene.item_url(scene.row, "plan_item_instead"), data, headers=headers)


def test_what_is_offered_is_near_judged_and_never_avoid(scene, as_instructor):
    found = offered(scene, as_instructor)
    assert [one["exercise"].key for one in found] == ["ref_bottom_lift", "mat_pelvic_curl", "arc_bridge"]
    assert {one["verdict"] for one in found} == {"none"}
    assert found[0]["whys"][0] == "Same skill: a spine that rolls in order"
    assert "On the reformer you have booked" in found[0]["whys"]
    assert "Needs the arc, which is not at hand" in found[2]["whys"]


def test_a_unit_free_in_the_room_is_at_hand_and_one_that_is_taken_is_not(scene, as_instructor):
    arc = f.UnitFactory(kind="arc", name="Arc 1", room=scene.room)
    f.ExerciseFactory(key="ch_pelvic_lift")
    keys = [one["exercise"].key for one in offered(scene, as_instructor)]
    assert keys.index("arc_bridge") < keys.index("ch_pelvic_lift")
    assert "On the arc that is free in this room" in _whys_of(scene, as_instructor, "arc_bridge")
    f.BookingFactory(clients=[f.ClientFactory()], room=f.RoomFactory(name="Loft"), units=[arc])
    assert "Needs the arc, which is not at hand" in _whys_of(scene, as_instructor, "arc_bridge")


def test_a_booked_unit_that_is_out_of_use_is_not_taken(scene, as_instructor):
    spare = f.UnitFactory(kind="reformer", name="Reformer 2", room=scene.room)
    type(spare).objects.filter(pk=scene.reformer.pk).update(in_use=False)
    swap(scene, as_instructor, "ref_bottom_lift")
    scene.row.refresh_from_db()
    assert scene.row.unit == spare


def _whys_of(scene, browser, key):
    return next(one["whys"] for one in offered(scene, browser) if one["exercise"].key == key)


def test_what_stands_in_the_plan_already_is_not_offered(scene, as_instructor):
    f.PlanItemFactory(plan=scene.planned, exercise__key="mat_pelvic_curl")
    assert "mat_pelvic_curl" not in [one["exercise"].key for one in offered(scene, as_instructor)]


def test_the_sheet_is_reached_from_the_row_and_stands_without_script(scene, as_instructor):
    part = as_instructor.get(scene.item_url(scene.row), headers=SIDE).content.decode()
    assert scene.item_url(scene.row, "plan_item_instead") in part
    page = as_instructor.get(scene.item_url(scene.row, "plan_item_instead")).content.decode()
    assert "<html" in page and "What to do instead" in page and 'name="instead"' in page


def test_one_touch_swaps_and_the_row_keeps_its_place(scene, as_instructor):
    f.PlanItemFactory(plan=scene.planned, exercise__key="mat_clam")
    PlanItem.objects.filter(pk=scene.row.pk).update(pause=60, minutes=9, note="slowly", repetitions=5)
    answer = swap(scene, as_instructor, "mat_pelvic_curl", **HTMX)
    assert answer.status_code == 200
    assert "Instead of Short box, round back" in text(answer)
    row = PlanItem.objects.get(pk=scene.row.pk)
    assert (row.exercise.key, row.position, row.public_id) == ("mat_pelvic_curl", 1, scene.row.public_id)
    assert (row.sides, row.repetitions, row.minutes, row.note, row.pause) == ("", 7, None, "", 60)
    lines = AuditEntry.objects.filter(action="plan.item_swapped")
    assert lines.count() == 1


def test_undo_puts_back_what_stood_there_as_it_was(scene, as_instructor, instructor, now):
    as_instructor.post(
        scene.item_url(scene.row, "plan_item_keep"), {"version": 1, "reason": "Her doctor wants to see it"}
    )
    scene.row.refresh_from_db()
    before = PlanItem.objects.filter(pk=scene.row.pk).values().get()
    swap(scene, as_instructor, "mat_pelvic_curl", version=2)
    row = PlanItem.objects.get(pk=scene.row.pk)
    assert (row.keep_reason, row.keep_by, row.verdict) == ("", None, None)
    answer = as_instructor.post(scene.item_url(scene.row, "plan_item_take_back"), {"version": 3}, follow=True)
    assert "Back to Short box, round back." in text(answer)
    assert PlanItem.objects.filter(pk=scene.row.pk).values().get() == before
    assert not PlanSwap.objects.exists()
    assert AuditEntry.objects.filter(action="plan.swap_taken_back").count() == 1


def test_two_swaps_are_taken_back_one_by_one(scene, as_instructor):
    swap(scene, as_instructor, "mat_pelvic_curl")
    swap(scene, as_instructor, "ref_bottom_lift", version=2)
    back = scene.item_url(scene.row, "plan_item_take_back")
    as_instructor.post(back, {"version": 3})
    scene.row.refresh_from_db()
    assert scene.row.exercise.key == "mat_pelvic_curl"
    as_instructor.post(back, {"version": 4})
    scene.row.refresh_from_db()
    assert scene.row.exercise.key == "ref_short_box_round"


def test_springs_of_the_last_time_come_along(scene, as_instructor, instructor):
    record = scene.last_time()
    f.EntryFactory(
        record=record, exercise=f.ExerciseFactory(key="ref_bottom_lift"), setting=springs("medium")
    )
    swap(scene, as_instructor, "ref_bottom_lift")
    row = PlanItem.objects.get(pk=scene.row.pk)
    assert row.setting == springs("medium")
    assert row.unit == scene.reformer


def test_what_is_to_be_avoided_by_now_is_refused_and_the_list_stands_anew(scene, as_instructor):
    answer = swap(scene, as_instructor, "mat_half_roll_back")
    assert answer.status_code == 422
    assert "Look again" in text(answer)
    scene.row.refresh_from_db()
    assert scene.row.exercise.key == "ref_short_box_round"


@pytest.mark.parametrize("wanted", ["", "nothing", "0"])
def test_what_is_not_on_the_shelf_is_not_there(scene, as_instructor, wanted):
    data = {"version": 1, "instead": wanted}
    assert as_instructor.post(scene.item_url(scene.row, "plan_item_instead"), data).status_code == 404


def test_a_change_the_exercise_does_not_offer_is_refused(scene, as_instructor):
    data = {
        "version": 1,
        "instead": f.ExerciseFactory(key="mat_pelvic_curl").public_id,
        "change": "do_hanging",
    }
    assert as_instructor.post(scene.item_url(scene.row, "plan_item_instead"), data).status_code == 422


def test_whoever_was_late_sees_who_was_first(scene, as_instructor):
    swap(scene, as_instructor, "mat_pelvic_curl")
    assert swap(scene, as_instructor, "ref_bottom_lift", version=1).status_code == 409
    assert PlanSwap.objects.count() == 1


def test_with_nothing_to_take_back_nothing_is_written(scene, as_instructor):
    before = scene.planned.version
    as_instructor.post(scene.item_url(scene.row, "plan_item_take_back"), {"version": before})
    scene.planned.refresh_from_db()
    assert scene.planned.version == before
    assert not AuditEntry.objects.filter(action="plan.swap_taken_back").exists()


def test_an_approved_plan_is_not_swapped(scene, as_instructor):
    swap(scene, as_instructor, "mat_pelvic_curl")
    scene.approve(as_instructor)
    assert swap(scene, as_instructor, "ref_bottom_lift", version=3).status_code == 409
    part = text(as_instructor.get(scene.item_url(scene.row), headers=SIDE))
    assert "Instead of Short box, round back" in part and "Undo" not in part


def test_looking_asks_the_same_however_long_the_plan_is(scene, as_instructor, django_assert_max_num_queries):
    offered(scene, as_instructor)
    for _n in range(9):
        f.PlanItemFactory(plan=scene.planned, exercise__key="mat_clam")
    with django_assert_max_num_queries(45):
        offered(scene, as_instructor)


@pytest.mark.parametrize(
    "condition", ["osteoporosis", "pregnancy", "vertigo_bppv", "hypertension_uncontrolled"]
)
def test_what_the_list_says_is_what_the_row_says_after(scene, as_instructor, condition):
    """Between a row on the back and one standing: minutes on the back and quick changes count in both."""
    f.FlagFactory(client=scene.client, condition=condition, state="active")
    f.PlanItemFactory(plan=scene.planned, exercise__key="st_hip_hinge")
    for key in ("sc_seated_cat", "mat_pelvic_tilt", "mat_cat", "ch_pelvic_lift"):
        f.ExerciseFactory(key=key)
    found, version = offered(scene, as_instructor), 1
    assert found
    for one in found:
        data = {"version": version, "instead": one["exercise"].public_id, "change": one["change"]}
        as_instructor.post(scene.item_url(scene.row, "plan_item_instead"), data)
        page = as_instructor.get(scene.url())
        assert page.context["rows"][0]["name"] == one["name"]
        assert page.context["rows"][0]["verdict"] == one["verdict"] != "avoid"
        as_instructor.post(scene.item_url(scene.row, "plan_item_take_back"), {"version": version + 1})
        version += 2


def test_springs_of_last_time_that_would_make_it_avoid_keep_it_out(scene, as_instructor, instructor):
    f.FlagFactory(client=scene.client, condition="hernia", state="active")
    assert "ref_bottom_lift" in [one["exercise"].key for one in offered(scene, as_instructor)]
    record = scene.last_time()
    bottom_lift = f.ExerciseFactory(key="ref_bottom_lift")
    f.EntryFactory(record=record, exercise=bottom_lift, setting=springs("very_heavy"))
    assert "ref_bottom_lift" not in [one["exercise"].key for one in offered(scene, as_instructor)]


# Sides and dose, as plain values.


class Row:
    def __init__(self, sides="", first_side=""):
        self.sides, self.first_side = sides, first_side


LEG = {"sides": "one_then_other", "side_means": "working_leg", "reps_min": 8, "reps_max": 12}
STANCE = {**LEG, "side_means": "stance_leg"}
WHOLE = {**LEG, "sides": "both_together", "side_means": None}


@pytest.mark.parametrize(
    ("row", "old", "new", "affected", "sides", "first"),
    [
        pytest.param(Row(), WHOLE, WHOLE, (), "", "", id="none-stays-none"),
        pytest.param(Row("both", "right"), LEG, WHOLE, (), "", "", id="both-to-none"),
        pytest.param(Row(), WHOLE, LEG, (), "both", "left", id="none-to-both"),
        pytest.param(Row(), WHOLE, LEG, ("right",), "both", "right", id="affected-side-first"),
        pytest.param(Row("both", "right"), LEG, STANCE, (), "both", "right", id="keeps-who-is-first"),
        pytest.param(Row("right", "right"), LEG, LEG, (), "right", "right", id="same-meaning-keeps-the-side"),
        pytest.param(Row("right", "right"), LEG, STANCE, (), "both", "left", id="other-meaning-does-both"),
    ],
)
def test_sides_are_sensible_for_the_new_exercise(row, old, new, affected, sides, first):
    found = swapping.values(row, old, new, affected=affected)
    assert (found["sides"], found["first_side"], found["repetitions"]) == (sides, first, 10)
