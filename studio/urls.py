"""Every address of the house."""

from django.urls import include, path

from studio.views import access, errors

studio_urls = [
    path("sign-in/", access.sign_in, name="sign_in"),
    path("sign-out/", access.sign_out, name="sign_out"),
    path("start/", access.first_owner, name="first_owner"),
    path("help/", access.help_page, name="help"),
]

urlpatterns = [
    path("", include((studio_urls, "studio"))),
    path("library/", include("library.urls")),
    path("clients/", include("clients.urls")),
    path("", include("sessions.urls")),
]

handler400 = errors.bad_request
handler403 = errors.refused
handler404 = errors.missing
handler500 = errors.broken
