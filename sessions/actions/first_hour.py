"""Putting the card of the first hour away."""

from django.db import transaction

from studio.actions import audit
from studio.actions.rows import save_row
from studio.models import Studio

audit.register("first_hour.left")


def leave(*, actor) -> None:
    """Hide the card for good."""
    with transaction.atomic():
        # Read under the write lock: nobody can save the settings in between.
        studio = Studio.objects.get()
        if not studio.first_hour_left:
            save_row(
                actor=actor,
                row=studio,
                values={"first_hour_left": True},
                expected=studio.version,
                action="first_hour.left",
            )
