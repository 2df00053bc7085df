"""The owner writes what clients consent to, and the cautions that hold in this studio."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from studio.access import opens
from studio.actions.reauth import asks_again
from studio.actions.texts import write_text
from studio.forms.places import TextForm
from studio.models import Stale, StudioText
from studio.roles import OWNER


@opens(OWNER, methods=("GET", "POST"))
@asks_again()
def text(request, kind):
    if kind not in StudioText.Kind.values:
        raise Http404
    rows = list(StudioText.objects.seen_by(request.user).filter(kind=kind).select_related("by"))
    initial = {"number": rows[0].number if rows else 0, "words": rows[0].words if rows else ""}
    form = TextForm(request.POST if request.method == "POST" else None, initial=initial)
    page = {"form": form, "kind": kind, "title": StudioText.Kind(kind).label, "rows": rows, "at": "studio"}
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        try:
            write_text(actor=request.actor, kind=kind, words=data["words"], expected=data["number"])
        except Stale as stale:
            return render(request, "studio/text.html", {**page, **_both(form, stale.current)}, status=409)
        messages.info(request, _("Saved."))
        return redirect("studio:studio")
    return render(request, "studio/text.html", page, status=422 if form.errors else 200)


def _both(form, now) -> dict:
    """Keep what was typed and show what somebody else wrote; the next save goes over that."""
    form.data = form.data.copy()
    form.data["number"] = now.number
    pairs = [{"label": _("Text"), "theirs": now.words, "yours": form.cleaned_data["words"]}]
    return {"conflict": {"who": now.by, "when": now.at, "pairs": pairs}}
