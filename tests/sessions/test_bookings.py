"""One door decides every clash; states; what the front desk may see. Story numbers are the house's own."""

import datetime as dt
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection
from django.urls import reverse

from sessions.actions.bookings import Refused, Wish, set_state, take
from sessions.demo.factories import BookingFactory, ClientFactory, FlagFactory, RoomFactory, UnitFactory
from sessions.models import Attendance, Booking
from studio import clock
from studio.actions.audit import Actor
from studio.models import Absence, ClosedDay, Stale

DAY = dt.date(2026, 11, 26)


@pytest.fixture
def place(house, now, instructor, other_instructor):
    """A room with a trapeze table and two reformers, and a second room."""

    class Place:
        studio = house
        room = RoomFactory(name="Long", holds=2)
        other_room = RoomFactory(name="Garden")
        table = UnitFactory(kind="trapeze_table", name="Table", room=room)
        reformer = UnitFactory(name="Reformer 1", room=room)
        actor = Actor(person=instructor)
        teacher = instructor
        other_teacher = other_instructor

        def wish(self, **changes):
            wish = {
                "day": DAY,
                "time": dt.time(10),
                "minutes": 55,
                "instructor": instructor,
                "room": self.room,
                "units": (self.table,),
                "clients": (ClientFactory(),),
            }
            return Wish(**{**wish, **changes})

        def take(self, **changes):
            return take(actor=self.actor, studio=house, wish=self.wish(**changes))

    return Place()


def test_a_booking_keeps_instant_zone_and_wall_time(place):
    booking = place.take(day=dt.date(2026, 3, 31), time=dt.time(18))
    assert booking.starts_at == dt.datetime(2026, 3, 31, 17, tzinfo=dt.UTC)
    assert (booking.zone, booking.wall_time) == ("Europe/London", dt.time(18))
    assert [a.state for a in booking.attendances.all()] == ["booked"]
    assert list(booking.units.all()) == [place.table]


CLASHES = {
    "same instructor": (lambda p: {"units": ()}, "Maris teaches at 10:00 already."),
    "same unit": (lambda p: {"instructor": p.other_teacher}, "Table is taken at 10:00 by Maris."),
}


@pytest.mark.parametrize("changes, sentence", CLASHES.values(), ids=CLASHES)
def test_a_clash_is_refused_with_its_reason(place, changes, sentence):
    place.take()
    with pytest.raises(Refused) as refused:
        place.take(**changes(place), time=dt.time(10, 30))
    assert sentence in refused.value.reasons


def test_the_same_client_twice(place):
    client = ClientFactory(call_name="Ottoline")
    place.take(clients=(client,))
    with pytest.raises(Refused) as refused:
        place.take(clients=(client,), instructor=place.other_teacher, room=place.other_room, units=())
    assert refused.value.reasons == ["Ottoline is booked at 10:00 already."]


def test_a_room_holds_as_many_as_it_holds(place, owner):
    place.take()
    place.take(instructor=place.other_teacher, units=(place.reformer,))
    with pytest.raises(Refused) as refused:
        place.take(instructor=owner, units=())
    assert refused.value.reasons == ["Long is full at that time."]


def test_back_to_back_and_another_unit_are_taken(place):
    place.take()
    place.take(time=dt.time(10, 55))
    place.take(instructor=place.other_teacher, units=(place.reformer,))
    assert Booking.objects.count() == 3


CLOSED = {
    "Sunday": ({"day": dt.date(2026, 11, 29)}, "The studio is closed on that weekday."),
    "too early": ({"time": dt.time(6, 30)}, "The studio is open 07:00–20:00 that day."),
    "too late": ({"time": dt.time(19, 30)}, "The studio is open 07:00–20:00 that day."),
    "skipped hour": (
        {"day": dt.date(2026, 3, 29), "time": dt.time(1, 30)},
        "That hour does not exist: the clocks go forward. Choose another time.",
    ),
}


@pytest.mark.parametrize("changes, sentence", CLOSED.values(), ids=CLOSED)
def test_closed_hours(place, changes, sentence):
    with pytest.raises(Refused) as refused:
        place.take(**changes)
    assert refused.value.reasons == [sentence]


def test_closed_day_absence_and_a_unit_elsewhere(place):
    ClosedDay.objects.create(day=DAY, reason="stocktaking")
    Absence.objects.create(staff=place.teacher, first_day=DAY, last_day=DAY)
    with pytest.raises(Refused) as refused:
        place.take(room=place.other_room)
    assert refused.value.reasons == [
        "The studio is closed that day: stocktaking.",
        "Maris is away that day.",
        "Table stands in Long, not in the room chosen.",
    ]


