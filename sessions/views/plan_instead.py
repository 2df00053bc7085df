"""What to do instead of a row of the plan: looking, swapping with one touch, taking it back."""

from django.contrib import messages
from django.utils.translation import gettext as _

from sessions.actions import plans as plan_actions
from sessions.actions import swaps
from sessions.actions.alternatives import Instead
from sessions.forms.plans import VersionForm
from sessions.views import instead as shown
from sessions.views.plan_page import PlanPage
from sessions.views.plans import done, look_again, touch
from studio import roles
from studio.access import opens
from studio.models import Stale
from studio.statuses import UNFIT


def _instead(request, page: PlanPage, row) -> Instead:
    return Instead(
        person=request.user,
        studio=request.studio,
        plan=page.plan,
        item=row,
        flags=page.flags,
        table=page.table,
    )


def _sheet(page: PlanPage, row, instead: Instead) -> dict:
    """Return the side sheet with the alternatives to a row."""
    found = next(one for one in page.rows if one["item"].pk == row.pk)
    return {
        "kind": "instead",
        "row": found,
        "version": page.plan.version,
        **shown.listed(shown.rows(instead)),
    }


@opens(*roles.HEALTH_READERS, methods=("GET", "POST"))
def instead(request, attendance, item):
    """The alternatives to a row in the side sheet; a POST puts one in its place."""
    page = PlanPage(request, attendance)
    row = page.item(item)
    if page.approved:
        return look_again(request, attendance, item)
    instead = _instead(request, page, row)
    if request.method != "POST":
        return page.render(_sheet(page, row, instead), focus="sheet")
    expected = touch(VersionForm, request).cleaned_data["version"]
    exercise, adaptations = shown.chosen(instead, request.POST)
    was = row.content.name
    try:
        swaps.swap(
            actor=request.actor,
            instead=instead,
            exercise=exercise,
            adaptations=adaptations,
            expected=expected,
        )
    except (Stale, plan_actions.Closed):
        return look_again(request, attendance, item)
    except swaps.NotInstead:
        messages.warning(request, _("That one is no longer among them: flags have changed. Look again."))
        fresh = PlanPage(request, attendance)
        row = fresh.item(item)
        return fresh.render(_sheet(fresh, row, _instead(request, fresh, row)), status=UNFIT)
    said = _("%(new)s instead of %(old)s.") % {"new": exercise.current.name, "old": was}
    return done(request, page, item, said, focus="sheet")


@opens(*roles.HEALTH_READERS, methods=("POST",))
def take_back(request, attendance, item):
    """Put back what stood in the row before."""
    page = PlanPage(request, attendance)
    row, form = page.item(item), touch(VersionForm, request)
    try:
        row = swaps.take_back(actor=request.actor, item=row, expected=form.cleaned_data["version"])
    except (Stale, plan_actions.Closed):
        return look_again(request, attendance, item)
    said = _("Back to %(name)s.") % {"name": row.exercise.current.name}
    return done(request, page, item, said, focus="sheet")
