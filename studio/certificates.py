"""The studio's own certificate authority and the one server certificate that it signs.

Plain: bytes in, bytes out, the time is an argument. Shapes follow RFC 5280; a lifetime of at most 398 days for a
server certificate is what browsers accept from any authority (CA/Browser Forum baseline requirements 6.3.2).
"""

import datetime as dt
import ipaddress
from collections.abc import Iterable
from dataclasses import dataclass

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

AUTHORITY_DAYS = 3650
SERVER_DAYS = 397
RENEW_DAYS = 60
# A tablet whose clock is a little behind must not refuse what was made a minute ago.
BACKDATED = dt.timedelta(days=1)
# Addresses of local networks: RFC 1918 and RFC 3927. Names under .local: RFC 6762.
LOCAL_RANGES = ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16")
LOCAL_DOMAIN = "local"
BEGINS = b"-----BEGIN CERTIFICATE-----"
LONGEST_NAME = 64  # RFC 5280, upper bound of a common name; the library counts bytes


@dataclass(frozen=True)
class Pair:
    """A private key and its certificate, both as PEM."""

    key: bytes
    certificate: bytes

    @classmethod
    def of(cls, text: bytes) -> "Pair":
        """Read what `text` gives. Raises ValueError where it is no such pair."""
        key, mark, certificate = text.partition(BEGINS)
        pair = cls(key, mark + certificate)
        if _key(pair.key).public_key() != _certificate(pair.certificate).public_key():
            raise ValueError("the key belongs to another certificate")
        return pair

    @property
    def text(self) -> bytes:
        """Both in one: a file that holds it is replaced as a whole, and the two never come apart."""
        return self.key + self.certificate


def make_authority(studio: str, names: Iterable[str], addresses: Iterable[str], now: dt.datetime) -> Pair:
    """Make an authority that can vouch for local names, local addresses and the ones given, for nothing else.

    studio: its name, shown on the tablet. Were the key ever stolen, it could not pass for any other site.
    """
    key = ec.generate_private_key(ec.SECP256R1())
    who = _name(studio)
    dns = dict.fromkeys([LOCAL_DOMAIN, *names])
    ranges = dict.fromkeys([*map(ipaddress.ip_network, LOCAL_RANGES), *map(ipaddress.ip_network, addresses)])
    permitted = [*map(x509.DNSName, dns), *map(x509.IPAddress, ranges)]
    builder = _builder(who, who, key, now, dt.timedelta(days=AUTHORITY_DAYS))
    certificate = (
        builder.add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs=True), critical=True)
        .add_extension(x509.NameConstraints(permitted, None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    return _pair(key, certificate)


def make_server(authority: Pair, names: Iterable[str], addresses: Iterable[str], now: dt.datetime) -> Pair:
    """Make a server certificate for exactly these host names and addresses, signed by the authority."""
    signer, signer_key = _certificate(authority.certificate), _key(authority.key)
    key = ec.generate_private_key(ec.SECP256R1())
    names, addresses = list(names), list(addresses)
    life = min(dt.timedelta(days=SERVER_DAYS), signer.not_valid_after_utc - (now - BACKDATED))
    builder = _builder(_name([*names, *addresses][0]), signer.subject, key, now, life)
    identifier = signer.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
    certificate = (
        builder.add_extension(x509.SubjectAlternativeName(_general(names, addresses)), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(identifier), critical=False
        )
        .sign(signer_key, hashes.SHA256())
    )
    return _pair(key, certificate)


def covers(authority: bytes, names: Iterable[str], addresses: Iterable[str], now: dt.datetime) -> bool:
    """Return whether the authority may vouch for all of these, and still will in a server certificate's time."""
    certificate = _certificate(authority)
    if certificate.not_valid_after_utc < now + dt.timedelta(days=SERVER_DAYS):
        return False
    found = certificate.extensions.get_extension_for_class(x509.NameConstraints).value.permitted_subtrees
    domains = [each.value for each in found if isinstance(each, x509.DNSName)]
    ranges = [each.value for each in found if isinstance(each, x509.IPAddress)]
    return all(any(name == d or name.endswith(f".{d}") for d in domains) for name in names) and all(
        any(ipaddress.ip_address(address) in each for each in ranges) for address in addresses
    )


def is_current(server: Pair, authority: bytes, names, addresses, now: dt.datetime) -> bool:
    """Return whether a server certificate is the authority's, for exactly these names, and not near its end."""
    certificate, signer = _certificate(server.certificate), _certificate(authority)
    try:
        certificate.verify_directly_issued_by(signer)
    except (InvalidSignature, ValueError, TypeError):
        return False
    own = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    lasts = certificate.not_valid_after_utc - now > dt.timedelta(days=RENEW_DAYS)
    return lasts and list(own) == _general(names, addresses)


def fingerprint(certificate: bytes) -> str:
    """Return the SHA-256 of a PEM certificate in capital pairs, as tablets and laptops show it."""
    return _certificate(certificate).fingerprint(hashes.SHA256()).hex(" ").upper()


def ends_on(certificate: bytes) -> dt.date:
    """Return the last day of a PEM certificate."""
    return _certificate(certificate).not_valid_after_utc.date()


def as_der(certificate: bytes) -> bytes:
    """Return the binary form, which every system takes under the ending .crt."""
    return _certificate(certificate).public_bytes(serialization.Encoding.DER)


def _builder(subject, issuer, key, now: dt.datetime, life: dt.timedelta) -> x509.CertificateBuilder:
    begins = now - BACKDATED
    return x509.CertificateBuilder(
        subject_name=subject,
        issuer_name=issuer,
        public_key=key.public_key(),
        serial_number=x509.random_serial_number(),
        not_valid_before=begins,
        not_valid_after=begins + life,
    )


def _name(text: str) -> x509.Name:
    words = (text.strip() or "Studio").encode()[:LONGEST_NAME].decode(errors="ignore")
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, words)])


def _general(names, addresses) -> list[x509.GeneralName]:
    return [*map(x509.DNSName, names), *(x509.IPAddress(ipaddress.ip_address(each)) for each in addresses)]


def _usage(*, signs: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs,
        key_cert_sign=signs,
        crl_sign=signs,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def _pair(key, certificate: x509.Certificate) -> Pair:
    pem = serialization.Encoding.PEM
    plain = serialization.NoEncryption()
    return Pair(
        key.private_bytes(pem, serialization.PrivateFormat.PKCS8, plain), certificate.public_bytes(pem)
    )


def _certificate(pem: bytes) -> x509.Certificate:
    return x509.load_pem_x509_certificate(pem)


def _key(pem: bytes):
    return serialization.load_pem_private_key(pem, password=None)
