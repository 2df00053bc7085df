"""A tablet's first visit over the studio's network, in a real browser over TLS: NET-1.

Source: W3C Secure Contexts: without TLS a page has neither web crypto nor service workers. The name heron.local is
led to this machine; everything else is unreachable.
"""

import base64
import hashlib

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from django.conf import settings as django_settings
from django.core.wsgi import get_wsgi_application
from django.urls import reverse
from playwright.sync_api import Error, expect

from sessions.demo.factories import PASSPHRASE
from studio.actions import audit
from studio.actions import network as actions
from studio.actions.devices import COOKIE
from studio.management.network import NetworkThread
from studio.models import Network
from studio.setup import ports
from tests.browser.conftest import LANDSCAPE, PATIENCE_MS, _path
from tests.browser.test_axe import broken_rules
from tests.studio.listening_posts import free_port
from tests.studio.lock_steps import PIN

pytestmark = pytest.mark.browser

DEVICE, SESSION = f"__Host-{COOKIE}", f"__Host-{django_settings.SESSION_COOKIE_NAME}"


@pytest.fixture
def served(transactional_db, house, settings, tmp_path, monkeypatch):
    """The studio on the network as heron.local, with the real clock: the browser looks at its own."""
    settings.DATA_DIR = tmp_path
    monkeypatch.setattr(ports, "EVERY_ADDRESS", "127.0.0.1")
    values = {"names": ["heron.local"], "addresses": [], "port": free_port(), "plain_port": free_port()}
    actions.switch_on(actor=audit.Actor.program("test"), values=values, expected=None)
    thread = NetworkThread(get_wsgi_application())
    thread.follow()
    yield Network.objects.get()
    thread.close()


@pytest.fixture
def open_browser(chromium, tmp_path):
    """Return a function that starts a browser of its own; `trusts`: a certificate it takes as installed."""
    opened = []

    def make(trusts: bytes | None = None):
        args = [
            "--no-sandbox",
            "--disable-dev-shm-usage",
            "--disable-gpu",
            "--disable-background-networking",
            "--host-resolver-rules=MAP heron.local 127.0.0.1,MAP * ~NOTFOUND,EXCLUDE 127.0.0.1",
        ]
        if trusts:
            args.append(f"--ignore-certificate-errors-spki-list={pin(trusts)}")
        context = chromium.browser_type.launch_persistent_context(
            tmp_path / f"browser-{len(opened)}",
            executable_path=_path(),
            args=args,
            viewport=LANDSCAPE,
            has_touch=True,
            reduced_motion="reduce",
            locale="en-GB",
        )
        opened.append(context)
        return context

    yield make
    for context in opened:
        context.close()


def pin(certificate: bytes) -> str:
    """The digest of a certificate's public key, as the browser's switch wants it."""
    key = x509.load_pem_x509_certificate(certificate).public_key()
    spki = key.public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)
    return base64.b64encode(hashlib.sha256(spki).digest()).decode()


def server_certificate() -> bytes:
    return actions._read(actions.SERVER).certificate


def test_net_1_a_tablet_that_knows_nothing_is_warned(served, open_browser):
    page = open_browser().pages[0]
    with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
        page.goto(actions.addresses_of(served)[0] + "/")


