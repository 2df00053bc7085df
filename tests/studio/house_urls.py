"""Addresses for the tests of the house: the real ones, and a few views that misbehave on purpose."""

from django.http import HttpResponse
from django.urls import include, path
from django.views.decorators.http import require_POST

from clients.models import Client
from studio import roles
from studio.access import opens
from studio.urls import handler400, handler403, handler404, handler500  # noqa: F401
from studio.urls import urlpatterns as real

SECRET = "a-value-no-page-may-show"


def undeclared(request):
    """A view whose author forgot to say who may use it."""
    return HttpResponse("open")


@opens(roles.OWNER)
def owners_only(request):
    return HttpResponse("owner")


@opens(*roles.HEALTH_READERS, methods=("POST",))
def health_form(request):
    return HttpResponse("saved")


@opens()
def broken(request):
    raise RuntimeError(f"{SECRET} in /home/somebody/evenside.sqlite3")


@opens(methods=("POST",))
def takes_a_form(request):
    return HttpResponse(request.POST.get("words", ""))


@opens()
def one_client(request, client):
    return HttpResponse(Client.objects.get_seen(request.user, client).public_id)


@opens()
def plain(request):
    return HttpResponse("plain")


house = [
    path("undeclared/", undeclared, name="undeclared"),
    path("undeclared-post/", require_POST(undeclared), name="undeclared_post"),
    path("owners-only/", owners_only, name="owners_only"),
    path("health-form/", health_form, name="health_form"),
    path("broken/", broken, name="broken"),
    path("takes-a-form/", takes_a_form, name="takes_a_form"),
    path("clients/<slug:client>/", one_client, name="one_client"),
    path("plain/", plain, name="plain"),
]
urlpatterns = [path("trial/", include((house, "trial"))), *real]
