"""The recording screen, the stop sheet, the close of a session, and the record afterwards."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from clients.models import Flag
from library import tables
from sessions import wording
from sessions.actions import records as record_actions
from sessions.forms.records import CloseForm, EntryForm, WordsForm
from sessions.models import Attendance, Entry, Felt, PlanItem, Record
from sessions.views.floor import floor, plan_of, springs_for
from sessions.views.timeline import session_shown
from studio import clock
from studio.access import opens
from studio.actions import audit
from studio.models import Stale
from studio.roles import INSTRUCTOR, OWNER

TEACHERS = (OWNER, INSTRUCTOR)


def _attendance(request, public_id) -> Attendance:
    return Attendance.objects.with_booking().get_seen(request.user, public_id)


def _record(request, attendance) -> Record | None:
    rows = Record.objects.seen_by(request.user).filter(attendance=attendance).with_entries()
    return rows.select_related("author", "attendance__booking", "attendance__client").first()


def _own_record(request, public_id) -> Record:
    """Return the record of an attendance that this person may change; 404 while there is none."""
    record = _record(request, _attendance(request, public_id))
    if record is None:
        raise Http404
    if record.author_id != request.user.pk:
        raise PermissionDenied
    return record


def _item(record, plan, public_id) -> PlanItem:
    """Return the row of this plan with that id; a row of another plan is as good as missing."""
    for item in plan.items.all() if plan else ():
        if item.public_id == public_id:
            return item
    raise Http404


@opens(*TEACHERS)
def record(request, attendance):
    """Start, go on, or read: whichever the record is ready for."""
    attendance = _attendance(request, attendance)
    found = _record(request, attendance)
    if found is None:
        return _before(request, attendance)
    audit.write(request.actor, "record.read", found)
    plan = plan_of(request.user, attendance)
    mine = found.author_id == request.user.pk
    writable = mine and record_actions.is_open(found, clock.now())
    if not writable or (found.finished_at and not request.GET.get("item")) or not (plan and plan.items.all()):
        return _shown(request, found, writable)
    if request.GET.get("item"):
        item = _item(found, plan, request.GET["item"])
    else:
        entered = {e.plan_item_id for e in found.entries.all()}
        item = next((row for row in plan.items.all() if row.pk not in entered), None)
        if item is None:
            return redirect("sessions:record_close", attendance=attendance.public_id)
    context = floor(request, found, plan, item)
    context["changed"] = list(record_actions.flags_changed_since(found)[:3])
    context["signs"] = stop_signs()
    return render(request, "sessions/floor.html", context)


def stop_signs() -> list[dict]:
    """Return the signs of the stop sheet, from the screening data."""
    return [{"id": str(n), "text": _(s["text"])} for n, s in enumerate(tables.rule_data()["stop_in_session"])]


def _before(request, attendance):
    """The page before the first entry: the flags as they stand, what to carry over, and Start."""
    day = attendance.booking.wall_day
    flags = list(Flag.objects.seen_by(request.user).active().filter(client=attendance.client))
    proposed = Flag.objects.seen_by(request.user).filter(client=attendance.client).with_state()
    last = (
        Record.objects.seen_by(request.user)
        .filter(attendance__client=attendance.client, finished_at__isnull=False)
        .order_by("-attendance__booking__starts_at")
        .first()
    )
    context = {
        "attendance": attendance,
        "client": attendance.client,
        "flags": flags,
        "glance": wording.glance(flags, day),
        "proposed": proposed.filter(state="proposed").count(),
        "last": last,
        "plan": plan_of(request.user, attendance),
        "at": "today",
    }
    audit.write(request.actor, "flags.read", attendance.client)
    return render(request, "sessions/record_start.html", context)


@opens(*TEACHERS, methods=("POST",))
def start(request, attendance):
    attendance = _attendance(request, attendance)
    flags = Flag.objects.seen_by(request.user).active().filter(client=attendance.client)
    seen = request.POST.get("flags_seen") == "yes"
    if flags.exists() and not seen:
        messages.warning(request, _("Tick that you have seen the flags, then start."))
    else:
        record_actions.start(actor=request.actor, attendance=attendance, flags_seen=seen)
    return redirect("sessions:record", attendance=attendance.public_id)


@opens(*TEACHERS, methods=("POST",))
def flags_seen(request, attendance):
    """Acknowledge flags that changed while the session runs."""
    record_actions.see_flags(actor=request.actor, record=_own_record(request, attendance))
    return redirect("sessions:record", attendance=attendance)


@opens(*TEACHERS, methods=("POST",))
def entry(request, attendance):
    """Save one entry: as planned, with what differed, or skipped; then on to the next."""
    found = _own_record(request, attendance)
    plan = plan_of(request.user, found.attendance)
    item = _item(found, plan, request.POST.get("item", ""))
    form = EntryForm(request.POST, item=item, springs=springs_for(item))
    if not form.is_valid():
        return _not_saved(request, found, plan, item, form)
    done = form.done()
    do = request.POST.get("do", "save")
    if do == "as_planned":
        done = record_actions.as_planned(item, done.id)
    elif do == "skip":
        done = record_actions.Done(id=done.id, state=Entry.State.SKIPPED, note=done.note)
    try:
        record_actions.save_entry(actor=request.actor, record=found, item=item, done=done)
    except record_actions.SignsUnanswered as sign:
        return _ask_to_stop(request, found, item, sign.sign, sign.side)
    except record_actions.Shut:
        messages.warning(request, _("This record is closed. Add a dated line instead."))
    return redirect("sessions:record", attendance=attendance)


def _not_saved(request, found, plan, item, form):
    """Show the screen again with what was typed and a sentence at each field."""
    typed = {name: request.POST.get(name, "") for name in request.POST if not name.startswith("felt_")}
    typed["springs"] = request.POST.getlist("springs")
    typed["felt"] = {name.removeprefix("felt_") for name in request.POST if name.startswith("felt_")}
    errors = {name: " ".join(texts) for name, texts in form.errors.items()}
    context = floor(request, found, plan, item, typed=typed, errors=errors)
    context["signs"] = stop_signs()
    return render(request, "sessions/floor.html", context, status=422)


def _ask_to_stop(request, found, item, sign, side):
    """A stop sign was ticked: the sheet comes before anything is saved, with all that was typed kept."""
    kept = [(name, value) for name in request.POST for value in request.POST.getlist(name)]
    context = {
        "record": found,
        "attendance": found.attendance,
        "client": found.attendance.client,
        "item": item,
        "sign": sign,
        "side": side,
        "word": Felt(sign).label if sign in Felt.values else "",
        "kept": [pair for pair in kept if pair[0] not in ("csrfmiddlewaretoken", "do")],
        "time": clock.now(),
        "signs": stop_signs(),
    }
    return render(request, "sessions/stop.html", context, status=200 if request.method == "GET" else 422)


@opens(*TEACHERS, methods=("POST",))
def undo(request, attendance):
    """Take back the last touch and go to the row it was about."""
    found = _own_record(request, attendance)
    try:
        item = record_actions.undo(actor=request.actor, record=found)
    except record_actions.Shut:
        item = None
    if item is None:
        messages.info(request, _("There is nothing to take back."))
        return redirect("sessions:record", attendance=attendance)
    return redirect(f"{request.path.removesuffix('undo/')}?item={item.public_id}")


@opens(*TEACHERS, methods=("GET", "POST"))
def stop(request, attendance):
    """The stop sheet as a page, and what it answers. There is no way to note a sign and go on."""
    found = _own_record(request, attendance)
    plan = plan_of(request.user, found.attendance)
    wanted = request.POST.get("item") or request.GET.get("item", "")
    item = _item(found, plan, wanted) if wanted else None
    if request.method == "GET":
        return _ask_to_stop(request, found, item, "", "")
    do = request.POST.get("do")
    sign, side = request.POST.get("sign", ""), request.POST.get("side", "")
    if do in ("lighter_spring", "smaller_range") and sign == Felt.PAIN:
        return _eased(request, found, item, do)
    if do not in ("stop_exercise", "stop_session"):
        raise Http404
    session = do == "stop_session"
    incident = record_actions.stop(
        actor=request.actor,
        attendance=found.attendance,
        sign=_sign_words(sign),
        side=side if side in ("left", "right", "both") else "",
        item=item,
        session=session,
    )
    if item:
        _save_stopped(request, found, item)
    if session:
        return redirect("sessions:incident", incident=incident.public_id)
    messages.warning(request, _("Stopped. The time is kept: add what happened when there is a moment."))
    return redirect("sessions:record", attendance=attendance)


def _sign_words(sign: str) -> str:
    """Return the sign in the words of the sheet, cut to what the row holds."""
    if sign in Felt.values:
        return str(Felt(sign).label)
    return next((s["text"] for s in stop_signs() if s["id"] == sign), "")[:60]


def _save_stopped(request, found, item) -> None:
    """Keep what had been typed of the exercise that was stopped."""
    form = EntryForm(request.POST, item=item, springs=springs_for(item))
    if not form.is_valid():
        return
    done = form.done()
    if not done.sides:
        done = record_actions.Done(id=done.id, state=Entry.State.SKIPPED, note=done.note or _("stopped"))
    try:
        record_actions.save_entry(actor=request.actor, record=found, item=item, done=done, answered="stop")
    except record_actions.Shut:
        messages.warning(request, _("The record was closed before: the incident is kept."))


def _eased(request, found, item, do):
    """Plain muscle discomfort: kept with the entry, and the row stays open with lighter or smaller."""
    form = EntryForm(request.POST, item=item, springs=springs_for(item)) if item else None
    if form is None or not form.is_valid():
        return redirect("sessions:record", attendance=found.attendance.public_id)
    words = _("Eased: lighter spring") if do == "lighter_spring" else _("Eased: smaller range")
    done = form.done()
    note = f"{done.note}; {words}" if done.note else words
    done = record_actions.Done(done.id, done.state, done.sides, done.setting, note[:240])
    record_actions.save_entry(actor=request.actor, record=found, item=item, done=done, answered=do)
    messages.info(request, _("Kept with the entry. Change the spring or the range, then save."))
    address = request.path.removesuffix("stop/")
    return redirect(f"{address}?item={item.public_id}")


@opens(*TEACHERS, methods=("GET", "POST"))
def close(request, attendance):
    """The close: effort, one line for next time, what to bring back and to leave out. All may stay empty."""
    found = _own_record(request, attendance)
    form = CloseForm(request.POST or None, instance=found)
    context = {
        "record": found,
        "attendance": found.attendance,
        "client": found.attendance.client,
        "form": form,
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
                messages.warning(request, _("This record is closed. Add a dated line instead."))
                return redirect("sessions:record", attendance=attendance)
            except Stale as stale:
                context["conflict"] = _close_conflict(form, stale.current)
                status = 409
            else:
                messages.info(request, _("The session is closed."))
                return redirect("sessions:record", attendance=attendance)
    return render(request, "sessions/record_close.html", context, status=status)


def _close_conflict(form, now) -> dict:
    """Return both texts of the close, where they differ, and let the next save go over the present one."""
    form.data = form.data.copy()
    form.data["version"] = now.version
    pairs = [
        {"label": form.fields[n].label, "theirs": getattr(now, n), "yours": form.cleaned_data[n]}
        for n in Record.CLOSE
    ]
    differing = [pair for pair in pairs if pair["theirs"] != pair["yours"]]
    return {"who": now.changed_by, "when": now.changed_at, "pairs": differing, "version": None}


def _shown(request, found, writable, words_form=None, status=200):
    context = {
        "record": found,
        "attendance": found.attendance,
        "client": found.attendance.client,
        "session": session_shown(found),
        "writable": writable,
        "incidents": found.attendance.incidents.seen_by(request.user).select_related("exercise__current"),
        "additions": found.additions.select_related("author"),
        "form": words_form or WordsForm(longest=600, label=_("A line to add")),
        "at": "clients",
    }
    return render(request, "sessions/record.html", context, status=status)


@opens(*TEACHERS, methods=("POST",))
def sign_off(request, attendance):
    try:
        record_actions.sign_off(actor=request.actor, record=_own_record(request, attendance))
    except record_actions.Shut:
        messages.info(request, _("It was signed off or a day old already."))
    return redirect("sessions:record", attendance=attendance)


@opens(*TEACHERS, methods=("POST",))
def addition(request, attendance):
    """Add a dated line: the way to add to somebody else's record, and to one that is closed."""
    found = _record(request, _attendance(request, attendance))
    if found is None:
        raise Http404
    form = WordsForm(request.POST, longest=600, label=_("A line to add"))
    if not form.is_valid():
        return _shown(request, found, False, form, 422)
    record_actions.add(actor=request.actor, record=found, words=form.cleaned_data["words"])
    return redirect("sessions:record", attendance=attendance)
