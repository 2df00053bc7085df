"""Where people are signed in, and the devices of the studio."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _

from studio.access import opens
from studio.actions import devices as device_actions
from studio.actions import locking, pins, reauth
from studio.actions import sign_in as signing
from studio.forms.locking import EnrolForm, OwnPassphraseForm, PinForm
from studio.models import Device, KeptText, StaffSession
from studio.roles import OWNER


@opens()
def mine(request):
    """A person's own page: where they are signed in, their PIN, their passphrase."""
    rows = StaffSession.objects.seen_by(request.user).filter(person=request.user).running()
    context = {
        "rows": rows.select_related("device"),
        "has_pin": hasattr(request.user, "pin"),
        "kept": KeptText.objects.seen_by(request.user).exists(),
        "pin_works": locking.can_come_back(request),
        "at": "me",
    }
    return render(request, "studio/mine.html", context)


def _typed(request, form, save, done: str, page: dict):
    """Show a form that asks for the passphrase; save and go to `done` when all of it is right."""
    if request.method == "POST" and form.is_valid() and reauth.checked(request, form):
        save(form.cleaned_data)
        return redirect(done)
    page = {"form": form, "back": done, "at": "me", **page}
    return render(request, "studio/own.html", page, status=422 if form.errors else 200)


@opens(methods=("GET", "POST"))
def pin(request):
    def save(data):
        pins.set_pin(request, digits=data["pin"])
        if request.device is None:
            messages.info(request, _("The PIN is set. It works on devices the owner has enrolled."))
        else:
            messages.info(request, _("The PIN is set. Lock now leads back with it."))

    form = PinForm(request.POST if request.method == "POST" else None)
    lead = _("It brings you back after the lock, for 12 hours after your passphrase, on enrolled devices.")
    page = {"title": _("Your PIN"), "lead": lead, "ends": True}
    return _typed(request, form, save, reverse("studio:mine"), page)


@opens(methods=("GET", "POST"))
def passphrase(request):
    def save(data):
        pins.change_passphrase(request, passphrase=data["new_passphrase"])
        messages.info(request, _("The passphrase is changed. Set your PIN anew if you use one."))

    me = request.user
    names = (request.studio.name, me.sign_in_name, me.full_name, me.call_name)
    form = OwnPassphraseForm(request.POST if request.method == "POST" else None, names=names)
    lead = _("Your PIN goes with the old passphrase: set it anew afterwards.")
    page = {"title": _("Your passphrase"), "lead": lead, "ends": True}
    return _typed(request, form, save, reverse("studio:mine"), page)


@opens(methods=("POST",))
def end_mine(request):
    """End one of one's own sign-ins. One that has ended meanwhile is as good as ended now."""
    own = StaffSession.objects.seen_by(request.user).filter(person=request.user).running()
    row = own.filter(public_id=request.POST.get("sign_in", "")).first()
    if row is not None:
        locking.end(actor=request.actor, row=row)
    messages.info(request, _("Ended."))
    return redirect("studio:mine")


@opens(methods=("POST",))
def end_all_mine(request):
    """Sign out everywhere, here too."""
    locking.end_all(actor=request.actor, person=request.user)
    signing.sign_out(request)
    return redirect("studio:sign_in")


@opens(OWNER, methods=("GET", "POST"))
def devices(request):
    """The studio's devices and everybody's sign-ins; the owner enrols the browser at hand."""
    form = EnrolForm(request.POST if request.method == "POST" else None)
    new_here = request.method == "POST" and request.device is None
    if new_here and form.is_valid() and reauth.checked(request, form):
        return _enrol(request, form.cleaned_data)
    rows = StaffSession.objects.seen_by(request.user).running().select_related("person", "device")
    context = {
        "form": form,
        "here": request.device,
        "devices": Device.objects.seen_by(request.user).in_use(),
        "rows": rows,
        "at": "studio",
    }
    return render(request, "studio/devices.html", context, status=422 if form.errors else 200)


def _enrol(request, data):
    device, token = device_actions.enrol(request, name=data["name"], kind=data["kind"])
    messages.info(request, _("This browser is enrolled as %(name)s.") % {"name": device.name})
    answer = redirect("studio:devices")
    device_actions.give_token(answer, token)
    return answer


@opens(OWNER, methods=("POST",))
def revoke(request, device):
    found = Device.objects.seen_by(request.user).in_use().get_seen(request.user, device)
    device_actions.revoke(actor=request.actor, device=found)
    messages.info(request, _("Taken out. Whoever was signed in there is signed out."))
    return redirect("studio:devices")


@opens(OWNER, methods=("POST",))
def end(request, sign_in):
    found = StaffSession.objects.get_seen(request.user, sign_in)
    if found.ended_at is None:
        locking.end(actor=request.actor, row=found)
    messages.info(request, _("Ended."))
    return redirect("studio:devices")
