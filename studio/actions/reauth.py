"""Asking for the passphrase again before an act that matters much (staff, roles, settings, copies).

Source: OWASP verification standard 5.0, 7.5.3. Five minutes is the studio's own choice.
"""

import datetime as dt
from collections.abc import Callable
from functools import wraps
from urllib.parse import urlencode

from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _

from studio import clock
from studio.actions import audit, locking, sign_in
from studio.forms.access import AgainForm
from studio.wording import waiting

audit.register("access.confirmed", "access.confirm_failed")

FRESH_FOR = dt.timedelta(minutes=5)


def is_fresh(request) -> bool:
    """Return whether this session typed its passphrase in the last five minutes. A PIN does not count."""
    noted = request.session.get(sign_in.FULL_SIGN_IN)
    age = clock.now() - dt.datetime.fromisoformat(noted) if noted else None
    return age is not None and dt.timedelta(0) <= age <= FRESH_FOR


def confirm(request, passphrase: str) -> bool:
    """Check the signed-in person's passphrase; right notes the time in the session, wrong counts as a wrong try.

    Raises sign_in.MustWait before any hashing while this sign-in or this device has to wait.
    """
    right = sign_in.check_again(request, passphrase)
    audit.write(
        request.actor,
        "access.confirmed" if right else "access.confirm_failed",
        request.user,
        outcome="done" if right else "refused",
    )
    if right:
        sign_in.note_full_sign_in(request)
        locking.renew(request)
    return right


def asks_again(*methods: str) -> Callable:
    """Decorator, under `@opens`: asks for the passphrase first when the last full sign-in is too old.

    methods: those that ask; POST alone when none is named. A held-back POST answers with a page (403; 422
    after a wrong passphrase) that carries what was posted in hidden fields to the same address, so nothing
    typed is lost; files are not carried. A held-back GET is sent to the page `studio:again` and back.
    """
    asked_for = frozenset(methods or ("POST",))

    def decorate(view):
        @wraps(view)
        def guarded(request, *args, **kwargs):
            if request.method not in asked_for or is_fresh(request):
                return view(request, *args, **kwargs)
            if request.method != "POST":
                query = urlencode({"next": request.get_full_path()})
                return redirect(f"{reverse('studio:again')}?{query}")
            return _ask(request) or view(request, *args, **kwargs)

        guarded.asks_again = asked_for
        return guarded

    return decorate


def checked(request, form: AgainForm) -> bool:
    """Return whether the form's passphrase is right; otherwise put the sentence at the field."""
    if not form.is_valid():
        return False
    try:
        if confirm(request, form.cleaned_data[AgainForm.FIELD]):
            return True
        form.add_error(AgainForm.FIELD, _("That is not your passphrase. Try again."))
    except sign_in.MustWait as wait:
        form.add_error(None, waiting(wait.seconds))
    return False


def _ask(request):
    """Return the page that asks, or None once the passphrase was right."""
    form = AgainForm(request.POST if AgainForm.FIELD in request.POST else None)
    if checked(request, form):
        return None
    status = 422 if form.errors else 403
    answer = render(request, "studio/again.html", {"form": form, "carried": _carried(request)}, status=status)
    if request.htmx:
        # A part of a page asked: the whole page is put there instead, and 422 is what htmx swaps.
        answer.status_code = 422
        answer.headers["HX-Retarget"], answer.headers["HX-Reswap"] = "body", "innerHTML"
    return answer


def _carried(request) -> list[tuple[str, str]]:
    """Return every posted field but the token and the page's own, to be sent once more."""
    own = {"csrfmiddlewaretoken", AgainForm.FIELD}
    return [(name, value) for name, values in request.POST.lists() if name not in own for value in values]
