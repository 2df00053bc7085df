"""Days on which the studio is closed or somebody does not teach. Bookings stay as they are: people move them."""

import datetime as dt

from django.db import transaction

from studio.actions import audit
from studio.models import Absence, ClosedDay

audit.register("closed_day.added", "closed_day.removed", "absence.added", "absence.removed")


def add_closed_days(*, actor, first: dt.date, last: dt.date, reason: str) -> None:
    """Close every day from first to last; a day that is closed already keeps its reason."""
    days = [first + dt.timedelta(days=n) for n in range((last - first).days + 1)]
    with transaction.atomic():
        for day in days:
            row, new = ClosedDay.objects.get_or_create(day=day, defaults={"reason": reason})
            if new:
                audit.write(actor, "closed_day.added", row)


def remove_closed_day(*, actor, day: dt.date) -> bool:
    """Open a day again. False when it was open already."""
    with transaction.atomic():
        row = ClosedDay.objects.filter(day=day).first()
        if row is None:
            return False
        audit.write(actor, "closed_day.removed", row)
        row.delete()
    return True


def add_absence(*, actor, person, first: dt.date, last: dt.date) -> None:
    """Note that a person does not teach from first to last; the same days again change nothing."""
    with transaction.atomic():
        row, new = Absence.objects.get_or_create(staff=person, first_day=first, last_day=last)
        if new:
            audit.write(actor, "absence.added", row)


def remove_absence(*, actor, person, first: dt.date, last: dt.date) -> bool:
    """Take an absence away. False when it was gone already."""
    with transaction.atomic():
        row = Absence.objects.filter(staff=person, first_day=first, last_day=last).first()
        if row is None:
            return False
        audit.write(actor, "absence.removed", row)
        row.delete()
    return True
