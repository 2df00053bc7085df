"""A real browser against a live server: touch, the tablet's size, and no console error let pass."""

import os
import shutil

import pytest
from playwright.sync_api import expect, sync_playwright

from sessions.demo.factories import PASSPHRASE
from studio import clock
from tests.demo_laid import NOW, fill_from, laid_rows
from tests.screens import credentials, screens

__all__ = ["laid_rows"]

# The driver runs an event loop in this thread; Django would refuse the database to it.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

NAMES = ("chromium", "chromium-browser", "google-chrome", "microsoft-edge", "msedge")
LANDSCAPE = {"width": 1180, "height": 820}
PORTRAIT = {"width": 820, "height": 1180}
LAPTOP = {"width": 1366, "height": 768}
# How long a step may take before a test gives up. It costs nothing where all is well, and machines can be slow.
PATIENCE_MS = 25_000
expect.set_options(timeout=PATIENCE_MS)


def _path() -> str:
    """Return the browser the set-up found, or one on the path; fail with the set-up's sentence."""
    found = os.environ.get("EVENSIDE_BROWSER") or next(filter(None, map(shutil.which, NAMES)), "")
    if not found:
        missing = os.environ.get("EVENSIDE_BROWSER_MISSING")
        pytest.fail(missing or "No browser was found: run the tests by 'python3 manage.py test'.")
    return found


@pytest.fixture(scope="session")
def chromium():
    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=_path(),
            args=[
                "--no-sandbox",
                "--disable-dev-shm-usage",
                "--disable-gpu",
                "--disable-background-networking",
                # Nothing but this machine can be reached: a request to the outside fails the test.
                "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE localhost, EXCLUDE 127.0.0.1",
            ],
        )
        yield browser
        browser.close()


class Tablet:
    """One browser context with its page, its server, and a memory of everything that went wrong."""

    def __init__(self, context, address):
        self.context, self.address = context, address
        self.faults: list[str] = []
        self.page = context.new_page()
        self.page.set_default_timeout(PATIENCE_MS)
        self.page.on("console", self._console)
        self.page.on("pageerror", lambda error: self.faults.append(f"page error: {error}"))
        self.page.on("request", self._request)

    def _console(self, message):
        # A 422 or 409 answer is part of the conversation; the browser reports it as a failed load.
        if message.type == "error" and not any(f"status of {n}" in message.text for n in (422, 409)):
            self.faults.append(f"console at {self.page.url.removeprefix(self.address)}: {message.text}")

    def _request(self, request):
        if not request.url.startswith((self.address, "data:", "blob:", "about:")):
            self.faults.append(f"outside request: {request.url}")

    def go(self, path):
        self.page.goto(self.address + path)

    def sign_in(self, name, passphrase=PASSPHRASE):
        self.go("/sign-in/")
        self.page.get_by_label("Sign-in name").fill(name)
        self.page.get_by_label("Passphrase").fill(passphrase)
        self.page.get_by_role("button", name="Sign in").tap()
        self.page.wait_for_url(lambda url: "/sign-in/" not in url)

    def sign_out(self):
        self.context.clear_cookies()


@pytest.fixture
def open_tablet(chromium, live_server, transactional_db):
    """Return a function that opens a tablet: `open_tablet(viewport, dark=…, script=…)`."""
    opened = []

    def make(viewport=None, *, dark=False, script=True, touch=True):
        context = chromium.new_context(
            viewport=viewport or LANDSCAPE,
            has_touch=touch,
            is_mobile=False,
            color_scheme="dark" if dark else "light",
            java_script_enabled=script,
            locale="en-GB",
        )
        tablet = Tablet(context, live_server.url)
        opened.append(tablet)
        return tablet

    yield make
    faults = [fault for tablet in opened for fault in tablet.faults]
    for tablet in opened:
        tablet.context.close()
    assert not faults, faults


@pytest.fixture
def tablet(open_tablet):
    """A 10-inch tablet held the wide way."""
    return open_tablet()


class House:
    """The demo studio, laid and served, with one signed-in context for each role."""

    def __init__(self, browser, address):
        self.browser, self.address = browser, address
        self.screens = screens()
        self._contexts = {}

    def page_of(self, role, **options):
        """Return the page of a role; with options a page of its own, signed in just as well."""
        if role not in self._contexts:
            context = self._open()
            if role:
                self._sign_in(context.new_page(), role)
            self._contexts[role] = context
        if not options:
            return next(iter(self._contexts[role].pages), None) or self._contexts[role].new_page()
        context = self._open(storage_state=self._contexts[role].storage_state(), **options)
        return context.new_page()

    def _open(self, **options):
        settings = {"viewport": LANDSCAPE, "locale": "en-GB", "reduced_motion": "reduce", **options}
        return self.browser.new_context(**settings)

    def _sign_in(self, page, role):
        name, passphrase = credentials(role)
        page.goto(self.address + "/sign-in/")
        page.get_by_label("Sign-in name").fill(name)
        page.get_by_label("Passphrase").fill(passphrase)
        page.get_by_role("button", name="Sign in").click()
        page.wait_for_url(lambda url: "/sign-in/" not in url)

    def close(self):
        for context in self._contexts.values():
            context.close()


@pytest.fixture
def demo_house(chromium, live_server, transactional_db, laid_rows):
    """The demo studio at the moment it was laid for, signed in to by whoever a screen is for."""
    fill_from(laid_rows)
    with clock.at(NOW):
        house = House(chromium, live_server.url)
        yield house
        house.close()
