"""A plan: starting it, its rows and their side sheets, adding an exercise, approving."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django_htmx.http import replace_url, trigger_client_event

from library.models import Exercise
from library.templatetags.finding import with_query
from sessions import wording
from sessions.actions import plans as plan_actions
from sessions.forms.finding import ClientFindForm
from sessions.forms.plans import (
    ApproveForm,
    KeepForm,
    MoveForm,
    StartForm,
    VersionForm,
    words_of,
)
from sessions.views.plan_page import PlanPage
from studio import roles
from studio.access import opens
from studio.models import Stale
from studio.statuses import CONFLICT, UNFIT


@opens(*roles.HEALTH_READERS)
def plan(request, attendance):
    """The plan, or the offer to start one. Nothing is written here."""
    closed = {"kind": ""} if request.GET.get("sheet") == "closed" else None
    return PlanPage(request, attendance).render(closed)


@opens(*roles.HEALTH_READERS, methods=("POST",))
def start(request, attendance):
    """Start from last time's record, or empty."""
    page, form = PlanPage(request, attendance), StartForm(request.POST)
    if not form.is_valid():
        raise Http404
    record = page.last if form.cleaned_data["begin"] == "last" else None
    plan_actions.start(actor=request.actor, attendance=page.attendance, record=record)
    return redirect(page.url("plan"))


@opens(*roles.HEALTH_READERS, methods=("GET", "POST"))
def item(request, attendance, item):
    """One row in the side sheet; a POST changes it."""
    page = PlanPage(request, attendance)
    row = page.item(item)
    if request.method != "POST":
        return page.render(page.row_sheet(row), focus="sheet")
    form = page.item_form(row, request.POST)
    if not form.is_valid():
        return page.render(page.row_sheet(row, form=form), status=UNFIT)
    values = form.values()
    try:
        plan_actions.change_item(
            actor=request.actor, item=row, expected=form.cleaned_data["version"], values=values
        )
    except (Stale, plan_actions.Closed):
        return _both_texts(request, attendance, item, values)
    return done(request, page, item, _("Saved."), focus="save")


def _both_texts(request, attendance, public_id, values):
    """Somebody else changed the plan first: both versions of the row, and what was typed kept."""
    page = PlanPage(request, attendance)
    row = page.item(public_id)
    stored = {name: getattr(row, name) for name in plan_actions.CHANGED}
    conflict = page.conflict(words_of(stored), words_of({**stored, **values}))
    form = None
    if not page.approved:
        typed = request.POST.copy()
        typed["version"] = page.plan.version
        form = page.item_form(row, typed)
    return page.render(page.row_sheet(row, form=form, conflict=conflict), status=CONFLICT)


@opens(*roles.HEALTH_READERS, methods=("POST",))
def keep(request, attendance, item):
    """Keep a row marked Avoid, with a typed reason."""
    page = PlanPage(request, attendance)
    row, form = page.item(item), KeepForm(request.POST)
    if not form.is_valid():
        return page.render(page.row_sheet(row, keep_form=form), status=UNFIT)
    reason, expected = form.cleaned_data["reason"], form.cleaned_data["version"]
    try:
        plan_actions.keep_avoid(actor=request.actor, item=row, expected=expected, reason=reason)
    except (Stale, plan_actions.Closed):
        return _both_reasons(request, attendance, item, reason)
    except plan_actions.NothingToKeep:
        said = _("This exercise is no longer marked Avoid: there is nothing to keep.")
        return done(request, page, item, said, focus="sheet")
    return done(request, page, item, _("Kept, with your reason."), focus="sheet")


def _both_reasons(request, attendance, public_id, reason):
    page = PlanPage(request, attendance)
    row = page.item(public_id)
    label = KeepForm.base_fields["reason"].label
    conflict = page.conflict({label: row.keep_reason}, {label: reason})
    form = KeepForm({"version": page.plan.version, "reason": reason})
    return page.render(page.row_sheet(row, keep_form=form, conflict=conflict), status=CONFLICT)


@opens(*roles.HEALTH_READERS, methods=("POST",))
def move(request, attendance, item):
    """One place earlier or later."""
    page = PlanPage(request, attendance)
    row, form = page.item(item), touch(MoveForm, request)
    expected, way = form.cleaned_data["version"], form.cleaned_data["way"]
    try:
        plan_actions.move_item(actor=request.actor, item=row, expected=expected, by=form.by)
    except (Stale, plan_actions.Closed):
        return look_again(request, attendance, item)
    said = _("Moved earlier.") if way == "earlier" else _("Moved later.")
    return done(request, page, item, said, focus=way)


@opens(*roles.HEALTH_READERS, methods=("POST",))
def remove(request, attendance, item):
    """Take a row out."""
    page = PlanPage(request, attendance)
    row, form = page.item(item), touch(VersionForm, request)
    name = row.content.name
    try:
        plan_actions.remove_item(actor=request.actor, item=row, expected=form.cleaned_data["version"])
    except (Stale, plan_actions.Closed):
        return look_again(request, attendance, item)
    return done(request, page, "", _("%(name)s is out of the plan.") % {"name": name}, focus="plan")


