"""The side sheet of a plan: one row, keeping what is to be avoided, approving, adding."""

import pytest

from library import tables
from sessions.demo import factories as f
from sessions.models import Plan, PlanItem
from tests.sessions.plan_scene import FOUND, HTMX, SIDE, Scene, text

pytestmark = pytest.mark.django_db


@pytest.fixture
def scene(house, now, instructor):
    return Scene(instructor)


# The side sheet.


def test_one_touch_opens_the_side_sheet_and_without_script_the_page(scene, as_instructor):
    item = scene.plan("mat_pelvic_curl", "mat_clam").items.last()
    part = as_instructor.get(scene.item_url(item), headers=SIDE).content.decode()
    assert part.lstrip().startswith("<aside") and "<html" not in part and 'name="first_side"' in part
    page = as_instructor.get(scene.item_url(item)).content.decode()
    assert "<html" in page and 'name="first_side"' in page and "exrow sel" in page


def test_work_without_sides_asks_for_none(scene, as_instructor):
    item = scene.plan("mat_pelvic_curl").items.get()
    page = as_instructor.get(scene.item_url(item)).content.decode()
    assert (
        'name="sides"' not in page and 'name="repetitions_right"' not in page and 'name="springs"' not in page
    )


def row_data(**changes):
    return {"version": "1", "repetitions": "8", "note": "", "minutes": "", **changes}


def test_a_row_takes_everything_the_sheet_offers(scene, as_instructor):
    oak = f.SpringFactory(kind="reformer", name="Oak", grade="heavy", count=2)
    ash = f.SpringFactory(kind="reformer", name="Ash", grade="light", count=1)
    item = scene.plan("ref_scooter").items.get()
    change = tables.exercise("ref_scooter")["adaptations"][0]
    data = row_data(
        sides="both",
        first_side="right",
        repetitions="10",
        repetitions_right="8",
        unit=scene.reformer.public_id,
        springs=[f"{oak.public_id}.1", f"{oak.public_id}.2", f"{ash.public_id}.1"],
        bar="high",
        minutes="6",
        adaptations=[change],
        note="Left knee over the second toe",
    )
    assert as_instructor.post(scene.item_url(item), data).status_code == 302
    item.refresh_from_db()
    assert (item.sides, item.first_side, item.repetitions, item.repetitions_right) == ("both", "right", 10, 8)
    assert (item.unit, item.minutes, item.adaptations) == (scene.reformer, 6, [change])
    assert item.note == "Left knee over the second toe"
    hooked = [(s["spring"], s["name"], s["grade"], s["count"]) for s in item.setting["springs"]]
    assert hooked == [(oak.public_id, "Oak", "heavy", 2), (ash.public_id, "Ash", "light", 1)]
    assert item.setting["bar"] == "high" and "box" not in item.setting
    page = text(as_instructor.get(scene.item_url(item)))
    assert "10 left, 8 right" in page and "2 heavy + 1 light" in page


def test_one_side_only_has_no_numbers_of_its_own_for_the_other(scene, as_instructor):
    item = scene.plan("mat_clam").items.get()
    data = row_data(sides="right", first_side="left", repetitions="9", repetitions_right="4")
    as_instructor.post(scene.item_url(item), data)
    item.refresh_from_db()
    assert (item.sides, item.first_side, item.repetitions, item.repetitions_right) == (
        "right",
        "right",
        9,
        None,
    )


def test_a_spring_the_studio_gave_away_can_still_be_taken_off(scene, as_instructor):
    setting = {"springs": [{"spring": "gone", "name": "Old", "grade": "light", "count": 1}]}
    item = f.PlanItemFactory(plan=scene.plan(), exercise__key="ref_foot_heels", setting=setting)
    assert 'value="gone.1" checked' in as_instructor.get(scene.item_url(item)).content.decode()
    as_instructor.post(scene.item_url(item), row_data())
    item.refresh_from_db()
    assert item.setting == {}


