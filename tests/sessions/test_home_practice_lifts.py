"""Sheets for home with changes that lift, minutes on the back, and call-backs by a stricter table.

The client is twenty weeks pregnant. That an 'avoid' lifted by a change goes home only after it was done so in
the studio: common practice, no source.
"""

import datetime as dt

import pytest
from django.urls import reverse

from library import vocabulary_wording
from sessions import home_rules
from sessions.actions import handouts, home_practice
from sessions.demo import factories as f
from sessions.models import EntrySide, Gates, open_call_backs
from studio.actions.audit import Actor
from studio.models import Studio
from tests.sessions.home_steps import add, errors, items, page, url
from tests.sessions.plan_scene import text

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("studio")]
TODAY = dt.date(2026, 11, 25)
WEDGE = "trunk_raised_on_wedge"
LIFT, CURL, CLAM = "mat_chest_lift", "mat_pelvic_curl", "mat_clam"


@pytest.fixture
def studio(db):
    return f.StudioFactory()


@pytest.fixture
def client(db):
    made = f.ClientFactory()
    f.FlagFactory(client=made, condition="pregnancy", due_on=TODAY + dt.timedelta(weeks=20))
    return made


@pytest.fixture
def actor(instructor):
    return Actor(person=instructor, role="instructor")


def sheet(client, *told, version=0):
    """Put these exercises on the client's sheet: (key, values) of each, or a key."""
    made = []
    for one in told:
        key, values = one if isinstance(one, tuple) else (one, {})
        exercise = f.ExerciseFactory(key=key)
        usual = home_rules.usual(exercise.public_id, exercise.current.facts)
        made.append({**usual, "taught_on": TODAY.isoformat(), "has_it": True, "change": "Easy.", **values})
    return f.HomePracticeFactory(client=client, items=made, exercises=())


def rows(client):
    practice = client.home_practice
    practice.refresh_from_db()
    return Gates.of(client, TODAY).rows(practice.items)


def done_here(client, key, *adaptations, state="done", **side):
    record = f.RecordFactory(attendance=f.BookingFactory(clients=[client]).attendances.get())
    entry = f.EntryFactory(
        record=record, exercise=f.ExerciseFactory(key=key), adaptations=list(adaptations), state=state
    )
    if side:
        EntrySide.objects.create(entry=entry, side="both", **side)


def long_lift(*adaptations):
    """Chest lifts for more than three minutes on the back."""
    return LIFT, {"repetitions": 40, "adaptations": list(adaptations)}


