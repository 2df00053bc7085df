"""Setting a PIN or a passphrase of one's own: either ends the person's other sign-ins."""

from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.hashers import make_password
from django.db import transaction

from studio import clock
from studio.actions import audit, locking
from studio.models import Pin, Presence

audit.register("pin.set", "pin.removed", "staff.passphrase_changed")


def set_pin(request, *, digits: str) -> None:
    """Set the PIN of the person signed in, who has just typed the passphrase.

    The old one is gone on every device, and the person's other sign-ins end. Here it works at once.
    """
    person, row = request.user, request.staff_session
    with transaction.atomic():
        locking.end_all(actor=request.actor, person=person, but=row)
        values = {"digits": make_password(digits), "set_at": clock.now(), "wrong_total": 0}
        Pin.objects.update_or_create(person=person, defaults=values)
        if request.device is not None:
            Presence.objects.create(person=person, device=request.device, full_at=row.full_at)
        locking.renew(request)
        audit.write(request.actor, "pin.set", person)


def remove_pin(*, actor, person) -> None:
    """Take a person's PIN away; the passphrase is the only way back then."""
    with transaction.atomic():
        if Pin.objects.filter(person=person).delete()[0]:
            audit.write(actor, "pin.removed", person)


def change_passphrase(request, *, passphrase: str) -> None:
    """Set the passphrase of the person signed in: other sign-ins end, and the PIN is gone on every device."""
    person = request.user
    with transaction.atomic():
        person.set_password(passphrase)
        person.save(update_fields=["password"])
        remove_pin(actor=request.actor, person=person)
        locking.end_all(actor=request.actor, person=person, but=request.staff_session)
        update_session_auth_hash(request, person)
        locking.renew(request)
        audit.write(request.actor, "staff.passphrase_changed", person)
