"""The home page: an instructor's sheet of the day, or the front desk's list of who comes."""

from django.shortcuts import render

from clients.models import Flag
from sessions import wording
from sessions.models import Attendance, Booking, Handout, Plan, Record, open_call_backs
from sessions.views.handouts import shown_call_back
from studio import clock
from studio.access import opens
from studio.actions import audit

audit.register("today.read")


@opens()
def today(request):
    if not request.user.reads_health:
        return _desk(request)
    return _sheet(request)


def _desk(request):
    """Names, places and states: this page is given nothing of anybody's health."""
    day = clock.today(request.studio.zone)
    rows = Attendance.objects.seen_by(request.user).on_day(day).with_booking().with_desk_marks()
    context = {"day": day, "now": clock.now(), "rows": rows, "at": "today", "next": _next_day(request, day)}
    return render(request, "sessions/desk_day.html", context)


def _next_day(request, day):
    """Return the next booking after a day, for the words of an empty page."""
    return Booking.objects.seen_by(request.user).holding().filter(wall_day__gt=day).first()


def _sheet(request):
    """Who comes, when, where, flags at a glance, what to carry over, and handouts that have become wrong."""
    day = clock.today(request.studio.zone)
    mine = request.user.is_instructor and request.GET.get("whose") != "all"
    attendances = Attendance.objects.seen_by(request.user).on_day(day).with_booking().with_last_time()
    attendances = attendances.with_desk_marks()
    if mine:
        attendances = attendances.filter(booking__instructor=request.user)
    attendances = list(attendances)
    context = {
        "day": day,
        "now": clock.now(),
        "mine": mine,
        "rows": _rows(request, attendances, day),
        "at": "today",
        "next": _next_day(request, day),
        "call_backs": [shown_call_back(one) for one in open_call_backs(request.user, day)],
    }
    audit.write(request.actor, "today.read")
    return render(request, "sessions/day.html", context)


def _rows(request, attendances, day) -> list[dict]:
    """Return one dict a row: everything the sheet shows, from a fixed number of queries."""
    clients = [a.client_id for a in attendances]
    flags: dict[int, list] = {}
    for flag in Flag.objects.seen_by(request.user).active().filter(client__in=clients):
        flags.setdefault(flag.client_id, []).append(flag)
    records = Record.objects.seen_by(request.user)
    last = records.in_bulk([a.last_record for a in attendances if a.last_record])
    begun = {r.attendance_id: r for r in records.filter(attendance__in=attendances)}
    plans = Plan.objects.seen_by(request.user).filter(attendance__in=attendances).with_items()
    plans = {plan.attendance_id: plan.planned_minutes(request.studio) for plan in plans}
    handouts = {
        h.client_id: h
        for h in Handout.objects.seen_by(request.user)
        .current()
        .filter(client__in=clients)
        .defer("pdf", "payload", "verdicts")
    }
    upcoming = next((a.pk for a in attendances if a.state in ("booked", "arrived")), None)
    return [
        {
            "attendance": a,
            "glance": wording.glance(flags.get(a.client_id, []), day),
            "last": last.get(a.last_record),
            "record": begun.get(a.pk),
            "plan_minutes": plans.get(a.pk),
            "handout": handouts.get(a.client_id),
            "number": a.sessions_before + 1,
            "is_next": a.pk == upcoming,
        }
        for a in attendances
    ]
