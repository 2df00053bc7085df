"""Letting a browser in for good, and taking it out again."""

import datetime as dt
import hashlib
import secrets

from django.conf import settings
from django.db import transaction

from studio import clock
from studio.actions import audit, locking
from studio.models import Device, Presence

audit.register("device.enrolled", "device.revoked")

COOKIE = f"evenside_{settings.PROFILE}_device"
# Browsers keep a cookie for 400 days at most. Then the owner enrols the device once more.
COOKIE_SECONDS = 400 * 24 * 60 * 60
# Pages ask every few seconds; when a device came over the network is written down once a minute.
SEEN_EVERY = dt.timedelta(minutes=1)


def _hashed(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def find(request) -> Device | None:
    """Return the enrolled device a request comes from, by its token; None when it holds none that counts."""
    token = request.COOKIES.get(COOKIE, "")
    return Device.objects.in_use().filter(token_hash=_hashed(token)).first() if token else None


def seen(request, device: Device) -> None:
    """Note that a device came over the network, so that the owner knows which still lack a certificate."""
    now = clock.now()
    before = device.over_network_at
    if request.is_secure() and (before is None or now - before >= SEEN_EVERY):
        Device.objects.filter(pk=device.pk).update(over_network_at=now)


def enrol(request, *, name: str, kind: str) -> tuple[Device, str]:
    """Enrol the browser the owner sits at, and return the device and its token (256 random bits).

    The owner has typed the passphrase for it. The running sign-in belongs to the device from here on, and
    its owner may come back by PIN on it.
    """
    token = secrets.token_urlsafe(32)
    person, row = request.user, request.staff_session
    with transaction.atomic():
        device = Device.objects.create(
            name=name, kind=kind, token_hash=_hashed(token), enrolled_at=clock.now(), enrolled_by=person
        )
        seen(request, device)
        row.device = device
        row.save(update_fields=["device"])
        Presence.objects.create(person=person, device=device, full_at=row.full_at)
        audit.write(request.actor, "device.enrolled", device)
    return device, token


def give_token(response, token: str) -> None:
    """Put the token into a cookie of its own, closed to scripts; over TLS studio.transport makes it Secure."""
    response.set_cookie(COOKIE, token, max_age=COOKIE_SECONDS, httponly=True, samesite="Lax")


def revoke(*, actor, device: Device) -> None:
    """Take a device out: every sign-in there ends, and its token counts for nothing."""
    with transaction.atomic():
        device.revoked_at = clock.now()
        device.save(update_fields=["revoked_at"])
        locking.end_on(device)
        audit.write(actor, "device.revoked", device)
