"""Exercise sets: export as one file; import after a look at what would be added, changed or refused."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from library import fault_wording, own_wording, versions_apart
from library.actions import sets as actions
from library.actions.own import MovedOn, Over
from library.forms.sets import ExportForm, SetForm
from library.models import OfferedSet
from library.models.checking import names_of
from library.models.shelf import shelf_of
from studio import clock
from studio.access import opens
from studio.actions.reauth import asks_again
from studio.roles import INSTRUCTOR, OWNER
from studio.statuses import UNFIT


@opens(OWNER, INSTRUCTOR)
def sets(request):
    """Both ways on one page: out, and for the owner in."""
    return _page(request)


def _page(request, status=200, **forms_and_more):
    page = {"export": ExportForm(own=_own(request)), "form": SetForm(), "at": "library", **forms_and_more}
    page["problems"] = [fault_wording.problem(one) for one in page.get("problems", ())]
    return render(request, "library/sets.html", page, status=status)


def _own(request) -> list:
    return [one for one in shelf_of(request.user) if one.current.is_own]


@opens(OWNER, INSTRUCTOR, methods=("POST",))
def set_export(request):
    form = ExportForm(request.POST, own=_own(request))
    if not form.is_valid():
        return _page(request, UNFIT, export=form)
    data, shelf = form.cleaned_data, shelf_of(request.user)
    chosen = [one for one in shelf if data["everything"] or one.public_id in data["which"]]
    answer = HttpResponse(
        actions.export(actor=request.actor, exercises=chosen), content_type="application/json"
    )
    day = clock.today(request.studio.zone).isoformat()
    answer["Content-Disposition"] = f'attachment; filename="exercise-set-{day}.json"'
    return answer


@opens(OWNER, methods=("POST",))
def set_offer(request):
    """Look at a file. One that does not hold is refused with every reason, and nothing is written."""
    form = SetForm(request.POST, request.FILES)
    if not form.is_valid():
        return _page(request, UNFIT, form=form)
    file = form.cleaned_data["file"]
    try:
        offered = actions.offer(actor=request.actor, content=file.read(), file_name=file.name)
    except actions.BrokenSet as broken:
        return _page(request, UNFIT, problems=broken.problems)
    return redirect("library:set", offered.public_id)


@opens(OWNER, methods=("GET", "POST"))
@asks_again()
def set_look(request, offered):
    """What taking a set over would do, exercise by exercise, and the button that does it."""
    row = OfferedSet.objects.get_seen(request.user, offered)
    if row.taken_at:
        messages.info(request, _("This set has been taken over already."))
        return redirect("library:own")
    if request.method == "POST":
        try:
            return _taken(request, row)
        except Over:
            messages.info(request, _("This set has been taken over already."))
            return redirect("library:own")
        except MovedOn:
            messages.warning(
                request, _("The shelf has changed since. Choose the file again and look once more.")
            )
            return redirect("library:sets")
        except actions.BrokenSet as broken:
            return _page(request, UNFIT, problems=broken.problems)
    reading = actions.looked_at(row.content.encode(), request.user, row.file_name)
    if reading.problems:
        return _page(request, UNFIT, problems=reading.problems)
    return render(
        request, "library/set_look.html", {"offered": row, **_shown(request, reading), "at": "library"}
    )


def _taken(request, row):
    done = actions.take(actor=request.actor, offered=row)
    number = len(done.added) + len(done.changed)
    said = ngettext("%(n)s exercise taken over.", "%(n)s exercises taken over.", number) % {"n": number}
    messages.info(request, said)
    return redirect("library:own")


def _shown(request, reading) -> dict:
    names, now = names_of(request.user), {one.key: one.current for one in shelf_of(request.user)}
    changed = [
        {
            "name": now[key].name,
            "fields": [
                {
                    "label": own_wording.field_label(field),
                    "old": own_wording.value_lines(field, old, names),
                    "new": own_wording.value_lines(field, new, names),
                }
                for field, old, new in versions_apart.differing(now[key].payload, reading.payloads[key])
            ],
        }
        for key in reading.changed
    ]
    added = [
        {"name": facts["name"], "unclassified": facts["demands"] is None}
        for facts in (reading.payloads[key]["facts"] for key in reading.added)
    ]
    return {"added": added, "changed": changed, "same": len(reading.same)}
