"""The studio's own exercises: what is being written, the form in steps, and keeping it."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from library import own_exercise, own_wording, versions_apart
from library.actions import own as actions
from library.forms.own import FORMS, LikeForm
from library.models import Exercise, ExerciseDraft
from library.models.checking import library_of, names_of
from library.models.shelf import shelf_of
from library.models.upgrades import meetings
from library.views.own_pages import (
    BACK_TO_LIST,
    draft_of,
    look_url,
    next_url,
    over,
    posted_number,
    step_url,
    steps_of,
)
from studio.access import opens
from studio.models import Stale
from studio.roles import INSTRUCTOR, OWNER
from studio.statuses import CONFLICT, UNFIT


@opens(OWNER, INSTRUCTOR)
def own(request):
    """Drafts, the studio's own exercises, and those that it changed."""
    own_rows = [one for one in shelf_of(request.user) if one.current.is_own]
    drafts = (
        ExerciseDraft.objects.seen_by(request.user)
        .open()
        .select_related("begun_by", "changed_by", "exercise")
    )
    page = {
        "drafts": drafts,
        "waiting": len(meetings(request.user)) if request.user.is_owner else 0,
        "made": [one for one in own_rows if one.key.startswith(own_exercise.OWN_PREFIX)],
        "changed": [one for one in own_rows if not one.key.startswith(own_exercise.OWN_PREFIX)],
        "at": "library",
    }
    return render(request, "library/own.html", page)


@opens(OWNER, INSTRUCTOR, methods=("GET", "POST"))
def own_new(request):
    """Begin a new exercise, from another or from nothing."""
    shelf = shelf_of(request.user)
    initial = {"like": request.GET.get("like", "")}
    form = LikeForm(request.POST or None, exercises=shelf, initial=initial)
    if request.method == "POST" and (form.is_bound and form.is_valid() or not form.is_bound):
        wanted = form.cleaned_data["like"] if form.is_bound else ""
        like = next((one for one in shelf if one.public_id == wanted), None)
        return redirect(step_url(actions.begin(actor=request.actor, like=like), "what"))
    return render(request, "library/own_new.html", {"form": form, "at": "library"}, status=_status(form))


@opens(OWNER, INSTRUCTOR, methods=("POST",))
def own_change(request, exercise):
    """Begin to change an exercise, at the step that is named, or go on with what is there."""
    row = Exercise.objects.with_content().get_seen(request.user, exercise)
    step = request.POST.get("step", "what")
    if step not in own_wording.STEPS:
        raise Http404
    return redirect(step_url(actions.begin(actor=request.actor, exercise=row), step))


@opens(OWNER, INSTRUCTOR, methods=("GET", "POST"))
def own_step(request, draft, step):
    """One step of the form."""
    row = draft_of(request, draft)
    if step not in FORMS:
        raise Http404
    if row.state != row.State.OPEN:
        return over(request, row)
    form = _form(request, row, step)
    page = {"draft": row, "step": step, "form": form, **steps_of(row, step)}
    status = _status(form)
    if form.is_bound and form.is_valid():
        try:
            return _written(request, row, step, form)
        except actions.Over:
            return over(request, row)
        except Stale as stale:
            page["conflict"] = _conflict(row, stale.current, form)
            form.data = form.data.copy()
            form.data["version"] = stale.current.version
            status = CONFLICT
    return render(request, "library/own_step.html", page, status=status)


def _form(request, draft, step):
    more = {}
    if step == "demands" and draft.exercise:
        more["before"] = draft.exercise.current.facts
    return FORMS[step](
        request.POST or None,
        draft=draft,
        library=library_of(request.user),
        names=names_of(request.user),
        **more,
    )


def _written(request, draft, step, form):
    reopened = actions.write_step(
        actor=request.actor,
        draft=draft,
        expected=form.cleaned_data["version"],
        facts=form.facts(),
        text=form.text(),
        why=form.why(),
    )
    if reopened:
        words = _("Changed: %(fields)s. Go through what it asks of the body again before you keep it.")
        names = ", ".join(own_wording.field_label(("facts", name)) for name in reopened)
        messages.warning(request, words % {"fields": names})
    return redirect(next_url(draft, step))