BAD = {
    "nothing to do": ({"repetitions": "", "seconds": ""}, "repetitions", "Say how many"),
    "none at all": ({"repetitions": "0"}, "repetitions", "Type 1 or more"),
    "too many": ({"repetitions": "999"}, "repetitions", "Type 200 or less."),
    "no number": ({"seconds": "half a minute"}, "seconds", "Type a whole number"),
    "minutes of nothing": ({"minutes": "-3"}, "minutes", "Type 1 or more"),
    "a note too long": ({"note": "x" * 241}, "note", "Shorten this to 240 characters."),
    "a spring from elsewhere": ({"springs": ["foreign.1"]}, "springs", ""),
    "a change of another exercise": ({"adaptations": ["made_up"]}, "adaptations", ""),
    "a side there is not": ({"sides": "middle"}, "sides", ""),
    "a unit that is not booked": ({"unit": "foreign"}, "unit", ""),
}


@pytest.mark.parametrize("changes, field, sentence", BAD.values(), ids=BAD)
def test_bad_input_gets_a_sentence_at_the_field(scene, as_instructor, changes, field, sentence):
    f.SpringFactory(kind="reformer")
    item = scene.plan("ref_scooter").items.get()
    data = row_data(**{"sides": "both", "bar": "typed before", **changes})
    answer = as_instructor.post(scene.item_url(item), data, headers=HTMX)
    assert answer.status_code == 422
    form = answer.context["side"]["form"]
    assert sentence in form.errors[field][0]
    page = answer.content.decode()
    assert 'value="typed before"' in page and 'aria-invalid="true"' in page
    assert Plan.objects.get().version == 1


def test_two_who_change_one_row_see_both_texts(scene, as_instructor, as_other_instructor):
    item = scene.plan("mat_pelvic_curl").items.get()
    first = as_other_instructor.post(scene.item_url(item), row_data(repetitions="12", note="Corin's words"))
    assert first.status_code == 302
    second = as_instructor.post(
        scene.item_url(item), row_data(repetitions="5", note="Maris's words"), headers=HTMX
    )
    assert second.status_code == 409
    page = text(second)
    for words in (
        "Corin changed this at 10:15",
        "12 times",
        "5 times",
        "Corin&#x27;s words",
        "Maris&#x27;s words",
    ):
        assert words in page
    # What was typed is still in the form, now with the version to save on.
    form = second.context["side"]["form"]
    assert (form["repetitions"].value(), form["note"].value()) == ("5", "Maris's words")
    again = as_instructor.post(
        scene.item_url(item), row_data(repetitions="5", version=form["version"].value())
    )
    assert again.status_code == 302
    item.refresh_from_db()
    assert item.repetitions == 5


def test_what_was_typed_is_shown_even_when_the_plan_was_approved_meanwhile(
    scene, as_instructor, as_other_instructor
):
    item = scene.plan("mat_pelvic_curl").items.get()
    scene.approve(as_other_instructor)
    late = as_instructor.post(scene.item_url(item), row_data(note="Typed too late"), headers=HTMX)
    assert late.status_code == 409 and "Typed too late" in text(late)
    item.refresh_from_db()
    assert item.note == ""


@pytest.mark.parametrize("name, data", [("plan_item_move", {"way": "later"}), ("plan_item_remove", {})])
def test_a_touch_that_comes_too_late_says_who_was_first(
    scene, as_instructor, as_other_instructor, name, data
):
    item = scene.plan("mat_pelvic_curl", "mat_clam").items.first()
    as_other_instructor.post(scene.item_url(item), row_data(repetitions="12"))
    late = as_instructor.post(scene.item_url(item, name), {"version": 1, **data}, headers=HTMX)
    assert late.status_code == 409
    assert "Corin changed this plan a moment ago." in text(late)
    assert [row.exercise.key for row in Plan.objects.get().items.all()] == ["mat_pelvic_curl", "mat_clam"]


