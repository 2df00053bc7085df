"""The studio's apparatus and springs, for the owner."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import accessories
from library.forms.apparatus import KnownUnitForm, SpringForm, UnitForm
from library.models import ApparatusUnit, StudioSpring
from studio.access import opens
from studio.actions import audit
from studio.actions.rows import save_row
from studio.models import Room
from studio.roles import OWNER
from studio.views.rows import edit

audit.register("unit.saved", "spring.saved")

BACK = {"back_name": gettext_lazy("Apparatus and springs")}


@opens(OWNER)
def apparatus(request):
    units = ApparatusUnit.objects.seen_by(request.user).select_related("room")
    context = {
        "units": [
            {
                "row": unit,
                "parts": accessories.words(unit.accessories),
                "may_have": bool(accessories.of_kind(unit.kind)),
            }
            for unit in units
        ],
        "springs": StudioSpring.objects.seen_by(request.user),
        "at": "studio",
    }
    return render(request, "library/apparatus.html", context)


def _edit(request, form, row, action, title):
    def save(form):
        save_row(actor=request.actor, row=row, values=form.values(), expected=form.expected, action=action)

    return edit(request, form=form, save=save, done=reverse("library:apparatus"), title=title, context=BACK)


def _spring(request, row, title):
    return _edit(request, SpringForm(request.POST or None, instance=row), row, "spring.saved", title)


@opens(OWNER, methods=("GET", "POST"))
def new_unit(request):
    """A new piece; where something may belong to its kind, its own page comes next.

    Every piece stands in a room, so without one the page of a new room comes first.
    """
    if not Room.objects.seen_by(request.user).exists():
        messages.info(request, _("A unit stands in a room: add the room first."))
        return redirect("studio:room_new")
    row = ApparatusUnit()
    form = UnitForm(request.POST or None, instance=row, person=request.user)

    def save(form):
        save_row(actor=request.actor, row=row, values=form.values(), expected=None, action="unit.saved")
        if not accessories.of_kind(row.kind):
            return None
        messages.info(request, _("Saved. Now touch what belongs to it."))
        return redirect("library:unit", row.public_id)

    done = reverse("library:apparatus")
    return edit(request, form=form, save=save, done=done, title=_("New unit"), context=BACK)


@opens(OWNER, methods=("GET", "POST"))
def unit(request, unit):
    row = ApparatusUnit.objects.select_related("room").get_seen(request.user, unit)
    form = KnownUnitForm(request.POST or None, instance=row, person=request.user)
    return _edit(request, form, row, "unit.saved", f"{row.name}, {row.get_kind_display().lower()}")


@opens(OWNER, methods=("GET", "POST"))
def new_spring(request):
    return _spring(request, StudioSpring(), _("New spring"))


@opens(OWNER, methods=("GET", "POST"))
def spring(request, spring):
    row = StudioSpring.objects.get_seen(request.user, spring)
    return _spring(request, row, row.name)
