"""Enrolled devices, and seeing and ending sign-ins (SES-7, SES-2, LCK-5).

Sources: OWASP verification standard 5.0, 7.4.5 and 7.5.2 (people see and end their sessions, the administrator
ends anybody's), 3.3.1 to 3.3.4 (cookies closed to scripts), 11.5.1 (at least 128 random bits; the house takes 256).
"""

import base64
import hashlib

import pytest
from django.test import Client as Browser
from django.urls import reverse

from sessions.demo.factories import PASSPHRASE, DeviceFactory
from studio import clock
from studio.actions.devices import COOKIE
from studio.models import AuditEntry, Device, Presence, Studio
from tests.studio.lock_steps import (
    START,
    device_browser,
    give_pin,
    key_of,
    lock_now,
    minutes,
    opens,
    replay,
    running,
    sign_in,
    unlock,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def laptop(owner):
    """A browser nobody enrolled, in which the owner has just signed in."""
    browser = Browser()
    with clock.at(START):
        sign_in(browser, "linnet")
    return browser


def enrol(browser, name="Tablet by the window", kind="tablet", passphrase=PASSPHRASE):
    data = {"name": name, "kind": kind, "again_passphrase": passphrase}
    return browser.post(reverse("studio:devices"), data)


class TestEnrolling:
    def test_the_browser_gets_256_random_bits_and_the_database_their_hash(self, laptop, owner):
        with clock.at(START):
            assert enrol(laptop).url == reverse("studio:devices")
        token = laptop.cookies[COOKIE].value
        device = Device.objects.get()
        assert len(base64.urlsafe_b64decode(token + "=")) * 8 == 256
        assert device.token_hash == hashlib.sha256(token.encode()).hexdigest()
        assert (device.name, device.kind, device.enrolled_by) == ("Tablet by the window", "tablet", owner)

    def test_the_cookie_is_its_own_and_closed_to_scripts(self, laptop):
        with clock.at(START):
            enrol(laptop)
        cookie = laptop.cookies[COOKIE]
        assert (cookie["httponly"], cookie["samesite"], cookie["path"]) == (True, "Lax", "/")
        assert cookie["max-age"] > 300 * 24 * 60 * 60

    def test_under_tls_the_cookie_is_for_tls_alone(self, owner):
        browser = Browser()
        with clock.at(START):
            data = {"sign_in_name": "linnet", "passphrase": PASSPHRASE}
            browser.post(reverse("studio:sign_in"), data, secure=True)
            form = {"name": "Desk", "kind": "desk", "again_passphrase": PASSPHRASE}
            browser.post(reverse("studio:devices"), form, secure=True)
        kept = browser.cookies["__Host-" + COOKIE]
        assert (kept["secure"], kept["httponly"]) == (True, True)

    def test_it_needs_the_passphrase(self, laptop):
        with clock.at(START):
            answer = enrol(laptop, passphrase="not the right one at all")
        assert answer.status_code == 422
        assert not Device.objects.exists() and COOKIE not in laptop.cookies
        assert "Tablet by the window" in answer.content.decode()

    @pytest.mark.parametrize(("field", "value"), [("name", ""), ("kind", ""), ("kind", "phone")])
    def test_what_is_missing_is_named(self, laptop, field, value):
        with clock.at(START):
            answer = enrol(laptop, **{field: value})
        assert list(answer.context["form"].errors) == [field]

    def test_ses_2_a_new_id(self, laptop):
        before = key_of(laptop)
        with clock.at(START):
            enrol(laptop)
            assert key_of(laptop) != before
            assert opens(laptop) and not opens(replay(before, laptop))

    def test_the_owner_comes_back_by_pin_here_at_once(self, laptop, owner):
        give_pin(owner)
        with clock.at(START):
            assert lock_now(laptop).url == reverse("studio:sign_in")
            sign_in(laptop, "linnet")
            enrol(laptop)
            assert lock_now(laptop).url == reverse("studio:lock")
            assert unlock(laptop, owner).status_code == 302

    def test_nobody_else_enrols(self, as_instructor, as_desk):
        assert {enrol(browser).status_code for browser in (as_instructor, as_desk)} == {403}

    def test_a_made_up_token_is_no_device(self, instructor):
        browser = Browser()
        browser.cookies[COOKIE] = "made-up"
        give_pin(instructor)
        with clock.at(START):
            sign_in(browser)
            assert lock_now(browser).url == reverse("studio:sign_in")

    def test_a_session_of_a_device_is_nobody_without_the_device(self, instructor):
        tablet = device_browser()
        with clock.at(START):
            sign_in(tablet)
            assert not opens(replay(key_of(tablet)))
            assert opens(tablet)


class TestTakingOut:
    def test_ses_7_every_sign_in_there_ends(self, as_owner, instructor):
        tablet, other = device_browser(), device_browser("other")
        give_pin(instructor)
        with clock.at(START):
            sign_in(tablet)
            sign_in(other)
            device = Device.objects.get(name="a-tablet")
            assert as_owner.post(reverse("studio:device_revoke", args=[device.public_id])).status_code == 302
            assert not opens(replay(key_of(tablet), tablet))
            assert unlock(tablet, instructor).status_code == 422
            assert opens(other)
        assert not Presence.objects.filter(device=device).exists()

    def test_it_is_gone_from_the_list_and_cannot_be_taken_out_twice(self, as_owner):
        device = DeviceFactory(name="Shelf tablet")
        address = reverse("studio:device_revoke", args=[device.public_id])
        as_owner.post(address)
        assert "Shelf tablet" not in as_owner.get(reverse("studio:devices")).content.decode()
        assert as_owner.post(address).status_code == 404


class TestSignIns:
    @pytest.fixture
    def two(self, instructor):
        """The instructor's two browsers: the tablet and another."""
        browsers = device_browser(), Browser()
        for after, browser in enumerate(browsers):
            with clock.at(minutes(after)):
                sign_in(browser)
        return browsers

    def test_ses_7_a_person_sees_their_own_and_no_others(self, two, laptop):
        with clock.at(minutes(2)):
            page = two[0].get(reverse("studio:mine")).content.decode()
        assert "a-tablet" in page and "A browser that is not enrolled" in page
        assert "Wed 25 Nov, 10:15" in page and "last touched 10:16" in page
        assert "Linnet" not in page

    def test_ses_7_and_ends_them(self, two, instructor):
        with clock.at(minutes(2)):
            row = running(instructor).get(device=None)
            two[0].post(reverse("studio:end_mine"), {"sign_in": row.public_id})
            assert opens(two[0]) and not opens(two[1])

    def test_ses_7_but_nobody_elses(self, two, laptop, owner):
        row = running(owner).get()
        with clock.at(minutes(2)):
            two[0].post(reverse("studio:end_mine"), {"sign_in": row.public_id})
            assert opens(laptop)

    def test_ses_7_the_owner_sees_and_ends_anybodys(self, two, laptop, instructor):
        with clock.at(minutes(2)):
            page = laptop.get(reverse("studio:devices")).content.decode()
            assert "Maris Fennelcote" in page and "Linnet Ashgrove" in page
            row = running(instructor).get(device__name="a-tablet")
            laptop.post(reverse("studio:sign_in_end", args=[row.public_id]))
            assert not opens(replay(key_of(two[0]), two[0])) and opens(two[1])

    def test_what_was_ended_by_hand_does_not_come_back_by_pin(self, two, laptop, instructor):
        give_pin(instructor)
        with clock.at(minutes(2)):
            row = running(instructor).get(device__name="a-tablet")
            laptop.post(reverse("studio:sign_in_end", args=[row.public_id]))
            assert unlock(two[0], instructor).status_code == 422

    def test_ses_5_signing_out_everywhere(self, two, instructor):
        give_pin(instructor)
        with clock.at(minutes(2)):
            assert two[0].post(reverse("studio:end_all_mine")).url == reverse("studio:sign_in")
            assert not any(opens(browser) for browser in two)
            assert unlock(two[0], instructor).status_code == 422
        assert not running(instructor).exists()

    def test_ending_is_written_down(self, two, laptop, owner, instructor):
        with clock.at(minutes(2)):
            row = running(instructor).first()
            laptop.post(reverse("studio:sign_in_end", args=[row.public_id]))
        entry = AuditEntry.objects.get(action="session.ended")
        assert (entry.person, entry.thing_id) == (owner, row.public_id)

    def test_closing_a_persons_sign_in_ends_what_runs(self, two, laptop, instructor):
        form = {"full_name": "Maris Fennelcote", "call_name": "Maris", "is_instructor": "on", "version": 1}
        with clock.at(minutes(2)):
            laptop.post(reverse("studio:staff", args=[instructor.public_id]), form)
        assert not running(instructor).exists()

    @pytest.mark.parametrize("count", [2, 9])
    def test_queries_do_not_grow(self, laptop, instructor, count, django_assert_max_num_queries):
        for number in range(count):
            with clock.at(START):
                sign_in(device_browser(f"tablet {number}"))
        with clock.at(START), django_assert_max_num_queries(9):
            laptop.get(reverse("studio:devices"))


class TestTheMinutes:
    """SES-4: the owner sets them, 1 to 30, on the studio's settings."""

    def settings_form(self, studio, **values):
        from studio.forms.places import StudioForm

        form = {name: getattr(studio, name) for name in StudioForm.Meta.fields}
        return {**form, "version": studio.version, **values}

    @pytest.mark.parametrize(
        ("minutes", "status"), [(0, 422), (1, 302), (30, 302), (31, 422), ("", 422), (-5, 422)]
    )
    def test_ses_4_from_one_to_thirty(self, as_owner, house, minutes, status):
        form = self.settings_form(house, idle_minutes_tablet=minutes)
        assert as_owner.post(reverse("studio:settings"), form).status_code == status
        assert Studio.objects.get().idle_minutes_tablet == (minutes if status == 302 else 5)
