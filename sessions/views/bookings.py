"""The diary of a day, taking a booking, changing it, and what became of it."""

import datetime as dt

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.dateparse import parse_date
from django.utils.formats import date_format, time_format
from django.utils.translation import gettext as _

from clients.models import Client
from sessions import pass_wording
from sessions.actions import bookings as booking_actions
from sessions.actions import free_times
from sessions.forms.bookings import BookingForm, StateForm
from sessions.models import Attendance, Booking
from sessions.views import passes
from studio import clock
from studio.access import opens
from studio.forms.days import is_within_reach
from studio.models import Stale
from studio.roles import DESK_WRITERS


def day_in_address(request, name: str) -> dt.date | None:
    """Return a day that stands in the address under a name; None where none does, or it is none to be shown."""
    try:
        day = parse_date(request.GET.get(name, ""))
    except ValueError:
        return None
    return day if day and is_within_reach(day) else None


def asked_day(request) -> dt.date:
    """Return the day in the address, or today."""
    return day_in_address(request, "day") or clock.today(request.studio.zone)


@opens()
def day(request):
    """Everybody's bookings of one day, with the week around it."""
    shown = asked_day(request)
    today = clock.today(request.studio.zone)
    monday = shown - dt.timedelta(days=shown.weekday())
    rows = Booking.objects.seen_by(request.user).on_day(shown).with_people()
    counts = Booking.objects.seen_by(request.user).counts(monday, monday + dt.timedelta(days=6))
    week = [
        {"day": d, "count": counts.get(d, 0), "shown": d == shown, "today": d == today}
        for d in (monday + dt.timedelta(days=n) for n in range(7))
    ]
    context = {
        "day": shown,
        "week": week,
        "bookings": rows,
        "before": monday - dt.timedelta(days=7),
        "after": monday + dt.timedelta(days=7),
        "at": "bookings",
    }
    return render(request, "sessions/bookings.html", context)


@opens(methods=("GET", "POST"))
def new(request):
    initial = {
        "day": asked_day(request),
        "minutes": request.studio.session_minutes,
        "client": request.GET.get("client", ""),
    }
    initial |= _usual(request, initial["client"])
    if request.user.is_instructor:
        initial["instructor"] = request.user.public_id
    form = BookingForm(_typed(request), person=request.user, initial=initial)
    if request.method == "POST" and form.is_valid():
        try:
            booking = booking_actions.take(actor=request.actor, studio=request.studio, wish=form.wish())
        except booking_actions.Refused as refused:
            _show(form, refused)
        else:
            messages.info(request, _("Booked."))
            return redirect(f"{reverse('sessions:bookings')}?day={booking.wall_day.isoformat()}")
    context = {"form": form, "at": "bookings", **_free(request, form)}
    return render(request, "sessions/booking_new.html", context, status=422 if form.errors else 200)


def _usual(request, client: str) -> dict:
    """Return with whom, where and on what a client was booked last: most come back to the same."""
    rows = Attendance.objects.seen_by(request.user).filter(client__public_id=client)
    last = rows.with_booking().order_by("-booking__starts_at").first() if client else None
    if last is None:
        return {}
    return {
        "instructor": last.booking.instructor.public_id,
        "room": last.booking.room.public_id,
        "units": [unit.public_id for unit in last.booking.units.all()],
    }


def _typed(request):
    """Return what was posted; a free time that was touched stands for the day and the time. None for none."""
    if request.method != "POST":
        return None
    day, _t, time = request.POST.get("pick", "").partition("T")
    if not time:
        return request.POST
    typed = request.POST.copy()
    typed["day"], typed["time"] = day, time
    return typed


def _show(form, refused) -> None:
    for reason in refused.reasons:
        form.add_error(None, reason)


def _free(request, form, moving=None) -> dict:
    """Return what the list of free times shows, for as much as the form says by now."""
    wish = form.loose_wish()
    if wish is None:
        return {"instructor": None, "moving": moving}
    return {
        "free": free_times.find(studio=request.studio, wish=wish, besides=moving),
        "asked": wish.day,
        "instructor": wish.instructor,
        "moving": moving,
    }


@opens()
def free(request):
    """The free times alone, for a form that is being filled in."""
    moving = _loaded(request, request.GET["moving"]) if request.GET.get("moving") else None
    form = BookingForm(request.GET, person=request.user, moving=moving)
    return render(request, "sessions/_free_times.html", _free(request, form, moving))


@opens()
def ask_first(request):
    """The one neutral line about a client who is being booked: no cause and no degree."""
    ids = [request.GET.get("client", ""), request.GET.get("partner", "")]
    clients = Client.objects.seen_by(request.user).filter(public_id__in=ids).with_desk_marks()
    return render(request, "sessions/_ask_first.html", {"clients": [c for c in clients if c.ask_first]})


