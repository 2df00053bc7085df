"""The steps for a new device, held against what the makers of the systems write. Looked up on 25 November 2026.

iPad: Apple Support, "Trust manually installed certificate profiles in iOS and iPadOS" (Settings, General, About,
Certificate Trust Settings; "Enable full trust for root certificates"); Apple Support, "Install a configuration profile
on your iPhone or iPad" (Profile Downloaded; gone after 8 minutes). Both read in copies on other sites.
Android: the source of its Settings, res/xml/install_certificate_from_storage.xml (Install a certificate,
CA certificate, a warning), and of CertInstaller (the screen lock is asked for).
Firefox on Android: mozilla-mobile/fenix, issue 16993.
Windows: Microsoft, OfficeDev/skype-docs, "Installing the trusted root certificate" (Install Certificate, Place all
certificates in the following store, Trusted Root Certification Authorities). `certutil -hashfile`: from memory.
Mac: Sectigo's knowledge base, "Change the trust settings of a certificate in Keychain Access"; stacklok/codegate-ui 148
(opening the file does not add it by itself: the login keychain is chosen). Apple's own guide was not found.
Chrome on Linux: wardenenv/docs 41 (Local certificates, Custom, Installed by you, Trusted certificates) and Chromium's
docs/linux/cert_management.md. Firefox: security/manager/pki/resources/content/downloadcert.js, and from memory.
"""

import hashlib
import html
import re

import pytest
from django.test import Client as Browser
from django.urls import reverse

from studio import certificates
from tests.studio.test_network import _this_machine, authority_on_disk, on  # noqa: F401

pytestmark = pytest.mark.django_db


def steps() -> dict[str, str]:
    page = html.unescape(Browser().get(reverse("studio:network_install")).content.decode())
    parts = re.findall(r"<summary>(.*?)</summary><ol>(.*?)</ol>", page, re.S)
    return {title: re.sub(r"<[^>]+>", "", text) for title, text in parts}


@pytest.mark.parametrize(
    ("system", "in_order"),
    [
        (
            "iPad",
            ["Safari", "Profile Downloaded", "8 minutes", "SHA-256", "Install", "Certificate Trust Settings"],
        ),
        (
            "Android tablet",
            [
                "Encryption & credentials",
                "Install a certificate",
                "CA certificate",
                "Install anyway",
                "PIN",
                "Trusted credentials",
            ],
        ),
        (
            "Windows laptop",
            [
                "certutil -hashfile studio-authority.crt SHA256",
                "Install Certificate",
                "Place all certificates in the following store",
                "Trusted Root Certification Authorities",
                "Yes",
            ],
        ),
        ("Mac", ["login", "Add", "SHA-256", "Trust", "Always Trust", "password"]),
        ("Linux laptop or Chromebook", ["Manage certificates", "Installed by you", "Trusted certificates"]),
        ("Firefox on a laptop", ["View Certificates", "Authorities", "Trust this CA to identify websites"]),
    ],
)
def test_the_steps_come_in_the_order_of_the_system(on, system, in_order):  # noqa: F811
    text = steps()[system]
    places = []
    for words in in_order:
        places.append(text.find(words, places[-1] if places else 0))
    assert -1 not in places, dict(zip(in_order, places, strict=True))


def test_every_system_compares_the_pairs(on):  # noqa: F811
    assert {system: "ompare" in text for system, text in steps().items()} == dict.fromkeys(steps(), True)


def test_on_windows_the_number_of_the_file_is_that_of_the_certificate(on):  # noqa: F811
    """The file is the certificate in DER, so its SHA-256 is the fingerprint (RFC 5280, 4.1; X.690)."""
    file = Browser().get(reverse("studio:network_authority")).content
    pairs = certificates.fingerprint(authority_on_disk().certificate)
    assert hashlib.sha256(file).hexdigest().upper() == pairs.replace(" ", "")
