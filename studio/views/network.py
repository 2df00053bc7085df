"""The owner's page about the network, and the page that helps a tablet or laptop in."""

import segno
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _

from studio.access import opens, opens_to_nobody_signed_in
from studio.actions import network as actions
from studio.actions import reauth
from studio.certificates import as_der
from studio.forms.access import AgainForm
from studio.forms.network import NetworkForm
from studio.listening import state
from studio.models import Network, Stale
from studio.roles import OWNER
from studio.setup import ports

SECONDS_TO_LISTEN = 4
# Modules of white around a QR code: ISO/IEC 18004 asks for four.
QUIET_ZONE = 4


@opens(OWNER, methods=("GET", "POST"))
def network(request):
    """What is served and where; switching on or changing it asks for the passphrase in the same form."""
    row = Network.objects.seen_by(request.user).first() or Network()
    asked = request.POST if request.method == "POST" else None
    form = NetworkForm(
        asked,
        instance=row,
        found_names=ports.host_names(),
        found_addresses=ports.own_addresses(),
        replaces=actions.replaces_authority,
    )
    again = AgainForm(asked)
    if asked is None:
        return _page(request, form, again)
    if not form.is_valid() or not reauth.checked(request, again):
        return _page(request, form, again, status=422)
    try:
        actions.switch_on(actor=request.actor, values=form.values(), expected=form.expected)
    except Stale as stale:
        return _page(request, form, again, status=409, conflict=form.conflict(stale.current))
    _wait(request)
    messages.info(request, _("The network is on. The steps for each tablet and laptop follow below."))
    return redirect("studio:network")


@opens(OWNER, methods=("POST",))
def network_off(request):
    row = Network.objects.seen_by(request.user).first()
    if row is not None:
        try:
            actions.switch_off(actor=request.actor, expected=int(request.POST.get("version") or 0))
        except (Stale, ValueError):
            messages.warning(request, _("Somebody changed the network a moment ago. Look once more."))
            return redirect("studio:network")
        _wait(request)
        messages.info(request, _("The network is off. Only this machine shows the studio."))
    return redirect("studio:network")


@opens(OWNER, methods=("POST",))
def network_installed(request):
    """The owner says that every device holds the new certificate."""
    actions.installed_on_all(actor=request.actor)
    messages.info(request, _("Noted. Every tablet and laptop has the certificate."))
    return redirect("studio:network")


@opens_to_nobody_signed_in()
def network_install(request):
    """The few steps for a tablet and a laptop. Nobody is signed in on a new one, so everybody may read it."""
    invitation = actions.invitation()
    page = {"invitation": invitation, "home": _home(request, invitation)}
    return render(request, "studio/network_install.html", page)


@opens_to_nobody_signed_in()
def network_authority(request):
    """The public half of the studio's authority, as the file that tablets and laptops install."""
    certificate = actions.authority_certificate()
    if certificate is None:
        return redirect("studio:network_install")
    answer = HttpResponse(as_der(certificate), content_type="application/x-x509-ca-cert")
    # Not "attachment": a tablet then only saves the file instead of offering to install it.
    answer.headers["Content-Disposition"] = 'inline; filename="studio-authority.crt"'
    return answer


def _page(request, form, again, *, status: int = 200, conflict=None):
    row = Network.objects.seen_by(request.user).first()
    on = row is not None and row.is_on
    invitation = actions.invitation() if on else None
    page = {
        "form": form,
        "again": again,
        "conflict": conflict,
        "row": row,
        "on": on,
        "invitation": invitation,
        "install_again": actions.install_again(),
        "code": qr_code(invitation.install_urls[0]) if invitation else "",
        "problem": _problem() if on else "",
        "waits": on and not state.open_at and state.error is None,
        "at": "studio",
    }
    return render(request, "studio/network.html", page, status=status)


def _home(request, invitation) -> str:
    """Return where the studio opens from the page with the steps: the address it was reached by, if protected."""
    if request.is_secure():
        return f"https://{request.get_host()}/"
    return f"{invitation.urls[0]}/" if invitation else "/"


def _problem() -> str:
    """Return why nothing listens though it should, as a sentence, or an empty text."""
    if state.error is None:
        return ""
    if state.error.errno in ports.TAKEN:
        words = _("Port %(port)s is taken by another program. Choose another number below.")
    elif state.error.errno in ports.FORBIDDEN:
        words = _("Port %(port)s is not open to this program. Choose another number below.")
    else:
        words = _("Port %(port)s cannot be used. Choose another number below.")
    return words % {"port": state.port}


def _wait(request) -> None:
    """Let the listeners settle before the page says how it stands, unless they carry this very answer."""
    if not request.is_secure():
        state.wait(SECONDS_TO_LISTEN)


def qr_code(address: str) -> str:
    """Return a QR code as an SVG element: black on white in light and dark, no style of its own."""
    code = segno.make(address, micro=False, error="m")
    # The library escapes the title; everything else is drawn from numbers.
    return mark_safe(
        code.svg_inline(
            border=QUIET_ZONE, omitsize=True, svgclass="qr", lineclass=None, dark="#000", light="#fff"
        )
    )
