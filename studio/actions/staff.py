"""Who works here."""

from django.db import transaction

from studio.actions import audit
from studio.actions.rows import save_row
from studio.actions.sign_in import account_key
from studio.models import SignInTry, Staff

audit.register("staff.passphrase_set")


class LastOwner(Exception):
    """The only active owner cannot be closed or lose the role: nobody could let anybody in."""


def add(*, actor, values: dict, passphrase: str) -> Staff:
    """Add a person who signs in with this passphrase."""
    with transaction.atomic():
        person = Staff(**values)
        person.sign_in_name = person.sign_in_name.casefold()
        person.set_password(passphrase)
        person.save()
        audit.write(actor, "staff.added", person)
    return person


def change(*, actor, person: Staff, values: dict, expected: int) -> Staff:
    """Change names, roles, or close the sign-in. Raises LastOwner and Stale."""
    with transaction.atomic():
        stays = values.get("is_owner", person.is_owner) and values.get("is_active", person.is_active)
        others = Staff.objects.filter(is_owner=True, is_active=True).exclude(pk=person.pk)
        if not stays and person.is_owner and not others.exists():
            raise LastOwner
        return save_row(actor=actor, row=person, values=values, expected=expected, action="staff.changed")


def set_passphrase(*, actor, person: Staff, passphrase: str) -> None:
    """Give a person a new passphrase: their other sessions end, and a sign-in shut by wrong tries opens again."""
    with transaction.atomic():
        person.set_password(passphrase)
        person.save(update_fields=["password"])
        SignInTry.objects.filter(key=account_key(person.sign_in_name)).delete()
        audit.write(actor, "staff.passphrase_set", person)
