"""Load the shipped library into the database."""

from django.core.management.base import BaseCommand, CommandError
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from library.actions.loading import Loaded, load_library
from library.contents import BrokenLibrary
from studio.actions.audit import Actor


class Command(BaseCommand):
    help = "Load the exercises that come with the program; says in a line what changed."

    def handle(self, *args, verbosity=1, **options):
        try:
            loaded = load_library(actor=Actor.program("load_library"))
        except BrokenLibrary as broken:
            raise CommandError(_("The library was left as it was.") + f"\n{broken}") from broken
        if verbosity:
            self.stdout.write(_sentence(loaded))


def _sentence(loaded: Loaded) -> str:
    if not loaded.did_something:
        return ngettext(
            "Library: %(n)d exercise, nothing new.",
            "Library: %(n)d exercises, nothing new.",
            loaded.unchanged,
        ) % {"n": loaded.unchanged}
    return _("Library: %(added)d exercises added, %(changed)d changed, %(same)d as they were.") % {
        "added": loaded.added,
        "changed": loaded.changed,
        "same": loaded.unchanged,
    }
