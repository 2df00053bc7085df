"""The home page: an instructor's sheet of the day, or the front desk's list of who comes."""

import datetime as dt
from collections import Counter
from zoneinfo import ZoneInfo

from django.shortcuts import render
from django.utils.formats import date_format, time_format
from django.utils.translation import gettext as _

from clients import glance
from clients.models import Flag
from library import regions
from library.models import table_in_force
from sessions.models import Attendance, Booking, Handout, Plan, Record, open_call_backs
from sessions.views import first_hour, passes
from sessions.views.handouts import shown_call_back
from studio import clock
from studio.access import opens
from studio.actions import audit

audit.register("today.read")

# A pause of at least so many minutes is worth a line of its own.
PAUSE_MINUTES = 30


@opens()
def today(request):
    if not request.user.reads_health:
        return _desk(request)
    return _sheet(request)


def _desk(request):
    """Names, places and states: this page is given nothing of anybody's health."""
    day, now = clock.today(request.studio.zone), clock.now()
    rows = Attendance.objects.seen_by(request.user).on_day(day).with_booking().with_desk_marks()
    rows = passes.give_words(request.user, rows)
    context = {
        "day": day,
        "now": now,
        "rows": rows,
        "now_before": _first_after(rows, now),
        "at": "today",
        "next_words": lambda: _next_words(request, day),
    }
    return render(request, "sessions/desk_day.html", context)


def _next_words(request, day) -> str:
    """Return what an empty page says of the next booking after a day. Templates ask where a page is empty only."""
    rows = Booking.objects.seen_by(request.user).holding().filter(wall_day__gt=day)
    booking = rows.select_related("instructor").first()
    if booking is None:
        return _("Nothing is booked after today either.")
    return _("%(day)s starts at %(time)s with %(who)s.") % {
        "day": date_format(booking.wall_day, "l j F"),
        "time": time_format(booking.wall_time, "H:i"),
        "who": booking.instructor.call_name,
    }


def _first_after(attendances, now) -> int | None:
    """Return the key of the first row that has not begun, where the line of now stands; None for none."""
    return next((a.pk for a in attendances if a.booking.starts_at > now), None)


def _sheet(request):
    """Who comes, when, where, flags at a glance, what to carry over, and handouts that have become wrong."""
    day = clock.today(request.studio.zone)
    mine = request.user.is_instructor and request.GET.get("whose") != "all"
    attendances = Attendance.objects.seen_by(request.user).on_day(day).with_booking().with_last_time()
    attendances = attendances.with_desk_marks()
    if mine:
        attendances = attendances.filter(booking__instructor=request.user)
    attendances, table = list(attendances), table_in_force()
    request.rule_table = table
    context = {
        "day": day,
        "now": clock.now(),
        "mine": mine,
        "rows": _rows(request, attendances, day, mine, table),
        "people": len({a.client_id for a in attendances if a.holds}),
        "now_before": _first_after(attendances, clock.now()),
        "at": "today",
        "next_words": lambda: _next_words(request, day),
        "first_hour": first_hour.card(request),
        "call_backs": [shown_call_back(one) for one in open_call_backs(request.user, day, table=table)],
    }
    audit.write(request.actor, "today.read")
    return render(request, "sessions/day.html", context)


def _rows(request, attendances, day, mine, table) -> list[dict]:
    """Return one dict a row: everything the sheet shows, from a fixed number of queries."""
    person = request.user
    clients = [a.client_id for a in attendances]
    flags: dict[int, list] = {}
    proposed: Counter[int] = Counter()
    for flag in Flag.objects.seen_by(person).filter(client__in=clients).in_state("active", "proposed"):
        if flag.state == "active":
            flags.setdefault(flag.client_id, []).append(flag)
        else:
            proposed[flag.client_id] += 1
    records = Record.objects.seen_by(person)
    last = records.in_bulk([a.last_record for a in attendances if a.last_record])
    begun = {r.attendance_id: r for r in records.filter(attendance__in=attendances)}
    plans = Plan.objects.seen_by(person).filter(attendance__in=attendances).with_times()
    plans = {plan.attendance_id: plan.planned_minutes(request.studio) for plan in plans}
    current = Handout.objects.seen_by(person).current().filter(client__in=clients)
    handouts = {h.client_id: h for h in current.defer("pdf", "payload", "verdicts")}
    upcoming = next((a.pk for a in attendances if a.state in ("booked", "arrived")), None)
    pauses = _pauses(attendances, clock.now()) if mine else {}
    left = passes.left_for(person, clients, day)
    return [
        {
            "attendance": a,
            "cares": glance.care(flags.get(a.client_id, []), day, table=table, whole=False),
            "spots": regions.spots(flags.get(a.client_id, [])),
            "proposed": proposed[a.client_id],
            "last": last.get(a.last_record),
            "record": begun.get(a.pk),
            "plan_minutes": plans.get(a.pk),
            "handout": handouts.get(a.client_id),
            "pass_words": left.get(a.client_id),
            "number": a.sessions_before + 1,
            "is_next": a.pk == upcoming,
            "pause": pauses.get(a.pk),
        }
        for a in attendances
    ]


def _pauses(attendances, now) -> dict[int, dict]:
    """Return the pauses still to come by the row they stand before: from and until, in wall-clock time."""
    pauses, free_from, first_in_pause = {}, None, None
    for a in attendances:
        booking = a.booking
        if free_from and first_in_pause is None and booking.starts_at >= free_from:
            first_in_pause = a.pk
        if not a.holds:
            continue
        long_enough = free_from and booking.starts_at - free_from >= dt.timedelta(minutes=PAUSE_MINUTES)
        if long_enough and booking.starts_at > now:
            begun = free_from.astimezone(ZoneInfo(booking.zone))
            pauses[first_in_pause] = {"from": begun.time(), "until": booking.wall_time}
        free_from = max(free_from, booking.ends_at) if free_from else booking.ends_at
        first_in_pause = None
    return pauses
