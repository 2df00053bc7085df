"""`open_owner`: on the studio's own machine, a one-time code for an owner who cannot sign in."""

from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError
from django.utils.translation import gettext as _

from studio.actions import audit, codes
from studio.models import Staff
from studio.passphrases import folded


class Command(BaseCommand):
    help = "Print a one-time code by which an owner chooses a new passphrase."

    def add_arguments(self, parser):
        parser.add_argument("sign_in_name", nargs="?", help="needed where the studio has several owners")

    def handle(self, *args, sign_in_name=None, **options):
        person = self._owner(sign_in_name)
        code = codes.issue(actor=audit.Actor.program("open_owner"), person=person)
        for line in (
            _("Open the sign-in page and choose “I have a code”."),
            _("Sign-in name: {name}").format(name=person.sign_in_name),
            _("Code: {code}").format(code=code),
            _("It works once, within 24 hours."),
        ):
            self.stdout.write(line)

    def _owner(self, sign_in_name) -> Staff:
        """Return the owner meant; CommandError says which there are where that is not plain."""
        try:
            owners = {p.sign_in_name: p for p in Staff.objects.filter(is_owner=True, is_active=True)}
        except DatabaseError:
            owners = {}
        if not owners:
            raise CommandError(_("This studio has no owner yet: start it and open its address."))
        names = ", ".join(sorted(owners))
        if sign_in_name is None and len(owners) > 1:
            raise CommandError(_("Say which owner: {names}").format(names=names))
        wanted = next(iter(owners)) if sign_in_name is None else folded(sign_in_name)
        if wanted not in owners:
            raise CommandError(
                _("No owner signs in as {wanted}. Owners are: {names}").format(wanted=wanted, names=names)
            )
        return owners[wanted]
