"""Switching the network on and off, and what TLS changes about cookies and headers: NET-1 to NET-5.

Sources: OWASP verification standard 5.0, 3.3.1 to 3.3.4 (cookies), 3.4.1 (strict transport), 12.2.1 and 12.3.4 (TLS,
an authority of one's own), 13.3.1 (keys); RFC 6265bis, 4.1.3.2 (`__Host-`); RFC 6797 (strict transport).
"""

import datetime as dt
import re
import socket
import stat

import pytest
from cryptography import x509
from django.conf import settings as django_settings
from django.core.wsgi import get_wsgi_application
from django.test import Client as Browser
from django.urls import reverse

from sessions.demo.factories import PASSPHRASE
from studio import certificates, clock, listening
from studio.actions import network as actions
from studio.management.listeners import STRICT
from studio.management.network import NetworkThread
from studio.models import AuditEntry, Network
from studio.setup import ports
from tests.studio.listening_posts import Authority, exchange, free_port, over_tls, plain

pytestmark = pytest.mark.django_db

GOOD = {
    "names": ["heron.local", "heron"],
    "addresses": ["192.168.7.12"],
    "port": 8443,
    "plain_port": 8080,
    "again_passphrase": PASSPHRASE,
}


@pytest.fixture(autouse=True)
def _this_machine(monkeypatch, settings, tmp_path):
    """A machine named heron, with a data folder of its own."""
    settings.DATA_DIR = tmp_path
    monkeypatch.setattr(ports, "host_names", lambda: ["heron.local", "heron"])
    monkeypatch.setattr(ports, "own_addresses", lambda: ["192.168.7.12"])


def switch_on(browser, **more):
    return browser.post(reverse("studio:network"), {**GOOD, **more})


@pytest.fixture
def on(as_owner, now):
    """The network, switched on by the owner."""
    assert switch_on(as_owner).status_code == 302
    return Network.objects.get()


# --- switching on and off ----------------------------------------------------------------------------------


def test_net_5_it_is_off_until_the_owner_switches_it_on(as_owner, now):
    page = as_owner.get(reverse("studio:network")).content.decode()
    assert "Only this machine shows the studio" in page
    assert 'value="heron.local"' in page and 'value="192.168.7.12"' in page
    assert not Network.objects.exists()


def test_switching_on_keeps_the_choice_and_writes_it_down(on, owner):
    assert (on.is_on, on.hosts, on.port, on.plain_port) == (
        True,
        ["heron.local", "heron", "192.168.7.12"],
        8443,
        8080,
    )
    assert not on.strict_transport
    written = AuditEntry.objects.filter(person=owner, action__startswith="network.")
    assert {entry.action: entry.fields for entry in written}["network.certificates_made"] == [
        "authority",
        "server",
    ]
    assert written.filter(action="network.switched_on").count() == 1


@pytest.mark.parametrize("passphrase", ["", "wrong wrong wrong wrong"], ids=["none", "wrong"])
def test_switching_on_asks_for_the_passphrase_each_time(as_owner, now, passphrase):
    answer = switch_on(as_owner, again_passphrase=passphrase, other_address="10.0.0.9", port=9443)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "That is not your passphrase" in page or "Fill this in" in page
    assert 'value="10.0.0.9"' in page and 'value="9443"' in page, "what was typed is kept"
    assert "wrong wrong" not in page
    assert not Network.objects.exists() and not (django_settings.DATA_DIR / "network").exists()


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        pytest.param({"names": [], "addresses": []}, "Choose at least one name or address.", id="nothing"),
        pytest.param({"plain_port": 8443}, "The two ports must differ.", id="one-port"),
        pytest.param({"other_address": "192.168.7"}, "Type four numbers", id="three-numbers"),
        pytest.param({"other_address": "127.0.0.1"}, "Type four numbers", id="this-machine"),
        pytest.param({"other_address": "0.0.0.0"}, "Type four numbers", id="everywhere"),
        pytest.param({"other_address": "evil.example"}, "Type four numbers", id="a-name"),
        pytest.param({"names": ["evil.example"]}, "Select a valid choice", id="not-its-name"),
        pytest.param({"port": 443}, "greater than or equal to 1024", id="port-of-the-system"),
    ],
)
def test_what_cannot_be_served_is_said_at_the_field(as_owner, now, more, sentence):
    answer = switch_on(as_owner, **more)
    assert answer.status_code == 422 and sentence in answer.content.decode()
    assert not Network.objects.exists()


