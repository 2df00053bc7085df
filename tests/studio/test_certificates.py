"""The studio's authority and its server certificate, judged by other readers of RFC 5280.

Sources: the cryptography library's own path verifier (RFC 5280, profile of the CA/Browser Forum); OpenSSL through
Python's ssl module; CA/Browser Forum baseline requirements 6.3.2 for the longest life of a server certificate.
"""

import datetime as dt
import hashlib
import ipaddress
import ssl

import pytest
from cryptography import x509
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError

from studio import certificates
from studio.certificates import Pair

NOW = dt.datetime(2026, 11, 25, 10, 15, tzinfo=dt.UTC)
NAMES, ADDRESSES = ["heron.local", "heron"], ["192.168.7.12"]
DAY = dt.timedelta(days=1)


@pytest.fixture(scope="module")
def authority() -> Pair:
    return certificates.make_authority("Heron Row Pilates", NAMES, ADDRESSES, NOW)


@pytest.fixture(scope="module")
def server(authority) -> Pair:
    return certificates.make_server(authority, NAMES, ADDRESSES, NOW)


def read(pair: Pair) -> x509.Certificate:
    return x509.load_pem_x509_certificate(pair.certificate)


def subject(host: str):
    try:
        return x509.IPAddress(ipaddress.ip_address(host))
    except ValueError:
        return x509.DNSName(host)


def verify(authority: Pair, server: Pair, host: str, when=NOW) -> list[x509.Certificate]:
    policy = PolicyBuilder().store(Store([read(authority)])).time(when)
    return policy.build_server_verifier(subject(host)).verify(read(server), [])


@pytest.mark.parametrize("host", [*NAMES, *ADDRESSES])
def test_the_chain_holds_for_every_name_of_the_list(authority, server, host):
    assert verify(authority, server, host) == [read(server), read(authority)]


@pytest.mark.parametrize(
    "host", ["other.local", "heron.local.example", "192.168.7.13", "localhost", "127.0.0.1"]
)
def test_it_holds_for_no_other_name(authority, server, host):
    with pytest.raises(VerificationError):
        verify(authority, server, host)


@pytest.mark.parametrize(
    ("when", "holds"),
    [
        pytest.param(NOW - 2 * DAY, False, id="long-before"),
        # A tablet whose clock is a little slow.
        pytest.param(NOW - dt.timedelta(hours=6), True, id="slow-clock"),
        pytest.param(NOW + 395 * DAY, True, id="near-the-end"),
        pytest.param(NOW + 397 * DAY, False, id="after-the-end"),
    ],
)
def test_it_holds_in_its_time_only(authority, server, when, holds):
    if holds:
        assert verify(authority, server, NAMES[0], when)
    else:
        with pytest.raises(VerificationError):
            verify(authority, server, NAMES[0], when)


def test_another_studios_authority_does_not_vouch(server):
    stranger = certificates.make_authority("Heron Row Pilates", NAMES, ADDRESSES, NOW)
    with pytest.raises(VerificationError):
        verify(stranger, server, NAMES[0])


@pytest.mark.parametrize("host", ["bank.example", "8.8.4.4"])
def test_a_stolen_authority_cannot_pass_for_another_site(authority, host):
    """Name constraints, RFC 5280 4.2.1.10."""
    named = ([host], []) if host[0].isalpha() else ([], [host])
    forged = certificates.make_server(authority, *named, NOW)
    with pytest.raises(VerificationError, match="name constraints"):
        verify(authority, forged, host)


def test_the_server_certificate_cannot_sign_others(authority, server):
    forged = certificates.make_server(Pair(server.key, server.certificate), ["heron.local"], [], NOW)
    policy = PolicyBuilder().store(Store([read(authority)])).time(NOW)
    with pytest.raises(VerificationError):
        policy.build_server_verifier(x509.DNSName("heron.local")).verify(read(forged), [read(server)])


def test_a_server_certificate_lives_no_longer_than_browsers_take(server):
    certificate = read(server)
    life = certificate.not_valid_after_utc - certificate.not_valid_before_utc
    assert life <= 398 * DAY, "CA/Browser Forum baseline requirements 6.3.2"


