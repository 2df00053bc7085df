"""What happens around every request: headers, the studio's language and zone, and who may pass."""

import zoneinfo

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone, translation
from django.utils.cache import patch_vary_headers
from django_htmx.http import HttpResponseClientRedirect

from studio.access import NOBODY
from studio.actions import audit
from studio.models import Studio


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
        with timezone.override(zoneinfo.ZoneInfo(zone)), translation.override(language):
            return self.get_response(request)


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