def test_a_typed_address_joins_the_list(as_owner, now):
    switch_on(as_owner, addresses=[], other_address="10.0.0.9")
    assert Network.objects.get().hosts == ["heron.local", "heron", "10.0.0.9"]


def test_two_owners_at_once_are_both_shown(on, as_owner):
    answer = switch_on(as_owner, version=on.version - 1, port=9443)
    assert answer.status_code == 409 and "9443" in answer.content.decode()
    assert Network.objects.get().port == 8443
    assert switch_on(as_owner, version=on.version, port=9443).status_code == 302
    assert Network.objects.get().port == 9443


def test_switching_off(on, as_owner):
    off = reverse("studio:network_off")
    as_owner.post(off, {"version": 99})
    assert Network.objects.get().is_on
    as_owner.post(off, {"version": on.version})
    assert not Network.objects.get().is_on
    assert AuditEntry.objects.filter(action="network.switched_off").count() == 1
    assert actions.invitation() is None and actions.authority_certificate() is None


# --- certificates on disk ----------------------------------------------------------------------------------


def test_keys_are_the_owners_of_the_process_alone(on):
    folder = django_settings.DATA_DIR / "network"
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    files = sorted(folder.iterdir())
    assert [file.name for file in files] == ["authority.pem", "server.pem"]
    assert {stat.S_IMODE(file.stat().st_mode) for file in files} == {0o600}


def authority_on_disk() -> certificates.Pair:
    return certificates.Pair.of((django_settings.DATA_DIR / "network" / "authority.pem").read_bytes())


def server_on_disk() -> bytes:
    return (django_settings.DATA_DIR / "network" / "server.pem").read_bytes()


def test_the_authority_stays_when_names_change_and_the_server_certificate_does_not(on, as_owner):
    authority, server = authority_on_disk(), server_on_disk()
    switch_on(as_owner, version=on.version, names=["heron.local"])
    assert authority_on_disk() == authority
    assert server_on_disk() != server
    again = server_on_disk()
    switch_on(as_owner, version=on.version + 1, names=["heron.local"], plain_port=8081)
    assert server_on_disk() == again, "nothing about the names has changed"


def test_a_new_name_that_the_authority_cannot_vouch_for_makes_a_new_one(on, as_owner):
    before = authority_on_disk()
    switch_on(as_owner, version=on.version, other_address="203.0.113.9", install_again="on")
    assert authority_on_disk() != before


def test_a_spoilt_file_is_made_anew(on):
    (django_settings.DATA_DIR / "network" / "server.pem").write_bytes(b"half")
    actions.certify(actor=actions.audit.Actor.program("test"), row=on)
    assert certificates.Pair.of(server_on_disk())


# --- what another device is given --------------------------------------------------------------------------


def test_the_file_to_install_holds_the_public_half_alone(on):
    answer = Browser().get(reverse("studio:network_authority"))
    assert answer.headers["Content-Type"] == "application/x-x509-ca-cert"
    assert 'filename="studio-authority.crt"' in answer.headers["Content-Disposition"]
    found = x509.load_der_x509_certificate(answer.content)
    assert found == x509.load_pem_x509_certificate(authority_on_disk().certificate)
    assert b"PRIVATE" not in answer.content
    assert not answer.cookies


def test_the_steps_are_open_to_a_device_where_nobody_is_signed_in(on):
    page = Browser().get(reverse("studio:network_install")).content.decode()
    assert certificates.fingerprint(authority_on_disk().certificate) in page
    assert reverse("studio:network_authority") in page
    assert 'href="https://heron.local:8443/"' in page


def test_the_pairs_to_compare_stand_on_the_machine_itself_only(on):
    """Over the network whoever answers could show pairs of its own."""
    page = Browser().get(reverse("studio:network_install"), secure=True).content.decode()
    assert certificates.fingerprint(authority_on_disk().certificate) not in page
    assert "on the studio’s own machine" in page


