"""Recording the paper form, and reading the answers as they were recorded."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from clients import wording
from clients.actions import intake as actions
from clients.forms.intake import IntakeForm
from clients.models import Client, Submission
from clients.views.answers import shown
from studio import clock
from studio.access import opens
from studio.actions import audit
from studio.roles import INSTRUCTOR, OWNER


@opens(methods=("GET", "POST"))
def record_intake(request, client):
    """Type a form. The front desk does so once for a client and never sees it again."""
    client = Client.objects.with_desk_marks().get_seen(request.user, client)
    reads = request.user.reads_health
    if not reads and (closed := _closed(request, client)):
        return closed
    form = IntakeForm(
        request.POST or None,
        client=client,
        today=clock.today(request.studio.zone),
        gives=reads,
        later=reads and not client.form_missing,
        initial={"given_on": clock.today(request.studio.zone), "given_by": Submission.GivenBy.PAPER},
    )
    if request.method == "POST" and form.is_valid():
        try:
            _record(request, client, form)
        except actions.AlreadyRecorded:
            return _on_file(request, client, status=409)
        except actions.TypingSwitchedOff:
            return _switched_off(request, client)
        messages.info(request, _("Saved.") if reads else _("Saved. An instructor reads it next."))
        return redirect("clients:flags" if reads else "sessions:client", client=client.public_id)
    context = {"form": form, "client": client, "cautions": wording.CAUTIONS, "at": "clients"}
    status = 422 if form.errors else 200
    return render(request, "clients/intake.html", context, status=status)


def _record(request, client, form) -> None:
    actions.record(
        actor=request.actor,
        studio=request.studio,
        client=client,
        given_by=form.given_by_value(),
        given_on=form.cleaned_data["given_on"],
        answers=form.answers(),
    )


def _closed(request, client):
    """Return the page that says why the desk may not type this form, or None where it may."""
    if not request.studio.desk_types_intake:
        return _switched_off(request, client)
    if not client.form_missing:
        return _on_file(request, client, status=409 if request.method == "POST" else 200)
    return None


def _switched_off(request, client):
    said = _("The owner has switched typing at the desk off. Give the paper to an instructor.")
    return render(request, "clients/intake_closed.html", {"client": client, "said": said}, status=403)


def _on_file(request, client, *, status):
    said = _("A form is on file. To add or correct something, give the paper to an instructor.")
    context = {"client": client, "said": said, "refused": status == 409, "at": "clients"}
    return render(request, "clients/intake_closed.html", context, status=status)


@opens(OWNER, INSTRUCTOR)
def read_answers(request, client):
    """Every set of answers as it was recorded, newest first."""
    client = Client.objects.get_seen(request.user, client)
    rows = Submission.objects.seen_by(request.user).filter(client=client).select_related("typed_by")
    audit.write(request.actor, "answers.read", client)
    context = {"client": client, "submissions": [shown(row) for row in rows], "at": "clients"}
    return render(request, "clients/answers.html", context)