def test_moving_does_not_clash_with_itself_and_notices_another_save(place):
    booking = place.take()
    wish = place.wish(time=dt.time(10, 30), clients=())
    take(actor=place.actor, studio=place.studio, wish=wish, moving=booking, expected=1)
    booking.refresh_from_db()
    assert (booking.wall_time, booking.version) == (dt.time(10, 30), 2)
    with pytest.raises(Stale):
        take(actor=place.actor, studio=place.studio, wish=wish, moving=booking, expected=1)


def test_moving_a_client_onto_their_other_booking(place):
    client = ClientFactory()
    place.take(clients=(client,))
    later = place.take(clients=(client,), time=dt.time(14))
    wish = place.wish(clients=(), instructor=place.other_teacher, room=place.other_room, units=())
    with pytest.raises(Refused, match="is booked at 10:00 already"):
        take(actor=place.actor, studio=place.studio, wish=wish, moving=later, expected=1)


@pytest.mark.parametrize(
    "told, state",
    [
        (dt.datetime(2026, 11, 25, 10, 0), "cancelled_in_time"),
        (dt.datetime(2026, 11, 25, 10, 1), "cancelled_late"),
    ],
    ids=["exactly 24 h before", "a minute later"],
)
def test_cancelling_is_late_or_in_time_by_the_clock(place, told, state):
    attendance = place.take().attendances.get()
    with clock.at(told.replace(tzinfo=dt.UTC)):
        set_state(
            actor=place.actor, studio=place.studio, attendance=attendance, state="cancelled", expected=1
        )
    attendance.refresh_from_db()
    assert attendance.state == state


def cancel(place, booking):
    attendance = booking.attendances.get()
    set_state(actor=place.actor, studio=place.studio, attendance=attendance, state="cancelled", expected=1)
    return attendance


def test_a_cancelled_place_is_free_and_cannot_be_brought_back_once_taken(place):
    attendance = cancel(place, place.take())
    place.take()
    with pytest.raises(Refused, match="Maris teaches at 10:00 already"):
        set_state(actor=place.actor, studio=place.studio, attendance=attendance, state="booked", expected=2)
    attendance.refresh_from_db()
    assert not attendance.holds


def test_a_cancelled_place_comes_back_while_it_is_free(place):
    attendance = cancel(place, place.take())
    set_state(actor=place.actor, studio=place.studio, attendance=attendance, state="booked", expected=2)
    assert attendance.state == "booked"


@pytest.mark.django_db(transaction=True)
def test_of_many_at_once_one_is_booked(place):
    """IMMEDIATE transactions on a real file: one wins, the others are told why, nobody gets an error."""
    wishes = [place.wish() for _ in range(12)]

    def attempt(wish):
        try:
            with clock.at(dt.datetime(2026, 11, 25, 10, 15, tzinfo=dt.UTC)):
                take(actor=place.actor, studio=place.studio, wish=wish)
            return "booked"
        except Refused:
            return "refused"
        finally:
            connection.close()

    with ThreadPoolExecutor(6) as pool:
        answers = list(pool.map(attempt, wishes))
    assert sorted(answers) == ["booked", *["refused"] * 11]
    assert Booking.objects.count() == 1


# Screens.


def form_data(place, **changes):
    data = {
        "client": ClientFactory().public_id,
        "day": "2026-11-26",
        "time": "10:00",
        "minutes": "55",
        "instructor": place.teacher.public_id,
        "room": place.room.public_id,
        "units": [place.table.public_id],
    }
    return {**data, **changes}


def test_the_desk_books_and_a_clash_keeps_what_was_typed(place, as_desk):
    answer = as_desk.post(reverse("sessions:booking_new"), form_data(place))
    assert answer.status_code == 302 and answer.url.endswith("?day=2026-11-26")
    again = as_desk.post(reverse("sessions:booking_new"), form_data(place, minutes="45"))
    assert again.status_code == 422
    page = again.content.decode()
    assert "Maris teaches at 10:00 already." in page and 'value="45"' in page


BAD = {
    "no day": ({"day": ""}, "day"),
    "a year before there were studios": ({"day": "0026-11-26"}, "day"),
    "the last year that dates have": ({"day": "9999-12-31"}, "day"),
    "length of nothing": ({"minutes": "0"}, "minutes"),
    "foreign client": ({"client": "nobody-at-all"}, "client"),
    "the same person twice": ({"partner": "same"}, "partner"),
}


@pytest.mark.parametrize("changes, field", BAD.values(), ids=BAD)
def test_bad_input_gets_a_sentence_at_the_field(place, as_desk, changes, field):
    data = form_data(place, **changes)
    if data.get("partner") == "same":
        data["partner"] = data["client"]
    answer = as_desk.post(reverse("sessions:booking_new"), data)
    assert answer.status_code == 422
    assert answer.context["form"].errors[field]
    assert Booking.objects.count() == 0


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31", "2026-02-30", "soon"])
@pytest.mark.parametrize("name", ["bookings", "booking_new", "free_times"])
def test_a_day_that_cannot_be_shown_in_the_address(place, as_desk, name, day):
    asked = {"day": day, "minutes": "55", "instructor": place.teacher.public_id, "room": place.room.public_id}
    assert as_desk.get(reverse(f"sessions:{name}"), asked).status_code == 200