def test_net_1_from_the_plain_port_to_today_in_a_secure_context(served, open_browser, owner):
    context = open_browser(trusts=server_certificate())
    page, faults = context.pages[0], []
    page.set_default_timeout(PATIENCE_MS)
    page.on("console", lambda m: faults.append(m.text) if m.type == "error" else None)
    page.on("pageerror", lambda error: faults.append(str(error)))

    page.goto(f"http://heron.local:{served.plain_port}/sign-in/")
    assert context.cookies() == []
    assert not page.evaluate("isSecureContext")
    page.get_by_role("link", name="/install/").tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Steps for this device")
    with page.expect_download() as begun:
        page.get_by_role("link", name="Get the certificate").tap()
    authority = x509.load_der_x509_certificate(begun.value.path().read_bytes())
    assert authority == x509.load_pem_x509_certificate(actions.authority_certificate())
    page.get_by_role("link", name="Open the studio").tap()

    page.get_by_label("Sign-in name").fill("linnet")
    page.get_by_label("Passphrase").fill(PASSPHRASE)
    page.get_by_role("button", name="Sign in").tap()
    page.wait_for_url(lambda url: "/sign-in/" not in url)
    assert page.url.startswith(f"https://heron.local:{served.port}/")
    assert page.evaluate("isSecureContext && 'subtle' in crypto && 'serviceWorker' in navigator")
    cookies = context.cookies()
    assert len(cookies) >= 2
    for cookie in cookies:
        assert cookie["name"].startswith("__Host-") and cookie["secure"] and cookie["httpOnly"]

    page.goto(actions.addresses_of(served)[0] + reverse("studio:network"))
    code = page.locator("svg.qr").bounding_box()
    assert code["width"] >= 200 and abs(code["width"] - code["height"]) < 1
    assert faults == []


def test_a_tablet_is_enrolled_locked_and_opened_by_pin_over_tls(served, open_browser, owner):
    """The tablet's whole path: signed in, enrolled, a PIN set, locked, back by six digits; no cookie in the clear."""
    context = open_browser(trusts=server_certificate())
    page = context.pages[0]
    page.set_default_timeout(PATIENCE_MS)
    base = actions.addresses_of(served)[0]
    page.goto(f"{base}/sign-in/?next={reverse('studio:devices')}")
    page.get_by_label("Sign-in name").fill("linnet")
    page.get_by_label("Passphrase").fill(PASSPHRASE)
    page.get_by_role("button", name="Sign in").tap()
    page.locator("[name=name]").fill("Floor tablet")
    page.locator("label", has_text="tablet").last.tap()
    page.get_by_label("Your passphrase").fill(PASSPHRASE)
    page.get_by_role("button", name="Enrol this browser").tap()
    expect(page.get_by_text("Enrolled as Floor tablet.", exact=True)).to_be_visible()

    page.goto(base + reverse("studio:pin"))
    page.get_by_label("New PIN").fill(PIN)
    page.get_by_label("The same PIN again").fill(PIN)
    page.get_by_label("Your passphrase").fill(PASSPHRASE)
    page.locator("main form button").last.tap()
    page.wait_for_url(lambda url: reverse("studio:pin") not in url)

    before = {cookie["name"]: cookie["value"] for cookie in context.cookies()}
    page.get_by_role("button", name="Lock").tap()
    expect(page.get_by_role("heading", level=1, name="Locked")).to_be_visible()
    expect(page.locator("[data-keys]")).to_be_visible()
    page.keyboard.type(PIN)
    page.wait_for_url(lambda url: "/lock/" not in url)
    after = {cookie["name"]: cookie["value"] for cookie in context.cookies()}
    assert all(name.startswith("__Host-") for name in after) and len(after) == 3
    assert all(cookie["secure"] and cookie["httpOnly"] for cookie in context.cookies())
    assert after[DEVICE] == before[DEVICE] and after[SESSION] != before[SESSION], "a new sign-in (SES-2)"


def test_the_way_in_breaks_no_rule_of_access(served, open_browser, owner):
    """The three pages on the way in, by axe-core, with every list of steps open."""
    page = open_browser(trusts=server_certificate()).pages[0]
    page.goto(f"http://heron.local:{served.plain_port}/")
    assert broken_rules(page) == []
    base = actions.addresses_of(served)[0]
    page.goto(base + reverse("studio:network_install"))
    for steps in page.locator("summary").all():
        steps.click()
    assert broken_rules(page) == []
    page.goto(f"{base}/sign-in/?next={reverse('studio:network')}")
    page.get_by_label("Sign-in name").fill("linnet")
    page.get_by_label("Passphrase").fill(PASSPHRASE)
    page.get_by_role("button", name="Sign in").tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Tablets and laptops on the network")
    assert broken_rules(page) == []
