"""Another exercise in the place of the one on the recording screen: two touches, and the plan stays as it was."""

from django.shortcuts import redirect, render

from sessions import recording
from sessions.actions import records as record_actions
from sessions.views import instead as shown
from sessions.views import records
from sessions.views.floor import plan_of, typed_values
from sessions.views.standing_in import dress, instead_of
from sessions.views.stopping import OF_THE_SHEET, ask
from studio import clock, roles
from studio.access import opens
from studio.actions import audit


@opens(*roles.HEALTH_READERS, methods=("GET", "POST"))
def instead(request, attendance):
    """What to do instead of a row; what was typed of it goes along, for whoever comes back."""
    found = records.own_record(request, attendance)
    if not record_actions.is_open(found, clock.now()):
        return records.closed(request, attendance)
    plan = plan_of(request.user, found.attendance)
    data = request.POST if request.method == "POST" else request.GET
    at = record_actions.standing(found, request.studio)
    item = _row(plan, data, at)
    if item is None:
        return redirect("sessions:record", attendance=attendance)
    item.is_said = True
    dress(plan, at.entries)
    sign = _unanswered(request.POST, at.by_row.get(item.pk))
    if sign:
        return ask(request, found, item, *sign, status=422)
    instead = instead_of(request, plan, item, at)
    kept = [(name, value) for name in data for value in data.getlist(name)]
    items = list(plan.items.all())
    context = {
        "attendance": found.attendance,
        "client": found.attendance.client,
        "item": item,
        "place": items.index(item) + 1,
        "total": len(items),
        **shown.listed(shown.rows(instead)),
        # What was typed goes along, and back when it was touched by mistake.
        "kept": [pair for pair in kept if pair[0] not in OF_THE_SHEET],
    }
    audit.write(request.actor, "record.read", found)
    page = "sessions/_floor_instead.html" if request.htmx else "sessions/floor_instead.html"
    return render(request, page, context)


def _row(plan, data, at):
    """Return the row that is asked for, else the first that is not put down yet; None where none is left."""
    if data.get("item"):
        return records.plan_row(plan, data["item"])
    rows = plan.items.all() if plan else ()
    return next((row for row in rows if row.pk not in at.by_row), None)


def _unanswered(data, entry) -> tuple[str, str] | None:
    """Return the gravest stop sign that was ticked and is not on file, with its side: it comes before a swap."""
    ticked = (name.rpartition("_") for name in typed_values(data)["felt"])
    signs = recording.signs_of((side, (sign,)) for sign, _line, side in ticked)
    on_file = recording.signs_of((side.side, side.felt) for side in entry.sides.all()) if entry else set()
    return recording.gravest(signs - on_file)
