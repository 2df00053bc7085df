"""The lock in a real browser: every tab leaves, nothing of a client stays, and the keys work by touch and by key.

Source: OWASP verification standard 5.0, 14.3.1 (personal data leave the page when the session ends). Five seconds
until a second tab shows the lock is the house's own figure.
"""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from clients.models import Client
from sessions.demo.factories import ClientFactory, DeviceFactory, HandoutFactory
from studio.actions.devices import COOKIE
from studio.models import StaffSession
from tests.browser.test_axe import broken_rules
from tests.studio.lock_steps import OTHER_PIN, PIN, WRONG, give_pin

pytestmark = pytest.mark.browser
NAME = "Ottoline Brackwater"


@pytest.fixture
def floor(open_tablet, instructor, desk):
    """Return a function that gives an enrolled tablet with the instructor signed in, and a client on file."""

    def make(**options):
        give_pin(instructor)
        give_pin(desk, OTHER_PIN)
        ClientFactory(full_name=NAME)
        DeviceFactory(token="a-tablet")
        tablet = open_tablet(**options)
        tablet.context.add_cookies([{"name": COOKIE, "value": "a-tablet", "url": tablet.address}])
        tablet.sign_in("maris")
        tablet.go("/clients/")
        expect(tablet.page.get_by_text(NAME)).to_be_visible()
        return tablet

    return make


def touch_keys(page, digits):
    for digit in digits:
        page.locator(f"[data-key='{digit}']").tap()


def is_locked(page):
    expect(page.get_by_role("heading", level=1, name="Locked")).to_be_visible()


def shows(page, words) -> bool:
    """Return whether the words are anywhere in the document, shown or not."""
    return words in page.evaluate("document.documentElement.outerHTML")


def test_lck_2_a_second_tab_shows_the_lock_within_five_seconds(floor):
    tablet = floor()
    second = tablet.context.new_page()
    second.goto(tablet.address + "/clients/")
    assert shows(second, NAME)
    tablet.page.get_by_role("button", name="Lock").tap()
    is_locked(tablet.page)
    second.wait_for_url("**/lock/**")
    is_locked(second)
    for page in (tablet.page, second):
        assert not shows(page, "Brackwater") and not shows(page, "Ottoline")


@pytest.mark.parametrize("page", ["handout_print", "progress_print"])
def test_lck_2_a_page_for_printing_leaves_too(floor, page):
    tablet = floor()
    client = Client.objects.get()
    handout = HandoutFactory(client=client)
    id_of = client.public_id if page == "progress_print" else handout.public_id
    printed = tablet.context.new_page()
    printed.goto(tablet.address + reverse(f"sessions:{page}", args=[id_of]))
    assert shows(printed, "Ottoline")
    tablet.page.get_by_role("button", name="Lock").tap()
    printed.wait_for_url("**/lock/**")
    is_locked(printed)
    assert not shows(printed, "Ottoline")


def test_lck_2_a_page_nobody_touches_leaves_by_itself(floor):
    """The lock falls on the server; the open page finds out without a touch."""
    tablet = floor()
    row = StaffSession.objects.running().get()
    row.seen_at = row.seen_at.replace(year=row.seen_at.year - 1)
    row.save()
    tablet.page.wait_for_url("**/lock/**")
    is_locked(tablet.page)
    assert not shows(tablet.page, "Brackwater")
    tablet.page.go_back()
    is_locked(tablet.page)
    assert not shows(tablet.page, "Brackwater")


def test_ses_5_signing_out_clears_every_tab(floor):
    tablet = floor()
    second = tablet.context.new_page()
    second.goto(tablet.address + "/me/")
    second.get_by_role("button", name="Sign out everywhere").tap()
    tablet.page.wait_for_url("**/sign-in/**")
    assert not shows(tablet.page, "Brackwater")


def test_the_keys_bring_back_to_the_same_page(floor):
    tablet = floor()
    tablet.page.get_by_role("button", name="Lock").tap()
    is_locked(tablet.page)
    tablet.go("/clients/")
    is_locked(tablet.page)
    touch_keys(tablet.page, WRONG)
    expect(tablet.page.get_by_text("4 tries are left")).to_be_visible()
    touch_keys(tablet.page, PIN[:3])
    tablet.page.locator("[data-key=back]").tap()
    expect(tablet.page.locator("[data-dots] .full")).to_have_count(2)
    touch_keys(tablet.page, PIN[2:])
    expect(tablet.page.get_by_text(NAME)).to_be_visible()


