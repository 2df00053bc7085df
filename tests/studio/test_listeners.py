"""What the network's listeners let in, asked in raw words over real sockets: NET-1, NET-2, NET-4.

Sources: OWASP verification standard 5.0, 12.1.1 and 12.2.1 (TLS), 4.1.3 (forwarded headers), 15.3.4; RFC 9112, 3.2
(one host); public guidance on DNS rebinding (a closed list of hosts).
"""

import ssl
import warnings

import pytest

from studio.management import listeners
from tests.studio.listening_posts import NAME, authority_in, echo, exchange, over_tls, plain, served

HOSTS = [NAME, "heron", "192.168.7.12"]
SIGN = listeners.Signpost("<!doctype html><title>sign</title><p>this way")


@pytest.fixture(scope="module")
def authority(tmp_path_factory):
    return authority_in(tmp_path_factory.mktemp("network"))


@pytest.fixture(scope="module")
def secure(authority):
    """The TLS listener's port."""
    front = listeners.Front(echo, HOSTS, **{listeners.STRICT: False})
    with served(listeners.tls_server(("127.0.0.1", 0), front, authority.file, SIGN)) as port:
        yield port


@pytest.fixture(scope="module")
def signpost():
    """The plain port of the network."""
    with served(listeners.signpost_server(("127.0.0.1", 0), listeners.Front(SIGN, HOSTS))) as port:
        yield port


@pytest.fixture(scope="module")
def local():
    """The listener for this machine alone."""
    front = listeners.Front(echo, ("127.0.0.1", "localhost", "[::1]"))
    with served(listeners.local_server(("127.0.0.1", 0), front)) as port:
        yield port


def get(host: str, more: str = "", path: str = "/") -> str:
    return f"GET {path} HTTP/1.1\nHost: {host}\nConnection: close\n{more}\n"


VERSIONS = [
    pytest.param(ssl.TLSVersion.TLSv1, False, id="1.0"),
    pytest.param(ssl.TLSVersion.TLSv1_1, False, id="1.1"),
    pytest.param(ssl.TLSVersion.TLSv1_2, True, id="1.2"),
    pytest.param(ssl.TLSVersion.TLSv1_3, True, id="1.3"),
]


@pytest.mark.parametrize(("version", "taken"), VERSIONS)
def test_net_1_tls_1_2_and_1_3_and_nothing_older(secure, authority, version, taken):
    context = authority.trusting()
    # The client itself is made to speak the old ones, else it would be the one that refuses.
    context.set_ciphers("ALL:@SECLEVEL=0")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)
        context.minimum_version = context.maximum_version = version
    if taken:
        link = over_tls(secure, context)
        assert link.version() == f"TLSv{version.name.removeprefix('TLSv').replace('_', '.')}"
        assert exchange(link, get(NAME)).text.startswith("https ")
    else:
        with pytest.raises((ssl.SSLError, ConnectionError)):
            over_tls(secure, context)


@pytest.mark.parametrize("method", ["GET", "POST", "HEAD", "DELETE"])
@pytest.mark.parametrize("path", ["/", "/sign-in/", "/static/css/base.css", "/install/"])
def test_net_1_the_plain_port_answers_with_its_one_page_and_no_cookie(signpost, method, path):
    request = (
        f"{method} {path} HTTP/1.1\nHost: {NAME}:8080\nCookie: a=b\nContent-Length: 0\nConnection: close\n\n"
    )
    answer = exchange(plain(signpost), request)
    assert answer.status == (200 if method in ("GET", "HEAD") else 403)
    assert answer.text in (("",) if method == "HEAD" else (SIGN.page.decode(),))
    assert answer.headers["Set-Cookie"] is None
    assert answer.headers["Location"] is None, "a form that was sent must not be sent on"
    assert "default-src 'none'" in answer.headers["Content-Security-Policy"]


def test_net_1_plain_words_at_the_tls_port_get_the_same_page(secure):
    answer = exchange(plain(secure), get(f"{NAME}:8443"))
    assert (answer.status, answer.text) == (400, SIGN.page.decode())
    assert answer.headers["Set-Cookie"] is None


