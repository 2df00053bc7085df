"""What happens around every request: headers, the studio's language and zone, and who may pass."""

import zoneinfo
from functools import lru_cache
from urllib.parse import urlencode

from django.contrib import messages
from django.contrib.auth.models import AnonymousUser
from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone, translation
from django.utils.cache import patch_vary_headers
from django.utils.translation import gettext as _
from django.utils.translation import trans_real
from django_htmx.http import HttpResponseClientRedirect

from studio import locking
from studio.access import NOBODY
from studio.actions import audit, devices, kept
from studio.actions import locking as locking_actions
from studio.models import Studio

# The sentences of all pages and data files are fewer; past this many the oldest are looked up anew.
SENTENCES_KEPT = 16384


class HeadersMiddleware:
    """Nothing of a page is kept by the browser, and other sites cannot embed or read it."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        response = self.get_response(request)
        if not request.path.startswith("/static/"):
            response.headers["Cache-Control"] = "no-store"
            patch_vary_headers(response, ["HX-Request"])
        response.headers["Cross-Origin-Resource-Policy"] = "same-origin"
        response.headers["Permissions-Policy"] = "camera=(), microphone=(), geolocation=()"
        return response


class StudioMiddleware:
    """Put the studio's settings, language and time zone around the request."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        request.studio = Studio.objects.first()
        request.actor = audit.Actor.of_request(request)
        zone = request.studio.zone if request.studio else "UTC"
        language = request.studio.locale if request.studio else "en-gb"
        keep_sentences(language)
        with timezone.override(zoneinfo.ZoneInfo(zone)), translation.override(language):
            return self.get_response(request)


def keep_sentences(language: str) -> None:
    """Let the catalogue of a language remember what it has translated.

    Django asks a chain of six for every sentence, and a page says a thousand. A catalogue never changes while
    the process runs; Django makes a new one, which remembers nothing yet, when settings of languages change.
    """
    catalogue = trans_real.translation(language)
    if "gettext" not in vars(catalogue):
        catalogue.gettext = lru_cache(maxsize=SENTENCES_KEPT)(catalogue.gettext)
        catalogue.ngettext = lru_cache(maxsize=SENTENCES_KEPT)(catalogue.ngettext)


class LockMiddleware:
    """A locked sign-in, one past its limit and one without a row are nobody's (studio.locking says when)."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        request.device = devices.find(request)
        if request.device is not None:
            devices.seen(request, request.device)
        request.staff_session, request.locked_person = None, None
        if request.user.is_authenticated:
            self._look(request)
        return self.get_response(request)

    def _look(self, request):
        row = locking_actions.find(request)
        if row is not None and locking_actions.is_elsewhere(request, row):
            self._become(request, AnonymousUser())
            return
        state = locking_actions.state(request, row) if row is not None else None
        if state in (None, locking.OVER):
            request.session.flush()
            self._become(request, AnonymousUser())
            if state == locking.OVER:
                messages.info(request, _("It is 12 hours since you typed your passphrase. Sign in again."))
            return
        request.staff_session = row
        if state == locking.LOCKED:
            request.locked_person = request.user
            self._become(request, AnonymousUser())

    @staticmethod
    def _become(request, person):
        request.user = person
        request.actor = audit.Actor.of_request(request)

    def process_view(self, request, view, args, kwargs):
        if request.locked_person is not None:
            return self._behind_the_lock(request, view)
        if request.staff_session is not None and not getattr(view, "in_background", False):
            locking_actions.touched(request.staff_session)
        return None

    def _behind_the_lock(self, request, view):
        """Unlock, sign in as somebody else, sign out: nothing else answers while it is locked."""
        if NOBODY in getattr(view, "opens_to", ()):
            return None
        if view.__name__ == "sign_out":
            self._become(request, request.locked_person)
            return None
        if request.method == "POST":
            person, pairs = request.locked_person, kept.typed(request.POST)
            kept.keep(actor=request.actor, person=person, path=request.path, pairs=pairs)
        page = request.get_full_path() if request.method == "GET" and not request.htmx else ""
        page = page or request.htmx.current_url_abs_path or ""
        return redirect(f"{reverse('studio:lock')}?{urlencode({'next': page})}" if page else "studio:lock")


class AccessMiddleware:
    """Every view refuses unless it says who may use it (studio.access)."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        response = self.get_response(request)
        # htmx would follow a redirect silently and put a whole page into a panel.
        if request.htmx and isinstance(response, HttpResponseRedirect):
            return HttpResponseClientRedirect(response.url)
        return response

    def process_view(self, request, view, args, kwargs):
        allowed = getattr(view, "opens_to", frozenset())
        if request.studio is None and view.__name__ != "first_owner":
            return redirect("studio:first_owner")
        if NOBODY in allowed:
            return None
        if not request.user.is_authenticated:
            # The page that was asked for is only remembered for a plain visit, never for a form or a part.
            plain = request.method == "GET" and not request.htmx
            return redirect_to_login(request.path) if plain else redirect(reverse("studio:sign_in"))
        if not request.user.has_role(*allowed):
            audit.write(request.actor, "access.refused", outcome="refused", fields=[view.__name__])
            raise PermissionDenied
        return None
