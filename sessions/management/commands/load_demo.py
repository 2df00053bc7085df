"""Lay the demo studio: once, and anew when the week has moved on."""

from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection, transaction
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from sessions.demo import laying
from studio import clock, guards
from studio.models import Studio
from studio.setup.environment import read, write_whole

# Holds the Monday the demo is laid for, beside the database.
STAMP = "demo-week"


class Command(BaseCommand):
    help = "Lay the demo studio for this week; nothing happens when it is laid already."

    def handle(self, *args, verbosity=1, **options):
        if settings.PROFILE != "demo":
            raise CommandError(
                _("This is a real studio's folder. The demo is only laid in its own: start with --demo.")
            )
        said = bring_up_to_date()
        if verbosity:
            self.stdout.write(said)


def bring_up_to_date() -> str:
    """Lay the demo where it is missing or of another week, and return what was done as a sentence."""
    now, stamp = clock.now(), Path(settings.DATA_DIR) / STAMP
    monday = laying.monday_of(now)
    there, laid_for = Studio.objects.exists(), read(stamp)
    week = {"monday": date_format(monday, "j F Y")}
    if there and laid_for == monday.isoformat():
        return _("Demo: laid for the week of %(monday)s already.") % week
    # All or nothing: whoever interrupts this finds the demo as it was.
    with transaction.atomic():
        if there:
            clear()
        laying.lay(now)
    write_whole(stamp, monday.isoformat())
    if there:
        return _("Demo: the week has moved on, so it was laid anew for that of %(monday)s.") % week
    return _("Demo: laid for the week of %(monday)s.") % week


def clear() -> None:
    """Empty the demo's database. The guards of append-only tables stand aside for this and come back."""
    guards.remove(connection)
    call_command("flush", interactive=False, verbosity=0)
    guards.install(connection)
