"""Which times are offered beside a booking. Opening hours and sessions here are the house's own story."""

import datetime as dt

import pytest
from django.urls import reverse

from sessions import diary
from sessions.actions.free_times import find
from sessions.demo.factories import ClientFactory, RoomFactory, UnitFactory
from sessions.models import Booking
from studio.models import Absence, ClosedDay

from .test_bookings import DAY, form_data, place  # noqa: F401

LONDON = "Europe/London"


def times(*texts):
    return [dt.time.fromisoformat(text) for text in texts]


@pytest.mark.parametrize(
    "day, hours, minutes, expected",
    [
        ("2026-11-26", [("09:00", "11:00")], 55, times("09:00", "09:30", "10:00")),
        ("2026-11-26", [("14:00", "15:00"), ("09:15", "10:00")], 45, times("09:15", "14:00")),
        ("2026-11-26", [("09:00", "09:30")], 55, []),
        ("2026-03-29", [("00:30", "02:30")], 30, times("00:30", "02:00")),
    ],
    ids=["on the half hour", "two stretches", "too short a day", "the hour the clocks skip"],
)
def test_starts_of_a_day(day, hours, minutes, expected):
    hours = [tuple(times(*pair)) for pair in hours]
    assert (
        diary.free_starts(dt.date.fromisoformat(day), minutes, hours, LONDON, lambda slot: True) == expected
    )


def offered(place, **changes):  # noqa: F811
    return find(studio=place.studio, wish=place.wish(**changes))


@pytest.mark.parametrize("what", ["instructor", "unit", "client"])
def test_whatever_is_taken_is_not_offered(place, what):  # noqa: F811
    client = ClientFactory()
    taken = {
        "instructor": {"units": ()},
        "unit": {"instructor": place.other_teacher},
        "client": {"instructor": place.other_teacher, "units": (), "clients": (client,)},
    }[what]
    before = offered(place, clients=(client,)).times
    place.take(time=dt.time(12), **taken)
    gone = set(before) - set(offered(place, clients=(client,)).times)
    assert gone == set(times("11:30", "12:00", "12:30"))


def test_every_offer_can_be_booked(place):  # noqa: F811
    """What is offered goes through the one door: `take` says no to none of them."""
    place.take(time=dt.time(10, 15), instructor=place.other_teacher)
    place.take(time=dt.time(15), units=())
    times = offered(place).times
    assert len(times) > 6
    for time in times:
        booking = place.take(time=time)
        booking.attendances.update(state="cancelled_in_time")


def test_a_full_room_is_not_offered(place):  # noqa: F811
    small = RoomFactory(name="Small", holds=1)
    place.take(time=dt.time(12), room=small, units=(), instructor=place.other_teacher)
    assert dt.time(12) not in offered(place, room=small, units=()).times
    assert dt.time(12) in offered(place, room=place.other_room, units=()).times


def test_the_next_day_with_room(place):  # noqa: F811
    Absence.objects.create(staff=place.teacher, first_day=DAY, last_day=DAY)
    ClosedDay.objects.create(day=DAY + dt.timedelta(days=1), reason="holiday")
    assert offered(place).day > DAY + dt.timedelta(days=1)


def test_nothing_for_two_weeks(place):  # noqa: F811
    Absence.objects.create(staff=place.teacher, first_day=DAY, last_day=DAY + dt.timedelta(days=30))
    assert offered(place) is None


def test_a_touch_books(place, as_desk):  # noqa: F811
    data = form_data(place, day="", time="", pick=f"{DAY.isoformat()}T13:30")
    answer = as_desk.post(reverse("sessions:booking_new"), data)
    assert answer.status_code == 302
    assert Booking.objects.get().wall_time == dt.time(13, 30)


def test_a_touch_moves_and_its_own_place_counts_as_free(place, as_desk):  # noqa: F811
    booking = place.take(time=dt.time(10))
    address = reverse("sessions:booking_change", args=[booking.public_id])
    page = as_desk.get(address)
    assert dt.time(10, 30) in page.context["free"].times
    data = form_data(place, version=booking.version, pick=f"{DAY.isoformat()}T16:00")
    assert as_desk.post(address, data).status_code == 302
    booking.refresh_from_db()
    assert booking.wall_time == dt.time(16)


@pytest.mark.parametrize("pick", ["", "T", "nonsense", "2026-99-99T12:00", "2026-11-26T99:99"])
def test_a_pick_that_is_none_books_nothing(place, as_desk, pick):  # noqa: F811
    answer = as_desk.post(reverse("sessions:booking_new"), form_data(place, time="", pick=pick))
    assert answer.status_code == 422
    assert not Booking.objects.exists()


def test_a_clash_stands_beside_free_times(place, as_desk):  # noqa: F811
    place.take(time=dt.time(10))
    answer = as_desk.post(reverse("sessions:booking_new"), form_data(place, time="10:00"))
    assert answer.status_code == 422
    assert f'value="{DAY.isoformat()}T11:00"' in answer.content.decode()


def test_the_list_alone_follows_the_form(place, as_desk, django_assert_max_num_queries):  # noqa: F811
    for hour in (9, 11, 14):
        place.take(time=dt.time(hour))
    with django_assert_max_num_queries(24):
        answer = as_desk.get(reverse("sessions:free_times"), form_data(place))
    assert [time.hour for time in answer.context["free"].times if time.hour in (9, 11, 14)] == []
    assert as_desk.get(reverse("sessions:free_times"), {"day": "x"}).context["instructor"] is None
    assert as_desk.get(reverse("sessions:free_times"), {"moving": "nobody"}).status_code == 404


def test_units_may_not_stand_in_the_way_elsewhere(place):  # noqa: F811
    other = UnitFactory(name="Reformer 9", room=place.room)
    place.take(time=dt.time(12), instructor=place.other_teacher, units=(other,))
    assert dt.time(12) in offered(place).times


def test_a_client_is_booked_as_last_time(place, as_desk):  # noqa: F811
    client = ClientFactory()
    place.take(clients=(client,), instructor=place.other_teacher, units=(place.reformer,))
    page = as_desk.get(reverse("sessions:booking_new"), {"client": client.public_id})
    initial = page.context["form"].initial
    assert initial["instructor"] == place.other_teacher.public_id
    assert (initial["room"], initial["units"]) == (place.room.public_id, [place.reformer.public_id])


def test_the_room_follows_the_apparatus(place, as_desk):  # noqa: F811
    assert as_desk.post(reverse("sessions:booking_new"), form_data(place, room="")).status_code == 302
    assert Booking.objects.get().room == place.room
    answer = as_desk.post(reverse("sessions:booking_new"), form_data(place, room="", units=[], time="16:00"))
    assert answer.context["form"].errors["room"] == ["Choose a room, or apparatus that stands in one."]