class TestLifted:
    def test_it_goes_home_only_after_it_was_done_so_here(self, client):
        sheet(client, long_lift(WEDGE), CLAM)
        first = rows(client)[0]
        assert (first.verdict["verdict"], first.verdict["without"]) == ("modify", "avoid")
        assert first.needs == [home_rules.UNTRIED]
        done_here(client, LIFT, WEDGE)
        assert rows(client)[0].needs == []

    @pytest.mark.parametrize(
        "adaptations, state",
        [((), "done"), (("slower",), "done"), ((WEDGE,), "skipped")],
        ids=["without it", "with another change", "skipped"],
    )
    def test_nothing_else_counts_as_done_so(self, client, adaptations, state):
        sheet(client, long_lift(WEDGE), CLAM)
        done_here(client, LIFT, *adaptations, state=state)
        assert rows(client)[0].needs == [home_rules.UNTRIED]

    @pytest.mark.parametrize(
        "felt, needs",
        [
            (["stretch"], []),
            (["pain"], [home_rules.UNTRIED]),
            (["stretch", "tingling"], [home_rules.UNTRIED]),
        ],
        ids=["stretch", "pain", "tingling"],
    )
    def test_broken_off_for_a_sign_is_not_done_so(self, client, felt, needs):
        sheet(client, long_lift(WEDGE), CLAM)
        done_here(client, LIFT, WEDGE, state="changed", felt=felt)
        assert rows(client)[0].needs == needs

    @pytest.mark.parametrize(
        "felt, taught", [(["stretch"], True), (["numb_or_weak"], False)], ids=["stretch", "numb"]
    )
    def test_steady_with_a_sign_to_stop_is_not_done_well(self, client, felt, taught):
        sheet(client, (CURL, {"taught_on": ""}), CLAM)
        done_here(client, CURL, quality=home_rules.STEADY, felt=felt)
        assert (home_rules.TAUGHT not in rows(client)[0].needs) is taught

    def test_done_with_more_changes_is_done_so(self, client):
        sheet(client, long_lift(WEDGE), CLAM)
        done_here(client, LIFT, "slower", WEDGE)
        assert rows(client)[0].needs == []

    def test_the_form_says_what_to_do(self, as_instructor, client):
        answer = add(as_instructor, client, LIFT, repetitions=40, adaptations=[WEDGE])
        assert answer.status_code == 422
        assert "Do it here once with this change" in errors(answer)["adaptations"][0]
        assert items(client) == []

    def test_one_touch_puts_a_tried_change_in(self, as_instructor, client):
        done_here(client, LIFT, WEDGE)
        chosen = f.ExerciseFactory(key=LIFT)
        sheet(client, long_lift())
        shown = as_instructor.get(url(client, exercise=chosen.public_id))
        assert f'form="home-form" name="with" value="{WEDGE}"' in page(shown)
        client.home_practice.delete()
        answer = add(as_instructor, client, LIFT, repetitions=40, **{"with": WEDGE})
        assert answer.status_code == 302
        assert items(client)[0]["adaptations"] == [WEDGE]

    def test_an_untried_change_is_named_and_not_offered(self, as_instructor, client):
        sheet(client, long_lift())
        shown = as_instructor.get(url(client, exercise=f.ExerciseFactory(key=LIFT).public_id))
        assert "Trunk raised on a wedge: once it was done here so, it may go home." in text(shown)
        assert 'name="with" value=' not in page(shown)

    def test_the_handout_prints_the_change_inside_its_exercise(self, client, actor):
        done_here(client, LIFT, WEDGE)
        sheet(client, long_lift(WEDGE), CLAM)
        made = handouts.draft(studio=Studio.objects.get(), client=client, today=TODAY)
        first, second = made.payload.items
        said = vocabulary_wording.adaptation_at_home(WEDGE)
        assert said in first.adaptations and said not in second.adaptations
        assert said in made.html()
        row = handouts.row_of(author=actor.person, client=client, made=made, today=TODAY)
        assert row.verdicts[0]["verdict"]["carries"] == [WEDGE]
        assert row.verdicts[0]["adaptations"] == [WEDGE]


class TestMinutesOnTheBack:
    def test_neighbours_in_printed_order_add_up(self, client):
        sheet(client, CURL, CURL.replace("curl", "tilt"), CLAM)
        assert [row.verdict["verdict"] for row in rows(client)][:2] == ["avoid", "avoid"]

    def test_on_the_side_between_they_do_not(self, client):
        sheet(client, CURL, CLAM, "mat_pelvic_tilt")
        assert [row.verdict["verdict"] for row in rows(client)][::2] == ["modify", "modify"]

    def test_one_that_is_looked_at_names_its_neighbours_by_their_numbers(self, as_instructor, client):
        # More than a minute on the side, which ends the spell before it.
        sheet(client, "mat_knee_fold", (CLAM, {"repetitions": 20}), ("mat_heel_slide", {"repetitions": 20}))
        curl = f.ExerciseFactory(key=CURL).public_id
        side = as_instructor.get(url(client, exercise=curl)).context["side"]
        assert side["new"] and side["spell"].endswith("min on the back with 3")

    def test_the_sheet_says_where_positions_do_not_change_and_orders_them(self, as_instructor, client):
        sheet(client, CURL, "mat_pelvic_tilt", CLAM)
        shown = as_instructor.get(url(client))
        assert "On the back one after the other: 1 and 2." in text(shown)
        assert "Pelvic curl, Clam, side-lying, Pelvic tilt" in text(shown)
        order = shown.context["alternation"]["order"]
        as_instructor.post(
            url(client, "home_move"), {"version": client.home_practice.version, "order": order}
        )
        assert [row.exercise.key for row in rows(client)] == [CURL, CLAM, "mat_pelvic_tilt"]
        assert as_instructor.get(url(client)).context["alternation"] is None

    def test_where_no_order_would_do_it_says_what_would(self, as_instructor, client):
        sheet(client, CURL, "mat_pelvic_tilt")
        shown = as_instructor.get(url(client))
        assert "Put something on the side or sitting between." in text(shown)
        assert not shown.context["alternation"]["order"]

    def test_nobody_else_is_told(self, as_instructor):
        other = f.ClientFactory()
        sheet(other, CURL, "mat_pelvic_tilt", CLAM)
        assert as_instructor.get(url(other)).context["alternation"] is None

    def test_an_order_with_foreign_ids_loses_nothing(self, actor, client):
        sheet(client, CURL, CLAM)
        practice = home_practice.order_items(
            actor=actor, client=client, exercises=["nonsense"], expected=client.home_practice.version
        )
        assert [item["exercise"] for item in practice.items] == [
            f.ExerciseFactory(key=key).public_id for key in (CURL, CLAM)
        ]


