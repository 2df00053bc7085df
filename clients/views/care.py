"""Touch, home equipment, stature and mass of a client."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from clients import wording
from clients.actions import care as actions
from clients.forms.care import CareForm, mass_words, stature_words
from clients.models import CareProfile, Client, Submission
from studio.access import opens
from studio.actions import audit
from studio.models import Stale
from studio.roles import INSTRUCTOR, OWNER


@opens(OWNER, INSTRUCTOR, methods=("GET", "POST"))
def care_page(request, client):
    """See and change it. Of two at once the second sees both, and what was typed stays."""
    client = Client.objects.get_seen(request.user, client)
    care = CareProfile.objects.seen_by(request.user).filter(client=client).first()
    audit.write(request.actor, "care.read", client)
    form = CareForm(request.POST or None, care=care, measured_in=request.studio.units)
    context = {"client": client, "form": form, "from_form": _from_form(request, client), "at": "clients"}
    if request.method == "POST" and form.is_valid():
        fields = form.fields_to_write()
        try:
            actions.change(
                actor=request.actor,
                client=client,
                fields=fields,
                expected=form.cleaned_data["version"] or 0,
            )
        except Stale as stale:
            context["conflict"] = _both(request, form, stale.current, fields)
            return render(request, "clients/care.html", context, status=409)
        messages.info(request, _("Saved."))
        return redirect("sessions:client", client=client.public_id)
    status = 422 if form.errors else 200
    return render(request, "clients/care.html", context, status=status)


def _from_form(request, client) -> dict | None:
    """Return what the newest form says about home, for comparing."""
    newest = Submission.objects.seen_by(request.user).filter(client=client).first()
    if newest is None:
        return None
    things = wording.home_words(newest.answers.get("home"))
    if newest.answers.get("home_other"):
        things.append(newest.answers["home_other"])
    return {"things": things, "on": newest.given_on} if things else None


def _words(name: str, value, measured_in: str) -> str:
    if name == "home_equipment":
        return ", ".join(wording.home_words(value))
    if name == "stature_mm":
        return stature_words(value, measured_in)
    if name == "mass_g":
        return mass_words(value, measured_in)
    field = CareProfile._meta.get_field(name)
    return str(dict(field.flatchoices).get(value, value))


def _both(request, form, now: CareProfile, typed: dict) -> dict:
    """Return both texts, and give the form the version it may save next."""
    pairs = [
        {
            "label": wording.CARE[name],
            "theirs": _words(name, getattr(now, name), request.studio.units),
            "yours": _words(name, value, request.studio.units),
        }
        for name, value in typed.items()
        if getattr(now, name) != value
    ]
    form.data = form.data.copy()
    form.data["version"] = now.version
    return {"who": now.changed_by, "when": now.changed_at, "pairs": pairs}
