"""When the studio is open."""

from django.db import transaction

from studio import clock
from studio.actions import audit
from studio.models import OpeningHour


def set_hours(*, actor, studio, stretches: list[tuple], expected: int) -> None:
    """Replace the opening hours: stretches of (weekday, opens, closes).

    They belong to the studio's row and share its version. Raises Stale.
    """
    with transaction.atomic():
        studio.save_version(expected, [], by=actor.person, at=clock.now())
        OpeningHour.objects.all().delete()
        OpeningHour.objects.bulk_create(
            OpeningHour(weekday=day, opens=opens, closes=closes) for day, opens, closes in stretches
        )
        audit.write(actor, "hours.changed", studio)
