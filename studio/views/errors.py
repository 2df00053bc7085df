"""What people see when something is wrong: a plain sentence, a way on and a reference, nothing else."""

import logging
import secrets

from django.shortcuts import render
from django.utils.translation import gettext as _

log = logging.getLogger("evenside")


def _page(request, status: int, template: str):
    reference = secrets.token_hex(4)
    # The path holds no names, so it may stand in the log.
    log.warning("%s for %s %s, reference %s", status, request.method, request.path, reference)
    return render(request, template, {"reference": reference}, status=status)


def bad_request(request, exception=None):
    return _page(request, 400, "400.html")


def refused(request, exception=None):
    return _page(request, 403, "403.html")


def missing(request, exception=None):
    return _page(request, 404, "404.html")


def broken(request):
    return _page(request, 500, "500.html")


def stale_form(request, reason=""):
    """The form's token did not fit: what was typed is shown back, so that nothing is lost."""
    hidden = {"csrfmiddlewaretoken", "passphrase", "password"}
    typed = [(name, value) for name, value in request.POST.items() if name not in hidden and value]
    context = {"typed": typed, "message": _("This page was open too long, or you signed in again elsewhere.")}
    return render(request, "studio/stale_form.html", context, status=403)
