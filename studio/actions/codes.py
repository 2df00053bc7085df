"""One-time codes: the owner issues one, the person chooses their own passphrase with it.

Source: OWASP verification standard 5.0, 6.4.1 (first secrets random, soon over, used once), 6.4.6 (an
administrator starts a reset and never picks or sees the new secret), 6.5.1 to 6.5.3. A day: common practice.
"""

import datetime as dt
import hashlib

from django.contrib.auth import login
from django.contrib.auth.hashers import check_password, make_password
from django.db import transaction

from studio import clock, codes, passphrases
from studio.actions import audit, sign_in
from studio.actions.staff import add, set_passphrase
from studio.models import OneTimeCode, SignInTry, Staff, Studio
from studio.passphrases import folded

audit.register("code.issued", "code.used", "code.refused")

LASTS = dt.timedelta(hours=24)
_LENGTH = {OneTimeCode.Kind.ENTRY: codes.DAY_LENGTH, OneTimeCode.Kind.RECOVERY: codes.LASTING_LENGTH}


def issue(*, actor, person: Staff, kind: str = OneTimeCode.Kind.ENTRY) -> str:
    """Return a new code for a person; an earlier one of that kind is over. Only its hash is kept.

    kind: ENTRY is good for 24 hours, RECOVERY until it is used or replaced.
    """
    now = clock.now()
    code = codes.make(_LENGTH[kind])
    with transaction.atomic():
        person.codes.filter(kind=kind, ended_at=None).update(ended_at=now)
        person.codes.create(
            kind=kind,
            secret=make_password(codes.bare(code)),
            made_at=now,
            made_by=actor.person,
            until=now + LASTS if kind == OneTimeCode.Kind.ENTRY else None,
        )
        audit.write(actor, "code.issued", person, fields=[kind])
    return code


def add_with_code(*, actor, values: dict) -> tuple[Staff, str]:
    """Add a person and return them with the code by which they choose their passphrase."""
    with transaction.atomic():
        person = add(actor=actor, values=values)
        return person, issue(actor=actor, person=person)


def open_code(person: Staff, kind: str = OneTimeCode.Kind.ENTRY) -> OneTimeCode | None:
    """Return the person's code of a kind that would still open."""
    found = person.codes.filter(kind=kind, ended_at=None).first()
    return found if found and (found.until is None or clock.now() < found.until) else None


def redeem(request, *, sign_in_name: str, code: str, passphrase: str):
    """Set a passphrase by a code and sign the person in; return them, or None.

    A wrong name, a wrong, used or old code and a closed account look alike and cost one hash. Raises MustWait
    before any hashing, and ValidationError where the passphrase is made of the person's own names: the code
    stays good then. Wrong tries here never shut the way in, they only slow it down, and a passphrase that was
    shut by wrong tries opens again.
    """
    keys = [_code_key(sign_in_name), sign_in.device_key(request)]
    sign_in.check_wait(keys)
    with transaction.atomic():
        found = _find(sign_in_name, code)
        if found is None:
            sign_in.count_failure(keys)
            audit.write(request.actor, "code.refused", outcome="refused")
            return None
        person, studio = found.person, Studio.objects.first()
        passphrases.check(passphrase, studio.name, person.sign_in_name, person.full_name, person.call_name)
        found.ended_at = clock.now()
        found.save(update_fields=["ended_at"])
        SignInTry.objects.filter(key__in=keys).delete()
        request.session.flush()
        set_passphrase(actor=request.actor, person=person, passphrase=passphrase)
        login(request, person, backend="django.contrib.auth.backends.ModelBackend")
        sign_in.note_full_sign_in(request)
        audit.write(audit.Actor.of_request(request), "code.used", person, fields=[found.kind])
    return person


def _code_key(sign_in_name: str) -> str:
    return f"code:{hashlib.sha256(folded(sign_in_name).encode()).hexdigest()[:40]}"


def _find(sign_in_name: str, typed: str) -> OneTimeCode | None:
    """Return the open code that was typed. One hash whatever is wrong, so that the time tells nothing."""
    typed = codes.bare(typed)
    kind = next((k for k, length in _LENGTH.items() if length == len(typed)), None)
    person = Staff.objects.filter(sign_in_name=folded(sign_in_name), is_active=True).first()
    found = open_code(person, kind) if person and kind else None
    if found is None:
        make_password(typed)
        return None
    return found if check_password(typed, found.secret) else None
