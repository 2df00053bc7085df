"""Every address of the house."""

from django.urls import include, path

from studio.views import access, errors, places, staff

studio_urls = [
    path("sign-in/", access.sign_in, name="sign_in"),
    path("again/", access.again, name="again"),
    path("sign-out/", access.sign_out, name="sign_out"),
    path("start/", access.first_owner, name="first_owner"),
    path("help/", access.help_page, name="help"),
]

place_urls = [
    path("", places.studio, name="studio"),
    path("settings/", places.settings, name="settings"),
    path("hours/", places.hours, name="hours"),
    path("rooms/new/", places.new_room, name="room_new"),
    path("rooms/<slug:room>/", places.room, name="room"),
    path("staff/new/", staff.new, name="staff_new"),
    path("staff/<slug:person>/", staff.person, name="staff"),
    path("staff/<slug:person>/passphrase/", staff.passphrase, name="staff_passphrase"),
]

urlpatterns = [
    path("", include((studio_urls + [path("studio/", include(place_urls))], "studio"))),
    path("library/", include("library.urls")),
    path("clients/", include("clients.urls")),
    path("", include("sessions.urls")),
]

handler400 = errors.bad_request
handler403 = errors.refused
handler404 = errors.missing
handler500 = errors.broken
