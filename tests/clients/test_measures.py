"""Taking a measure with both sides, putting a slip right, and what stands on the page."""

import datetime as dt
from dataclasses import replace
from decimal import Decimal as D

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, connection, transaction
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from clients.actions import measures as actions
from clients.models import Measurement
from library.measures import measure, words
from sessions.demo.factories import (
    ClientFactory,
    FlagFactory,
    InstructionFactory,
    MeasurementFactory,
    StudioRuleEndFactory,
    StudioRuleFactory,
)
from studio.actions.audit import Actor
from studio.models import AuditEntry

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]

TODAY = dt.date(2026, 11, 25)
KNEE, REACH, BRIDGE = "knee_to_wall_lunge", "back_saver_sit_and_reach", "side_bridge"


@pytest.fixture
def client(house):
    return ClientFactory()


def take(client, key):
    return reverse("clients:measure_take", args=[client.public_id, key])


def page(client):
    return reverse("clients:measures", args=[client.public_id])


def correct(row):
    return reverse("clients:measure_correct", args=[row.client.public_id, row.measure, row.public_id])


def typed(**values):
    return {"on": "2026-11-25", "first": "left", "setup": "", "note": "", **values}


def text_of(answer):
    return answer.content.decode()


def test_both_sides_are_written_down(as_instructor, instructor, client):
    body = typed(left_1="8.5", right_1="11", setup="north wall", note="heel lifted once", first="right")
    answer = as_instructor.post(take(client, KNEE), body)
    assert answer.url == page(client)
    row = Measurement.objects.get()
    assert (row.left, row.right) == (85, 110)
    assert (row.left_value, row.right_value) == (D("8.5"), D("11"))
    assert (row.on, row.protocol, row.first, row.setup) == (
        TODAY,
        "knee_to_wall_lunge.1",
        "right",
        "north wall",
    )
    assert (row.author, row.note, row.tries) == (
        instructor,
        "heel lifted once",
        {"left": [85], "right": [110]},
    )
    assert AuditEntry.objects.get(action="measure.taken").person == instructor


def test_the_better_of_two_tries_counts_and_both_are_kept(as_instructor, client):
    body = typed(left_1="-8.5", left_2="-6", right_1="2", right_2="1.5")
    as_instructor.post(take(client, REACH), body)
    row = Measurement.objects.get()
    assert (row.left, row.right) == (-60, 20)
    assert row.tries == {"left": [-85, -60], "right": [20, 15]}


def test_an_empty_side_is_not_nought(as_instructor, client):
    as_instructor.post(take(client, BRIDGE), typed(left_1="0"))
    row = Measurement.objects.get()
    assert (row.left, row.right) == (0, None)
    assert "one side taken" in text_of(as_instructor.get(page(client)))


@pytest.mark.parametrize(
    ("key", "values", "sentence"),
    [
        pytest.param(KNEE, {}, "Type the value of at least one side.", id="nothing"),
        pytest.param(KNEE, {"left_1": "8.3"}, "Read in steps of 0.5 cm.", id="off the step"),
        pytest.param(BRIDGE, {"left_1": "44.5"}, "Read in steps of 1 s.", id="half a second"),
        pytest.param(KNEE, {"left_1": "-1"}, "Between 0.0 cm and 25.0 cm.", id="under"),
        pytest.param(BRIDGE, {"right_1": "301"}, "Between 0 s and 300 s.", id="over"),
        pytest.param(KNEE, {"left_1": "eight"}, "Type a number, or leave it empty.", id="no number"),
        pytest.param(KNEE, {"left_1": "NaN"}, "Type a number, or leave it empty.", id="not a number"),
        pytest.param(REACH, {"left_1": "4"}, "This try is missing", id="one try of two"),
        pytest.param(KNEE, {"left_1": "8", "on": "2026-11-26"}, "That day is still to come.", id="tomorrow"),
        pytest.param(KNEE, {"left_1": "8", "setup": "x" * 81}, "80 letters at most", id="set-up too long"),
        pytest.param(KNEE, {"left_1": "8", "on": ""}, "Which day was it?", id="no day"),
    ],
)
def test_wrong_numbers_get_a_sentence_and_are_kept(as_instructor, client, key, values, sentence):
    answer = as_instructor.post(take(client, key), typed(note="kept as typed", **values))
    assert answer.status_code == 422
    assert sentence in text_of(answer)
    assert "kept as typed" in text_of(answer)
    for value in values.values():
        assert f'value="{value}"' in text_of(answer)
    assert not Measurement.objects.exists()


def test_a_comma_is_a_point(as_instructor, client):
    as_instructor.post(take(client, KNEE), typed(left_1="8,5"))
    assert Measurement.objects.get().left == 85


def test_an_unknown_measure_is_not_found(as_instructor, client):
    assert as_instructor.get(take(client, "grip_strength")).status_code == 404


