"""Putting home practice together on the screen: what is offered, what is refused, what is asked, what is kept.

That forward rounding is left out with osteoporosis: Giangregorio LM et al., Too Fit To Fracture,
Osteoporos Int 2015;26:891-910, table 5. Two to four exercises: Henry KD et al., Phys Ther 1999;79:270-277.
"""

import datetime as dt

import pytest

from library.models import ExerciseVersion
from sessions import home_rules
from sessions.actions import home_practice as actions
from sessions.demo import factories as f
from sessions.models import HomePractice
from studio.actions.audit import Actor
from studio.models import AuditEntry
from tests.sessions.home_steps import add, errors, items, offered, page, save_whole, url

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]

TODAY = dt.date(2026, 11, 25)


@pytest.fixture
def client():
    """A client who has a chair and a wall at home."""
    client = f.ClientFactory()
    f.CareProfileFactory(client=client, home_equipment=["sturdy_chair", "wall"])
    return client


def test_nothing_is_written_by_looking(as_instructor, client):
    answer = as_instructor.get(url(client))
    assert answer.status_code == 200
    assert not HomePractice.objects.exists()
    assert AuditEntry.objects.filter(action="home_practice.read", thing_id=client.public_id).count() == 1


def test_only_what_may_go_home_is_offered(as_instructor, client):
    for key in ("mat_pelvic_curl", "ref_frog", "mat_teaser"):
        f.ExerciseFactory(key=key)
    nothing_drawn = f.ExerciseFactory(key="mat_clam")
    version = f.ExerciseVersionFactory(
        exercise=nothing_drawn, payload={**nothing_drawn.current.payload, "pose": None}
    )
    nothing_drawn.current = version
    nothing_drawn.save()
    assert offered(as_instructor.get(url(client, add=""))) == ["Pelvic curl"]


@pytest.mark.parametrize("key", ["ref_frog", "mat_teaser"])
def test_what_is_not_for_home_cannot_be_forced_on(as_instructor, client, key):
    answer = add(as_instructor, client, key)
    assert answer.status_code == 422
    assert "not for home" in page(answer)
    assert items(client) == []


def test_an_avoid_is_never_offered_and_shows_with_its_reason_to_who_asks_for_it(as_instructor, client):
    for key in ("mat_pelvic_curl", "mat_saw"):
        f.ExerciseFactory(key=key)
    f.FlagFactory(client=client, condition="osteoporosis")
    assert offered(as_instructor.get(url(client, add=""))) == ["Pelvic curl"]
    found = as_instructor.get(url(client, words="saw"))
    assert offered(found) == ["Saw"]
    assert 'name="exercise" value=' not in page(found)
    shown = as_instructor.get(url(client, exercise=f.ExerciseFactory(key="mat_saw").public_id))
    assert shown.context["side"]["refused"]
    assert "Osteoporosis" in page(shown)
    assert "Put it on the sheet" not in page(shown)


def test_an_avoid_cannot_be_added_whatever_is_answered(as_instructor, client):
    f.FlagFactory(client=client, condition="osteoporosis")
    answer = add(as_instructor, client, "mat_saw", change="Only a little.", adaptations=["smaller_range"])
    assert answer.status_code == 422
    assert items(client) == []


def test_an_avoid_is_refused_by_the_action_itself(instructor, client):
    saw = f.ExerciseFactory(key="mat_saw")
    f.FlagFactory(client=client, condition="osteoporosis")
    item = {**home_rules.usual(saw.public_id, saw.current.facts), "taught_on": TODAY.isoformat()}
    with pytest.raises(actions.NotForHome):
        actions.save_item(
            actor=Actor(person=instructor), client=client, exercise=saw, item=item, expected=0, today=TODAY
        )
    assert items(client) == []


def test_a_modify_needs_a_change(as_instructor, client):
    f.FlagFactory(client=client, condition="frozen_shoulder", side="left")
    answer = add(as_instructor, client, "st_wall_slide")
    assert answer.status_code == 422
    assert "adaptations" in errors(answer)
    assert items(client) == []


