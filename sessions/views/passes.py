"""Passes of a client for the desk and the owner: sold, used, corrected. Others are told how many are left."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from clients.models import Client
from sessions import pass_wording as wording
from sessions import passes as sums
from sessions.actions import passes as actions
from sessions.forms.passes import CorrectForm, SellForm
from sessions.models import Attendance, Pass, holdings, with_pass_use
from studio import clock
from studio.access import opens
from studio.roles import FRONT_DESK, OWNER


@opens(OWNER, FRONT_DESK, methods=("GET", "POST"))
def passes(request, client):
    """Every pass of a client with its ledger, and the form that sells the next one."""
    client = Client.objects.get_seen(request.user, client)
    today = clock.today(request.studio.zone)
    form = SellForm(request.POST or None, today=today, currency=request.studio.currency)
    if request.method == "POST" and form.is_valid():
        sold = actions.sell(actor=request.actor, client=client, **form.values())
        said = ngettext("Pass of %(n)d session sold.", "Pass of %(n)d sessions sold.", sold.sessions)
        messages.info(request, said % {"n": sold.sessions})
        return redirect("sessions:passes", client=client.public_id)
    return _page(request, client, form=form, status=422 if form.errors else 200)


@opens(OWNER, FRONT_DESK, methods=("POST",))
def correct(request, client, sold):
    """Put sessions on a pass or take them off, with the reason."""
    client = Client.objects.get_seen(request.user, client)
    sold = Pass.objects.get_seen(request.user, sold)
    if sold.client_id != client.pk:
        raise Http404
    form = CorrectForm(request.POST, prefix=sold.public_id)
    if not form.is_valid():
        return _page(request, client, wrong={sold.pk: form}, status=422)
    values = {"delta": form.delta, "reason": form.cleaned_data["reason"], "seen": form.cleaned_data["seen"]}
    try:
        actions.correct(actor=request.actor, sold=sold, **values)
    except actions.BelowZero as below:
        form.add_error("number", _("Only %(n)d left on this pass. Take off no more.") % {"n": below.left})
        return _page(request, client, wrong={sold.pk: form}, status=422)
    except actions.Moved:
        form.data = {**form.data.dict(), f"{sold.public_id}-seen": sold.entries.last().number}
        form.add_error(None, _("This pass changed a moment ago. Look at its lines, then save again."))
        return _page(request, client, wrong={sold.pk: form}, status=409)
    messages.info(request, _("Corrected."))
    return redirect("sessions:passes", client=client.public_id)


@opens(OWNER, FRONT_DESK, methods=("POST",))
def use(request, attendance):
    """Take a session that is still to pay off a pass bought since."""
    attendance = Attendance.objects.with_booking().get_seen(request.user, attendance)
    if attendance.state not in sums.USING:
        messages.warning(
            request, _("Nothing is taken for a booking that is still open or cancelled in time.")
        )
    elif actions.follow(actor=request.actor, attendance=attendance) == "used":
        messages.info(request, _("Taken from the pass."))
    else:
        messages.warning(request, wording.came_words("none_left"))
    back = request.POST.get("back", "")
    if not (back.startswith("/") and url_has_allowed_host_and_scheme(back, None)):
        back = reverse("sessions:client", args=[attendance.client.public_id])
    return redirect(back)


def _page(request, client, *, form=None, wrong=None, status=200):
    today = clock.today(request.studio.zone)
    wrong = wrong or {}
    shown = drawn(request.user, client, today)
    for one in shown:
        one["form"] = wrong.get(one["pass"].pk) or CorrectForm(
            prefix=one["pass"].public_id, initial={"seen": one["entries"][-1]["row"].number, "way": "off"}
        )
        one["open"] = one["pass"].pk in wrong
    context = {
        "client": client,
        "passes": shown,
        "form": form or SellForm(today=today, currency=request.studio.currency),
        "beyond": beyond(request.user, client, today),
        "at": "clients",
    }
    return render(request, "sessions/passes.html", context, status=status)


def _coming(person, client, today) -> list:
    """Return the days of a client's bookings that are still to come."""
    rows = Attendance.objects.seen_by(person).filter(client=client, state__in=sums.AHEAD)
    return list(rows.filter(booking__wall_day__gte=today).values_list("booking__wall_day", flat=True))


def _sums(person, client, today):
    held = holdings(person, [client]).get(client.pk, [])
    counts, beyond = sums.ahead(held, _coming(person, client, today))
    return held, counts, beyond


def beyond(person, client, today) -> str:
    """Return the sentence about coming bookings that no pass will pay for; empty without a pass."""
    held, _counts, count = _sums(person, client, today)
    return wording.beyond_words(count) if held and count else ""


def drawn(person, client, today, *, running=False) -> list[dict]:
    """Return the passes as pages draw them, newest first; running: only those that still hold something.

    Keys: pass, left, granted, uses (one of 'used', 'ahead', '' a session), words, state, state_words, price,
    entries (row and delta in words, oldest first).
    """
    held, counts, _beyond = _sums(person, client, today)
    states = {one.key: sums.state(one, today) for one in held}
    rows = Pass.objects.seen_by(person).filter(client=client).with_left().with_entries()
    rows = [row for row in rows if not running or states[row.pk] in ("running", "to_begin")]
    return [_drawn(row, states[row.pk], counts[row.pk]) for row in rows]


def _drawn(row, state, ahead) -> dict:
    used = row.granted - row.left
    free = row.left - ahead
    return {
        "pass": row,
        "left": row.left,
        "granted": row.granted,
        "uses": ["used"] * used + ["ahead"] * ahead + [""] * free,
        "words": wording.drawn_words(used, ahead, free),
        "state": state,
        "state_words": wording.state_words(state, row.bought_on, row.last_day),
        "price": wording.price_words(row.price_minor, row.currency),
        "entries": [{"row": one, "delta": wording.signed(one.delta)} for one in row.entries.all()],
    }


def give_words(person, attendances, limit=None) -> list:
    """Give every attendance `pass_words`, what is left for the desk's column, and `to_pay`; return them.

    Two queries for all of them: the rows carry `on_pass` afterwards.
    """
    rows = list(with_pass_use(attendances)[:limit])
    held = holdings(person, {row.client_id for row in rows})
    for row in rows:
        mine = held.get(row.client_id, [])
        row.to_pay = row.state in sums.USING and not row.on_pass
        now = sums.standing(mine, row.booking.wall_day)
        row.pass_words = _("to pay") if row.to_pay else wording.left_words(now)
        # A pass bought since may still pay for it.
        row.may_use = row.to_pay and sums.take_from(mine, row.booking.wall_day) is not None
    return rows


def left_for(person, clients, day) -> dict[int, str]:
    """Return client -> what is left in words, for those who have a pass. No money, no ledger."""
    found = holdings(person, clients)
    return {client: wording.on_the_pass(sums.standing(mine, day)) for client, mine in found.items()}
