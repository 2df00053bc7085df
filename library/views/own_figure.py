"""The figure of an exercise that is being written: begun from a drawing, changed in numbers, seen at once."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _

from library import body, own_drawing, own_figure_wording, own_typed, pose_wording
from library import own_figure as figures
from library.actions import own_figure as actions
from library.actions.drafts import Over
from library.body.shape import MOST_CONTACTS
from library.forms.own_figure import BeginForm, FigureForm, beginnings
from library.models.shelf import shelf_of
from library.plain_starts import plain_start
from library.views.own_pages import draft_of, next_url, over, posted_number, step_url, steps_of
from studio.access import opens
from studio.models import Stale
from studio.roles import INSTRUCTOR, OWNER
from studio.statuses import CONFLICT, UNFIT

STEP, VIEW = "figure", "figure-view"


@opens(OWNER, INSTRUCTOR, methods=("GET", "POST"))
def own_figure(request, draft):
    """Where it begins, the numbers, and the picture they make. Nothing is written before somebody says so."""
    row = draft_of(request, draft)
    if row.state != row.State.OPEN:
        return over(request, row)
    if not all(row.payload["facts"].get(name) for name in actions.DRAWN_FOR):
        page = {"draft": row, "first": step_url(row, "what"), **steps_of(row, STEP)}
        return render(request, "library/own_figure.html", page)
    try:
        return _posted(request, row) if request.method == "POST" else _opened(request, row)
    except Over:
        return over(request, row)


def _opened(request, draft):
    shelf = shelf_of(request.user)
    begin = BeginForm(request.GET if "begin" in request.GET else None, groups=beginnings(shelf, draft))
    if begin.is_bound and begin.is_valid():
        origin = begin.cleaned_data["begin"]
        return _page(request, draft, _form(draft, _base(draft, origin, shelf), origin), begin)
    form = _form(draft, draft.payload["pose"], "") if draft.payload.get("pose") else None
    return _page(request, draft, form, begin, status=UNFIT if begin.errors else 200)


def _base(draft, origin: str, shelf) -> dict | None:
    """Return the pose a form began with: a drawing of the shelf, a plain position, or what the draft holds."""
    kind, _dash, name = origin.partition("-")
    facts = draft.payload["facts"]
    if kind == "plain":
        try:
            return plain_start(name, facts.get("apparatus", "mat"))
        except KeyError:
            return None
    if kind == "like":
        return next((one.current.pose for one in shelf if one.public_id == name), None)
    return draft.payload.get("pose")


def _form(draft, base: dict, origin: str, data=None) -> FigureForm:
    facts = draft.payload["facts"]
    return FigureForm(
        data,
        base=figures.fitted(base, facts),
        version=draft.version,
        origin=origin,
        sided=bool(facts.get("side_means")),
    )


def _posted(request, draft):
    do = request.POST.get("do", "write")
    if do == "none":
        return _taken_away(request, draft)
    shelf = shelf_of(request.user)
    origin = request.POST.get("origin", "")[:80]
    base = _base(draft, origin, shelf)
    if base is None:
        raise Http404
    form = _form(draft, base, origin, _changed(request.POST, do))
    valid = form.is_valid()
    if do != "write":
        if request.htmx and request.htmx.target == VIEW:
            page = {"form": form, "oob": True, **_seen(draft, form)}
            return render(request, "library/_own_figure_view.html", page, status=200 if valid else UNFIT)
        _look_there(form, do)
        status = 200 if valid or do != "show" else UNFIT
        return _page(request, draft, form, _begin(draft, shelf), status=status, focus=do)
    return _written(request, draft, form, _begin(draft, shelf))


def _begin(draft, shelf) -> BeginForm:
    return BeginForm(groups=beginnings(shelf, draft))


def _written(request, draft, form, begin):
    drawing = _drawing(draft, form)
    if drawing is None or drawing.pose is None:
        return _page(request, draft, form, begin, status=UNFIT, drawing=drawing)
    try:
        reopened = actions.write_figure(
            actor=request.actor, draft=draft, expected=form.cleaned_data["version"], pose=drawing.pose
        )
    except Stale as stale:
        form.data = form.data.copy()
        form.data["version"] = stale.current.version
        conflict = own_figure_wording.conflict(stale.current, drawing.pose)
        return _page(request, draft, form, begin, status=CONFLICT, conflict=conflict, drawing=drawing)
    if reopened:
        words = _("The figure changed. Go through what it asks of the body again before you keep it.")
        messages.warning(request, words)
    return redirect(next_url(draft, STEP))


def _taken_away(request, draft):
    expected = posted_number(request, "version")
    try:
        actions.write_figure(actor=request.actor, draft=draft, expected=expected, pose=None)
        messages.info(request, _("It has no figure now, so it goes on no paper."))
    except Stale:
        messages.warning(request, _("Somebody wrote in this draft meanwhile. Look again first."))
    return redirect(request.path)


def _changed(data, do: str):
    """Return what was typed with a contact added or taken out, or with a middle position more or less."""
    word, _colon, where = do.partition(":")
    if word not in ("add", "drop", "middle", "straight"):
        return data
    data = data.copy()
    if word == "middle":
        own_typed.add_middle(data)
    elif word == "straight":
        data["middle"] = ""
    else:
        own_typed.change_contacts(data, word, where, MOST_CONTACTS)
    return data


def _look_there(form, do: str) -> None:
    """Have the contact that was added looked at next."""
    word, _colon, phase = do.partition(":")
    field = f"{phase}-t{form.counts.get(phase, 0) - 1}-point"
    if word == "add" and field in form.fields:
        form.fields[field].widget.attrs["data-focus"] = "true"


def _drawing(draft, form) -> own_drawing.Drawing | None:
    """Return what the numbers of a form make, or None while some of them are no numbers."""
    if form.is_bound and not form.is_valid():
        return None
    pose = form.pose() if form.is_bound else form.base
    return own_drawing.drawing({**pose, "key": draft.payload["facts"]["id"]})


def _page(request, draft, form, begin, *, status=200, conflict=None, focus="", drawing=None):
    page = {
        "draft": draft,
        "form": form,
        "begin": begin,
        "conflict": conflict,
        "focus": focus.rpartition(":")[0] if focus.startswith("drop") else focus,
        "next": next_url(draft, STEP),
        "misfit": bool(draft.payload.get("pose")) and not actions.still_fits(draft),
        **steps_of(draft, STEP),
        **(_seen(draft, form, drawing) if form else {}),
    }
    return render(request, "library/own_figure.html", page, status=status)


def _seen(draft, form, drawing=None) -> dict:
    """Return the pictures of a form, the words of each, and what is to be said, in its place.

    drawing: what the form's numbers make, where that is known already.
    """
    drawing = drawing or _drawing(draft, form)
    sided = "right" if form.sided else None
    name = draft.payload["facts"].get("name") or _("A new exercise")
    pictures = []
    for phase, pose in (drawing.shown if drawing else {}).items():
        unmet = drawing.unmet == phase
        pictures.append(_picture(pose, phase, sided, name) | {"unmet": unmet})
    if drawing and drawing.pose and sided:
        pictures.append(_picture(drawing.pose, "end", "left", name))
    said = own_figure_wording.said(form, drawing)
    return {"pictures": pictures, "said": said, "typed": form.is_bound}


def _picture(pose: dict, phase: str, side: str | None, name: str) -> dict:
    label = own_figure_wording.phase_label(phase, side)
    end = own_drawing.drawn_as(phase)
    words = pose_wording.describe(pose, end, side)
    svg = body.figure(pose, phase=end, side=side, title=f"{name}, {label}", description=words)
    return {"label": label, "svg": mark_safe(svg), "words": words, "mirrored": side == "left"}