@pytest.mark.parametrize(
    "change",
    [{"adaptations": ["smaller_range"]}, {"change": "Left arm: stop at the tape on your wall."}],
    ids=["of the list", "in their words"],
)
def test_a_modify_goes_home_with_a_change(as_instructor, client, change):
    f.FlagFactory(client=client, condition="frozen_shoulder", side="left")
    assert add(as_instructor, client, "st_wall_slide", **change).status_code == 302
    (item,) = items(client)
    assert {name: item[name] for name in change} == change


def test_an_unknown_change_is_refused(as_instructor, client):
    answer = add(as_instructor, client, "mat_pelvic_curl", adaptations=["lighter_spring"])
    assert answer.status_code == 422
    assert "adaptations" in errors(answer)


def ring_exercise():
    """Return an exercise of the library that needs a ring, with words and a drawing lent to it."""
    exercise = f.ExerciseFactory(key="sp_ring_inner_press")
    drawn = f.ExerciseFactory(key="mat_pelvic_curl").current.payload
    payload = {**drawn, "facts": exercise.current.facts}
    exercise.current = ExerciseVersion.objects.create(
        exercise=exercise, number=2, content_hash="lent", payload=payload, created_at=f.times.now()
    )
    exercise.save()
    return exercise


def test_what_they_do_not_own_is_said_and_asked_for(as_instructor, client):
    ring_exercise()
    found = as_instructor.get(url(client, words="ring"))
    assert "needs a ring" in page(found)
    answer = add(as_instructor, client, "sp_ring_inner_press")
    assert answer.status_code == 422
    assert "has_it" in errors(answer)
    assert "ball or a cushion" in page(answer)
    assert items(client) == []


def test_a_tick_that_they_have_it_is_kept_with_this_exercise_only(as_instructor, client):
    ring_exercise()
    assert add(as_instructor, client, "sp_ring_inner_press", has_it="on").status_code == 302
    assert items(client)[0]["has_it"] is True
    assert client.care.home_equipment == ["sturdy_chair", "wall"]


def test_what_they_own_is_not_asked_for(as_instructor, client):
    client.care.home_equipment.append("ring")
    client.care.save()
    ring_exercise()
    assert add(as_instructor, client, "sp_ring_inner_press").status_code == 302


@pytest.mark.parametrize(
    ("key", "question"),
    [
        ("mat_pelvic_curl", "Not yet done here at Steady or better: taught today?"),
        ("mat_toe_tap", "Not yet noted here at Steady or better: have you seen it done so?"),
    ],
    ids=["foundation", "building"],
)
def test_what_was_never_done_well_here_asks_for_a_yes(as_instructor, client, key, question):
    answer = add(as_instructor, client, key, taught=None)
    assert answer.status_code == 422
    assert "taught" in errors(answer)
    assert question in page(answer)
    assert add(as_instructor, client, key).status_code == 302
    assert items(client)[0]["taught_on"] == "2026-11-25"


@pytest.mark.parametrize(
    ("left", "right", "asked"),
    [(3, 3, False), (4, 5, False), (3, 2, True), (None, 5, True)],
    ids=["Steady on both", "better than Steady", "Shaky on the right", "only the right noted"],
)
def test_steady_on_every_side_answers_the_question(as_instructor, client, left, right, asked):
    record = f.RecordFactory(attendance__client=client)
    sides = {name: {"quality": value} for name, value in (("left", left), ("right", right)) if value}
    f.EntryFactory(record=record, exercise__key="mat_clam", **sides)
    answer = add(as_instructor, client, "mat_clam", taught=None)
    assert answer.status_code == (422 if asked else 302)


def test_what_somebody_else_did_well_answers_nothing(as_instructor, client):
    f.EntryFactory(exercise__key="mat_pelvic_curl", both={"quality": 5})
    assert add(as_instructor, client, "mat_pelvic_curl", taught=None).status_code == 422


def test_one_touch_adds_what_needs_nothing(as_instructor, client):
    record = f.RecordFactory(attendance__client=client)
    entry = f.EntryFactory(record=record, exercise__key="mat_pelvic_curl", both={"quality": 3})
    body = {"version": 0, "quick": "1", "exercise": entry.exercise.public_id}
    assert as_instructor.post(url(client, "home_exercise"), body).status_code == 302
    assert items(client)[0]["repetitions"] == 7


