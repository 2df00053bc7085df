"""What works for one client in one exercise: kept, changed and shown beside the exercise."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from clients.models import Client
from library.models import Exercise
from sessions import own_way_wording, own_ways, record_wording, wording
from sessions.actions import own_ways as own_way_actions
from sessions.forms.own_ways import CueForm, RangeForm
from sessions.models import Entry, OwnWay
from sessions.views import own_limit
from studio import roles
from studio.access import opens
from studio.actions import audit
from studio.models import Stale

# So many entries are looked through for notes.
LOOKED_BACK = 12


def own_way_context(
    person,
    client,
    exercise,
    *,
    cue_form=None,
    range_form=None,
    conflict=None,
    limit_form=None,
    limit_conflict=None,
    limit_call_back=None,
) -> dict:
    """Return what sessions/_own_way.html shows of a client and an exercise: three queries."""
    own = OwnWay.objects.seen_by(person).of(client.pk, exercise)
    entries = Entry.objects.seen_by(person).filter(record__attendance__client=client, exercise=exercise)
    before = list(entries.exclude(state=Entry.State.SKIPPED).order_by("-at")[:LOOKED_BACK])
    last = next((entry.setting for entry in before if entry.setting), {})
    marked = own.setting if own else {}
    return {
        "own": own_way_wording.shown(own),
        "own_url": reverse("sessions:own_way", args=[client.public_id, exercise.public_id]),
        "offered": own_ways.offered(map(record_wording.own_note, before), own.cues if own else ()),
        "last_setting": wording.setting_words(last) if last != marked else "",
        "cue_form": cue_form or CueForm(),
        "range_form": range_form or RangeForm(instance=own),
        "own_conflict": conflict,
        **own_limit.limit_context(
            exercise, own, form=limit_form, conflict=limit_conflict, call_back=limit_call_back
        ),
    }


@opens(*roles.HEALTH_READERS, methods=("GET", "POST"))
def own_way(request, client, exercise):
    """Keep or take away one thing: `do` is worked, drop, range, prefer or unprefer, or one of views.own_limit."""
    client = Client.objects.get_seen(request.user, client)
    exercise = Exercise.objects.with_content().get_seen(request.user, exercise)
    if request.method == "GET":
        audit.write(request.actor, "own_way.read", client)
        return _shown(request, client, exercise)
    if own_limit.is_asked(request.POST):
        return own_limit.answer(request, client, exercise, shown=_shown, kept=_kept)
    do = request.POST.get("do")
    if do == "range":
        return _range(request, client, exercise)
    if do in ("prefer", "unprefer"):
        setting = own_way_actions.last_setting(client.pk, exercise) if do == "prefer" else {}
        own_way_actions.prefer(actor=request.actor, client=client, exercise=exercise, setting=setting)
        return _kept(request, client, exercise)
    return _cue(request, client, exercise, do)


def _cue(request, client, exercise, do):
    form = CueForm(request.POST)
    if not form.is_valid():
        return _shown(request, client, exercise, status=422, cue_form=form)
    verb = own_way_actions.drop if do == "drop" else own_way_actions.worked
    try:
        verb(actor=request.actor, client=client, exercise=exercise, cue=form.cleaned_data["cue"])
    except own_way_actions.Full:
        form.add_error("cue", _("%(n)d cues are kept. Take one away first.") % {"n": own_ways.MOST_CUES})
        return _shown(request, client, exercise, status=422, cue_form=form)
    return _kept(request, client, exercise)


def _range(request, client, exercise):
    own = OwnWay.objects.seen_by(request.user).of(client.pk, exercise)
    form = RangeForm(request.POST, instance=own)
    if not form.is_valid():
        return _shown(request, client, exercise, status=422, range_form=form)
    values = {name: form.cleaned_data[name] for name in own_way_actions.RANGE}
    expected = form.cleaned_data["version"]
    try:
        own_way_actions.set_range(
            actor=request.actor, client=client, exercise=exercise, values=values, expected=expected
        )
    except Stale as stale:
        conflict = _conflict(form, stale.current)
        return _shown(request, client, exercise, status=409, range_form=form, conflict=conflict)
    return _kept(request, client, exercise)


def _conflict(form, now) -> dict:
    """Return both texts where they differ, and let the next save go over the present one."""
    form.data = form.data.copy()
    form.data["version"] = now.version
    when = timezone.localtime(now.changed_at)
    yours = own_way_wording.range_words(OwnWay(**{n: form.cleaned_data[n] for n in own_way_actions.RANGE}))
    pair = {"label": _("Own range"), "theirs": own_way_wording.range_words(now), "yours": yours}
    return {"who": now.changed_by.call_name, "when": date_format(when, "H:i"), "pairs": [pair]}


def _kept(request, client, exercise, limit_call_back=None):
    """Answer what was kept: to htmx the section as it stands now, else the page of the exercise."""
    if request.htmx:
        return _shown(request, client, exercise, kept=True, limit_call_back=limit_call_back)
    messages.info(request, _("Kept."))
    if limit_call_back:
        messages.warning(request, limit_call_back["words"])
    return redirect("sessions:client_exercise", client.public_id, exercise.public_id)


def _shown(request, client, exercise, *, status=200, kept=False, **forms):
    context = {
        "client": client,
        "exercise": exercise,
        "facts": exercise.current.facts,
        "kept": kept,
        "at": "clients",
        **own_way_context(request.user, client, exercise, **forms),
    }
    page = "sessions/_own_way.html" if request.htmx else "sessions/own_way.html"
    return render(request, page, context, status=status)