def test_earlier_later_and_out(scene, as_instructor):
    first, second = scene.plan("mat_pelvic_curl", "mat_clam").items.all()
    as_instructor.post(scene.item_url(second, "plan_item_move"), {"version": 1, "way": "earlier"})
    as_instructor.post(scene.item_url(first, "plan_item_move"), {"version": 2, "way": "sideways"})
    assert [row.exercise.key for row in Plan.objects.get().items.all()] == ["mat_clam", "mat_pelvic_curl"]
    answer = as_instructor.post(scene.item_url(first, "plan_item_remove"), {"version": 2}, headers=HTMX)
    assert answer.headers["HX-Replace-Url"] == scene.url()
    assert "Pelvic curl is out of the plan." in answer.headers["HX-Trigger"]
    assert [row.exercise.key for row in Plan.objects.get().items.all()] == ["mat_clam"]


# Keeping and approving.


def test_an_avoid_waits_for_a_reason(scene, as_instructor):
    f.FlagFactory(client=scene.client, condition="osteoporosis")
    plan = scene.plan("mat_pelvic_curl", "mat_roll_up")
    page = as_instructor.get(scene.url())
    # The sheet opens by itself on the row that is to be settled.
    assert "Settle 2, then approve" in text(page) and page.context["side"]["row"]["number"] == 2
    refused = scene.approve(as_instructor)
    assert refused.status_code == 422 and Plan.objects.get().approved_at is None
    roll = plan.items.last()
    empty = as_instructor.post(scene.item_url(roll, "plan_item_keep"), {"version": 1, "reason": "  "})
    assert empty.status_code == 422 and "Type the reason first" in text(empty)
    reason = "The physiotherapist rang: low range, hands on the thighs."
    as_instructor.post(scene.item_url(roll, "plan_item_keep"), {"version": 1, "reason": reason})
    page = text(as_instructor.get(scene.item_url(roll)))
    assert "Kept by Maris, 25 Nov, 10:15" in page and reason in page
    assert scene.approve(as_instructor).status_code == 302
    assert Plan.objects.get().approved_by == scene.instructor


def test_two_reasons_for_one_row_are_both_seen(scene, as_instructor, as_other_instructor):
    f.FlagFactory(client=scene.client, condition="osteoporosis")
    item = scene.plan("mat_roll_up").items.get()
    url = scene.item_url(item, "plan_item_keep")
    as_other_instructor.post(url, {"version": 1, "reason": "Corin knows why"})
    late = as_instructor.post(url, {"version": 1, "reason": "Maris has another reason"}, headers=HTMX)
    assert late.status_code == 409
    assert "Corin knows why" in text(late)
    assert late.context["side"]["keep_form"]["reason"].value() == "Maris has another reason"
    item.refresh_from_db()
    assert item.keep_reason == "Corin knows why"


def test_approving_what_nobody_has_seen_is_refused(scene, as_instructor):
    scene.plan("mat_pelvic_curl", "mat_chest_lift")
    page = as_instructor.get(scene.url())
    f.FlagFactory(client=scene.client, condition="osteopenia")
    data = {"version": 1, "seen": page.context["seen"]}
    answer = as_instructor.post(scene.url("plan_approve"), data, headers=HTMX)
    assert answer.status_code == 409
    assert "Flags have changed since this page was opened: look again." in text(answer)


def test_an_approved_plan_keeps_its_verdicts_and_says_when_they_have_moved(scene, as_instructor):
    plan = scene.plan("mat_pelvic_curl", "mat_roll_up")
    scene.approve(as_instructor)
    assert "Flags have changed since" not in text(as_instructor.get(scene.url()))
    f.FlagFactory(client=scene.client, condition="osteoporosis")
    page = as_instructor.get(scene.url())
    assert [row["verdict"] for row in page.context["rows"]] == ["none", "none"]
    assert "Flags have changed since: look again. It concerns row 2." in text(page)
    sheet = text(as_instructor.get(scene.item_url(plan.items.last()), headers=SIDE))
    assert "As the flags stand now" in sheet and "Loaded bending forward of the spine" in sheet
    assert "Save this row" not in sheet
    as_instructor.post(scene.url("plan_reopen"), {"version": 2})
    assert "Settle 2, then approve" in text(as_instructor.get(scene.url()))


