"""How far one client goes in an exercise, with the picture of it: part of what works for the client."""

from django.shortcuts import render
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from library import limit_wording
from library.body import limits as ranges
from sessions import own_limits, own_way_wording, shortened_wording
from sessions.actions import own_ways as own_way_actions
from sessions.forms.own_limits import LimitForm
from sessions.models import OwnWay, open_call_backs
from studio import clock
from studio.models import Stale

# What a button of the form may ask for: keep it, only show it, or show a part of the way that was touched.
KEEP, SHOW = "limit", "limit_show"
PICTURE = "limit-picture"


def is_asked(data) -> bool:
    """Return whether a post is about the limit."""
    return data.get("do") in (KEEP, SHOW) or "quick" in data


def is_a_field(name: str) -> bool:
    """Return whether a posted value is of the limit's own form."""
    return name in ("do", "quick", "version") or name.startswith(("number_", "by_"))


def limit_context(
    exercise, own: OwnWay | None, *, form: LimitForm | None = None, conflict=None, call_back=None
) -> dict:
    """Return what sessions/_own_limit.html shows. form: one that was posted; it shows what was typed. call_back: a
    handout that became wrong by what was kept just now.
    """
    content = exercise.current
    if not content.pose:
        return {"limit_form": None}
    form = form or _form(exercise, own)
    limits = form.limits() if form.is_bound else (own.limit if own else {})
    pictures = own_way_wording.pictures(content.pose, form.sides, limits)
    for row in pictures:
        if form.is_bound and form.errors.get(f"number_{row['side']}"):
            row["words"] = ""
    leading = ranges.lead(content.pose)
    return {
        "limit_form": form,
        "limit_way": limit_wording.way_words(leading)
        if leading
        else limit_wording.per_cent_only_words(content.pose),
        "limit_pictures": pictures,
        "limit_sided": len(form.sides) > 1,
        "limit_conflict": conflict,
        "limit_call_back": call_back,
        "limit_unsaved": form.is_bound,
    }


def answer(request, client, exercise, *, shown, kept):
    """Answer a post about the limit. shown and kept: how the page of what works is answered (views.own_way)."""
    own = OwnWay.objects.seen_by(request.user).of(client.pk, exercise)
    if not exercise.current.pose:
        return shown(request, client, exercise)
    form = _form(exercise, own, _touched(request.POST))
    valid = form.is_valid()
    if request.POST.get("do") != KEEP:
        if request.htmx and request.htmx.target == PICTURE:
            context = limit_context(exercise, own, form=form) | {"client": client, "exercise": exercise}
            return render(request, "sessions/_own_limit_picture.html", context, status=200 if valid else 422)
        return shown(request, client, exercise, status=200 if valid else 422, limit_form=form)
    if not valid:
        return shown(request, client, exercise, status=422, limit_form=form)
    try:
        own_way_actions.set_limit(
            actor=request.actor,
            client=client,
            exercise=exercise,
            limit=form.limits(),
            expected=form.cleaned_data["version"],
        )
    except Stale as stale:
        conflict = _conflict(form, stale.current)
        return shown(request, client, exercise, status=409, limit_form=form, limit_conflict=conflict)
    called_back = made_wrong(request, client, exercise)
    if called_back:
        return kept(request, client, exercise, limit_call_back=called_back)
    return kept(request, client, exercise)


def made_wrong(request, client, exercise) -> dict | None:
    """Return the handout that shows more of an exercise than its client is to do now, with what to say of it."""
    found = open_call_backs(request.user, clock.today(request.studio.zone), client=client)
    one = next((one for one in found if exercise.key in one.limits), None)
    return one and {"id": one.handout.public_id, "words": shortened_wording.goes_farther(one.handout)}


def _form(exercise, own: OwnWay | None, data=None) -> LimitForm:
    return LimitForm(
        data,
        pose=exercise.current.pose,
        sided=bool(exercise.current.facts["side_means"]),
        limits=own.limit if own else {},
        version=own.version if own else 0,
    )


def _touched(data):
    """Return what was posted, with the part of the way that was touched typed into its field."""
    side, _colon, per_cent = data.get("quick", "").partition(":")
    if not (per_cent.isascii() and per_cent.isdigit() and len(per_cent) <= 3):
        return data
    data = data.copy()
    data[f"by_{side}"] = ranges.BY_SHARE
    data[f"number_{side}"] = "" if int(per_cent) >= own_limits.MOST_PER_CENT else per_cent
    return data


def _conflict(form: LimitForm, now: OwnWay) -> dict:
    """Return both texts, and let the next save go over the present one."""
    form.data = form.data.copy()
    form.data["version"] = now.version
    whole = _("the whole way")
    pair = {
        "label": _("How far"),
        "theirs": limit_wording.limits_words(now.limit) or whole,
        "yours": limit_wording.limits_words(form.limits()) or whole,
    }
    when = date_format(timezone.localtime(now.changed_at), "H:i")
    return {"who": now.changed_by.call_name, "when": when, "pairs": [pair]}
