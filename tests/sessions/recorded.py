"""A session to record: a client with a plan of four rows, on a Wednesday at ten past ten."""

import datetime as dt
import uuid
from types import SimpleNamespace

from django.db import connection
from django.test.utils import CaptureQueriesContext

from library.models import ApparatusUnit, StudioSpring
from sessions.demo.factories import (
    AttendanceFactory,
    BookingFactory,
    ClientFactory,
    PlanFactory,
    PlanItemFactory,
    RecordFactory,
    RoomFactory,
    SpringFactory,
    UnitFactory,
)
from studio.actions.audit import Actor

DAY = dt.date(2026, 11, 25)


def make_session(instructor, *, started=True, client=None, **booking):
    """Return everything around one session; the four rows are mat, sided reformer, left only, a hold."""
    room = RoomFactory(name="Long", holds=3)
    reformer = ApparatusUnit.objects.filter(name="Reformer 1").first()
    reformer = reformer or UnitFactory(name="Reformer 1", room=room)
    springs = {spring.name: spring for spring in StudioSpring.objects.all()}
    light = springs.get("Light") or SpringFactory(name="Light", grade="light", count=2)
    heavy = springs.get("Heavy") or SpringFactory(name="Heavy", grade="heavy", count=1)
    client = client or ClientFactory(full_name="Ottoline Brackwater", call_name="Ottoline")
    booked = BookingFactory(
        instructor=instructor,
        room=room,
        units=[reformer],
        wall_day=booking.pop("wall_day", DAY),
        wall_time=booking.pop("wall_time", dt.time(10)),
        **booking,
    )
    attendance = AttendanceFactory(booking=booked, client=client)
    plan = PlanFactory(attendance=attendance)
    springs = [{"spring": light.public_id, "name": "Light", "grade": "light", "count": 1}]
    rows = [
        PlanItemFactory(plan=plan, exercise__key="mat_pelvic_curl"),
        PlanItemFactory(
            plan=plan, exercise__key="ref_scooter", unit=reformer, setting={"springs": springs, "bar": "low"}
        ),
        PlanItemFactory(plan=plan, exercise__key="mat_clam", sides="left", first_side="left"),
        PlanItemFactory(
            plan=plan, exercise__key="st_single_leg_stand", repetitions=None, seconds=30, seconds_right=20
        ),
    ]
    return SimpleNamespace(
        client=client,
        attendance=attendance,
        plan=plan,
        curl=rows[0],
        scooter=rows[1],
        clam=rows[2],
        stand=rows[3],
        light=light,
        heavy=heavy,
        reformer=reformer,
        instructor=instructor,
        actor=Actor(person=instructor, role="instructor", device="tablet"),
        record=RecordFactory(attendance=attendance) if started else None,
    )


def entry_id(number: int) -> uuid.UUID:
    """Return an id as a device makes them, the same for the same number."""
    return uuid.uuid5(uuid.NAMESPACE_OID, str(number))


def queries_of(call) -> int:
    """Return how many queries a call makes."""
    with CaptureQueriesContext(connection) as caught:
        call()
    return len(caught)
