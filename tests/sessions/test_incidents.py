"""The sheet of an incident: subjects as notes of their own, and the apparatus put out of use from it.

That an incident names witnesses, who was told and what follows, and that the machine can be stopped: common practice
for accident books, no source.
"""

import datetime as dt

import pytest
from django.urls import reverse

from library.models import ApparatusUnit
from sessions.actions import bookings
from sessions.demo import factories as f
from sessions.models import IncidentNote
from studio import clock
from studio.models import AuditEntry

pytestmark = pytest.mark.django_db


@pytest.fixture
def incident(instructor, now, house):
    unit = f.UnitFactory(name="Reformer 2")
    booking = f.BookingFactory(instructor=instructor, room=unit.room)
    booking.units.add(unit)
    attendance = f.AttendanceFactory(booking=booking, state="arrived")
    return f.IncidentFactory(attendance=attendance, unit=unit)


def page_of(incident, name="incident"):
    return reverse(f"sessions:{name}", args=[incident.public_id])


def test_each_field_is_a_dated_note_of_its_own(as_instructor, incident):
    typed = {
        "words": "Slipped off the carriage.",
        "witnesses": "Senna at the desk",
        "follow_up": "Ring tomorrow.",
        "due_on": "2026-12-01",
    }
    page = as_instructor.post(page_of(incident), typed, follow=True).content.decode()
    rows = IncidentNote.objects.values_list("about", "words", "due_on")
    assert list(rows) == [
        ("happened", "Slipped off the carriage.", None),
        ("witnesses", "Senna at the desk", None),
        ("follow_up", "Ring tomorrow.", dt.date(2026, 12, 1)),
    ]
    assert "Who saw it" in page and "To look at again on 1 December 2026" in page
    assert AuditEntry.objects.get(action="incident.noted").fields == ["follow_up", "happened", "witnesses"]


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        pytest.param({"words": " "}, "Write something in one of these fields.", id="nothing"),
        pytest.param(
            {"words": "Fell.", "due_on": "2026-12-01"},
            "Write what is to be looked at on that day.",
            id="day-alone",
        ),
        pytest.param({"words": "Fell.", "due_on": "soon"}, "Type the date as", id="no-day"),
        pytest.param(
            {"words": "Fell.", "follow_up": "Ask.", "due_on": "9999-12-01"}, "Check the year.", id="no-year"
        ),
    ],
)
def test_what_is_missing_is_said_and_what_was_typed_stays(as_instructor, incident, typed, sentence):
    answer = as_instructor.post(page_of(incident), typed)
    page = answer.content.decode()
    assert answer.status_code == 422 and sentence in page and typed["words"].strip() in page
    assert not IncidentNote.objects.exists()


def put_out(browser, incident, unit=None):
    address = page_of(incident, "incident_out_of_use")
    return browser.post(address, {"unit": (unit or incident.unit).public_id}, follow=True)


def test_the_apparatus_goes_out_of_use_once(as_instructor, incident):
    assert "Put Reformer 2 out of use" in as_instructor.get(page_of(incident)).content.decode()
    for _twice in range(2):
        page = put_out(as_instructor, incident).content.decode()
    assert "Reformer 2 is out of use: it cannot be booked" in page and "Put Reformer 2" not in page
    assert not ApparatusUnit.objects.get().in_use
    assert AuditEntry.objects.filter(action="incident.unit_out_of_use").count() == 1


def test_booking_it_is_refused_and_what_is_booked_is_named(as_instructor, incident, instructor, house):
    ahead = f.BookingFactory(
        instructor=instructor, room=incident.unit.room, starts_at=clock.now() + dt.timedelta(days=2)
    )
    ahead.units.add(incident.unit)
    f.AttendanceFactory(booking=ahead)
    page = put_out(as_instructor, incident).content.decode()
    assert reverse("sessions:booking", args=[ahead.public_id]) in page
    assert (
        "(out of use)"
        in as_instructor.get(reverse("sessions:booking", args=[ahead.public_id])).content.decode()
    )
    wish = bookings.Wish(
        day=clock.now().date() + dt.timedelta(days=3),
        time=dt.time(10),
        minutes=55,
        instructor=instructor,
        room=incident.unit.room,
        units=(ApparatusUnit.objects.get(),),
        clients=(incident.attendance.client,),
    )
    with pytest.raises(bookings.Refused, match="Reformer 2 is out of use."):
        bookings.take(actor=bookings.audit.Actor(person=instructor), studio=house, wish=wish)


@pytest.mark.parametrize("named", [True, False], ids=["on-the-row", "booked-for-it"])
def test_a_plan_says_so_on_the_row_and_in_the_sheet(as_instructor, incident, named):
    plan = f.PlanFactory(attendance=incident.attendance)
    reformer = f.ExerciseFactory(key="ref_breath_straps")
    item = f.PlanItemFactory(plan=plan, exercise=reformer, unit=incident.unit if named else None)
    address = reverse("sessions:plan", args=[incident.attendance.public_id])
    row = reverse("sessions:plan_item", args=[incident.attendance.public_id, item.public_id])
    said = '<span class="unbooked">out of use</span>'
    assert said not in as_instructor.get(address).content.decode()
    put_out(as_instructor, incident)
    assert said in as_instructor.get(address).content.decode()
    assert said in as_instructor.get(row).content.decode()


def test_other_apparatus_cannot_be_named(as_instructor, incident):
    other = f.UnitFactory(name="Chair 1", kind="chair")
    assert put_out(as_instructor, incident, other).status_code == 404
    other.refresh_from_db()
    assert other.in_use


def test_without_a_noted_unit_what_was_booked_is_offered(as_instructor, incident):
    second = f.IncidentFactory(attendance=incident.attendance)
    assert second.unit is None
    assert "Put Reformer 2 out of use" in as_instructor.get(page_of(second)).content.decode()


def test_the_desk_has_no_part_in_it(as_desk, incident):
    assert put_out(as_desk, incident).status_code == 403
    assert ApparatusUnit.objects.get().in_use