def test_while_it_is_off_there_is_nothing_to_install(house):
    browser = Browser()
    assert "This machine only" in browser.get(reverse("studio:network_install")).content.decode()
    assert browser.get(reverse("studio:network_authority")).status_code == 302


def test_the_owner_sees_address_and_code(on, as_owner):
    page = as_owner.get(reverse("studio:network")).content.decode()
    assert "https://heron.local:8443/install/" in page
    code = re.search(r"<svg[^>]*class=\"qr\".*?</svg>", page, re.S)[0]
    assert not re.search(r"style|script|\son|href", code), "nothing that the content policy forbids"


# --- cookies and headers -----------------------------------------------------------------------------------


def sign_in(browser, secure, **more):
    return browser.post(
        reverse("studio:sign_in"),
        {"sign_in_name": "linnet", "passphrase": PASSPHRASE},
        secure=secure,
        **more,
    )


def test_net_1_over_tls_every_cookie_is_secure_and_of_this_host(owner):
    browser = Browser()
    browser.get(reverse("studio:sign_in"), secure=True)
    answer = sign_in(browser, True)
    assert answer.status_code == 302
    names = {django_settings.SESSION_COOKIE_NAME, django_settings.CSRF_COOKIE_NAME}
    assert set(browser.cookies) >= {f"__Host-{name}" for name in names}
    for name, cookie in browser.cookies.items():
        assert name.startswith("__Host-")
        assert (cookie["secure"], cookie["path"], cookie["domain"]) == (True, "/", "")
        assert cookie["httponly"] and cookie["samesite"] == "Lax"
    assert browser.get(reverse("studio:network"), secure=True).status_code == 200


def test_on_this_machines_own_address_cookies_are_plain(owner):
    """A Secure cookie over plain HTTP would make signing in a circle in some browsers."""
    browser = Browser()
    browser.get(reverse("studio:sign_in"))
    assert sign_in(browser, False).status_code == 302
    for name, cookie in browser.cookies.items():
        assert not name.startswith("__Host-") and not cookie["secure"]
    assert browser.get(reverse("studio:network")).status_code == 200


def test_a_cookie_from_the_plain_address_signs_nobody_in_over_tls(owner):
    browser = Browser()
    sign_in(browser, False)
    assert browser.get(reverse("studio:network"), secure=True).status_code == 302


@pytest.mark.parametrize(
    ("secure", "mark", "header"),
    [
        pytest.param(True, True, "max-age=31536000", id="tls-and-on"),
        pytest.param(True, False, None, id="tls-and-off"),
        pytest.param(False, True, None, id="this-machine"),
    ],
)
def test_net_3_strict_transport_only_over_tls_and_only_when_it_is_on(house, secure, mark, header):
    answer = Browser().get(reverse("studio:sign_in"), secure=secure, **{STRICT: mark})
    assert answer.headers.get("Strict-Transport-Security") == header


def test_net_3_the_page_says_that_early_locks_people_out(as_owner, now):
    page = as_owner.get(reverse("studio:network")).content.decode()
    assert "locks people out" in page and "works for names only" in page


def test_net_4_forwarded_headers_change_nothing_in_the_log(owner):
    answer = sign_in(
        Browser(),
        False,
        headers={
            "X-Forwarded-For": "203.0.113.7",
            "X-Forwarded-Proto": "https",
            "Forwarded": "for=203.0.113.7",
        },
    )
    assert not any(cookie["secure"] for cookie in answer.cookies.values())
    assert AuditEntry.objects.get(action="staff.signed_in").device == "127.0.0.1"


# --- the thread that listens -------------------------------------------------------------------------------


@pytest.fixture
def thread(monkeypatch, transactional_db):
    """The network's thread, not running by itself: the test says when it looks."""
    monkeypatch.setattr(ports, "EVERY_ADDRESS", "127.0.0.1")
    monkeypatch.setattr(listening.state, "open_at", ())
    made = NetworkThread(get_wsgi_application())
    yield made
    made.close()