@pytest.mark.parametrize(
    "lies, order",
    [
        ([], []),
        ([True], [0]),
        ([True, True, False], [0, 2, 1]),
        ([False, True, True], [1, 0, 2]),
        ([True, True, False, False], [0, 2, 1, 3]),
        ([False, False, True, True], [0, 2, 1, 3]),
        ([True, True, True, False], [0, 3, 1, 2]),
        ([False, False, False], [0, 1, 2]),
    ],
)
def test_an_order_in_which_positions_change(lies, order):
    assert home_rules.alternated(lies) == order


class TestCalledBack:
    @pytest.fixture
    def issued(self, client, actor):
        done_here(client, LIFT, WEDGE)
        sheet(client, long_lift(WEDGE), CLAM)
        made = handouts.draft(studio=Studio.objects.get(), client=client, today=TODAY)
        row = handouts.row_of(author=actor.person, client=client, made=made, today=TODAY)
        row.save(force_insert=True)
        return row

    def test_nothing_has_changed(self, issued, instructor):
        assert open_call_backs(instructor, TODAY) == []

    def test_the_table_became_stricter(self, issued, instructor):
        f.StudioRuleFactory(condition="pregnancy", demand="side_lying", verdict="avoid")
        [found] = open_call_backs(instructor, TODAY)
        assert found.handout == issued
        assert [one["key"] for one in found.exercises] == [CLAM]

    def test_a_flag_for_which_the_change_does_not_count(self, issued, instructor, client):
        f.FlagFactory(client=client, condition="retinal_detachment")
        [found] = open_call_backs(instructor, TODAY)
        assert LIFT in {one["key"] for one in found.exercises}

    def test_the_pace_of_the_studio_changes_no_handout_that_is_out(self, issued, instructor):
        Studio.objects.update(pace_percent=400)
        assert open_call_backs(instructor, TODAY) == []


def test_a_sheet_that_is_not_there_yet_was_changed_by_nobody(as_instructor, client):
    answer = as_instructor.post(url(client), {"version": 7, "moment": "after a walk"})
    assert answer.status_code == 409
    assert "after a walk" in page(answer)


def test_what_the_table_does_not_know_says_ask(as_instructor):
    client = f.ClientFactory()
    f.FlagFactory(client=client, condition="moon_sickness")
    sheet(client, CLAM, CURL)
    assert text(as_instructor.get(url(client))).count("not in the table: ask") >= 2


def test_today_says_ask_too(as_instructor, instructor):
    client = f.ClientFactory()
    f.FlagFactory(client=client, condition="moon_sickness")
    f.BookingFactory(clients=[client], instructor=instructor)
    assert "Not in the table: ask." in text(as_instructor.get(reverse("sessions:today")))
