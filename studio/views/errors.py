"""What people see when something is wrong: a plain sentence, a way on and a reference, nothing else."""

import logging
import secrets

from django.http import HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _

from studio.actions import audit

log = logging.getLogger("evenside")


def _page(request, status: int, template: str, words: str = ""):
    reference = secrets.token_hex(4)
    # The path holds no names, so it may stand in the log.
    log.warning("%s for %s %s, reference %s", status, request.method, request.path, reference)
    # Without the request's context: what broke may be the database, and the page must come all the same.
    return HttpResponse(render_to_string(template, {"reference": reference, "words": words}), status=status)


def bad_request(request, exception=None):
    return _page(request, 400, "400.html")


def refused(request, exception=None):
    # A view that refuses for a reason of its own says it in a sentence.
    return _page(request, 403, "403.html", words=str(exception or ""))


def missing(request, exception=None):
    match = request.resolver_match
    if match and request.user.is_authenticated:
        # A page of ours with an id that is missing or not for this person: which of the two, nobody is told.
        audit.write(request.actor, "access.refused", outcome="missing", fields=[match.view_name])
    return _page(request, 404, "404.html")


def broken(request):
    try:
        return _page(request, 500, "500.html")
    except Exception:
        # The page about errors must not fail with what it is about.
        log.exception("the page for a broken request is broken too")
        return HttpResponse(
            _("Something broke. Go back and try again."), status=500, content_type="text/plain"
        )


def stale_form(request, reason=""):
    """The form's token did not fit: what was typed is shown back, so that nothing is lost."""
    context = {
        "typed": [(_label(name), values) for name, values in _typed(request)],
        "message": _("This page was open too long, or somebody signed in on this device since."),
        "back": _page_of_the_form(request),
    }
    return render(request, "studio/stale_form.html", context, status=403)


def _page_of_the_form(request) -> str:
    """Return the page the form stood on, where the browser names one of ours; otherwise the front door."""
    came_from = request.headers.get("Referer", "")
    ours = url_has_allowed_host_and_scheme(came_from, allowed_hosts={request.get_host()})
    return came_from if ours else "/"


# Never shown back: secrets, and what the page itself put into the form.
_UNSHOWN = {"csrfmiddlewaretoken", "passphrase", "password", "code", "next", "version"}


def _typed(request) -> list[tuple[str, list[str]]]:
    """Return what a person typed or chose, by field: every value of a field that takes several."""
    pairs = ((name, [v for v in values if v.strip()]) for name, values in request.POST.lists())
    return [(name, values) for name, values in pairs if values and name not in _UNSHOWN]


def _label(name: str) -> str:
    """Return a field's name as words: the form itself is not at hand here."""
    return name.replace("_", " ").replace("-", " ").capitalize()