UNLISTED = [
    pytest.param("evil.example", id="foreign"),
    pytest.param("", id="empty"),
    pytest.param("heron.local.evil.example", id="longer"),
    pytest.param("evil.heron.local", id="below"),
    pytest.param("local", id="above"),
    pytest.param("heron.local.", id="dot-at-the-end"),
    pytest.param("192.168.7.13", id="another-address"),
    pytest.param("heron.local:", id="port-empty"),
    pytest.param("heron.local:80x", id="port-mangled"),
    pytest.param("heron.local:99999", id="port-too-high"),
    pytest.param("heron.local:8443:8443", id="port-twice"),
    pytest.param("evil.example@heron.local", id="person-in-front"),
    pytest.param("heron.local/", id="slash"),
    pytest.param("heron.local, evil.example", id="two-in-one"),
]


@pytest.mark.parametrize("host", UNLISTED)
def test_net_2_a_host_that_is_not_on_the_list_gets_400(secure, signpost, authority, host):
    for link in (over_tls(secure, authority.trusting()), plain(signpost)):
        answer = exchange(link, get(host))
        assert answer.status == 400
        assert "https" not in answer.text and SIGN.page.decode() not in answer.text, "nothing leaks"


@pytest.mark.parametrize("path", ["/", "/static/css/base.css"])
def test_net_2_this_machine_answers_to_its_own_names_only(local, path):
    """A page elsewhere that points a name of its own at this machine (DNS rebinding) gets nothing."""
    for host in ("evil.example", NAME, "127.0.0.1.evil.example"):
        assert exchange(plain(local), get(host, path=path)).status == 400
    for host in ("127.0.0.1", f"localhost:{local}", "[::1]:80", "LOCALHOST"):
        assert exchange(plain(local), get(host, path=path)).status == 200


def test_net_2_no_host_at_all(secure, authority):
    answer = exchange(over_tls(secure, authority.trusting()), "GET / HTTP/1.0\n\n")
    assert answer.status == 400


@pytest.mark.parametrize(
    "second", [f"Host: {NAME}\n", "Host: evil.example\n", "host: evil.example\n", "HOST : evil.example\n"]
)
def test_net_2_a_doubled_host_gets_400(secure, signpost, local, authority, second):
    for link, host in (
        (over_tls(secure, authority.trusting()), NAME),
        (plain(signpost), NAME),
        (plain(local), "127.0.0.1"),
    ):
        assert exchange(link, get(host, second)).status == 400


def test_net_2_the_host_of_a_whole_address_does_not_count(secure, authority):
    request = f"GET https://evil.example/ HTTP/1.1\nHost: {NAME}\nConnection: close\n\n"
    assert exchange(over_tls(secure, authority.trusting()), request).status == 400


FORWARDED = (
    "X-Forwarded-Proto: https\nX-Forwarded-For: 203.0.113.7\nX-Forwarded-Host: evil.example\n"
    "Forwarded: for=203.0.113.7;proto=https;host=evil.example\nX_Forwarded_Proto: https\n"
    "Https: on\nRemote-Addr: 203.0.113.7\nEvenside.Strict-Transport: 1\n"
)


def test_net_4_forwarded_headers_change_neither_address_nor_scheme(local, secure, authority):
    assert exchange(plain(local), get("127.0.0.1", FORWARDED)).text == "http 127.0.0.1 None"
    link = over_tls(secure, authority.trusting())
    assert exchange(link, get(NAME, FORWARDED)).text == "https 127.0.0.1 False"


def test_net_4_a_forwarded_host_opens_no_door(secure, authority):
    link = over_tls(secure, authority.trusting())
    assert exchange(link, get("evil.example", f"X-Forwarded-Host: {NAME}\n")).status == 400


def test_those_who_connect_and_say_nothing_keep_nobody_out(secure, authority):
    """More silent connections than there are workers, on the Wi-Fi of a full studio."""
    silent = [plain(secure) for _ in range(3 * listeners.THREADS)]
    answer = exchange(over_tls(secure, authority.trusting()), get(NAME))
    assert answer.status == 200
    for link in silent:
        link.close()


def test_a_connection_serves_several_requests(secure, authority):
    link = over_tls(secure, authority.trusting())
    for _ in range(3):
        link.sendall(f"GET / HTTP/1.1\r\nHost: {NAME}\r\n\r\n".encode())
        answer = b""
        while not answer.endswith(b"False"):
            answer += link.recv(4096)
        assert answer.startswith(b"HTTP/1.1 200 OK")
    link.close()


def test_a_device_that_does_not_trust_the_authority_does_not_connect(secure):
    with pytest.raises(ssl.SSLCertVerificationError):
        over_tls(secure, ssl.create_default_context())
