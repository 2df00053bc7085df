"""When a wish could be booked: what the desk offers while the caller is on the telephone. Reads, writes nothing."""

import datetime as dt
from dataclasses import dataclass

from sessions import diary
from sessions.actions.bookings import Wish
from sessions.models import Attendance, Booking
from studio import clock
from studio.models import Absence, ClosedDay, OpeningHour

# So many days on from the one asked for are looked through when that one has no room.
DAYS = 14


@dataclass(frozen=True)
class FreeDay:
    """A day and the wall-clock times at which the wish fits into it."""

    day: dt.date
    times: tuple[dt.time, ...]


def find(*, studio, wish: Wish, besides: Booking | None = None) -> FreeDay | None:
    """Return the first day with room, from the wish's day on, and its free times; None for none in two weeks.

    The wish's own time does not matter here. `room` may be None while it is not chosen. `besides` is the
    booking that moves: its own place counts as free, and its people are those who must be free.
    """
    if besides:
        held = besides.attendances.filter(state__in=Attendance.HOLDING)
        clients = {row.client_id for row in held}
    else:
        clients = {client.pk for client in wish.clients}
    last = wish.day + dt.timedelta(days=DAYS)
    open_on = _open_hours(wish, last)
    taken = _taken(wish, last, clients, besides)
    now = clock.now()

    def fits(slot: diary.Slot) -> bool:
        full, in_room = taken
        if slot.start < now or any(slot.overlaps(other) for other in full):
            return False
        return not wish.room or diary.most_at_once(in_room, slot) < wish.room.holds

    for day, hours in open_on:
        times = diary.free_starts(day, wish.minutes, hours, studio.zone, fits)
        if times:
            return FreeDay(day, tuple(times))
    return None


def _open_hours(wish: Wish, last: dt.date) -> list[tuple[dt.date, list]]:
    """Return the days on which the studio is open and the instructor there, with their hours."""
    closed = set(ClosedDay.objects.filter(day__range=(wish.day, last)).values_list("day", flat=True))
    away = list(Absence.objects.filter(staff=wish.instructor, first_day__lte=last, last_day__gte=wish.day))
    hours: dict[int, list] = {}
    for row in OpeningHour.objects.all():
        hours.setdefault(row.weekday, []).append((row.opens, row.closes))
    days = [wish.day + dt.timedelta(days=n) for n in range((last - wish.day).days + 1)]
    return [
        (day, hours.get(day.weekday(), []))
        for day in days
        if day not in closed and not any(a.first_day <= day <= a.last_day for a in away)
    ]


def _taken(wish: Wish, last: dt.date, clients: set[int], besides) -> tuple[list, list]:
    """Return the slots in which instructor, apparatus or people are taken, and those held in the room."""
    rows = Booking.objects.holding().filter(wall_day__range=(wish.day, last))
    rows = rows.exclude(pk=besides.pk if besides else None).prefetch_related("units", "attendances")
    units = {unit.pk for unit in wish.units}
    full, in_room = [], []
    for row in rows:
        slot = diary.Slot(row.starts_at, row.ends_at)
        people = {a.client_id for a in row.attendances.all() if a.holds}
        needed = row.instructor_id == wish.instructor.pk or units & {u.pk for u in row.units.all()}
        if needed or clients & people:
            full.append(slot)
        if wish.room and row.room_id == wish.room.pk:
            in_room.append(slot)
    return full, in_room
