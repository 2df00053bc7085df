"""Who works here."""

from django.db import transaction

from studio import clock
from studio.actions import audit, locking
from studio.actions.pins import remove_pin
from studio.actions.rows import save_row
from studio.actions.sign_in import account_key
from studio.models import OneTimeCode, SignInTry, Staff
from studio.passphrases import folded

audit.register("staff.passphrase_set")


class LastOwner(Exception):
    """The only active owner cannot be closed or lose the role: nobody could let anybody in."""


def add(*, actor, values: dict) -> Staff:
    """Add a person who has no passphrase yet: they choose their own with a code (studio.actions.codes)."""
    with transaction.atomic():
        person = Staff(**values)
        person.sign_in_name = folded(person.sign_in_name)
        person.set_unusable_password()
        person.save()
        audit.write(actor, "staff.added", person)
    return person


def change(*, actor, person: Staff, values: dict, expected: int) -> Staff:
    """Change names, roles, or close the sign-in. Raises LastOwner and Stale."""
    with transaction.atomic():
        stays = values.get("is_owner", person.is_owner) and values.get("is_active", person.is_active)
        if not stays and person.is_owner and not _another_owner(person):
            raise LastOwner
        save_row(actor=actor, row=person, values=values, expected=expected, action="staff.changed")
        if not person.is_active:
            locking.end_all(actor=actor, person=person)
        _end_codes(person)
        return person


def _end_codes(person: Staff) -> None:
    """End every code of a closed sign-in, and the recovery code of somebody who is no owner any more."""
    over = person.codes.filter(ended_at=None)
    if person.is_active:
        over = over.none() if person.is_owner else over.filter(kind=OneTimeCode.Kind.RECOVERY)
    over.update(ended_at=clock.now())


def _another_owner(person: Staff) -> bool:
    """Return whether another owner can sign in. One who never used their code cannot."""
    others = Staff.objects.filter(is_owner=True, is_active=True).exclude(pk=person.pk)
    return any(other.has_usable_password() for other in others)


def set_passphrase(*, actor, person: Staff, passphrase: str) -> None:
    """Give a person a new passphrase: their sessions and PIN end, a sign-in shut by wrong tries opens again."""
    with transaction.atomic():
        person.set_password(passphrase)
        person.save(update_fields=["password"])
        SignInTry.objects.filter(key=account_key(person.sign_in_name)).delete()
        remove_pin(actor=actor, person=person)
        locking.end_all(actor=actor, person=person)
        audit.write(actor, "staff.passphrase_set", person)