def test_one_touch_on_what_needs_something_opens_its_form(as_instructor, client):
    body = {"version": 0, "quick": "1", "exercise": f.ExerciseFactory(key="mat_pelvic_curl").public_id}
    answer = as_instructor.post(url(client, "home_exercise"), body)
    assert answer.status_code == 422
    assert "taught today?" in page(answer)
    assert items(client) == []


FOUR = ("mat_pelvic_curl", "mat_clam", "mat_bridge_hold", "st_wall_slide")


def test_a_fifth_exercise_asks_for_a_yes_and_a_sixth_is_refused(as_instructor, client):
    for key in FOUR:
        assert add(as_instructor, client, key).status_code == 302
    answer = add(as_instructor, client, "mat_cat")
    assert answer.status_code == 422
    assert "beyond" in errors(answer)
    assert len(items(client)) == 4
    assert add(as_instructor, client, "mat_cat", beyond="on").status_code == 302
    assert len(items(client)) == 5
    answer = add(as_instructor, client, "mat_knee_fold", beyond="on")
    assert answer.status_code == 422
    assert "Five exercises are on it" in page(answer)
    assert len(items(client)) == 5


def test_the_yes_to_a_fifth_holds_in_any_order_and_is_asked_again_for_another(as_instructor, client):
    for key in FOUR:
        add(as_instructor, client, key)
    add(as_instructor, client, "mat_cat", beyond="on")
    cat = f.ExerciseFactory(key="mat_cat").public_id
    version = HomePractice.objects.get().version
    body = {"version": version, "exercise": cat, "way": "earlier"}
    as_instructor.post(url(client, "home_move"), body)
    assert as_instructor.get(url(client)).context["waits"] == ""
    first = f.ExerciseFactory(key=FOUR[0]).public_id
    as_instructor.post(url(client, "home_remove"), {"version": version + 1, "exercise": first})
    assert add(as_instructor, client, "mat_knee_fold").status_code == 422


def test_right_gets_its_own_number_only_where_one_is_typed(as_instructor, client):
    add(as_instructor, client, "mat_clam", repetitions=10)
    assert items(client)[0]["repetitions_right"] is None
    add(as_instructor, client, "mat_clam", repetitions=10, repetitions_right=8)
    assert items(client)[0]["repetitions_right"] == 8
    add(as_instructor, client, "mat_clam", repetitions=10, repetitions_right=8, sides="left")
    (item,) = items(client)
    assert (item["sides"], item["repetitions_right"]) == ("left", None)


BAD = [
    ("no number at all", {"repetitions": ""}, "repetitions", "Say how many"),
    ("nought", {"repetitions": 0}, "repetitions", "1 or more"),
    ("too many", {"repetitions": 101}, "repetitions", "100 or less"),
    ("no number", {"repetitions": "ten"}, "repetitions", "whole number"),
    ("too long held", {"seconds": 601}, "seconds", "600 or less"),
    ("days without a day", {"per_week": "days"}, "days", "Touch the days"),
    ("an eighth day", {"per_week": "days", "days": [7]}, "days", "7"),
    ("a long cue", {"cue": "x" * 241}, "cue", "240"),
    ("a word on file", {"cue": "Good for osteoporosis."}, "cue", "“osteoporosis”"),
    ("the same in a change", {"change": "Osteoporosis: less."}, "change", "“Osteoporosis”"),
]


@pytest.mark.parametrize(("changes", "field", "words"), [row[1:] for row in BAD], ids=[row[0] for row in BAD])
def test_bad_input_is_told_at_the_field_and_kept(as_instructor, client, changes, field, words):
    f.FlagFactory(client=client, condition="osteoporosis")
    answer = add(as_instructor, client, "mat_pelvic_curl", **changes)
    assert answer.status_code == 422
    assert words in " ".join(errors(answer)[field])
    form = answer.context["side"]["form"]
    for name, value in changes.items():
        kept = form[name].value()
        assert kept == ([str(one) for one in value] if isinstance(value, list) else str(value))
    assert items(client) == []


def test_days_are_kept_by_name_while_they_are_chosen(as_instructor, client):
    add(as_instructor, client, "mat_pelvic_curl", per_week="days", days=[3, 0])
    assert (items(client)[0]["per_week"], items(client)[0]["days"]) == (None, [0, 3])
    add(as_instructor, client, "mat_pelvic_curl", per_week="4", days=[3, 0])
    assert (items(client)[0]["per_week"], items(client)[0]["days"]) == (4, [])