@pytest.mark.parametrize("key", [KNEE, REACH, BRIDGE])
def test_the_page_says_how_it_is_taken(as_instructor, client, key):
    shown = text_of(as_instructor.get(take(client, key)))
    for line in words(key).how:
        assert line in shown
    assert AuditEntry.objects.filter(action="measures.read", thing_id=client.public_id).exists()


def test_the_page_shows_last_time_and_its_set_up(as_instructor, client):
    MeasurementFactory(client=client, on=dt.date(2026, 9, 2), left=60, right=95, setup="north wall")
    MeasurementFactory(client=client, on=dt.date(2026, 10, 7), left=70, right=105, setup="south wall")
    shown = text_of(as_instructor.get(take(client, KNEE)))
    assert "7.0 cm on 7 Oct" in shown
    assert 'value="south wall"' in shown


# Frozen shoulder, left, and weight on that arm; osteoporosis and full rounding: rules of the table.
def test_what_a_flag_forbids_on_both_sides_is_held_back(as_instructor, client):
    FlagFactory(client=client, condition="osteoporosis", state="active")
    answer = as_instructor.get(take(client, REACH))
    assert "Held back today" in text_of(answer)
    assert "left_1" not in text_of(answer)
    assert "rounding forward fully" in text_of(answer)
    answer = as_instructor.post(take(client, REACH), typed(left_1="4", left_2="5"))
    assert not Measurement.objects.exists()
    assert "Held back today" in text_of(answer)


def avoid(client, demand, side):
    return InstructionFactory(
        client=client, about=demand, verdict="avoid", side=side, words="Not yet, please"
    )


def test_one_side_is_held_back_and_the_other_taken(as_instructor, client):
    avoid(client, "shoulder_weight_bearing", "left")
    shown = text_of(as_instructor.get(take(client, BRIDGE)))
    assert "Held back today: leave this side out." in shown
    assert "Not yet, please" in shown
    assert 'name="left_1"' not in shown
    assert 'name="right_1"' in shown
    answer = as_instructor.post(take(client, BRIDGE), typed(left_1="40", right_1="44"))
    assert answer.status_code == 422
    assert "Left is held back now, so nothing was saved." in text_of(answer)
    assert 'value="44"' in text_of(answer)
    as_instructor.post(take(client, BRIDGE), typed(right_1="44"))
    row = Measurement.objects.get()
    assert (row.left, row.right) == (None, 440)


def test_a_resting_flag_holds_nothing_back(as_instructor, client):
    FlagFactory(client=client, condition="osteoporosis", state="resting")
    assert 'name="left_1"' in text_of(as_instructor.get(take(client, REACH)))


def test_the_list_says_what_is_held_back(as_instructor, client):
    avoid(client, "shoulder_weight_bearing", "left")
    shown = text_of(as_instructor.get(page(client)))
    assert shown.count("held back today") == 1
    assert "Not yet, please" in shown


def test_the_list_compares_with_the_first(as_instructor, client):
    MeasurementFactory(client=client, on=dt.date(2026, 6, 3), left=60, right=110)
    MeasurementFactory(client=client, on=dt.date(2026, 11, 4), left=90, right=115)
    shown = text_of(as_instructor.get(page(client)))
    for said in ("left 2.5 cm behind", "up 3.0 cm", "up 0.5 cm, within noise", "left 5.0 cm behind"):
        assert said in shown
    assert AuditEntry.objects.filter(action="measures.read", thing_id=client.public_id).count() == 1


def test_another_set_up_is_not_compared(as_instructor, client):
    MeasurementFactory(client=client, on=dt.date(2026, 6, 3), left=60, setup="North wall")
    MeasurementFactory(client=client, on=dt.date(2026, 9, 2), left=90, setup=" north  wall")
    assert "up 3.0 cm" in text_of(as_instructor.get(page(client)))
    MeasurementFactory(client=client, on=dt.date(2026, 11, 4), left=95, setup="the porch")
    assert "cannot tell" in text_of(as_instructor.get(page(client)))


def test_a_correction_is_a_further_row(as_instructor, instructor, client):
    row = MeasurementFactory(client=client, left=85, right=110, note="first")
    shown = text_of(as_instructor.get(correct(row)))
    assert 'value="8.5"' in shown
    as_instructor.post(correct(row), typed(left_1="9.5", right_1="11", note="read it wrong"))
    new = Measurement.objects.get(replaces=row)
    assert (new.left, new.right, new.author) == (95, 110, instructor)
    row.refresh_from_db()
    assert (row.left, row.note) == (85, "first")
    assert list(Measurement.objects.standing()) == [new]
    assert AuditEntry.objects.filter(action="measure.corrected").count() == 1


def test_a_correction_is_free_of_todays_flags(as_instructor, client):
    row = MeasurementFactory(client=client, measure=REACH, left=40, right=50, tries={"left": [40, 30]})
    FlagFactory(client=client, condition="osteoporosis", state="active")
    as_instructor.post(correct(row), typed(left_1="4.5", left_2="3"))
    assert Measurement.objects.get(replaces=row).left == 45