def test_rows_of_an_approved_plan_are_not_changed_through_the_back_door(scene, as_instructor):
    item = scene.plan("mat_pelvic_curl").items.get()
    scene.approve(as_instructor)
    assert as_instructor.post(scene.item_url(item), row_data(version="2", note="x")).status_code == 409
    moved = as_instructor.post(scene.item_url(item, "plan_item_move"), {"version": 2, "way": "later"})
    assert moved.status_code == 409 and "Reopen it to change it." in text(moved)
    assert as_instructor.post(scene.url("plan_add"), {"version": 2}).status_code == 409
    assert as_instructor.get(scene.url("plan_add")).status_code == 302
    item.refresh_from_db()
    assert (item.note, Plan.objects.get().version) == ("", 2)


# Adding.


@pytest.mark.parametrize(
    "wish, found",
    [
        ({"words": "PÉLVIC cürl"}, {"mat_pelvic_curl"}),
        ({"words": "bottom lift", "apparatus": "chair"}, {"ch_pelvic_lift", "ch_pelvic_lift_single"}),
        ({"words": "no such thing"}, set()),
        ({"apparatus": "nowhere"}, set()),
    ],
    ids=["accents and case", "apparatus", "nothing", "nonsense"],
)
def test_finding_an_exercise(scene, as_instructor, library, wish, found):
    scene.plan()
    answer = as_instructor.get(scene.url("plan_add"), wish, headers=FOUND)
    assert {one["exercise"].key for one in answer.context["side"]["found"]} == found
    assert answer.content.decode().lstrip().startswith('<form id="plan-found"')


def test_what_can_be_done_today_comes_first_and_is_judged(scene, as_instructor, library):
    f.FlagFactory(client=scene.client, condition="osteoporosis")
    f.ExerciseFactory(key="own_roll", content=False)
    scene.plan("mat_pelvic_curl")
    answer = as_instructor.get(scene.url("plan_add"), {"words": "roll"})
    found = answer.context["side"]["found"]
    assert [one["not_booked"] for one in found] == sorted(one["not_booked"] for one in found)
    verdicts = {one["exercise"].key: one["verdict"] for one in found}
    assert verdicts["mat_roll_up"] == "avoid" and "own_roll" not in verdicts
    page = text(answer)
    assert "Mat · Building" in page or "Mat · Foundation" in page


def test_one_touch_adds_and_the_search_stays(scene, as_instructor, library):
    scene.plan()
    url = scene.url("plan_add")
    found = as_instructor.get(url, {"words": "clam"}).context["side"]["found"][0]
    data = {"version": 1, "exercise": found["exercise"].public_id, "words": "clam", "apparatus": ""}
    answer = as_instructor.post(url, data, headers=HTMX)
    assert answer.status_code == 200 and "in the plan: 1" in text(answer)
    assert "Clam, side-lying is in the plan." in answer.headers["HX-Trigger"]
    plain = as_instructor.post(url, {**data, "version": 2})
    assert plain.status_code == 302 and plain.url == f"{url}?words=clam&apparatus="
    assert [item.exercise.key for item in PlanItem.objects.all()] == ["mat_clam", "mat_clam"]
    late = as_instructor.post(url, {**data, "version": 2}, headers=HTMX)
    assert late.status_code == 409 and PlanItem.objects.count() == 2


@pytest.mark.parametrize(
    ("noted", "said"),
    [(["footbar"], True), (["footbar", "jump_board", "headrest"], False), ([], False)],
    ids=["without", "with", "nobody has looked"],
)
def test_what_the_unit_has_not_is_said(scene, as_instructor, noted, said):
    scene.reformer.accessories = noted
    scene.reformer.save()
    item = scene.plan("ref_jump").items.get()
    assert ("Reformer 1 has no" in text(as_instructor.get(scene.item_url(item)))) is said


def test_one_of_two_units_that_would_do_is_enough(scene, as_instructor):
    scene.reformer.accessories = ["footbar"]
    scene.reformer.save()
    other = f.UnitFactory(kind="reformer", name="Reformer 2", room=scene.room)
    scene.attendance.booking.units.add(other)
    item = scene.plan("ref_jump").items.get()
    assert "1 has no" not in text(as_instructor.get(scene.item_url(item)))
