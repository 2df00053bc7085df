"""Who is signed in where, the lock, and the way back with a PIN.

Sources: OWASP verification standard 5.0, 7.2.4, 7.3.1, 7.3.2, 7.4.1, 7.4.5; NIST SP 800-63B-4, 2.2.3, 3.2.10.
"""

from collections.abc import Callable

from django.contrib.auth import login
from django.contrib.auth.hashers import check_password
from django.contrib.sessions.models import Session
from django.db import transaction
from django.db.models import F

from studio import clock, locking
from studio.actions import audit
from studio.actions.first_owner import is_this_machine
from studio.models import Device, Pin, Presence, Staff, StaffSession

audit.register(
    "screen.locked",
    "screen.unlocked",
    "screen.unlock_failed",
    "session.ended",
    "session.all_ended",
)

# Other apps say here what keeps a person at work: (person, day) -> bool. Asked only when a screen would lock.
AT_WORK: list[Callable] = []
_BACKEND = "django.contrib.auth.backends.ModelBackend"


class PinOff(Exception):
    """The PIN does not work here: too many wrong tries, or the passphrase was typed too long ago."""


def begin(sender, request, user, **more) -> None:
    """Receiver of Django's signal that somebody signed in: write the row that every later request needs.

    A passphrase opens the way back by PIN on an enrolled device and sets the counts of wrong PINs to nothing;
    a PIN (`request.came_back`, the Presence it rests on) does neither.
    """
    now, device = clock.now(), getattr(request, "device", None)
    before, back = getattr(request, "staff_session", None), getattr(request, "came_back", None)
    with transaction.atomic():
        if before is not None:
            _close([before])
        if back is None:
            Pin.objects.filter(person=user).update(wrong_total=0)
            if device is not None:
                here = {"full_at": now, "wrong_pins": 0}
                Presence.objects.update_or_create(person=user, device=device, defaults=here)
        request.staff_session = StaffSession.objects.create(
            person=user,
            device=device,
            session_key=request.session.session_key,
            since=now,
            full_at=back.full_at if back else now,
            seen_at=now,
        )
        tidy(request.session)


def tidy(session) -> None:
    """Clear what has run out, at every sign-in and so every day: Django's own rows, and our own past the limit."""
    session.clear_expired()
    _close(StaffSession.objects.running().filter(full_at__lte=clock.now() - locking.OVERALL))


def renew(request) -> None:
    """Give the session a new id after the passphrase was typed again; the old id is nobody's."""
    with transaction.atomic():
        request.session.cycle_key()
        row = getattr(request, "staff_session", None)
        if row is not None:
            row.session_key = request.session.session_key
            row.save(update_fields=["session_key"])


def find(request) -> StaffSession | None:
    """Return the running sign-in behind this request, or None: then whoever asks is nobody."""
    key = request.session.session_key
    row = StaffSession.objects.running().filter(session_key=key).first() if key else None
    return row if row is not None and row.person_id == request.user.pk else None


def is_elsewhere(request, row: StaffSession) -> bool:
    """Return whether a sign-in that belongs to an enrolled device is shown by a browser that is not it."""
    return bool(row.device_id) and row.device_id != getattr(request.device, "pk", None)


def state(request, row: StaffSession) -> str:
    """Return whether a running sign-in is open, locked or over, and write down what has just changed."""
    now = clock.now()
    if locking.is_over(now, row.full_at):
        _close([row])
        return locking.OVER
    if row.locked_at is None and _has_idled(request, row, now):
        _set_locked(request.actor, row)
    return locking.LOCKED if row.locked_at else locking.OPEN


def _has_idled(request, row, now) -> bool:
    minutes = {"tablet": request.studio.idle_minutes_tablet, "desk": request.studio.idle_minutes_desk}
    kind = request.device.kind if request.device else ""
    if not kind and is_this_machine(request.META.get("REMOTE_ADDR", "")):
        kind = Device.Kind.DESK
    if not locking.is_idle(now, row.seen_at, locking.idle_limit(kind, **minutes, at_work=False)):
        return False
    day = clock.today(request.studio.zone)
    at_work = any(asked(request.user, day) for asked in AT_WORK)
    return locking.is_idle(now, row.seen_at, locking.idle_limit(kind, **minutes, at_work=at_work))


def touched(row: StaffSession) -> None:
    """Note that somebody is at the screen; to a quarter of a minute, so that reading writes little."""
    now = clock.now()
    if (now - row.seen_at).total_seconds() >= 15:
        StaffSession.objects.filter(pk=row.pk).update(seen_at=now)