@pytest.fixture
def served(thread, as_owner):
    """The network switched on and listened for, on two free ports, by the real time: clients look at theirs."""
    port, plain_port = free_port(), free_port()
    assert switch_on(as_owner, port=port, plain_port=plain_port).status_code == 302
    thread.follow()
    return Network.objects.get()


def trusted():
    return Authority(authority_on_disk(), django_settings.DATA_DIR).trusting()


def ask(row, path="/sign-in/", host=None):
    request = f"GET {path} HTTP/1.1\nHost: {host or 'heron.local'}:{row.port}\nConnection: close\n\n"
    return exchange(over_tls(row.port, trusted(), "heron.local"), request)


def test_net_5_nothing_listens_before_the_owner_says_so(thread, house):
    thread.follow()
    assert (thread.servers, thread.named, listening.state.open_at) == ([], [], ())
    assert django_settings.ALLOWED_HOSTS == ["127.0.0.1", "localhost", "[::1]", "testserver"]


def test_net_1_the_studio_answers_over_tls_and_the_plain_port_points_the_way(served, thread):
    answer = ask(served)
    assert (answer.status, "Sign in" in answer.text) == (200, True)
    assert "__Host-" in answer.headers["Set-Cookie"] and "Secure" in answer.headers["Set-Cookie"]
    request = f"GET /sign-in/ HTTP/1.1\nHost: heron.local:{served.plain_port}\nConnection: close\n\n"
    sign = exchange(plain(served.plain_port), request)
    assert f"https://heron.local:{served.port}/install/" in sign.text
    assert "Passphrase" not in sign.text and sign.headers["Set-Cookie"] is None


def test_net_2_the_framework_knows_the_same_list(served, thread):
    assert listening.state.open_at == ("heron.local", "heron", "192.168.7.12")
    assert ask(served, host="evil.example").status == 400
    assert ask(served, host="127.0.0.1").status == 400, "this machine's own names are not the network's"


def test_net_3_strict_transport_reaches_the_wire(served, thread, as_owner):
    assert ask(served).headers["Strict-Transport-Security"] is None
    switch_on(
        as_owner,
        version=served.version,
        port=served.port,
        plain_port=served.plain_port,
        strict_transport="on",
    )
    thread.follow()
    assert ask(served).headers["Strict-Transport-Security"] == "max-age=31536000"


def test_off_closes_both_ports_at_once(served, thread, as_owner):
    as_owner.post(reverse("studio:network_off"), {"version": served.version})
    thread.follow()
    assert thread.servers == [] and "heron.local" not in django_settings.ALLOWED_HOSTS
    for port in (served.port, served.plain_port):
        assert ports.problem(port) is None
        with pytest.raises(OSError):
            plain(port)


def test_looking_again_leaves_what_still_holds(served, thread):
    before = list(thread.servers)
    thread.follow()
    assert thread.servers == before


def test_a_certificate_that_nears_its_end_is_made_anew_while_the_server_runs(served, thread):
    authority, server, before = authority_on_disk(), server_on_disk(), list(thread.servers)
    with clock.at(clock.now() + dt.timedelta(days=certificates.SERVER_DAYS - certificates.RENEW_DAYS)):
        thread.follow()
    assert server_on_disk() != server and authority_on_disk() == authority
    assert len(thread.servers) == 2 and thread.servers != before


def test_a_fault_does_not_end_the_thread(thread, monkeypatch, caplog):
    looked = []

    def broken():
        looked.append(1)
        if len(looked) == 1:
            listening.state.changed.set()
            raise OSError("the disk is full")
        thread.over = True
        listening.state.changed.set()

    monkeypatch.setattr(thread, "follow", broken)
    thread.run()
    assert len(looked) == 2 and "the disk is full" in caplog.text


def test_a_taken_port_is_a_sentence_and_this_machine_is_served_on(thread, as_owner):
    taken = free_port()
    with socket.create_server(("127.0.0.1", taken)):
        switch_on(as_owner, port=taken, plain_port=free_port())
        thread.follow()
        assert thread.servers == []
        page = as_owner.get(reverse("studio:network")).content.decode()
        assert f"Port {taken} is taken by another program." in page
    thread.follow()
    assert listening.state.error is None and len(thread.servers) == 2