def test_a_second_correction_of_one_row_is_refused_and_kept(as_instructor, client):
    row = MeasurementFactory(client=client)
    as_instructor.post(correct(row), typed(left_1="9.5"))
    answer = as_instructor.post(correct(row), typed(left_1="7.5", note="mine"))
    assert answer.status_code == 409
    assert "Somebody corrected this test a moment ago" in text_of(answer)
    assert 'value="7.5"' in text_of(answer)
    assert "mine" in text_of(answer)
    assert Measurement.objects.filter(replaces=row).count() == 1


def test_a_row_is_taken_back_with_a_reason(as_instructor, client):
    row = MeasurementFactory(client=client)
    answer = as_instructor.post(correct(row), {"take_back": "1", "back-note": ""})
    assert answer.status_code == 422
    assert "Say in a few words" in text_of(answer)
    as_instructor.post(correct(row), {"take_back": "1", "back-note": "typed for the wrong client"})
    gone = Measurement.objects.get(replaces=row)
    assert (gone.left, gone.right, gone.note) == (None, None, "typed for the wrong client")
    assert not Measurement.objects.standing().exists()
    assert "Not taken yet" in text_of(as_instructor.get(page(client)))
    assert as_instructor.get(correct(gone)).status_code == 404


def test_a_row_of_another_measure_is_not_found(as_instructor, client):
    row = MeasurementFactory(client=client)
    wrong = reverse("clients:measure_correct", args=[client.public_id, BRIDGE, row.public_id])
    assert as_instructor.get(wrong).status_code == 404


def test_rows_are_never_changed(client):
    row = MeasurementFactory(client=client)
    row.left = 10
    with pytest.raises(TypeError):
        row.save()
    with pytest.raises(TypeError):
        row.delete()
    with pytest.raises(IntegrityError), transaction.atomic():
        Measurement.objects.filter(pk=row.pk).update(left=10)


def test_a_row_has_a_side_or_replaces_another(client):
    with pytest.raises((IntegrityError, ValidationError)), transaction.atomic():
        MeasurementFactory(client=client, left=None, right=None)


def test_a_lower_score_is_the_better_one_where_lower_is_better(client, instructor):
    of = replace(measure(REACH), direction="lower")
    row = actions.take(
        actor=Actor(person=instructor, role="instructor"),
        client=client,
        measure=of,
        on=TODAY,
        tries={"left": [D(4), D("3.5")]},
    )
    assert row.left == 35


def test_the_desk_sees_none_of_it(as_desk, desk, client):
    MeasurementFactory(client=client, note="Plantednote")
    assert as_desk.get(page(client)).status_code == 403
    assert as_desk.post(take(client, KNEE), typed(left_1="8")).status_code == 403
    assert not Measurement.objects.seen_by(desk).exists()


def test_those_who_left_are_the_owners(owner, instructor, client):
    MeasurementFactory(client=client)
    client.archived_on = TODAY
    client.save()
    assert Measurement.objects.seen_by(owner).exists()
    assert not Measurement.objects.seen_by(instructor).exists()


def test_the_page_asks_the_same_of_the_database_for_two_and_for_twelve(as_instructor, client):
    counts = []
    for more in (2, 10):
        for _ in range(more):
            MeasurementFactory(client=client, on=TODAY)
        with CaptureQueriesContext(
            connection,
        ) as queries:
            as_instructor.get(page(client))
        counts.append(len(queries))
    assert counts[0] == counts[1]


def test_the_clients_page_leads_here(as_instructor, client):
    shown = text_of(as_instructor.get(reverse("sessions:client", args=[client.public_id])))
    assert page(client) in shown


# The table holds nothing back with reflux, rounding forward fully neither: only the studio's own rule can.
def test_a_stricter_rule_of_the_studio_holds_a_measure_back(as_instructor, client):
    FlagFactory(client=client, condition="reflux", state="active")
    assert 'name="left_1"' in text_of(as_instructor.get(take(client, REACH)))
    rule = StudioRuleFactory(
        condition="reflux",
        demand="end_range_spinal_flexion",
        verdict="avoid",
        reason="Two clients felt it for an hour.",
    )
    shown = text_of(as_instructor.get(take(client, REACH)))
    assert "Held back today" in shown
    assert "Two clients felt it for an hour." in shown
    assert 'name="left_1"' not in shown
    assert text_of(as_instructor.get(page(client))).count("held back today") == 1
    sent = typed(left_1="4", left_2="5", right_1="3", right_2="4")
    assert "Held back today" in text_of(as_instructor.post(take(client, REACH), sent))
    assert not Measurement.objects.exists()
    StudioRuleEndFactory(rule=rule)
    as_instructor.post(take(client, REACH), sent)
    assert Measurement.objects.get().left == 50
