"""Opening the demo studio: owner, settings, hours, staff, rooms, apparatus and springs."""

import datetime as dt

from library.actions.loading import load_library
from sessions.demo.factories import RoomFactory, SpringFactory, StaffFactory, UnitFactory
from sessions.demo.people import PASSPHRASE, STAFF
from sessions.demo.places import HOURS, PARTS, ROOMS, SPRINGS, STUDIO, UNITS
from sessions.demo.weeks import ABSENT, CLOSED
from studio.actions import audit, first_owner
from studio.models import Absence, ClosedDay, OpeningHour


def open_studio(demo) -> None:
    """Set the studio up as its owner would, then fill it."""
    load_library()
    actor = audit.Actor.program("load_demo")
    owner, *others = STAFF
    first_owner.set_up(
        actor=actor,
        owner={
            "full_name": owner.full_name,
            "call_name": owner.call_name,
            "sign_in_name": owner.sign_in_name,
            "is_instructor": "is_instructor" in owner.roles,
        },
        passphrase=PASSPHRASE,
        studio=STUDIO,
    )
    _hours()
    for worker in others:
        person = StaffFactory(
            full_name=worker.full_name,
            call_name=worker.call_name,
            sign_in_name=worker.sign_in_name,
            passphrase=PASSPHRASE,
            is_instructor="is_instructor" in worker.roles,
            is_front_desk="is_front_desk" in worker.roles,
        )
        audit.write(actor, "staff.added", person)
    rooms = {name: RoomFactory(name=name, holds=holds) for name, holds in ROOMS.items()}
    for name, (kind, room) in UNITS.items():
        UnitFactory(name=name, kind=kind, room=rooms[room], accessories=list(PARTS.get(name, ())))
    _shut(demo)
    for kind, springs in SPRINGS.items():
        for name, grade, count in springs:
            SpringFactory(kind=kind, name=name, grade=grade, count=count)


def _hours() -> None:
    OpeningHour.objects.all().delete()
    OpeningHour.objects.bulk_create(
        OpeningHour(weekday=day, opens=opens, closes=closes) for day, (opens, closes) in HOURS.items()
    )


def _shut(demo) -> None:
    """Days on which the studio is shut, and weeks on which somebody does not teach."""
    years = {demo.day(-60).year, demo.monday.year, demo.day(6).year}
    ClosedDay.objects.bulk_create(
        ClosedDay(day=dt.date(year, month, number), reason=reason)
        for year in sorted(years)
        for month, number, reason in CLOSED
    )
    Absence.objects.bulk_create(
        Absence(staff=demo.staff(name), first_day=demo.day(first), last_day=demo.day(last, 6))
        for name, weeks in ABSENT.items()
        for first, last in weeks
    )
