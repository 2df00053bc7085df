"""The stop sheet: opened by Stop or by a felt sign, answered by stopping. Nothing notes a sign and goes on."""

from django.contrib import messages
from django.db import transaction
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from sessions import record_wording, recording, stopping
from sessions.actions import records as record_actions
from sessions.forms.records import EntryForm
from sessions.models import Felt
from sessions.views.floor import springs_for
from sessions.views.standing_in import dress
from studio import clock

SIDES = ("left", "right", "both")
# Fields of the sheet itself: not part of what was typed of the exercise.
OF_THE_SHEET = ("csrfmiddlewaretoken", "do", "sign", "side", "time")


def ask(request, found, item, sign="", side="", status=200):
    """Show the stop sheet as a page, with everything that was typed carried along."""
    kept = [(name, value) for name in request.POST for value in request.POST.getlist(name)]
    context = {
        "record": found,
        "attendance": found.attendance,
        "client": found.attendance.client,
        "item": item,
        "sign": sign,
        "side": side,
        "word": record_wording.sign_words(sign) if sign else "",
        # What was typed goes along to whatever is answered, and back when it was touched by mistake.
        "kept": [pair for pair in kept if pair[0] not in OF_THE_SHEET],
        "time": clock.now(),
        "signs": record_wording.stop_signs(),
    }
    response = render(request, "sessions/stop.html", context, status=status)
    if request.htmx:
        # The page takes the place of the screen: nothing of it may stay in reach below.
        response["HX-Retarget"], response["HX-Reswap"] = "body", "innerHTML"
    return response


def without_signs(typed: dict) -> dict:
    """Return what was typed with the stop signs taken back: they were touched by mistake."""
    signs = {f"{sign}_{side}" for sign in recording.STOP_FELT for side in SIDES}
    return {**typed, "felt": typed["felt"] - signs}


def answer(request, found, item):
    """Do what the stop sheet was answered with.

    A sign that leads with the emergency number ends the session, whichever button was touched.
    """
    do, sign = request.POST.get("do"), request.POST.get("sign", "")
    side = request.POST.get("side", "")
    if do in ("lighter_spring", "smaller_range") and sign == Felt.PAIN and item:
        return _eased(request, found, item, do)
    if do not in ("stop_exercise", "stop_session"):
        raise Http404
    session = do == "stop_session" or stopping.ends_session(sign)
    incident = record_actions.stop(
        actor=request.actor,
        attendance=found.attendance,
        sign=record_wording.kept_sign(sign),
        side=side if side in SIDES else "",
        item=item,
        session=session,
    )
    if item:
        _keep_what_was_done(request, found, item)
    if session:
        return redirect("sessions:incident", incident=incident.public_id)
    messages.warning(request, _("Stopped. The time is kept: add what happened when there is a moment."))
    return redirect("sessions:record", attendance=found.attendance.public_id)


def _keep_what_was_done(request, found, item) -> None:
    """Keep what had been typed of the exercise that was stopped, as far as it can be read.

    The sheet is answered here for every sign that is ticked. Of a row with a sign and its plan's own numbers
    nobody knows how much was done, so the numbers stay out; those that were changed by hand are kept.
    """
    form = EntryForm(request.POST, item=item, springs=springs_for(request.user, item))
    form.is_valid()
    done = recording.stopped(item, form.done(), _("stopped"))
    try:
        _save(request, found, item, done, answered="stop")
    except record_actions.Shut:
        messages.warning(request, _("The record was closed before: the incident is kept."))


def _save(request, found, item, done, answered: str) -> None:
    """Save the entry among the rows as they were done. Raises Shut."""
    with transaction.atomic():
        at = record_actions.standing(found, request.studio)
        dress(item.plan, at.entries)
        record_actions.save_entry(
            actor=request.actor, record=found, item=item, done=done, answered=answered, at=at
        )


def _eased(request, found, item, do):
    """Plain muscle discomfort: kept with the entry, and the row stays open with lighter or smaller."""
    form = EntryForm(request.POST, item=item, springs=springs_for(request.user, item))
    form.is_valid()
    signs = recording.signs_of((name, one.felt) for name, one in form.done().sides.items())
    graver = {(name, felt) for name, felt in signs if felt != Felt.PAIN}
    if graver:
        return ask(request, found, item, *recording.gravest(graver), status=422)
    words = _("Eased: lighter spring") if do == "lighter_spring" else _("Eased: smaller range")
    done = recording.eased(form.done(), words)
    address = f"{request.path.removesuffix('stop/')}?item={item.public_id}"
    try:
        _save(request, found, item, done, answered=do)
    except record_actions.Shut:
        messages.warning(request, _("This record is closed. Add a dated line instead."))
        return redirect("sessions:record", attendance=found.attendance.public_id)
    messages.info(request, _("Kept with the entry. Change the spring or the range, then save."))
    return redirect(address)
