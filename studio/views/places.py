"""The owner's page about the studio: settings, rooms, hours, and who works here."""

from collections import Counter

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.dates import WEEKDAYS
from django.utils.translation import gettext as _

from studio import clock
from studio.access import opens
from studio.actions import network
from studio.actions.codes import open_code
from studio.actions.hours import set_hours
from studio.actions.reauth import asks_again
from studio.actions.rows import save_row
from studio.forms.places import HoursForm, RoomForm, StudioForm
from studio.models import (
    Absence,
    ClosedDay,
    OneTimeCode,
    OpeningHour,
    Room,
    Staff,
    Stale,
    StudioText,
)
from studio.roles import OWNER
from studio.views.rows import edit

MOST_COMING = 6


@opens(OWNER)
def studio(request):
    hours: dict[int, list] = {}
    for hour in OpeningHour.objects.all():
        hours.setdefault(hour.weekday, []).append(hour)
    today = clock.today(request.studio.zone)
    texts = {text.kind: text for text in reversed(StudioText.objects.seen_by(request.user))}
    context = {
        "hours": [{"name": name, "stretches": hours.get(day, [])} for day, name in WEEKDAYS.items()],
        "rooms": Room.objects.seen_by(request.user),
        "staff": Staff.objects.seen_by(request.user),
        "closed": ClosedDay.objects.seen_by(request.user).filter(day__gte=today)[:MOST_COMING],
        "away": Absence.objects.seen_by(request.user)
        .filter(last_day__gte=today)
        .select_related("staff")[:MOST_COMING],
        "texts": [{"kind": kind, "text": texts.get(kind)} for kind in StudioText.Kind],
        "install_again": network.install_again(),
        "recovery": open_code(request.user, OneTimeCode.Kind.RECOVERY),
        "at": "studio",
    }
    return render(request, "studio/studio.html", context)


@opens(OWNER, methods=("GET", "POST"))
@asks_again()
def settings(request):
    form = StudioForm(request.POST or None, instance=request.studio)

    def save(form):
        values, expected = form.values(), form.expected
        save_row(
            actor=request.actor, row=request.studio, values=values, expected=expected, action="studio.changed"
        )

    return edit(request, form=form, save=save, done=reverse("studio:studio"), title=_("Settings"))


@opens(OWNER, methods=("GET", "POST"))
def hours(request):
    initial = {"version": request.studio.version}
    count: Counter[int] = Counter()
    for hour in OpeningHour.objects.all():
        count[hour.weekday] += 1
        for part in ("opens", "closes"):
            name = HoursForm.name(part, hour.weekday, count[hour.weekday])
            initial[name] = getattr(hour, part)
    form = HoursForm(request.POST or None, initial=initial)
    page = {"form": form, "title": _("Opening hours"), "back": reverse("studio:studio"), "at": "studio"}
    if request.method == "POST" and form.is_valid():
        try:
            expected = form.cleaned_data["version"]
            set_hours(
                actor=request.actor, studio=request.studio, stretches=form.stretches(), expected=expected
            )
        except Stale as stale:
            # What was typed stays; the next save goes over what stands now.
            form.data = form.data.copy()
            form.data["version"] = stale.current.version
            form.add_error(
                None, _("Somebody changed the studio a moment ago. Look once more, then save again.")
            )
            return render(request, "studio/hours.html", page, status=409)
        messages.info(request, _("Saved."))
        return redirect("studio:studio")
    return render(request, "studio/hours.html", page, status=422 if form.errors else 200)


def _room(request, room, title):
    form = RoomForm(request.POST or None, instance=room)

    def save(form):
        values, expected = form.values(), form.expected
        save_row(actor=request.actor, row=room, values=values, expected=expected, action="room.saved")

    return edit(request, form=form, save=save, done=reverse("studio:studio"), title=title)


@opens(OWNER, methods=("GET", "POST"))
def new_room(request):
    return _room(request, Room(), _("New room"))


@opens(OWNER, methods=("GET", "POST"))
def room(request, room):
    room = Room.objects.get_seen(request.user, room)
    return _room(request, room, room.name)
