"""The close of a session: effort, one line for next time, what to bring back and to leave out."""

from django.contrib import messages
from django.db import transaction
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from sessions import own_ways, record_wording
from sessions.actions import own_ways as own_way_actions
from sessions.actions import records as record_actions
from sessions.forms.records import CloseForm
from sessions.models import Entry, OwnWay, Record
from sessions.views.records import closed, incident_line, own_record
from studio import clock, roles
from studio.access import opens
from studio.actions import audit
from studio.models import Stale


@opens(*roles.HEALTH_READERS, methods=("GET", "POST"))
def close(request, attendance):
    """The close: effort, one line for next time, what to bring back and to leave out. All may stay empty."""
    found = own_record(request, attendance)
    noted = _noted(request.user, found)
    form = CloseForm(request.POST or None, instance=found, notes=[_choice(entry) for entry in noted])
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
                ticked = set(form.cleaned_data.get("worked", ()))
                with transaction.atomic():
                    record_actions.close(actor=request.actor, record=found, values=values, expected=expected)
                    chosen = [entry for entry in noted if str(entry.pk) in ticked]
                    full = own_way_actions.worked_in(
                        actor=request.actor, client=found.attendance.client, entries=chosen
                    )
            except record_actions.Shut:
                return closed(request, attendance)
            except Stale as stale:
                context["conflict"] = _close_conflict(form, stale.current)
                status = 409
            else:
                messages.info(request, _("The session is closed."))
                for entry in full:
                    messages.warning(request, _no_room(entry))
                return redirect("sessions:record", attendance=attendance)
    elif not record_actions.is_open(found, clock.now()):
        return closed(request, attendance)
    else:
        audit.write(request.actor, "record.read", found)
    return render(request, "sessions/record_close.html", context, status=status)


def _noted(person, record) -> list[Entry]:
    """Return the entries of a record whose note can be kept as a cue and is not kept yet: two queries."""
    entries = record.entries.seen_by(person).exclude(state=Entry.State.SKIPPED).exclude(note="")
    entries = list(entries.select_related("exercise", "exercise_version"))
    kept = OwnWay.objects.seen_by(person).filter(client=record.attendance.client_id)
    cues = dict(kept.values_list("exercise", "cues"))
    return [
        entry
        for entry in entries
        if own_ways.offered([record_wording.own_note(entry)], cues.get(entry.exercise_id, ()))
    ]


def _choice(entry) -> tuple[str, str]:
    """Return key and words of an entry's note."""
    named = {"name": entry.exercise_version.name, "note": record_wording.own_note(entry)}
    return str(entry.pk), _("%(name)s: %(note)s") % named


def _no_room(entry) -> str:
    words = _("%(name)s has %(n)d cues already, so that note was not kept as one. Take one away on its page.")
    return words % {"name": entry.exercise_version.name, "n": own_ways.MOST_CUES}


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
    return {"who": now.changed_by or _("Somebody"), "when": now.changed_at, "pairs": differing}