def test_openssl_agrees(authority, server, tmp_path):
    """A handshake in memory: OpenSSL checks chain, name and time by itself, under its strict flag."""
    file = tmp_path / "server.pem"
    now = dt.datetime.now(dt.UTC)
    fresh = certificates.make_authority("Heron Row Pilates", NAMES, ADDRESSES, now)
    file.write_bytes(certificates.make_server(fresh, NAMES, ADDRESSES, now).text)
    ours = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    ours.load_cert_chain(file)
    theirs = ssl.create_default_context(cadata=fresh.certificate.decode())
    theirs.verify_flags |= ssl.VERIFY_X509_STRICT
    for host in (*NAMES, *ADDRESSES):
        shake(ours, theirs, host)
    with pytest.raises(ssl.SSLCertVerificationError):
        shake(ours, theirs, "other.local")


def shake(ours: ssl.SSLContext, theirs: ssl.SSLContext, host: str) -> None:
    there, back = ssl.MemoryBIO(), ssl.MemoryBIO()
    server = ours.wrap_bio(there, back, server_side=True)
    client = theirs.wrap_bio(back, there, server_hostname=host)
    done = set()
    for _ in range(10):
        for side in (client, server):
            try:
                side.do_handshake()
                done.add(side)
            except ssl.SSLWantReadError:
                pass
        if len(done) == 2:
            return
    raise AssertionError("the handshake came to no end")


@pytest.mark.parametrize(
    ("names", "addresses", "when", "current"),
    [
        pytest.param(NAMES, ADDRESSES, NOW, True, id="same"),
        pytest.param(NAMES, ADDRESSES, NOW + 335 * DAY, True, id="sixty-one-days-left"),
        pytest.param(NAMES, ADDRESSES, NOW + 336 * DAY, False, id="sixty-days-left"),
        pytest.param(["heron.local"], ADDRESSES, NOW, False, id="a-name-less"),
        pytest.param([*NAMES, "new"], ADDRESSES, NOW, False, id="a-name-more"),
        pytest.param(NAMES, ["192.168.7.13"], NOW, False, id="another-address"),
    ],
)
def test_when_a_server_certificate_is_made_anew(authority, server, names, addresses, when, current):
    assert certificates.is_current(server, authority.certificate, names, addresses, when) is current


def test_a_certificate_of_another_authority_is_made_anew(server):
    stranger = certificates.make_authority("Heron Row Pilates", NAMES, ADDRESSES, NOW)
    assert not certificates.is_current(server, stranger.certificate, NAMES, ADDRESSES, NOW)


@pytest.mark.parametrize(
    ("names", "addresses", "when", "covered"),
    [
        pytest.param(NAMES, ADDRESSES, NOW, True, id="its-own"),
        pytest.param(["egret.local"], ["10.0.0.5"], NOW, True, id="other-local-ones"),
        pytest.param(["egret"], [], NOW, False, id="another-bare-name"),
        pytest.param([], ["203.0.113.9"], NOW, False, id="an-address-elsewhere"),
        pytest.param(NAMES, ADDRESSES, NOW + 3500 * DAY, False, id="near-its-end"),
    ],
)
def test_what_the_authority_covers(authority, names, addresses, when, covered):
    assert certificates.covers(authority.certificate, names, addresses, when) is covered


def test_a_pair_is_read_back_and_a_mixed_one_is_refused(authority, server):
    assert Pair.of(server.text) == server
    for broken in (b"", b"nothing", authority.key + server.certificate, server.certificate):
        with pytest.raises(ValueError):
            Pair.of(broken)


def test_the_fingerprint_is_that_of_the_file_that_is_installed(authority):
    """SHA-256 over the binary form, as systems show it."""
    digest = hashlib.sha256(certificates.as_der(authority.certificate)).hexdigest().upper()
    assert certificates.fingerprint(authority.certificate).replace(" ", "") == digest


def test_two_studios_share_no_key(authority, server):
    other = certificates.make_authority("Heron Row Pilates", NAMES, ADDRESSES, NOW)
    assert len({authority.key, server.key, other.key}) == 3


def test_a_long_name_fits():
    """RFC 5280, appendix A: a common name holds at most 64 characters (counted in bytes, to be sure)."""
    made = certificates.make_authority("Ö" * 120, NAMES, [], NOW)
    assert read(made).subject.rfc4514_string() == "CN=" + "Ö" * 32