def test_one_touch_marks_arrived(place, as_desk):
    attendance = place.take(day=dt.date(2026, 11, 25), time=dt.time(11)).attendances.get()
    url = reverse("sessions:attendance_state", args=[attendance.public_id])
    answer = as_desk.post(url, {"state": "arrived", "version": 1}, headers={"HX-Request": "true"})
    assert answer.status_code == 200 and "<html" not in answer.content.decode()
    attendance.refresh_from_db()
    assert attendance.state == "arrived"
    stale = as_desk.post(url, {"state": "no_show", "version": 1}, follow=True)
    assert "Somebody set this a moment ago." in stale.content.decode()
    attendance.refresh_from_db()
    assert attendance.state == "arrived"


def test_two_who_change_one_booking_see_both(place, as_desk):
    booking = place.take()
    url = reverse("sessions:booking_change", args=[booking.public_id])
    data = form_data(place, version="1")
    assert as_desk.post(url, {**data, "time": "12:00"}).status_code == 302
    second = as_desk.post(url, {**data, "time": "15:00"})
    page = second.content.decode()
    assert second.status_code == 409
    assert "12:00" in page and "15:00" in page
    booking.refresh_from_db()
    assert booking.wall_time == dt.time(12)


def test_the_desk_meets_no_health_on_its_day(place, as_desk):
    client = ClientFactory(full_name="Wenna Oakapple")
    FlagFactory(client=client, condition="osteoporosis", note="plantedword")
    place.take(day=dt.date(2026, 11, 25), time=dt.time(11), clients=(client,))
    page = as_desk.get(reverse("sessions:today")).content.decode()
    assert "Wenna Oakapple" in page and "Ask an instructor before booking" in page
    assert not [word for word in ("plantedword", "steoporosis", "Avoid", "Modify") if word in page]


@pytest.mark.parametrize("who", ["as_desk", "as_instructor"])
def test_queries_do_not_grow_with_the_day(place, who, request, django_assert_max_num_queries):
    browser = request.getfixturevalue(who)

    def fill(n):
        for hour in range(n):
            client = ClientFactory()
            FlagFactory(client=client)
            BookingFactory(
                clients=[client],
                wall_day=dt.date(2026, 11, 25),
                wall_time=dt.time(8 + hour),
                instructor=place.teacher,
                room=place.room,
                units=[place.reformer],
            )

    from django.test.utils import CaptureQueriesContext

    fill(2)
    with CaptureQueriesContext(connection) as few:
        assert browser.get(reverse("sessions:today")).status_code == 200
    Attendance.objects.all().delete()
    fill(11)
    with CaptureQueriesContext(connection) as many:
        assert browser.get(reverse("sessions:today")).status_code == 200
    assert len(many) <= len(few)


def test_an_instructor_changes_only_their_own(place, as_other_instructor, as_desk):
    """Matrix row 12: instructors read the whole diary and write their own bookings."""
    booking = place.take()
    attendance = booking.attendances.get()
    change = reverse("sessions:booking_change", args=[booking.public_id])
    state = reverse("sessions:attendance_state", args=[attendance.public_id])
    assert as_other_instructor.get(change).status_code == 403
    assert as_other_instructor.post(state, {"state": "arrived", "version": 1}).status_code == 403
    assert as_other_instructor.get(reverse("sessions:booking", args=[booking.public_id])).status_code == 200
    for_another = as_other_instructor.post(reverse("sessions:booking_new"), form_data(place, time="15:00"))
    assert for_another.status_code == 422 and for_another.context["form"].errors["instructor"]
    assert as_desk.post(state, {"state": "arrived", "version": 1}).status_code == 302


@pytest.mark.parametrize(("state", "leads"), [("booked", True), ("arrived", True), ("no_show", False)])
def test_a_booking_leads_each_of_a_pair_to_their_plan_and_the_desk_to_none(
    place, as_instructor, as_desk, state, leads
):
    booking = BookingFactory(instructor=place.teacher, clients=[ClientFactory(), ClientFactory()])
    booking.attendances.update(state=state)
    page = reverse("sessions:booking", args=[booking.public_id])
    plans = [reverse("sessions:plan", args=[one.public_id]) for one in booking.attendances.all()]
    assert len(plans) == 2
    assert all((plan in as_instructor.get(page).content.decode()) is leads for plan in plans)
    assert not any(plan in as_desk.get(page).content.decode() for plan in plans)
