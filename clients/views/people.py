"""Finding clients, taking one on file, changing the contact."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django_htmx.http import HttpResponseClientRedirect, trigger_client_event

from clients.actions import people as actions
from clients.forms.people import EMERGENCY, ContactChangeForm, ContactForm, SearchForm
from clients.models import Client
from studio import clock
from studio.access import opens
from studio.models import Stale

A_PAGE = 40


@opens(methods=("GET", "POST"))
def client_list(request):
    """Everybody the person may see. Words to look for come by POST, so that no name is in an address."""
    words, number = SearchForm(request.POST).wanted() if request.method == "POST" else ("", 1)
    rows = Client.objects.seen_by(request.user).found(words).with_desk_marks()
    pages = Paginator(rows, A_PAGE)
    context = {"words": words, "page": pages.get_page(number), "total": pages.count, "at": "clients"}
    if words and pages.count == 1 and "open" in request.POST:
        return _opened(request, pages.object_list[0])
    if not request.htmx:
        return render(request, "clients/list.html", context)
    response = render(request, "clients/_found.html", context)
    said = ngettext("%(n)d client", "%(n)d clients", pages.count) % {"n": pages.count}
    return trigger_client_event(response, "announce", {"text": said})


def _opened(request, client):
    """Go to the only client who was found: Enter after a few letters is enough."""
    address = reverse("sessions:client", args=[client.public_id])
    return HttpResponseClientRedirect(address) if request.htmx else redirect(address)


@opens(methods=("GET", "POST"))
def new_client(request):
    """A new client. Somebody who may be on file already is pointed out first."""
    form = ContactForm(request.POST or None, today=clock.today(request.studio.zone))
    twins, status = [], 200
    if request.method == "POST":
        status = 422
        if form.is_valid():
            twins = _twins(request, form)
            if not twins:
                client = actions.add(actor=request.actor, contact=form.contact())
                messages.info(request, _("On file. The paper form comes next."))
                return redirect("sessions:client", client=client.public_id)
            status = 409
    return render(request, "clients/new.html", {"form": form, "twins": twins, "at": "clients"}, status=status)


def _twins(request, form) -> list[Client]:
    """Return those who may be the same person, unless the person has seen them all and saves all the same."""
    contact = form.cleaned_data
    found = Client.objects.seen_by(request.user).twins(
        full_name=contact["full_name"], birth_date=contact["birth_date"], telephone=contact["telephone"]
    )[:6]
    seen = set(request.POST.getlist("seen")) if "all_the_same" in request.POST else set()
    return [] if {row.public_id for row in found} <= seen else list(found)


@opens(methods=("GET", "POST"))
def change_contact(request, client):
    """Change the contact. Two people at once: the second sees both texts and nothing is overwritten."""
    client = Client.objects.get_seen(request.user, client)
    form = ContactChangeForm(
        request.POST or None,
        instance=client,
        initial={"version": client.version},
        person=request.user,
        today=clock.today(request.studio.zone),
    )
    # The form writes what is typed into the row, and a heading shows the name on file.
    context = {"form": form, "client": client, "name_on_file": client.full_name, "at": "clients"}
    if request.method == "POST" and form.is_valid():
        fields = {n: v for n, v in form.contact().items() if form.writes_emergency or n not in EMERGENCY}
        try:
            changed = actions.change_contact(
                actor=request.actor, client=client, contact=fields, expected=form.cleaned_data["version"] or 0
            )
        except Stale as stale:
            context |= _both(form, stale.current, fields)
            return render(request, "clients/contact.html", context, status=409)
        messages.info(request, _("Saved.") if changed else _("Nothing had changed."))
        return redirect("sessions:client", client=client.public_id)
    status = 422 if form.errors else 200
    return render(request, "clients/contact.html", context, status=status)


def _both(form, now: Client, typed: dict) -> dict:
    """Return what the page needs to show both texts, and give the form the version it may save next."""
    pairs = [
        {"label": form.fields[name].label, "theirs": getattr(now, name), "yours": value}
        for name, value in typed.items()
        if getattr(now, name) != value
    ]
    form.data = form.data.copy()
    form.data["version"] = now.version
    return {"client": now, "conflict": {"who": now.changed_by, "when": now.changed_at, "pairs": pairs}}
