"""The close of a session: effort, one line for next time, what to bring back and to leave out."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from sessions.actions import records as record_actions
from sessions.forms.records import CloseForm
from sessions.models import Record
from sessions.views.records import TEACHERS, closed, incident_line, own_record
from studio import clock
from studio.access import opens
from studio.actions import audit
from studio.models import Stale


@opens(*TEACHERS, methods=("GET", "POST"))
def close(request, attendance):
    """The close: effort, one line for next time, what to bring back and to leave out. All may stay empty."""
    found = own_record(request, attendance)
    form = CloseForm(request.POST or None, instance=found)
    context = {
        "record": found,
        "attendance": found.attendance,
        "client": found.attendance.client,
        "form": form,
        "incidents": _without_words(request, found.attendance),
    }
    status = 200
    if request.method == "POST":
        status = 422
        if form.is_valid():
            try:
                values = {name: form.cleaned_data[name] for name in Record.CLOSE}
                expected = form.cleaned_data["version"]
                record_actions.close(actor=request.actor, record=found, values=values, expected=expected)
            except record_actions.Shut:
                return closed(request, attendance)
            except Stale as stale:
                context["conflict"] = _close_conflict(form, stale.current)
                status = 409
            else:
                messages.info(request, _("The session is closed."))
                return redirect("sessions:record", attendance=attendance)
    elif not record_actions.is_open(found, clock.now()):
        return closed(request, attendance)
    else:
        audit.write(request.actor, "record.read", found)
    return render(request, "sessions/record_close.html", context, status=status)


def _without_words(request, attendance):
    """Return the incidents of a session about which nothing is written yet."""
    incidents = attendance.incidents.seen_by(request.user).filter(notes=None)
    return [incident_line(incident) for incident in incidents.select_related("exercise__current")]


def _close_conflict(form, now) -> dict:
    """Return both texts of the close, where they differ, and let the next save go over the present one."""
    form.data = form.data.copy()
    form.data["version"] = now.version
    pairs = [
        {"label": form.fields[n].label, "theirs": getattr(now, n), "yours": form.cleaned_data[n]}
        for n in Record.CLOSE
    ]
    differing = [pair for pair in pairs if pair["theirs"] != pair["yours"]]
    return {"who": now.changed_by.call_name, "when": now.changed_at, "pairs": differing}
