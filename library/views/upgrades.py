"""Changed on both sides: the owner chooses, field by field, between the studio's text and the newer shipped one."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from library import own_wording, versions_apart, wording
from library.actions import upgrades as actions
from library.actions.own import Broken, MovedOn
from library.forms.upgrades import SettleForm
from library.models import Exercise
from library.models.checking import names_of
from library.models.upgrades import Meeting, meeting_of, meetings
from studio.access import opens
from studio.roles import OWNER
from studio.statuses import CONFLICT, UNFIT


@opens(OWNER)
def changed(request):
    """Every exercise of which both the studio and the shipped library have something new."""
    rows = [
        {
            "exercise": met.exercise,
            "met": met,
            "fields": len(_apart(met)),
            "both": sum(r.both_changed for r in _apart(met)),
        }
        for met in meetings(request.user)
    ]
    return render(request, "library/changed.html", {"rows": rows, "at": "library"})


@opens(OWNER, methods=("GET", "POST"))
def settle(request, exercise):
    """Both texts of one exercise side by side, and what is chosen of each."""
    row = Exercise.objects.with_content().get_seen(request.user, exercise)
    met = meeting_of(row)
    if met is None:
        messages.info(request, _("There is nothing to choose between here."))
        return redirect("library:changed")
    apart = _apart(met)
    form = SettleForm(request.POST or None, apart=apart, ours=met.ours.number, theirs=met.theirs.number)
    status = 200
    if request.method == "POST":
        status = UNFIT
        if form.is_valid():
            try:
                return _settled(request, met, form)
            except MovedOn:
                messages.warning(
                    request, _("One of the two has changed since this page was opened. Look again.")
                )
                status = CONFLICT
            except Broken as broken:
                for slip in broken.slips:
                    form.add_error(None, own_wording.sentence(slip))
    rows = _rows(form, apart, names_of(request.user))
    page = {"met": met, "form": form, "rows": rows, "more": _asks_more(met), "at": "library"}
    return render(request, "library/settle.html", page, status=status)


def _settled(request, met: Meeting, form: SettleForm):
    data = form.cleaned_data
    version = actions.settle(
        actor=request.actor,
        exercise=met.exercise,
        ours=data["ours"],
        theirs=data["theirs"],
        take=form.taken(),
    )
    if version == met.theirs:
        messages.info(request, _("It stands as it ships now. Your version stays on file."))
    else:
        messages.info(request, _("Kept as chosen. Both texts stay on file."))
    return redirect("library:changed")


def _apart(met: Meeting) -> list[versions_apart.Apart]:
    """Return what differs; the side of a demand goes with its demand and is not asked about by itself."""
    base = met.base.payload if met.base else None
    rows = versions_apart.apart(base, met.ours.payload, met.theirs.payload)
    fields = {row.field for row in rows}
    return [row for row in rows if versions_apart.TOGETHER.get(row.field) not in fields]


def _asks_more(met: Meeting) -> list[str]:
    """Return in words what the newer shipped one asks of the body and the studio's does not say."""
    said = met.ours.facts["demands"] or ()
    return [wording.demand_short(name) for name in met.theirs.facts["demands"] if name not in said]


def _rows(form, apart, names) -> list[dict]:
    return [
        {
            "label": own_wording.field_label(row.field),
            "choice": form[form.name_of(place)],
            "both": row.both_changed,
            "base": own_wording.value_lines(row.field, row.base, names),
            "ours": own_wording.value_lines(row.field, row.ours, names),
            "theirs": own_wording.value_lines(row.field, row.theirs, names),
        }
        for place, row in enumerate(apart)
    ]