def _set_locked(actor, row) -> None:
    with transaction.atomic():
        row.locked_at = clock.now()
        row.save(update_fields=["locked_at"])
        audit.write(actor, "screen.locked", row)


def can_come_back(request) -> bool:
    """Return whether the person signed in here has a PIN that works on this device."""
    return any(person == request.user for person in people_here(request.device))


def lock(request) -> None:
    """Lock this sign-in: until a PIN or a passphrase comes, every page is refused."""
    _set_locked(request.actor, request.staff_session)


def people_here(device: Device | None) -> list[Staff]:
    """Return those who may come back by PIN on this device, by name."""
    if device is None:
        return []
    after = clock.now() - locking.OVERALL
    return list(
        Staff.objects.filter(
            is_active=True,
            pin__wrong_total__lt=locking.WRONG_EVERYWHERE,
            pk__in=device.presences.filter(full_at__gt=after, wrong_pins__lt=locking.WRONG_HERE).values(
                "person"
            ),
        ).order_by("call_name", "pk")
    )


def unlock(request, *, person: Staff, digits: str) -> bool:
    """Let a person back in by PIN on this device, in a new session; False for a wrong PIN.

    Every try is counted before it is checked and given back when it was right, so that tries at the same time
    never get more than the limit. Raises PinOff when the PIN does not count here any more.
    """
    here = Presence.objects.filter(person=person, device=request.device).first()
    if here is None or locking.is_over(clock.now(), here.full_at) or not person.is_active:
        raise PinOff
    _count_try(here, person)
    pin = Pin.objects.get(person=person)
    with transaction.atomic():
        if not check_password(digits, pin.digits):
            audit.write(request.actor, "screen.unlock_failed", person, outcome="refused")
            return False
        Presence.objects.filter(pk=here.pk).update(wrong_pins=0)
        Pin.objects.filter(pk=pin.pk).update(wrong_total=F("wrong_total") - 1)
        request.session.flush()
        request.came_back = here
        login(request, person, backend=_BACKEND)
        request.actor = audit.Actor.of_request(request)
        audit.write(request.actor, "screen.unlocked", request.staff_session)
    return True


def _count_try(here: Presence, person: Staff) -> None:
    with transaction.atomic():
        total = Pin.objects.filter(person=person, wrong_total__lt=locking.WRONG_EVERYWHERE)
        count = Presence.objects.filter(pk=here.pk, wrong_pins__lt=locking.WRONG_HERE)
        if not total.exists() or not count.update(wrong_pins=F("wrong_pins") + 1):
            raise PinOff
        total.update(wrong_total=F("wrong_total") + 1)


def tries_left(person: Staff, device: Device) -> int:
    """Return how many wrong PINs this person has left on this device."""
    here = Presence.objects.filter(person=person, device=device).first()
    pin = Pin.objects.filter(person=person).first()
    if here is None or pin is None:
        return 0
    return max(0, min(locking.WRONG_HERE - here.wrong_pins, locking.WRONG_EVERYWHERE - pin.wrong_total))


# Ending: the row says so, Django's session goes, and the way back by PIN closes.


def _close(rows) -> None:
    """End sign-ins on the server: their cookies are nobody's from here on."""
    rows = list(rows)
    Session.objects.filter(session_key__in=[r.session_key for r in rows if r.session_key]).delete()
    StaffSession.objects.filter(pk__in=[r.pk for r in rows]).update(ended_at=clock.now(), session_key=None)


def forget(row: StaffSession) -> None:
    """End one sign-in and the person's way back by PIN on its device."""
    with transaction.atomic():
        _close([row])
        if row.device_id:
            Presence.objects.filter(person=row.person_id, device=row.device_id).delete()


def end(*, actor, row: StaffSession) -> None:
    """End one sign-in of oneself or, for the owner, of anybody."""
    with transaction.atomic():
        forget(row)
        audit.write(actor, "session.ended", row)


def end_all(*, actor, person: Staff, but: StaffSession | None = None) -> None:
    """End all sign-ins of a person, and every way back by PIN; `but` stays, without a way back by PIN."""
    with transaction.atomic():
        rows = StaffSession.objects.running().filter(person=person)
        _close(rows.exclude(pk=but.pk) if but else rows)
        Presence.objects.filter(person=person).delete()
        audit.write(actor, "session.all_ended", person)


def end_on(device: Device) -> None:
    """End every sign-in on a device and every way back there."""
    with transaction.atomic():
        _close(StaffSession.objects.running().filter(device=device))
        device.presences.all().delete()
