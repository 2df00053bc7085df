"""Closed days and absences, with what is booked then. Nothing is cancelled here: people move the bookings."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sessions.models import Booking
from studio import clock
from studio.access import opens
from studio.actions import away as away_actions
from studio.forms.away import AbsenceAsItStands, AbsenceForm, ClosedForm, DayForm, notes_for_all
from studio.models import Absence, ClosedDay
from studio.roles import OWNER


def _page(request, *, closed=None, absence=None, status=200):
    today = clock.today(request.studio.zone)
    days = list(ClosedDay.objects.seen_by(request.user).filter(day__gte=today).order_by("day"))
    absences = Absence.objects.seen_by(request.user).filter(last_day__gte=today).select_related("staff")
    absences = list(absences.order_by("first_day", "staff__full_name"))
    ends = [row.day for row in days] + [row.last_day for row in absences]
    booked = _booked(request, today, max(ends)) if ends else []
    me = request.user
    context = {
        "closed": [{"row": row, "booked": [b for b in booked if b.wall_day == row.day]} for row in days],
        "absences": [
            {
                "row": row,
                "mine": notes_for_all(me) or row.staff_id == me.pk,
                "booked": [
                    b
                    for b in booked
                    if b.instructor_id == row.staff_id and row.first_day <= b.wall_day <= row.last_day
                ],
            }
            for row in absences
        ],
        "closed_form": (closed or ClosedForm(today=today)) if me.is_owner else None,
        "absence_form": absence or AbsenceForm(today=today, person=me),
        "may_note": notes_for_all(me) or me.is_instructor,
        "at": "bookings",
    }
    return render(request, "sessions/away.html", context, status=status)


def _booked(request, first, last) -> list[Booking]:
    """Return the bookings that hold their time from first to last, with everything a row shows."""
    rows = Booking.objects.seen_by(request.user).holding().filter(wall_day__range=(first, last))
    return list(rows.with_people())


def _saved(request, first, last, instructor=None) -> None:
    """Say that it is noted, and how many bookings stand in the way."""
    rows = Booking.objects.seen_by(request.user).holding().filter(wall_day__range=(first, last))
    count = rows.filter(instructor=instructor).count() if instructor else rows.count()
    if count:
        words = ngettext(
            "Noted. %(n)d booking stands in that time: move it or call the client.",
            "Noted. %(n)d bookings stand in that time: move them or call the clients.",
            count,
        )
        messages.warning(request, words % {"n": count})
    else:
        messages.info(request, _("Noted. Nothing is booked in that time."))


@opens()
def away(request):
    return _page(request)


@opens(OWNER, methods=("POST",))
def close(request):
    form = ClosedForm(request.POST, today=clock.today(request.studio.zone))
    if not form.is_valid():
        return _page(request, closed=form, status=422)
    away_actions.add_closed_days(actor=request.actor, **form.cleaned_data)
    _saved(request, form.cleaned_data["first"], form.cleaned_data["last"])
    return redirect("sessions:away")


@opens(OWNER, methods=("POST",))
def reopen(request):
    form = DayForm(request.POST)
    if form.is_valid():
        away_actions.remove_closed_day(actor=request.actor, day=form.cleaned_data["day"])
        messages.info(request, _("That day is open again."))
    return redirect("sessions:away")


@opens(methods=("POST",))
def leave(request):
    form = AbsenceForm(request.POST, today=clock.today(request.studio.zone), person=request.user)
    if not form.is_valid():
        return _page(request, absence=form, status=422)
    data = form.cleaned_data
    away_actions.add_absence(
        actor=request.actor, person=data["staff"], first=data["first"], last=data["last"]
    )
    _saved(request, data["first"], data["last"], data["staff"])
    return redirect("sessions:away")


@opens(methods=("POST",))
def come_back(request):
    form = AbsenceAsItStands(request.POST, today=clock.today(request.studio.zone), person=request.user)
    if form.is_valid():
        data = form.cleaned_data
        away_actions.remove_absence(
            actor=request.actor, person=data["staff"], first=data["first"], last=data["last"]
        )
        messages.info(request, _("The absence is taken away."))
    return redirect("sessions:away")
