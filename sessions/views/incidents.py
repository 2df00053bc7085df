"""An incident: the time is in it already; what happened follows in dated notes."""

from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from sessions import record_wording
from sessions.actions import records as record_actions
from sessions.forms.records import WordsForm
from sessions.models import Incident, Record
from studio.access import opens
from studio.actions import audit
from studio.roles import INSTRUCTOR, OWNER


@opens(OWNER, INSTRUCTOR, methods=("GET", "POST"))
def incident(request, incident):
    rows = Incident.objects.select_related(
        "attendance__client", "attendance__booking__room", "author", "unit", "exercise__current"
    )
    found = rows.get_seen(request.user, incident)
    form = WordsForm(
        request.POST or None, longest=1000, label=_("What happened, what was done, who was told")
    )
    if request.method == "POST" and form.is_valid():
        record_actions.note_incident(actor=request.actor, incident=found, words=form.cleaned_data["words"])
        return redirect("sessions:incident", incident=incident)
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
        "at": "clients",
    }
    return render(request, "sessions/incident.html", context, status=422 if form.errors else 200)
