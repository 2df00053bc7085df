"""The factories make rows that the models accept, the same ones each time."""

import pytest
from django.db import transaction
from django.db.models import JSONField

from clients.models import Flag, FlagStatus
from sessions.demo import factories as f
from tests.rows import each

pytestmark = pytest.mark.django_db


@each("made", f.ALL, ids=lambda made: made.__name__)
def test_every_factory_makes_a_valid_row(made, house):
    """Where nothing but the studio is there yet. Choices and lengths hold."""
    f.start_over()
    with transaction.atomic():
        row = made()
        assert type(row)._base_manager.filter(pk=row.pk).exists()
        # An empty list or mapping is a value in a JSON field, though a form would call it blank.
        fields = row._meta.fields
        row.clean_fields(exclude=[f.name for f in fields if f.is_relation or isinstance(f, JSONField)])
        transaction.set_rollback(True)


@pytest.mark.parametrize(
    ("asked", "has"),
    [
        ({"owner": True}, {"owner"}),
        ({"owner": True, "instructor": True}, {"owner", "instructor"}),
        ({"front_desk": True}, {"front_desk"}),
        ({}, {"instructor"}),
    ],
    ids=["owner", "owner-who-teaches", "desk", "nothing-said"],
)
def test_staff_have_the_roles_asked_for(asked, has):
    assert f.StaffFactory(**asked).roles == has


@pytest.mark.parametrize("state", ["proposed", "active", "resting", "ended"])
def test_a_flag_has_the_state_asked_for(state):
    flag = f.FlagFactory(state=state)
    assert Flag.objects.with_state().get(pk=flag.pk).state == state


def test_a_flag_may_be_made_without_a_state():
    f.FlagFactory(state=None)
    assert not FlagStatus.objects.exists()


def test_a_booking_takes_clients_and_units():
    one, two = f.ClientFactory(), f.ClientFactory()
    unit = f.UnitFactory()
    booking = f.BookingFactory(clients=[one, two], units=[unit], state="arrived")
    assert {row.client for row in booking.attendances.all()} == {one, two}
    assert {row.state for row in booking.attendances.all()} == {"arrived"}
    assert list(booking.units.all()) == [unit]


def test_an_exercise_comes_with_the_facts_of_the_library():
    exercise = f.ExerciseFactory(key="ref_breath_straps")
    assert exercise.current.facts["apparatus"] == "reformer"
    assert f.ExerciseFactory(key="ref_breath_straps") == exercise


def test_an_entry_keeps_left_and_right_apart():
    entry = f.EntryFactory(left={"repetitions": 6, "quality": 2}, right={"repetitions": 8})
    assert {row.side: (row.repetitions, row.quality) for row in entry.sides.all()} == {
        "left": (6, 2),
        "right": (8, None),
    }
