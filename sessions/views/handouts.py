"""Handouts as they were issued: looked at, printed again, called back."""

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from sessions import handout as paper
from sessions import home_wording, shortened_wording, wording
from sessions.actions import handouts as actions
from sessions.forms.home_practice import CloseForm
from sessions.models import Handout, is_called_back, open_call_backs
from sessions.templatetags.handouts import dose_words, often_words
from studio import clock, roles
from studio.access import opens
from studio.actions import audit


@opens()
def handout(request, handout):
    """One issued handout. The front desk may open and print it; it is given nothing else."""
    row = _issued(request, handout)
    audit.write(request.actor, "handout.read", row)
    return _page(request, row)


def _issued(request, public_id) -> Handout:
    rows = Handout.objects.light().select_related("client", "author", "replacement")
    later = ("replacement__pdf", "replacement__payload", "replacement__verdicts")
    return rows.defer(*later).get_seen(request.user, public_id)


def _page(request, row, *, form=None, status=200):
    context = {
        "client": row.client,
        "sheet": _sheet(row),
        "exercises": shown_items(row.payload),
        "others": _others(request, row),
        "at": "clients",
    }
    if request.user.reads_health:
        context |= _called_back(request, row) | {"form": form or CloseForm()}
        return render(request, "sessions/handout.html", context, status=status)
    context["ask_first"] = is_called_back(row, clock.today(request.studio.zone))
    return render(request, "sessions/desk_handout.html", context, status=status)


def _sheet(row) -> dict:
    """Return what a page says of a handout: plain values, nothing of what was judged."""
    later = getattr(row, "replacement", None)
    return {
        "id": row.public_id,
        "number": row.number,
        "version": row.version,
        "issued_on": row.issued_on,
        "author": row.author.call_name,
        "has_pdf": row.has_pdf,
        "replaced_by": later and {"id": later.public_id, "number": later.number, "on": later.issued_on},
    }


def shown_items(payload: dict) -> list[dict]:
    """Return the exercises of a kept payload with their figures and doses; none where it cannot be read."""
    try:
        items = paper.from_json(payload).items
    except paper.HandoutError:
        return []
    return [
        {
            "name": item.name,
            "item": item,
            "sides": item.drawn_sides,
            "limits": item.limits.as_kept(),
            "dose": dose_words(item.dose),
            "often": often_words(item.often),
        }
        for item in items
    ]


def _others(request, row) -> list[Handout]:
    """Return the client's other handouts, newest first."""
    rows = Handout.objects.seen_by(request.user).filter(client=row.client).exclude(pk=row.pk)
    return list(rows.light().defer("payload"))


def _called_back(request, row) -> dict:
    today = clock.today(request.studio.zone)
    found = open_call_backs(request.user, today, client=row.client)
    call_back = next((one for one in found if one.handout.pk == row.pk), None)
    next_one = _next_one(request, row, today) if call_back and not call_back.exercises else None
    return {
        "call_back": call_back and shown_call_back(call_back) | {"next": next_one},
        "closings": row.call_backs_closed.select_related("author").order_by("at"),
    }


def _next_one(request, row, today) -> dict | None:
    """Return the version of the client's sheet where it could be issued now; None where it needs something first.

    same: whether it would be this very page but for how far it goes, so that it needs no look before.
    """
    try:
        made = actions.draft(studio=request.studio, client=row.client, today=today)
    except (actions.NotReady, paper.HandoutError):
        return None
    return {"version": made.practice.version, "same": made.differs_in_limits_only(row.payload)}


def shown_call_back(call_back) -> dict:
    """Return a call-back as the pages show it: whose, which sheet, and its exercises, strictest first."""
    groups = []
    for verdict in ("avoid", "modify", "watch"):
        found = [one for one in call_back.exercises if one["verdict"]["verdict"] == verdict]
        if found:
            exercises = [{"name": one["name"], "reasons": wording.sheet(one["verdict"])} for one in found]
            groups.append({"what": home_wording.called_back(verdict), "exercises": exercises})
    return {
        "client": call_back.client,
        "handout": call_back.handout,
        "groups": groups,
        "shortened": shortened_wording.shown(call_back.shortened),
    }


@opens(*roles.HEALTH_READERS, methods=("POST",))
def call_back(request, handout):
    """Close a call-back, with what was done about it."""
    row = _issued(request, handout)
    form = CloseForm(request.POST)
    if not form.is_valid():
        return _page(request, row, form=form, status=422)
    try:
        actions.close_call_back(
            actor=request.actor,
            handout=row,
            reason=form.cleaned_data["reason"],
            today=clock.today(request.studio.zone),
        )
    except actions.NothingToClose:
        messages.warning(
            request, _("There is nothing left to close: it was closed, or a new one was issued.")
        )
    else:
        messages.info(request, _("Closed, with your reason."))
    return redirect("sessions:handout", handout=row.public_id)


@opens()
def handout_pdf(request, handout):
    """The bytes as they were issued, never made anew."""
    row = Handout.objects.get_seen(request.user, handout)
    if not row.pdf:
        raise Http404(_("This handout was issued without a PDF. Print it from the browser."))
    audit.write(request.actor, "handout.read", row)
    answer = HttpResponse(bytes(row.pdf), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="handout-{row.number}.pdf"'
    answer["Cache-Control"] = "no-store"
    return answer


@opens()
def handout_print(request, handout):
    """The same page for the browser's own print, made from what was kept."""
    row = Handout.objects.light().get_seen(request.user, handout)
    audit.write(request.actor, "handout.read", row)
    context = {"payload": paper.from_json(row.payload), "for_pdf": False}
    return render(request, "handouts/handout.html", context)