def _conflict(draft, now, form) -> dict:
    """Return both texts, field by field, where somebody else wrote this step meanwhile."""
    mine = {
        "facts": {**now.payload["facts"], **(form.facts() or {})},
        "text": now.payload["text"],
        "pose": None,
    }
    if form.text() is not None:
        mine["text"] = form.text()
    theirs = {**now.payload, "pose": None}
    names = {}
    pairs = [
        {
            "label": own_wording.field_label(field),
            "theirs": " · ".join(own_wording.value_lines(field, old, names)),
            "yours": " · ".join(own_wording.value_lines(field, new, names)),
        }
        for field, old, new in versions_apart.differing(theirs, mine)
    ]
    return {"who": now.changed_by, "when": now.changed_at, "pairs": pairs}


@opens(OWNER, INSTRUCTOR, methods=("GET", "POST"))
def own_look(request, draft):
    """What keeping would do, what is still to do, and the button that keeps it."""
    row = draft_of(request, draft)
    if row.state != row.State.OPEN:
        return over(request, row)
    if request.method == "POST":
        answer = _kept(request, row)
        if answer:
            return answer
        row = draft_of(request, draft)
    return render(request, "library/own_look.html", _look_page(request, row), status=_status_of(request))


def _kept(request, draft):
    """Keep the draft and lead on; None where something is in the way, which the page then shows."""
    try:
        version = actions.keep(
            actor=request.actor,
            draft=draft,
            expected=posted_number(request, "version"),
            seen=posted_number(request, "seen"),
        )
    except actions.Over:
        return over(request, draft)
    except (Stale, actions.MovedOn):
        messages.warning(request, _("Somebody changed this meanwhile. Look again, then keep it."))
        return None
    except actions.NothingNew:
        messages.info(request, _("Nothing differs from what is on the shelf, so nothing was kept."))
        return None
    except actions.Broken:
        return None
    if version.is_classified:
        messages.info(request, _("Kept. It stands on the shelf as it is now."))
    else:
        messages.info(request, _("Kept. Until somebody says what it asks of the body, it goes into no plan."))
    return redirect("library:exercise", version.exercise.public_id)


def _look_page(request, draft) -> dict:
    now = draft.exercise.current if draft.exercise else None
    payload, names = actions.whole(draft), names_of(request.user)
    to_do = own_exercise.steps_to_do(payload)
    slips = actions.slips_of(draft, request.user)
    return {
        "draft": draft,
        "seen": now.number if now else 0,
        "now": now,
        "to_do": [{"name": own_wording.STEPS[step], "url": step_url(draft, step)} for step in to_do],
        "slips": [
            {"says": own_wording.sentence(slip), "url": step_url(draft, own_exercise.step_of(slip)),
             "step": own_wording.STEPS[own_exercise.step_of(slip)]}
            for slip in slips
        ],
        "unclassified": payload["facts"]["demands"] is None,
        "pose": payload["pose"],
        "phases": [("start", _("Start")), ("end", _("End"))],
        "undrawn": _undrawn(draft),
        "figure_url": step_url(draft, "figure"),
        "changes": [
            {
                "label": own_wording.field_label(field),
                "old": own_wording.value_lines(field, old, names),
                "new": own_wording.value_lines(field, new, names),
            }
            for field, old, new in versions_apart.differing(now and now.payload, payload)
            if now or new not in (None, "", [], {})
        ],
        **steps_of(draft, "look"),
    }  # fmt: skip


def _undrawn(draft) -> str:
    """Return why there is no figure on the page; it is only asked where there is none."""
    if draft.payload.get("pose"):
        return _("The figure was drawn for another apparatus or start position, so it is left out.")
    return _("It has no figure, so it goes on no paper.")


@opens(OWNER, INSTRUCTOR, methods=("POST",))
def own_drop(request, draft):
    """Put a draft away; the exercise stays as it is."""
    row = draft_of(request, draft)
    try:
        actions.drop(actor=request.actor, draft=row, expected=posted_number(request, "version"))
        messages.info(request, _("Put away. The shelf is as it was."))
    except actions.Over:
        return over(request, row)
    except Stale:
        messages.warning(request, _("Somebody wrote in this draft meanwhile. Look again first."))
        return redirect(look_url(row))
    return redirect(BACK_TO_LIST)


def _status(form) -> int:
    return UNFIT if form.is_bound and form.errors else 200


def _status_of(request) -> int:
    return UNFIT if request.method == "POST" else 200
