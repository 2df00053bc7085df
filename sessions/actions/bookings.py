"""Taking, moving and ending bookings. `take` is the one door: nothing else writes a booking's resources."""

import datetime as dt
from dataclasses import dataclass, replace

from django.db import transaction
from django.utils import formats
from django.utils.translation import gettext as _

from sessions import diary
from sessions.actions import passes
from sessions.models import Attendance, Booking
from studio import clock
from studio.actions import audit
from studio.models import Absence, ClosedDay, OpeningHour

audit.register("booking.taken", "booking.moved", "attendance.state_set")


@dataclass(frozen=True)
class Wish:
    """What somebody wants to book. `units` and `clients` are rows, `day` and `time` are wall-clock."""

    day: dt.date
    time: dt.time
    minutes: int
    instructor: object
    room: object
    units: tuple = ()
    clients: tuple = ()


class Refused(Exception):
    """The wish cannot be booked. `reasons` are whole sentences, one for each cause."""

    def __init__(self, reasons: list[str]):
        super().__init__(" ".join(reasons))
        self.reasons = reasons


def take(*, actor, studio, wish: Wish, moving: Booking | None = None, expected: int | None = None) -> Booking:
    """Book a wish, or move a booking to it, and return the booking. Raises Refused with every reason.

    The transaction begins with the write lock (IMMEDIATE), so between the look for clashes and the write
    nobody else can book: of two that want the same slot one gets it and the other is told why.
    moving: the booking that changes its time or resources; `expected` is the version it was read at.
    """
    with transaction.atomic():
        try:
            slot = diary.slot(wish.day, wish.time, wish.minutes, studio.zone)
        except diary.NoSuchTime:
            raise Refused(
                [_("That hour does not exist: the clocks go forward. Choose another time.")]
            ) from None
        if moving:
            held = moving.attendances.filter(state__in=Attendance.HOLDING).select_related("client")
            wish = replace(wish, clients=tuple(a.client for a in held))
        reasons = [*_closed(wish), *_clashes(wish, slot, besides=moving)]
        if reasons:
            raise Refused(reasons)
        booking = _write(actor, studio, wish, slot, moving, expected)
        audit.write(actor, "booking.moved" if moving else "booking.taken", booking)
    return booking


def _write(actor, studio, wish, slot, moving, expected) -> Booking:
    values = {
        "starts_at": slot.start,
        "ends_at": slot.end,
        "zone": studio.zone,
        "wall_day": wish.day,
        "wall_time": wish.time,
        "minutes": wish.minutes,
        "instructor": wish.instructor,
        "room": wish.room,
    }
    if moving:
        for name, value in values.items():
            setattr(moving, name, value)
        moving.save_version(expected, list(values), by=actor.person, at=clock.now())
        moving.units.set(wish.units)
        return moving
    booking = Booking.objects.create(**values, created_by=actor.person, created_at=clock.now())
    booking.units.set(wish.units)
    for client in wish.clients:
        Attendance.objects.create(booking=booking, client=client)
    return booking


def _closed(wish: Wish) -> list[str]:
    """Say why the studio or the instructor is not there at all."""
    reasons = []
    closed = ClosedDay.objects.filter(day=wish.day).first()
    hours = [(h.opens, h.closes) for h in OpeningHour.objects.filter(weekday=wish.day.weekday())]
    if closed:
        reasons.append(_("The studio is closed that day: %(why)s.") % {"why": closed.reason})
    elif not hours:
        reasons.append(_("The studio is closed on that weekday."))
    elif not diary.within_hours(wish.time, wish.minutes, hours):
        open_from_to = ", ".join(
            f"{formats.time_format(a, 'H:i')}–{formats.time_format(b, 'H:i')}" for a, b in hours
        )
        reasons.append(_("The studio is open %(hours)s that day.") % {"hours": open_from_to})
    away = Absence.objects.filter(staff=wish.instructor, first_day__lte=wish.day, last_day__gte=wish.day)
    if away.exists():
        reasons.append(_("%(name)s is away that day.") % {"name": wish.instructor.call_name})
    if not wish.instructor.is_active or not wish.instructor.is_instructor:
        reasons.append(_("%(name)s does not teach.") % {"name": wish.instructor.call_name})
    if not wish.room.in_use:
        reasons.append(_("%(room)s is out of use.") % {"room": wish.room.name})
    reasons += [_("%(unit)s is out of use.") % {"unit": u.name} for u in wish.units if not u.in_use]
    reasons += [
        _("%(unit)s stands in %(room)s, not in the room chosen.") % {"unit": u.name, "room": u.room.name}
        for u in wish.units
        if u.room_id != wish.room.pk
    ]
    return reasons


