"""Every address of the house."""

from django.urls import include, path

from studio.views import access, devices, errors, kit, locking, network, places, staff, texts

studio_urls = [
    path("sign-in/", access.sign_in, name="sign_in"),
    path("code/", access.have_code, name="have_code"),
    path("again/", access.again, name="again"),
    path("sign-out/", access.sign_out, name="sign_out"),
    path("start/", access.first_owner, name="first_owner"),
    path("help/", access.help_page, name="help"),
    path("install/", network.network_install, name="network_install"),
    path("install/studio-authority.crt", network.network_authority, name="network_authority"),
    path("lock/", locking.lock, name="lock"),
    path("lock/now/", locking.lock_now, name="lock_now"),
    path("lock/state/", locking.state, name="lock_state"),
    path("lock/touch/", locking.touch, name="lock_touch"),
    path("lock/keep/", locking.keep, name="lock_keep"),
    path("me/kept/", locking.kept_texts, name="kept"),
    path("me/kept/away/", locking.throw_away, name="kept_away"),
    path("me/", devices.mine, name="mine"),
    path("me/pin/", devices.pin, name="pin"),
    path("me/passphrase/", devices.passphrase, name="passphrase"),
    path("me/end/", devices.end_mine, name="end_mine"),
    path("me/end-all/", devices.end_all_mine, name="end_all_mine"),
]

place_urls = [
    path("devices/", devices.devices, name="devices"),
    path("devices/<slug:device>/revoke/", devices.revoke, name="device_revoke"),
    path("sign-ins/<slug:sign_in>/end/", devices.end, name="sign_in_end"),
    path("", places.studio, name="studio"),
    path("settings/", places.settings, name="settings"),
    path("hours/", places.hours, name="hours"),
    path("words/<slug:kind>/", texts.text, name="text"),
    path("network/", network.network, name="network"),
    path("network/off/", network.network_off, name="network_off"),
    path("network/installed/", network.network_installed, name="network_installed"),
    path("components/", kit.kit, name="kit"),
    path("rooms/new/", places.new_room, name="room_new"),
    path("rooms/<slug:room>/", places.room, name="room"),
    path("recovery-code/", staff.recovery_code, name="recovery_code"),
    path("staff/new/", staff.new, name="staff_new"),
    path("staff/<slug:person>/", staff.person, name="staff"),
    path("staff/<slug:person>/code/", staff.code, name="staff_code"),
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
