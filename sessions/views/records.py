"""A session from its start to its last addition: the recording screen, the close, the record afterwards."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.dateparse import parse_datetime
from django.utils.translation import gettext as _
from django_htmx.http import replace_url, trigger_client_event

from clients import glance
from clients.models import Flag
from library.models import table_in_force
from sessions import judging, record_wording, recording, wording
from sessions.actions import records as record_actions
from sessions.forms.records import EntryForm, WordsForm
from sessions.models import Attendance, Incident, PlanItem, Record
from sessions.views import standing_in, stopping
from sessions.views.floor import fitting, floor, following, newest_changes, plan_of, springs_for, typed_values
from sessions.views.timeline import session_shown
from studio import clock, roles
from studio.access import background, opens
from studio.actions import audit


def _attendance(request, public_id) -> Attendance:
    return Attendance.objects.with_booking().get_seen(request.user, public_id)


def _records(request):
    rows = Record.objects.seen_by(request.user)
    return rows.select_related("author", "attendance__booking", "attendance__client")


def _record(request, attendance, *, entries=True) -> Record | None:
    rows = _records(request).filter(attendance=attendance)
    return (rows.with_entries() if entries else rows).first()


def own_record(request, public_id) -> Record:
    """Return the record of an attendance that this person may change; 404 while there is none.

    One query, without the entries: every touch of the recording screen comes through here.
    """
    record = _records(request).filter(attendance__public_id=public_id).first()
    if record is None:
        raise Http404
    if record.author_id != request.user.pk:
        raise PermissionDenied(
            _("%(who)s recorded this session and alone may change it. Add a dated line to it instead.")
            % {"who": record.author.call_name}
        )
    return record


def plan_row(plan, public_id) -> PlanItem:
    """Return the row of this plan with that id; a row of another plan is as good as missing."""
    for item in plan.items.all() if plan else ():
        if item.public_id == public_id:
            return item
    raise Http404


def asked_row(request, found, plan, public_id) -> PlanItem:
    """Return the row a request is about, standing for the exercise it names as `instead`, if any.

    What is skipped is always the planned one. Raises standing_in.NotAmongThem.
    """
    item = plan_row(plan, public_id)
    data = request.POST if request.method == "POST" else request.GET
    item.is_said = request.method == "POST" or "instead" in data
    if data.get("instead") and data.get("do") != "skip":
        standing_in.stand_in(request, plan, item, record_actions.standing(found, request.studio))
    return item


def closed(request, attendance):
    messages.warning(request, _("This record is closed to changes. Add a dated line instead."))
    return redirect("sessions:record", attendance=attendance)


@opens(*roles.HEALTH_READERS)
def record(request, attendance):
    """Start, go on, or read: whichever the record is ready for."""
    attendance = _attendance(request, attendance)
    found = _record(request, attendance, entries=False)
    if found is None:
        return _before(request, attendance)
    audit.write(request.actor, "record.read", found)
    plan = plan_of(request.user, attendance)
    rows = list(plan.items.all()) if plan else []
    writable = found.author_id == request.user.pk and record_actions.is_open(found, clock.now())
    if writable and rows and request.GET.get("item"):
        return _one_row(request, found, plan)
    incidents = attendance.incidents.seen_by(request.user)
    if not writable or found.finished_at or not rows or incidents.filter(session_stopped=True).exists():
        return _shown(request, _record(request, attendance), writable)
    at = record_actions.standing(found, request.studio)
    item = next((row for row in rows if row.pk not in at.by_row), None)
    if item is None:
        return redirect("sessions:record_close", attendance=attendance.public_id)
    return screen(request, found, plan, item, at=at)


def _one_row(request, found, plan):
    """The recording screen at the row that is asked for, with another exercise in it if one was touched."""
    try:
        item = asked_row(request, found, plan, request.GET["item"])
    except standing_in.NotAmongThem:
        messages.warning(request, _("That one is no longer among them: flags have changed. Look again."))
        address = reverse("sessions:record_instead", args=[found.attendance.public_id])
        return redirect(f"{address}?item={request.GET['item']}")
    return screen(request, found, plan, item)


def screen(request, found, plan, item, *, at=None, typed=None, errors=None, status=200):
    """Show the recording screen at one row; to htmx only its form. at: what the record stands on."""
    at = at or record_actions.standing(found, request.studio)
    context = floor(request, found, plan, item, at=at, typed=typed, errors=errors)
    page = "sessions/_floor.html" if request.htmx else "sessions/floor.html"
    return render(request, page, context, status=status)


def _active_flags(request, client) -> list[Flag]:
    return list(Flag.objects.seen_by(request.user).active().filter(client=client))


def _before(request, attendance, error="", status=200):
    """The page before the first entry: the flags as they stand, what to carry over, and Start."""
    day = attendance.booking.wall_day
    flags = _active_flags(request, attendance.client)
    proposed = Flag.objects.seen_by(request.user).filter(client=attendance.client).with_state()
    last = (
        Record.objects.seen_by(request.user)
        .filter(attendance__client=attendance.client, finished_at__isnull=False)
        .filter(attendance__booking__starts_at__lt=attendance.booking.starts_at)
        .order_by("-attendance__booking__starts_at")
        .first()
    )
    plan, table = plan_of(request.user, attendance), table_in_force()
    request.rule_table = table
    context = {
        "attendance": attendance,
        "client": attendance.client,
        "flags": flags,
        "flags_mark": recording.flags_mark(flags),
        "cares": glance.care(flags, day, table=table),
        "proposed": proposed.filter(state="proposed").count(),
        "last": last,
        "stopped": _stopped_in(request, last),
        "rows": [_planned_row(flags, *placed, day, table) for placed in plan.placed(request.studio)]
        if plan
        else [],
        "error": error,
        "at": "today",
    }
    audit.write(request.actor, "flags.read", attendance.client)
    return render(request, "sessions/record_start.html", context, status=status)


def _stopped_in(request, last) -> list[dict]:
    """Return what was stopped in the session before, for whoever starts the next one."""
    if last is None:
        return []
    incidents = Incident.objects.seen_by(request.user).filter(attendance=last.attendance_id)
    return [incident_line(incident) for incident in incidents.select_related("exercise__current")]


def _planned_row(flags, item, row, place, day, table) -> dict:
    verdict = judging.judged(flags, row, place, day, table=table)
    return {"item": item, "dose": wording.dose(item), "sheet": wording.sheet(verdict)}


@opens(*roles.HEALTH_READERS, methods=("POST",))
def start(request, attendance):
    """Start, once the flags as they stand now are acknowledged."""
    attendance = _attendance(request, attendance)
    flags = _active_flags(request, attendance.client)
    seen = request.POST.get("flags_seen") == "yes"
    if flags and request.POST.get("flags_mark") != recording.flags_mark(flags):
        error = _("The flags changed after this page was opened. Read them as they stand now, then tick.")
        return _before(request, attendance, error, 422)
    if flags and not seen:
        return _before(request, attendance, _("Tick that you have seen the flags, then start."), 422)
    try:
        record_actions.start(actor=request.actor, attendance=attendance, flags_seen=seen)
    except record_actions.CannotStart as refused:
        return _before(request, attendance, record_wording.refused_start(refused.reason), 422)
    return redirect("sessions:record", attendance=attendance.public_id)


@background
@opens(*roles.HEALTH_READERS)
def flags_changed(request, attendance):
    """Asked every half minute by the open screen: the notice that flags changed, or nothing."""
    found = own_record(request, attendance)
    changed = newest_changes(found)
    if not changed:
        return HttpResponse(status=204)
    audit.write(request.actor, "flags.read", found.attendance.client)
    context = {"attendance": found.attendance, "client": found.attendance.client, "changed": changed}
    return render(request, "sessions/_floor_flags.html", context)


@opens(*roles.HEALTH_READERS, methods=("POST",))
def flags_seen(request, attendance):
    """Acknowledge flags that changed while the session runs; what was typed stays on the screen."""
    found = own_record(request, attendance)
    plan = plan_of(request.user, found.attendance)
    try:
        shown_until = parse_datetime(request.POST.get("shown_until", ""))
    except ValueError:
        shown_until = None
    try:
        record_actions.see_flags(actor=request.actor, record=found, shown_until=shown_until)
    except record_actions.FlagsMoved:
        messages.warning(request, _("They changed once more. Look at them as they stand now."))
    except record_actions.Shut:
        return closed(request, attendance)
    if not request.POST.get("item"):
        return redirect("sessions:record", attendance=attendance)
    item = asked_row(request, found, plan, request.POST["item"])
    return screen(request, found, plan, item, typed=typed_values(request.POST))


@opens(*roles.HEALTH_READERS, methods=("POST",))
def entry(request, attendance):
    """Save one entry: as planned, with what differed, or skipped; then on to the next."""
    found = own_record(request, attendance)
    plan = plan_of(request.user, found.attendance)
    item = asked_row(request, found, plan, request.POST.get("item", ""))
    do = request.POST.get("do", "save")
    if do == "back":
        return screen(request, found, plan, item, typed=stopping.without_signs(typed_values(request.POST)))
    if do == "judge":
        return screen(request, found, plan, item, typed=typed_values(request.POST))
    if do == "down":
        return _lies_down(request, found, plan, item)
    springs = springs_for(request.user, *plan.items.all())
    form = EntryForm(request.POST, item=item, springs=fitting(springs, item))
    if not form.is_valid():
        errors = {name: " ".join(texts) for name, texts in form.errors.items()}
        typed = typed_values(request.POST)
        return screen(request, found, plan, item, typed=typed, errors=errors, status=422)
    try:
        at, after = _save(request, found, plan, item, _as_asked(do, item, form.done()))
    except record_actions.SignsUnanswered as sign:
        return stopping.ask(request, found, item, sign.sign, sign.side, status=422)
    except record_actions.Shut:
        return closed(request, attendance)
    if found.finished_at:
        return redirect("sessions:record", attendance=attendance)
    if after is None:
        return redirect("sessions:record_close", attendance=attendance)
    items = list(plan.items.all())
    place = {"name": after.content.name, "n": items.index(after) + 1, "total": len(items)}
    words = _("Saved. Now %(name)s, %(n)d of %(total)d.") % place
    return _onward(request, found, plan, after, at=at, springs=springs, words=words)


def _lies_down(request, found, plan, item):
    """Begin the clock of the time on the back anew; what was typed stays on the screen."""
    try:
        record_actions.lies_down(actor=request.actor, record=found)
    except record_actions.Shut:
        return closed(request, found.attendance.public_id)
    return screen(request, found, plan, item, typed=typed_values(request.POST))


def _save(request, found, plan, item, done):
    """Save an entry; return what the record stands on now, and the row after it (None at the end).

    Saving and reading the next row are one transaction: two lines in the log, one wait for the disk.
    """
    with transaction.atomic():
        at = record_actions.standing(found, request.studio)
        standing_in.dress(plan, at.entries)
        record_actions.save_entry(actor=request.actor, record=found, item=item, done=done, at=at)
        after = None if found.finished_at else following(list(plan.items.all()), item, at.by_row)
        if after and request.htmx:
            audit.write(request.actor, "record.read", found)
    return at, after


def _as_asked(do: str, item, done) -> recording.Done:
    if do == "as_planned":
        return recording.as_planned(item, done.id, done)
    if do == "skip":
        return recording.skipped(done)
    return recording.settled(item, done)


def _onward(request, found, plan, item, *, at=None, springs=None, words=""):
    """Go to a row; to htmx as the form alone, with the focus on its name. words: what is said aloud there.

    Who calls has written down that the record is read.
    """
    address = reverse("sessions:record", args=[found.attendance.public_id])
    address = f"{address}?item={item.public_id}"
    if not request.htmx:
        return redirect(address)
    at = at or record_actions.standing(found, request.studio)
    context = {**floor(request, found, plan, item, at=at, springs=springs), "swapped": True}
    response = replace_url(render(request, "sessions/_floor.html", context), address)
    return trigger_client_event(response, "announce", {"text": words}) if words else response


@opens(*roles.HEALTH_READERS, methods=("POST",))
def undo(request, attendance):
    """Take back the last touch and go to the row it was about."""
    found = own_record(request, attendance)
    plan = plan_of(request.user, found.attendance)
    try:
        with transaction.atomic():
            taken = record_actions.undo(actor=request.actor, record=found)
            if taken and taken.plan_item and request.htmx:
                audit.write(request.actor, "record.read", found)
    except record_actions.Shut:
        return closed(request, attendance)
    if taken is None:
        messages.info(request, _("There is nothing to take back."))
    if taken is None or taken.plan_item is None:
        return redirect("sessions:record", attendance=attendance)
    messages.info(request, _("Taken back: %(name)s.") % {"name": taken.exercise_version.name})
    return _onward(request, found, plan, plan_row(plan, taken.plan_item.public_id))


@opens(*roles.HEALTH_READERS, methods=("GET", "POST"))
def stop(request, attendance):
    """The stop sheet as a page, and what it answers. There is no way to note a sign and go on."""
    found = own_record(request, attendance)
    plan = plan_of(request.user, found.attendance)
    wanted = request.POST.get("item") or request.GET.get("item", "")
    item = asked_row(request, found, plan, wanted) if wanted else None
    if request.method == "GET" or request.POST.get("do") == "ask":
        return stopping.ask(request, found, item)
    return stopping.answer(request, found, item)


def incident_line(incident) -> dict:
    return {"incident": incident, "sign": record_wording.sign_words(incident.sign)}


def _shown(request, found, writable, words_form=None, status=200):
    """The record as it stands: what was done, what was stopped, and the way to add to it."""
    incidents = found.attendance.incidents.seen_by(request.user).select_related("exercise__current")
    context = {
        "record": found,
        "attendance": found.attendance,
        "client": found.attendance.client,
        "session": session_shown(found),
        "writable": writable,
        "mine": found.author_id == request.user.pk,
        "incidents": [incident_line(incident) for incident in incidents],
        "form": words_form or WordsForm(longest=600, label=_("A line to add")),
        "at": "clients",
    }
    return render(request, "sessions/record.html", context, status=status)


@opens(*roles.HEALTH_READERS, methods=("POST",))
def sign_off(request, attendance):
    try:
        record_actions.sign_off(actor=request.actor, record=own_record(request, attendance))
    except record_actions.Shut:
        messages.info(request, _("It was signed off or a day old already."))
    return redirect("sessions:record", attendance=attendance)


@opens(*roles.HEALTH_READERS, methods=("POST",))
def addition(request, attendance):
    """Add a dated line: the way to add to somebody else's record, and to one that is closed."""
    found = _record(request, _attendance(request, attendance))
    if found is None:
        raise Http404
    form = WordsForm(request.POST, longest=600, label=_("A line to add"))
    if not form.is_valid():
        writable = found.author_id == request.user.pk and record_actions.is_open(found, clock.now())
        return _shown(request, found, writable, form, 422)
    record_actions.add(actor=request.actor, record=found, words=form.cleaned_data["words"])
    return redirect("sessions:record", attendance=attendance)