@opens(*roles.HEALTH_READERS, methods=("GET", "POST"))
def add(request, attendance):
    """Find an exercise; one touch adds it."""
    page = PlanPage(request, attendance)
    if not page.plan:
        raise Http404
    if page.approved:
        return look_again(request, attendance, "") if request.method == "POST" else redirect(page.url("plan"))
    if request.method != "POST":
        side = page.picker(request.GET)
        return replace_url(page.render(side), with_query(page.url("plan_add"), side["query"]))
    form = touch(VersionForm, request)
    exercise = Exercise.objects.with_content().get_seen(request.user, request.POST.get("exercise", ""))
    try:
        plan_actions.add_item(
            actor=request.actor, plan=page.plan, exercise=exercise, expected=form.cleaned_data["version"]
        )
    except (Stale, plan_actions.Closed):
        return look_again(request, attendance, "")
    except plan_actions.NotClassified:
        words = _(
            "%(name)s is not yet classified: say in the library what it asks of the body, then plan it."
        )
        messages.warning(request, words % {"name": exercise.current.name})
        return page.render(page.picker(_wish(request)), status=UNFIT)
    said = _("%(name)s is in the plan.") % {"name": exercise.current.name}
    if not request.htmx:
        messages.info(request, said)
        return redirect(f"{page.url('plan_add')}?{_wish(request).urlencode()}")
    fresh = PlanPage(request, attendance)
    answer = fresh.render(fresh.picker(_wish(request), added=exercise.pk))
    return trigger_client_event(answer, "announce", {"text": said})


def _wish(request):
    """Return what was looked for, as the form of the picker sent it along."""
    wish = request.POST.copy()
    for name in set(wish) - set(ClientFindForm.base_fields):
        del wish[name]
    return wish


@opens(*roles.HEALTH_READERS, methods=("POST",))
def approve(request, attendance):
    page, form = _planned(request, attendance), touch(ApproveForm, request)
    seen, expected = form.cleaned_data["seen"], form.cleaned_data["version"]
    try:
        plan_actions.approve(actor=request.actor, plan=page.plan, expected=expected, seen=seen)
    except (Stale, plan_actions.Closed):
        return look_again(request, attendance, "")
    except plan_actions.MovedOn:
        messages.warning(request, _("Flags have changed since this page was opened: look again."))
        return PlanPage(request, attendance).render(status=CONFLICT)
    except plan_actions.Unsettled as unsettled:
        words = wording.settle_words(unsettled.numbers) if unsettled.numbers else _("Add an exercise first.")
        messages.warning(request, words)
        return PlanPage(request, attendance).render(status=UNFIT)
    return done(request, page, "", _("Approved."), focus="plan")


@opens(*roles.HEALTH_READERS, methods=("POST",))
def reopen(request, attendance):
    page, form = _planned(request, attendance), touch(VersionForm, request)
    try:
        plan_actions.reopen(actor=request.actor, plan=page.plan, expected=form.cleaned_data["version"])
    except Stale:
        return look_again(request, attendance, "")
    return done(request, page, "", _("Open again: rows may change."), focus="plan")


def _planned(request, attendance) -> PlanPage:
    page = PlanPage(request, attendance)
    if not page.plan:
        raise Http404
    return page


def touch(form_class, request):
    """Return a form that only buttons fill in. What no button sends answers like what is missing."""
    form = form_class(request.POST)
    if not form.is_valid():
        raise Http404
    return form


def look_again(request, attendance, public_id):
    """A touch came too late: the plan as it is now, and who changed it. Nothing was typed, nothing is lost."""
    page = PlanPage(request, attendance)
    who = page.plan.changed_by or _("Somebody")
    if page.approved:
        words = _("This plan is approved by now. Reopen it to change it.")
    else:
        words = _("%(who)s changed this plan a moment ago. Look again, then touch once more.") % {"who": who}
    messages.warning(request, words)
    there = [row for row in page.rows if row["id"] == public_id]
    side = page.row_sheet(there[0]["item"]) if there else None
    return page.render(side, status=CONFLICT)


def done(request, page: PlanPage, public_id: str, said: str, *, focus: str):
    """Answer a change: the page anew, with the row still open; spoken for those who hear it."""
    if not request.htmx:
        messages.info(request, said)
        return redirect(page.url("plan_item", public_id) if public_id else page.url("plan"))
    fresh = PlanPage(request, page.attendance.public_id)
    side = fresh.row_sheet(fresh.item(public_id)) if public_id else None
    answer = fresh.render(side, focus=focus)
    replace_url(answer, fresh.url("plan_item", public_id) if public_id else fresh.url("plan"))
    return trigger_client_event(answer, "announce", {"text": said})
