"""Coming in and going out."""

from dataclasses import asdict

from django.contrib import messages
from django.contrib.auth import login
from django.core.exceptions import ValidationError
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _

from studio.access import opens, opens_to_nobody_signed_in
from studio.actions import audit, codes, kept, reauth
from studio.actions import first_owner as first
from studio.actions import sign_in as signing
from studio.forms.access import AgainForm, CodeForm, FirstOwnerForm, SignInForm
from studio.models import OneTimeCode, StudioText
from studio.wording import waiting


def _landing(request) -> str:
    """Return where to go after signing in: the page asked for, if it is ours, else today's sheet."""
    asked = request.POST.get("next") or request.GET.get("next") or ""
    if url_has_allowed_host_and_scheme(asked, allowed_hosts={request.get_host()}):
        return asked
    return reverse("sessions:today")


@opens_to_nobody_signed_in(methods=("GET", "POST"))
def sign_in(request):
    if request.user.is_authenticated and request.method == "GET":
        return redirect("sessions:today")
    form = SignInForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        try:
            person = signing.sign_in(request, **form.cleaned_data)
            if person is not None:
                return redirect("studio:kept" if kept.waits_for(person) else _landing(request))
            form.add_error(None, _("That name and passphrase do not go together. Try again."))
        except signing.MustWait as wait:
            form.add_error(None, waiting(wait.seconds))
    status = 422 if form.errors else 200
    return render(request, "studio/sign_in.html", {"form": form, "next": _landing(request)}, status=status)


@opens(methods=("POST",))
def sign_out(request):
    signing.sign_out(request)
    return redirect("studio:sign_in")


@opens_to_nobody_signed_in(methods=("GET", "POST"))
def have_code(request):
    """Choose a passphrase with a one-time code, and come in."""
    form = CodeForm(request.POST if request.method == "POST" else None, studio_name=request.studio.name)
    if request.method == "POST" and form.is_valid():
        try:
            if codes.redeem(request, **form.cleaned_data):
                messages.info(request, _("You are in. From now on your passphrase signs you in."))
                return redirect("sessions:today")
            form.add_error(
                None,
                _(
                    "That name and code do not go together, or the code is used or over. Ask the owner for a new one."
                ),
            )
        except signing.MustWait as wait:
            form.add_error(None, waiting(wait.seconds))
        except ValidationError as problem:
            form.add_error("passphrase", problem)
    return render(request, "studio/have_code.html", {"form": form}, status=422 if form.errors else 200)


@opens(methods=("GET", "POST"))
def again(request):
    """Ask for the passphrase before a page that matters much, then open it."""
    form = AgainForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and reauth.checked(request, form):
        return redirect(_landing(request))
    page = {"form": form, "carried": [("next", _landing(request))]}
    return render(request, "studio/again.html", page, status=422 if form.errors else 200)


@opens_to_nobody_signed_in(methods=("GET", "POST"))
def first_owner(request):
    """The first page of an empty studio. Once there is an owner it is gone for good."""
    if not first.is_open():
        return redirect("studio:sign_in")
    address = request.META.get("REMOTE_ADDR", "")
    form = FirstOwnerForm(
        request.POST if request.method == "POST" else None,
        initial=asdict(first.usual_here(request.headers.get("Accept-Language", ""))),
        asks_code=not first.is_this_machine(address),
    )
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        if first.may_set_up(address, data.get("code", "")):
            return _open_studio(request, form)
        form.add_error("code", _("Type the code that the console shows."))
    return render(request, "studio/first_owner.html", {"form": form}, status=422 if form.errors else 200)


def _open_studio(request, form):
    try:
        person = first.set_up(
            actor=request.actor,
            owner=form.owner(),
            passphrase=form.cleaned_data["passphrase"],
            studio=form.studio(),
        )
    except first.AlreadyOpen:
        return redirect("studio:sign_in")
    request.session.flush()
    login(request, person)
    signing.note_full_sign_in(request)
    code = codes.issue(actor=audit.Actor.of_request(request), person=person, kind=OneTimeCode.Kind.RECOVERY)
    return render(request, "studio/recovery_code.html", {"code": code, "onward": reverse("sessions:today")})


@opens()
def help_page(request):
    cautions = StudioText.objects.seen_by(request.user).current(StudioText.Kind.CAUTIONS)
    return render(request, "studio/help.html", {"at": "help", "cautions": cautions})
