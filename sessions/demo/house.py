"""Opening the demo studio: owner, settings, hours, staff, rooms, apparatus and springs."""

from library.actions.loading import load_library
from sessions.demo.factories import RoomFactory, SpringFactory, StaffFactory, UnitFactory
from sessions.demo.people import PASSPHRASE, STAFF
from sessions.demo.places import HOURS, ROOMS, SPRINGS, STUDIO, UNITS
from studio.actions import audit, first_owner
from studio.models import OpeningHour


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
        UnitFactory(name=name, kind=kind, room=rooms[room])
    for kind, springs in SPRINGS.items():
        for name, grade, count in springs:
            SpringFactory(kind=kind, name=name, grade=grade, count=count)


def _hours() -> None:
    OpeningHour.objects.all().delete()
    OpeningHour.objects.bulk_create(
        OpeningHour(weekday=day, opens=opens, closes=closes) for day, (opens, closes) in HOURS.items()
    )