def _clashes(wish: Wish, slot: diary.Slot, *, besides: Booking | None) -> list[str]:
    """Say who or what is taken at that time, and by whom. The booking `besides` does not count."""
    others = list(
        Booking.objects.holding()
        .filter(starts_at__lt=slot.end, ends_at__gt=slot.start)
        .exclude(pk=besides.pk if besides else None)
        .select_related("instructor", "room")
        .prefetch_related("units", "attendances")
    )
    units = {u.pk for u in wish.units}
    clients = {c.pk: c for c in wish.clients}
    reasons = []
    for other in others:
        times = {"from": other.wall_time.strftime("%H:%M"), "who": other.instructor.call_name}
        if other.instructor_id == wish.instructor.pk:
            reasons.append(_("%(who)s teaches at %(from)s already.") % times)
        for unit in other.units.all():
            if unit.pk in units:
                reasons.append(_("%(unit)s is taken at %(from)s by %(who)s.") % {"unit": unit.name, **times})
        for attendance in other.attendances.all():
            if attendance.holds and attendance.client_id in clients:
                name = clients[attendance.client_id].call_name
                reasons.append(_("%(client)s is booked at %(from)s already.") % {"client": name, **times})
    here = [diary.Slot(o.starts_at, o.ends_at) for o in others if o.room_id == wish.room.pk]
    if diary.most_at_once(here, slot) >= wish.room.holds:
        reasons.append(_("%(room)s is full at that time.") % {"room": wish.room.name})
    return reasons


def set_state(*, actor, studio, attendance: Attendance, state: str, expected: int) -> Attendance:
    """Set what became of one client's booking: booked, arrived, done, cancelled, no-show.

    state 'cancelled' is decided here: late or in time, by the studio's hours of notice. Bringing a freed
    place back goes through the clashes again and raises Refused when it was taken meanwhile. Raises Stale
    when somebody else set it first. The client's pass follows in the same transaction; `pass_came` of the
    returned row says what came of that (sessions.actions.passes.follow).
    """
    with transaction.atomic():
        booking = attendance.booking
        if state == "cancelled":
            late = diary.notice_is_late(booking.starts_at, clock.now(), studio.cancel_hours, booking.zone)
            state = Attendance.State.CANCELLED_LATE if late else Attendance.State.CANCELLED_IN_TIME
        if state in Attendance.HOLDING and not attendance.holds:
            _take_back(booking, attendance)
        attendance.state = state
        attendance.state_at = clock.now()
        attendance.save_version(expected, ["state", "state_at"], by=actor.person, at=clock.now())
        audit.write(actor, "attendance.state_set", attendance, fields=[state])
        attendance.pass_came = passes.follow(actor=actor, attendance=attendance)
    return attendance


def _take_back(booking: Booking, attendance: Attendance) -> None:
    """Refuse to bring back a place that somebody else has taken since it was freed."""
    wish = Wish(
        day=booking.wall_day,
        time=booking.wall_time,
        minutes=booking.minutes,
        instructor=booking.instructor,
        room=booking.room,
        units=tuple(booking.units.all()),
        clients=(attendance.client,),
    )
    reasons = _clashes(wish, diary.Slot(booking.starts_at, booking.ends_at), besides=booking)
    if reasons:
        raise Refused(reasons)