@opens()
def detail(request, booking):
    booking = _loaded(request, booking)
    rows = Attendance.objects.seen_by(request.user).filter(booking=booking).with_booking()
    context = {
        "booking": booking,
        "rows": passes.give_words(request.user, rows),
        "writable": _may_write(request, booking),
        "at": "bookings",
    }
    return render(request, "sessions/booking.html", context)


def _may_write(request, booking: Booking) -> bool:
    """Return whether this person changes the booking: the desk and the owner any, an instructor their own."""
    return request.user.has_role(*DESK_WRITERS) or booking.instructor_id == request.user.pk


def _refuse_others(request, booking: Booking) -> None:
    if not _may_write(request, booking):
        raise PermissionDenied


def _loaded(request, public_id) -> Booking:
    return Booking.objects.with_people().get_seen(request.user, public_id)


@opens(methods=("GET", "POST"))
def change(request, booking):
    """Move a booking or change who teaches, where and on what."""
    booking = _loaded(request, booking)
    _refuse_others(request, booking)
    initial = {
        "version": booking.version,
        "day": booking.wall_day,
        "time": booking.wall_time,
        "minutes": booking.minutes,
        "instructor": booking.instructor.public_id,
        "room": booking.room.public_id,
        "units": [unit.public_id for unit in booking.units.all()],
    }
    form = BookingForm(_typed(request), person=request.user, moving=booking, initial=initial)
    status, context = 200, {"form": form, "booking": booking, "at": "bookings"}
    if request.method == "POST" and form.is_valid():
        try:
            booking_actions.take(
                actor=request.actor,
                studio=request.studio,
                wish=form.wish(),
                moving=booking,
                expected=form.cleaned_data["version"],
            )
        except booking_actions.Refused as refused:
            _show(form, refused)
        except Stale:
            return _show_both(request, form, booking.public_id)
        else:
            messages.info(request, _("Moved."))
            return redirect("sessions:booking", booking=booking.public_id)
    status = 422 if form.errors else 200
    context |= _free(request, form, booking)
    return render(request, "sessions/booking_change.html", context, status=status)


def _show_both(request, form, public_id):
    """Somebody else changed the booking first: both versions, side by side, and what was typed kept."""
    now = _loaded(request, public_id)
    typed = form.cleaned_data
    pairs = [
        {
            "label": form.fields["day"].label,
            "theirs": date_format(now.wall_day, "D j M Y"),
            "yours": date_format(typed["day"], "D j M Y"),
        },
        {
            "label": form.fields["time"].label,
            "theirs": time_format(now.wall_time, "H:i"),
            "yours": time_format(typed["time"], "H:i"),
        },
        {"label": form.fields["minutes"].label, "theirs": now.minutes, "yours": typed["minutes"]},
        {"label": form.fields["instructor"].label, "theirs": now.instructor, "yours": typed["instructor"]},
        {"label": form.fields["room"].label, "theirs": now.room, "yours": typed["room"]},
    ]
    form.data = form.data.copy()
    form.data["version"] = now.version
    context = {
        "form": form,
        "booking": now,
        "at": "bookings",
        **_free(request, form, now),
        "conflict": {
            "who": now.changed_by,
            "when": now.changed_at,
            "pairs": [pair for pair in pairs if pair["theirs"] != pair["yours"]],
            "version": now.version,
        },
    }
    return render(request, "sessions/booking_change.html", context, status=409)


@opens(methods=("POST",))
def set_state(request, attendance):
    """Arrived, done, cancelled, no-show, or booked again; answers with the row that changed."""
    attendance = Attendance.objects.with_booking().get_seen(request.user, attendance)
    _refuse_others(request, attendance.booking)
    form = StateForm(request.POST)
    if not form.is_valid():
        raise Http404
    try:
        attendance = booking_actions.set_state(
            actor=request.actor,
            studio=request.studio,
            attendance=attendance,
            state=form.cleaned_data["state"],
            expected=form.cleaned_data["version"],
        )
    except Stale:
        messages.warning(request, _("Somebody set this a moment ago. Look again, then choose."))
    except booking_actions.Refused as refused:
        messages.error(request, " ".join(refused.reasons))
    else:
        _say_of_pass(request, attendance)
    if not request.htmx:
        return redirect(_back(request, attendance))
    rows = Attendance.objects.seen_by(request.user).filter(pk=attendance.pk).with_booking().with_desk_marks()
    [row] = passes.give_words(request.user, rows)
    return render(request, "sessions/_desk_row.html", {"row": row, "oob": True})


def _say_of_pass(request, attendance) -> None:
    """Say that a session is to pay, where the client's passes hold none for it."""
    words = pass_wording.came_words(attendance.pass_came)
    if words:
        messages.warning(request, words)


def _back(request, attendance) -> str:
    if request.POST.get("from") == "booking":
        return reverse("sessions:booking", args=[attendance.booking.public_id])
    return reverse("sessions:today")
