"""How far the client goes in the exercise on the recording screen: set in its place, with the way back to the row."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _

from library import limit_wording
from sessions.actions import records as record_actions
from sessions.models import Entry, OwnWay
from sessions.views import own_limit, records
from sessions.views.floor import plan_of, typed_values
from sessions.views.standing_in import dress
from sessions.views.stopping import OF_THE_SHEET
from studio import clock, roles
from studio.access import opens
from studio.actions import audit

# What a row of the recording screen has to send so that it counts as typed; without, only the row was asked for.
_TYPED = "id"


@opens(*roles.HEALTH_READERS, methods=("GET", "POST"))
def far(request, attendance):
    """Show and keep how far the client goes; what was typed of the row goes along, and back with it."""
    found = records.own_record(request, attendance)
    if not record_actions.is_open(found, clock.now()):
        return records.closed(request, attendance)
    plan = plan_of(request.user, found.attendance)
    data = request.POST if request.method == "POST" else request.GET
    if not data.get("item"):
        return redirect("sessions:record", attendance=attendance)
    asked = records.asked_row(request, found, plan, data["item"]) if request.method == "POST" else None
    item = asked or records.plan_row(plan, data["item"])
    dress(plan, record_actions.standing(found, request.studio).entries)
    if not item.exercise.current.pose:
        return redirect(_row_url(found, item))
    page = _Page(request, found, plan, item, data)
    if own_limit.is_asked(request.POST):
        return own_limit.answer(request, page.client, item.exercise, shown=page.shown, kept=page.kept)
    audit.write(request.actor, "record.read", found)
    return page.shown(request, page.client, item.exercise)


def _row_url(found, item) -> str:
    return f"{reverse('sessions:record', args=[found.attendance.public_id])}?item={item.public_id}"


class _Page:
    """The part that stands in the place of the recording screen of one row, and the way back to it."""

    def __init__(self, request, found, plan, item, data):
        self.request, self.found, self.plan, self.item = request, found, plan, item
        self.client = found.attendance.client
        self.data = data.copy()
        for name in list(self.data):
            if name in OF_THE_SHEET or own_limit.is_a_field(name):
                del self.data[name]

    def shown(self, request, client, exercise, *, status=200, limit_form=None, limit_conflict=None):
        """Answer with the form; to htmx without the page around it."""
        own = OwnWay.objects.seen_by(request.user).of(client.pk, exercise)
        items = list(self.plan.items.all())
        context = {
            "attendance": self.found.attendance,
            "client": client,
            "item": self.item,
            "exercise": exercise,
            "place": items.index(self.item) + 1,
            "total": len(items),
            "own_url": reverse("sessions:record_far", args=[self.found.attendance.public_id]),
            "limit_target": "#fl",
            "limit_kept": [(name, value) for name in self.data for value in self.data.getlist(name)],
            **own_limit.limit_context(exercise, own, form=limit_form, conflict=limit_conflict),
        }
        name = "sessions/_floor_limit.html" if request.htmx else "sessions/floor_limit.html"
        return render(request, name, context, status=status)

    def kept(self, request, client, exercise, limit_call_back=None):
        """Go back to the row, with what was typed there, and say what was kept."""
        messages.info(request, self._said(exercise))
        if limit_call_back:
            messages.warning(request, limit_call_back["words"])
        plan = plan_of(request.user, self.found.attendance)
        item = records.asked_row(request, self.found, plan, self.item.public_id)
        typed = typed_values(self.data) if _TYPED in self.data else None
        return records.screen(request, self.found, plan, item, typed=typed)

    def _said(self, exercise) -> str:
        rows = Entry.objects.seen_by(self.request.user).exclude(state=Entry.State.SKIPPED)
        entry = rows.filter(plan_item=self.item, exercise=exercise).first()
        if entry is None:
            return _("Kept.")
        was = limit_wording.limits_words(entry.limit) or _("the whole way")
        return _("Kept for the next time. This row was recorded with: %(far)s.") % {"far": was}