def test_the_keyboard_does_it_too(floor):
    tablet = floor()
    tablet.page.get_by_role("button", name="Lock").tap()
    is_locked(tablet.page)
    # Typed in one go it would be there before the keys listen, as no hand is.
    expect(tablet.page.locator("[data-keys]")).to_be_visible()
    tablet.page.keyboard.type(PIN)
    tablet.page.wait_for_url(lambda url: "/lock/" not in url)


def test_without_script_it_is_a_form(floor):
    tablet = floor(script=False)
    tablet.page.get_by_role("button", name="Lock").tap()
    is_locked(tablet.page)
    assert not tablet.page.locator("[data-keys]").is_visible()
    tablet.page.get_by_label("PIN, six digits").fill(PIN)
    tablet.page.get_by_role("button", name="Unlock").tap()
    tablet.page.wait_for_url(lambda url: "/lock/" not in url)


def test_lck_6_two_people_change_over(floor):
    tablet = floor()
    tablet.page.get_by_role("button", name="Lock").tap()
    tablet.page.get_by_role("link", name="Use a passphrase").tap()
    tablet.page.wait_for_url("**/sign-in/**")
    tablet.sign_in("juniper")
    tablet.page.get_by_role("button", name="Lock").tap()
    is_locked(tablet.page)
    tablet.page.locator("label.opt", has_text="Maris").tap()
    touch_keys(tablet.page, PIN)
    expect(tablet.page.get_by_role("link", name="Maris: your PIN and sign-ins")).to_be_visible()
    tablet.page.get_by_role("button", name="Lock").tap()
    is_locked(tablet.page)
    tablet.page.locator("label.opt", has_text="Juniper").tap()
    touch_keys(tablet.page, OTHER_PIN)
    expect(tablet.page.get_by_role("link", name="Juniper: your PIN and sign-ins")).to_be_visible()


def test_lck_7_a_half_typed_text_idles_out_and_is_back_after_the_pin(floor):
    tablet = floor()
    tablet.go("/clients/new/")
    tablet.page.get_by_label(re.compile("^Full name")).fill("Casimir Windrow")
    row = StaffSession.objects.running().get()
    row.seen_at = row.seen_at.replace(year=row.seen_at.year - 1)
    row.save()
    tablet.page.wait_for_url("**/lock/**")
    is_locked(tablet.page)
    assert not shows(tablet.page, "Windrow")
    touch_keys(tablet.page, PIN)
    expect(tablet.page.get_by_role("heading", level=1, name="What you had typed")).to_be_visible()
    expect(tablet.page.get_by_text("Casimir Windrow")).to_be_visible()
    tablet.page.get_by_role("link", name="Open the page").tap()
    tablet.page.wait_for_url("**/clients/new/")


def test_the_lock_and_the_pages_around_it_break_no_rule_of_access(floor):
    tablet = floor()
    tablet.page.emulate_media(reduced_motion="reduce")  # colours half-way through a fade are not the question
    broken = {}
    for path in ("/me/pin/", "/me/passphrase/", "/me/kept/"):
        tablet.go(path)
        broken[path] = broken_rules(tablet.page)
    tablet.page.get_by_role("button", name="Lock").tap()
    is_locked(tablet.page)
    broken["one person"] = broken_rules(tablet.page)
    tablet.page.get_by_role("link", name="Use a passphrase").tap()
    tablet.page.wait_for_url("**/sign-in/**")
    tablet.sign_in("juniper")
    tablet.page.get_by_role("button", name="Lock").tap()
    is_locked(tablet.page)
    tablet.page.locator("label.opt", has_text="Maris").tap()
    touch_keys(tablet.page, WRONG)
    expect(tablet.page.get_by_text("4 tries are left")).to_be_visible()
    broken["two people and a wrong PIN"] = broken_rules(tablet.page)
    assert {name: found for name, found in broken.items() if found} == {}
