"""An incident: the time is in it already; what happened follows in dated notes."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from sessions import record_wording
from sessions.actions import incidents as actions
from sessions.forms.incidents import IncidentForm
from sessions.models import Incident, Record
from studio.access import opens
from studio.actions import audit
from studio.models import Stale
from studio.roles import INSTRUCTOR, OWNER


@opens(OWNER, INSTRUCTOR, methods=("GET", "POST"))
def incident(request, incident):
    found = _found(request, incident)
    form = IncidentForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        due_on = form.cleaned_data["due_on"]
        actions.write(actor=request.actor, incident=found, words=form.words(), due_on=due_on)
        return redirect("sessions:incident", incident=incident)
    units = actions.units_of(found)
    audit.write(request.actor, "incident.read", found)
    open_record = Record.objects.seen_by(request.user).filter(
        attendance=found.attendance_id, author=request.user, finished_at=None
    )
    context = {
        "incident": found,
        "to_close": found.session_stopped and open_record.exists(),
        "client": found.attendance.client,
        "attendance": found.attendance,
        "sign": record_wording.sign_words(found.sign),
        "action": record_wording.sign_action(found.sign),
        "urgent": record_wording.is_urgent(found.sign),
        "guidance": record_wording.guidance(found.sign),
        "notes": found.notes.select_related("author"),
        "form": form,
        "units": units,
        "booked_ahead": actions.booked_ahead(units),
        "at": "clients",
    }
    return render(request, "sessions/incident.html", context, status=422 if form.errors else 200)


@opens(OWNER, INSTRUCTOR, methods=("POST",))
def out_of_use(request, incident):
    """Take the apparatus of an incident out of use. Only the owner's page of apparatus brings it back."""
    found = _found(request, incident)
    asked = request.POST.get("unit")
    unit = next((one for one in actions.units_of(found) if one.public_id == asked), None)
    if unit is None:
        raise Http404
    try:
        actions.put_out_of_use(actor=request.actor, incident=found, unit=unit)
        messages.info(request, _("%(unit)s is out of use.") % {"unit": unit.name})
    except Stale:
        messages.warning(request, _("Somebody changed it a moment ago. Look once more."))
    return redirect("sessions:incident", incident=incident)


def _found(request, incident):
    rows = Incident.objects.select_related(
        "attendance__client", "attendance__booking__room", "author", "unit", "exercise__current"
    )
    return rows.get_seen(request.user, incident)
