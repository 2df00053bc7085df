"""Signing in and out, with a wait that grows and survives a restart."""

import datetime as dt
import hashlib

from django.contrib.auth import authenticate, login, logout
from django.db import transaction

from studio import clock, throttle
from studio.actions import audit, locking
from studio.models import SignInTry
from studio.passphrases import folded

# When this session last saw the passphrase itself. A PIN or a switch of person never writes it.
FULL_SIGN_IN = "full_sign_in_at"


class MustWait(Exception):
    """Too many wrong tries. `seconds` says how long; None when the passphrase is shut."""

    def __init__(self, seconds: int | None):
        super().__init__("too many wrong tries")
        self.seconds = seconds


def account_key(sign_in_name: str) -> str:
    """Return the key under which the failures of one account are counted; no name lies in the table."""
    return f"account:{hashlib.sha256(folded(sign_in_name).encode()).hexdigest()[:40]}"


def is_shut(person) -> bool:
    """Return whether a person's passphrase is shut by wrong tries."""
    row = SignInTry.objects.filter(key=account_key(person.sign_in_name)).first()
    return row is not None and throttle.is_shut(row.failures)


def device_key(request) -> str:
    """Return the key under which the failures from one address are counted."""
    return f"device:{hashlib.sha256(request.META.get('REMOTE_ADDR', '').encode()).hexdigest()[:40]}"


def _keys(request, sign_in_name: str) -> list[str]:
    """Return the two counts a try goes to: the account and the device. Hashed, so no name lies in the table."""
    return [account_key(sign_in_name), device_key(request)]


def check_wait(keys: list[str]) -> None:
    """Raise MustWait while one of these counts has to wait, or an account's passphrase is shut."""
    now = clock.now()
    for row in SignInTry.objects.filter(key__in=keys):
        if row.key.startswith("account:") and throttle.is_shut(row.failures):
            raise MustWait(None)
        if row.blocked_until and row.blocked_until > now:
            raise MustWait(max(1, round((row.blocked_until - now).total_seconds())))


def count_failure(keys: list[str]) -> None:
    """Count one wrong try under each key."""
    for key in keys:
        row, _made = SignInTry.objects.get_or_create(key=key)
        row.failures += 1
        # A device serves several people: only its own long runs slow it down.
        counted = row.failures // 5 if key.startswith("device:") else row.failures
        row.blocked_until = clock.now() + dt.timedelta(seconds=throttle.wait_after(counted))
        row.save()


def sign_in(request, *, sign_in_name: str, passphrase: str):
    """Sign a person in and return them, or return None.

    A wrong name, a wrong passphrase and a closed account look alike. Raises MustWait before any hashing
    while the account or the device has to wait. A new session begins: nothing of the old one carries over.
    """
    keys = _keys(request, sign_in_name)
    check_wait(keys)
    person = authenticate(request, username=sign_in_name, password=passphrase)
    with transaction.atomic():
        if person is None:
            count_failure(keys)
            audit.write(request.actor, "staff.sign_in_failed", outcome="refused")
            return None
        SignInTry.objects.filter(key__in=keys).delete()
        request.session.flush()
        login(request, person)
        note_full_sign_in(request)
        audit.write(audit.Actor.of_request(request), "staff.signed_in", person)
    return person


def note_full_sign_in(request) -> None:
    """Note in the session that the passphrase has just been typed (studio.actions.reauth asks for it)."""
    request.session[FULL_SIGN_IN] = clock.now().isoformat()


def check_again(request, passphrase: str) -> bool:
    """Return whether this is the passphrase of the person who is signed in. A wrong one counts as a try.

    Raises MustWait before any hashing.
    """
    keys = _keys(request, request.user.sign_in_name)
    check_wait(keys)
    with transaction.atomic():
        if not request.user.check_password(passphrase):
            count_failure(keys)
            return False
        SignInTry.objects.filter(key__in=keys).delete()
    return True


def sign_out(request) -> None:
    """End the session on the server, and the way back by PIN on this device."""
    with transaction.atomic():
        audit.write(request.actor, "staff.signed_out", request.user)
        locking.forget(request.staff_session)
        logout(request)
