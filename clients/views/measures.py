"""Measures with both sides: what is on file, taking one, putting a slip right."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from clients import measuring
from clients.actions import measures as actions
from clients.forms.measures import MeasurementForm, TakeBackForm
from clients.models import Client, Flag, Measurement
from library import measure_wording as wording
from library.measures import Measure, all_measures
from library.models import table_in_force
from studio import clock
from studio.access import opens
from studio.actions import audit
from studio.roles import INSTRUCTOR, OWNER


def _client(request, public_id) -> Client:
    return Client.objects.get_seen(request.user, public_id)


def _measure(key: str) -> Measure:
    try:
        return all_measures()[key]
    except KeyError:
        raise Http404 from None


def _standing(request, client):
    """Return the rows that count, of every measure, oldest first."""
    rows = Measurement.objects.seen_by(request.user).filter(client=client).standing()
    return rows.select_related("author")


def _flags(request, client) -> list:
    return list(Flag.objects.seen_by(request.user).filter(client=client).active())


@opens(OWNER, INSTRUCTOR)
def measure_list(request, client):
    """Every measure with its tests, newest first, and what the flags hold back today."""
    client = _client(request, client)
    audit.write(request.actor, "measures.read", client)
    rows, flags = list(_standing(request, client)), _flags(request, client)
    today = clock.today(request.studio.zone)
    table = table_in_force()
    cards = [_card(of, rows, flags, today, table) for of in all_measures().values()]
    context = {"client": client, "cards": cards, "at": "clients"}
    return render(request, "clients/measures.html", context)


def _card(of: Measure, rows, flags, today, table) -> dict:
    tests = measuring.compared(of, [row for row in rows if row.measure == of.id])[::-1]
    held = measuring.judged(flags, of, today, table=table)
    return {
        "measure": of,
        "words": wording.words(of),
        "limit": wording.limit_words(of),
        "sources": [wording.source_words(key) for key in of.sources],
        "newest": tests[0] if tests else None,
        "tests": tests,
        "held": measuring.held_back(held),
        "all_held": all(one.back for one in held.values()),
    }


@opens(OWNER, INSTRUCTOR, methods=("GET", "POST"))
def take_measure(request, client, measure):
    """Take one measure: how it is done, both sides with the same set-up. A side that is held back has no field."""
    client, of = _client(request, client), _measure(measure)
    audit.write(request.actor, "measures.read", client)
    today = clock.today(request.studio.zone)
    held = measuring.judged(_flags(request, client), of, today, table=table_in_force())
    open_sides = [side for side, one in held.items() if not one.back]
    last = _standing(request, client).of_measure(of.id).last()
    form = MeasurementForm(request.POST or None, of=of, sides=open_sides, today=today, last=last)
    if request.method == "POST" and open_sides and form.is_valid():
        actions.take(actor=request.actor, client=client, measure=of, **_typed(form))
        messages.info(request, _("Written down."))
        return redirect("clients:measures", client=client.public_id)
    return _form_page(request, client, of, form, held=held, last=last)


@opens(OWNER, INSTRUCTOR, methods=("GET", "POST"))
def correct_measure(request, client, measure, measurement):
    """Put a row right, or take it back: the row stays, a further one replaces it."""
    client, of = _client(request, client), _measure(measure)
    row = Measurement.objects.select_related("author", "replaced_by").get_seen(request.user, measurement)
    if row.client_id != client.pk or row.measure != of.id or (row.left is None and row.right is None):
        raise Http404
    audit.write(request.actor, "measures.read", client)
    today = clock.today(request.studio.zone)
    back = request.method == "POST" and "take_back" in request.POST
    typed = request.POST if request.method == "POST" and not back else None
    form = MeasurementForm(typed, of=of, sides=measuring.SIDES, today=today, row=row)
    back_form = TakeBackForm(request.POST if back else None)
    if (back_form if back else form).is_valid():
        try:
            if back:
                actions.take_back(actor=request.actor, row=row, note=back_form.cleaned_data["note"])
            else:
                actions.take(actor=request.actor, client=client, measure=of, replaces=row, **_typed(form))
        except actions.AlreadyReplaced:
            context = {"row": row, "back_form": back_form, "moved_on": True}
            return _form_page(request, client, of, form, status=409, **context)
        messages.info(request, _("Taken back.") if back else _("Put right."))
        return redirect("clients:measures", client=client.public_id)
    return _form_page(request, client, of, form, row=row, back_form=back_form)


def _typed(form: MeasurementForm) -> dict:
    data = {name: form.cleaned_data[name] for name in ("on", "first", "setup", "note")}
    return {**data, "tries": form.taken}


def _form_page(request, client, of, form, *, status=200, held=None, last=None, back_form=None, **more):
    """Show the form of one measure. held: side -> what the flags say; last: the newest test, to go by."""
    fields, held = form.halves(), held or {}
    halves = [
        {"side": side, "fields": fields.get(side, ()), "held": held.get(side), "last": _last(of, last, side)}
        for side in measuring.SIDES
    ]
    context = {
        "client": client,
        "measure": of,
        "words": wording.words(of),
        "limit": wording.limit_words(of),
        "form": form,
        "halves": halves,
        "nothing_open": not fields,
        "held": measuring.held_back(held),
        "last": last,
        "back_form": back_form,
        "at": "clients",
        **more,
    }
    wrong = form.errors or (back_form is not None and back_form.errors)
    return render(request, "clients/measure_take.html", context, status=422 if wrong else status)


def _last(of, last, side) -> str:
    return measuring.shown(of, getattr(last, f"{side}_value")) if last else ""
