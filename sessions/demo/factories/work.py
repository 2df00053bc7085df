"""Bookings, plans, records and incidents."""

import datetime as dt
from zoneinfo import ZoneInfo

import factory
from factory.django import DjangoModelFactory

from library.models import Exercise
from sessions.demo.factories.house import ExerciseFactory, RoomFactory, StaffFactory
from sessions.demo.factories.people import ClientFactory
from sessions.demo.factories.times import ZONE, now, today
from sessions.models import (
    Addition,
    Attendance,
    Booking,
    Entry,
    EntrySide,
    Incident,
    IncidentNote,
    OwnWay,
    Plan,
    PlanItem,
    Record,
)
from studio import clock


class BookingFactory(DjangoModelFactory):
    """`BookingFactory(clients=[one, two], wall_day=day, wall_time=time, units=[…], state="arrived")`.

    Times are the studio's wall-clock times. `state` goes to every attendance.
    """

    class Meta:
        model = Booking

    wall_day = factory.LazyAttribute(today)
    wall_time = dt.time(10)
    zone = ZONE
    minutes = 55
    starts_at = factory.LazyAttribute(
        lambda row: dt.datetime.combine(row.wall_day, row.wall_time, ZoneInfo(row.zone)).astimezone(dt.UTC)
    )
    ends_at = factory.LazyAttribute(lambda row: row.starts_at + dt.timedelta(minutes=row.minutes))
    instructor = factory.SubFactory(StaffFactory, instructor=True)
    room = factory.SubFactory(RoomFactory)
    created_by = factory.SelfAttribute("instructor")
    created_at = factory.LazyAttribute(now)

    @classmethod
    def _create(cls, model_class, *args, clients=(), units=(), state="booked", **kwargs):
        booking = super()._create(model_class, *args, **kwargs)
        booking.units.set(units)
        for client in clients:
            AttendanceFactory(booking=booking, client=client, state=state)
        return booking


class AttendanceFactory(DjangoModelFactory):
    """One client in a booking: `AttendanceFactory(client=…, booking__wall_day=…, booking__instructor=…)`."""

    class Meta:
        model = Attendance

    booking = factory.SubFactory(BookingFactory)
    client = factory.SubFactory(ClientFactory)
    state = Attendance.State.BOOKED
    state_at = factory.LazyAttribute(lambda row: None if row.state == "booked" else clock.now())


class PlanFactory(DjangoModelFactory):
    """`PlanFactory(attendance=…, exercises=["mat_pelvic_curl", …])` adds a row for each key, in order."""

    class Meta:
        model = Plan

    attendance = factory.SubFactory(AttendanceFactory)

    @classmethod
    def _create(cls, model_class, *args, exercises=(), **kwargs):
        plan = super()._create(model_class, *args, **kwargs)
        for key in exercises:
            PlanItemFactory(plan=plan, exercise__key=key)
        return plan


class PlanItemFactory(DjangoModelFactory):
    """A row of a plan: eight repetitions; both sides, left first, where the exercise works one at a time."""

    class Meta:
        model = PlanItem

    plan = factory.SubFactory(PlanFactory)
    exercise = factory.SubFactory(ExerciseFactory)
    position = factory.LazyAttribute(lambda row: row.plan.items.count() + 1)
    sides = factory.LazyAttribute(lambda row: "both" if _sides_apart(row.exercise) else "")
    first_side = factory.LazyAttribute(lambda row: "left" if row.sides == "both" else "")
    repetitions = 8
    minutes = 4


def _sides_apart(exercise: Exercise) -> bool:
    return bool(exercise.current) and exercise.current.facts["sides"] != "both_together"


class RecordFactory(DjangoModelFactory):
    class Meta:
        model = Record

    attendance = factory.SubFactory(AttendanceFactory, state="done")
    author = factory.SelfAttribute("attendance.booking.instructor")
    started_at = factory.SelfAttribute("attendance.booking.starts_at")


class EntryFactory(DjangoModelFactory):
    """`EntryFactory(record=…, exercise__key=…, left={"repetitions": 6, "quality": 2}, right={…})`.

    `left`, `right` and `both` each make a side row of these values; none of them makes none.
    """

    class Meta:
        model = Entry

    record = factory.SubFactory(RecordFactory)
    sequence = factory.LazyAttribute(lambda row: row.record.entries.count() + 1)
    exercise = factory.SubFactory(ExerciseFactory)
    exercise_version = factory.SelfAttribute("exercise.current")
    state = Entry.State.DONE
    author = factory.SelfAttribute("record.author")
    at = factory.LazyAttribute(lambda row: row.record.started_at + dt.timedelta(minutes=5 * row.sequence))

    @classmethod
    def _create(cls, model_class, *args, left=None, right=None, both=None, **kwargs):
        entry = super()._create(model_class, *args, **kwargs)
        sides = {"left": left, "right": right, "both": both}
        for side, values in sides.items():
            if values is not None:
                EntrySide.objects.create(entry=entry, side=side, **values)
        return entry


class AdditionFactory(DjangoModelFactory):
    class Meta:
        model = Addition

    record = factory.SubFactory(RecordFactory)
    words = "The left knee was fine on the stairs afterwards."
    author = factory.SelfAttribute("record.author")
    at = factory.LazyAttribute(now)


class IncidentFactory(DjangoModelFactory):
    class Meta:
        model = Incident

    attendance = factory.SubFactory(AttendanceFactory, state="arrived")
    sign = ""
    session_stopped = True
    author = factory.SelfAttribute("attendance.booking.instructor")
    at = factory.LazyAttribute(now)


class IncidentNoteFactory(DjangoModelFactory):
    class Meta:
        model = IncidentNote

    incident = factory.SubFactory(IncidentFactory)
    words = "Sat down, water, felt well after two minutes."
    author = factory.SelfAttribute("incident.author")
    at = factory.LazyAttribute(now)


class OwnWayFactory(DjangoModelFactory):
    """`OwnWayFactory(client=…, exercise__key=…, cues=["Long legs."], range="medium")`."""

    class Meta:
        model = OwnWay

    client = factory.SubFactory(ClientFactory)
    exercise = factory.SubFactory(ExerciseFactory)
    cues = factory.LazyFunction(lambda: ["Grow out of the standing foot."])