def test_names_are_ordinary_text(as_instructor, client):
    odd = "<b>O'Brien</b> 王 =SUM(1)"
    add(as_instructor, client, "mat_pelvic_curl", cue=odd)
    assert items(client)[0]["cue"] == odd
    exercise = f.ExerciseFactory(key="mat_pelvic_curl")
    shown = page(as_instructor.get(url(client, exercise=exercise.public_id)))
    assert "<b>O&#x27;Brien" not in shown
    assert "&lt;b&gt;O&#x27;Brien&lt;/b&gt; 王 =SUM(1)" in shown


def test_more_than_twelve_minutes_warns_and_does_not_block(as_instructor, client):
    add(as_instructor, client, "mat_pelvic_curl", repetitions=80)
    add(as_instructor, client, "mat_bridge_hold", repetitions=1)
    answer = as_instructor.get(url(client))
    # 80 curls of 8 s are 640 s, one hold of 12 s, and each needs setting up.
    assert answer.context["minutes"] == 11
    assert not answer.context["too_long"]
    add(as_instructor, client, "mat_pelvic_curl", repetitions=95)
    answer = as_instructor.get(url(client))
    assert answer.context["too_long"]
    assert "Above 12" in page(answer)
    assert answer.context["waits"] == ""


def test_a_flag_that_comes_later_keeps_the_sheet_from_being_issued(as_instructor, client):
    for key in ("mat_spine_stretch", "mat_pelvic_curl"):
        add(as_instructor, client, key)
    assert as_instructor.get(url(client)).context["waits"] == ""
    f.FlagFactory(client=client, condition="osteoporosis")
    answer = as_instructor.get(url(client))
    assert answer.context["waits"] == "Settle 1 first"
    assert as_instructor.get(url(client, "home_preview")).status_code == 302
    body = {"version": HomePractice.objects.get().version}
    as_instructor.post(url(client, "home_issue"), body)
    assert client.handouts.count() == 0


def test_flags_that_nobody_confirmed_are_pointed_out(as_instructor, client):
    f.FlagFactory(client=client, condition="osteoporosis", state="proposed")
    assert "1 flag waits to be confirmed" in page(as_instructor.get(url(client)))


def test_the_whole_sheet_keeps_its_moment_day_and_print(as_instructor, client):
    answer = save_whole(
        as_instructor, client, moment="after a walk", look_again_on="2026-12-09", large_print="on"
    )
    assert answer.status_code == 302
    practice = HomePractice.objects.get(client=client)
    assert (practice.moment, practice.look_again_on, practice.large_print) == (
        "after a walk",
        dt.date(2026, 12, 9),
        True,
    )


@pytest.mark.parametrize(
    ("day", "words"),
    [("2026-11-24", "gone by"), ("2027-12-01", "more than a year"), ("soon", "day, month, year")],
    ids=["yesterday", "beyond a year", "no date"],
)
def test_a_day_of_looking_again_makes_sense(as_instructor, client, day, words):
    answer = save_whole(as_instructor, client, moment="after a walk", look_again_on=day)
    assert answer.status_code == 422
    assert words in page(answer)
    assert "after a walk" in page(answer)
    assert not HomePractice.objects.exists()


@pytest.mark.parametrize(
    ("moment", "words"),
    [("x" * 121, "120 letters"), ("before the osteoporosis tablet", "“osteoporosis”")],
    ids=["too long", "a word on file"],
)
def test_a_moment_that_cannot_be_printed_is_told(as_instructor, client, moment, words):
    f.FlagFactory(client=client, condition="osteoporosis")
    answer = save_whole(as_instructor, client, moment=moment)
    assert answer.status_code == 422
    assert words in page(answer)
    assert moment in page(answer)


def test_the_next_booking_is_the_usual_day_of_looking_again(as_instructor, client):
    f.AttendanceFactory(client=client, booking__wall_day=TODAY)
    f.AttendanceFactory(client=client, booking__wall_day=dt.date(2026, 12, 9))
    f.AttendanceFactory(client=client, booking__wall_day=dt.date(2026, 12, 2), state="cancelled_in_time")
    answer = as_instructor.get(url(client, whole=""))
    assert answer.context["side"]["form"]["look_again_on"].value() == dt.date(2026, 12, 9)
