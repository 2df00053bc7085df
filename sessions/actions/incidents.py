"""The sheet of an incident: what is written on it, and the apparatus put out of use."""

import datetime as dt

from django.db import transaction

from library.models import ApparatusUnit
from sessions.models import Booking, Incident, IncidentNote
from studio import clock
from studio.actions import audit
from studio.actions.rows import save_row

audit.register("incident.unit_out_of_use")


def write(*, actor, incident: Incident, words: dict[str, str], due_on: dt.date | None) -> list[IncidentNote]:
    """Add one dated note for each subject that has words; nothing that stands there is changed.

    words: subject (IncidentNote.About) -> text. due_on: when somebody looks again, kept with what is to follow.
    """
    about = IncidentNote.About
    with transaction.atomic():
        made = [
            IncidentNote.objects.create(
                incident=incident,
                about=subject,
                words=text,
                due_on=due_on if subject == about.FOLLOW_UP else None,
                author=actor.person,
                at=clock.now(),
            )
            for subject, text in words.items()
            if text
        ]
        audit.write(actor, "incident.noted", incident, fields=[note.about for note in made])
    return made


def units_of(incident: Incident) -> list[ApparatusUnit]:
    """Return the apparatus it can have happened on: the one noted, else those booked for the session."""
    return [incident.unit] if incident.unit else list(incident.attendance.booking.units.all())


def put_out_of_use(*, actor, incident: Incident, unit: ApparatusUnit) -> None:
    """Take a piece of apparatus out of use: from now on it cannot be booked. Raises Stale."""
    with transaction.atomic():
        if unit.in_use:
            values = {"in_use": False}
            save_row(actor=actor, row=unit, values=values, expected=unit.version, action="unit.saved")
            audit.write(actor, "incident.unit_out_of_use", incident)


def booked_ahead(units: list[ApparatusUnit]) -> list[Booking]:
    """Return the bookings still to come that hold apparatus which is out of use, soonest first."""
    out = [unit.pk for unit in units if not unit.in_use]
    if not out:
        return []
    rows = Booking.objects.holding().filter(units__in=out, starts_at__gt=clock.now())
    return list(rows.select_related("instructor").order_by("starts_at"))
