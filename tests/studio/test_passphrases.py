"""How passphrases are judged and kept.

Sources: NIST SP 800-63B-4, section 3.1.1.2 (at least 15 characters where it is the only factor, at least 64 taken,
counted in code points, any character, never cut, put into a normal form first); OWASP password storage cheat
sheet (Argon2id, 19 MiB, 2 passes, 1 lane), read where other documentation quotes it. A stored value is checked
with argon2-cffi itself, the reference library's binding.
"""

import unicodedata

import argon2
import pytest
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from sessions.demo.factories import StaffFactory
from studio.models import Staff
from studio.passphrases import folded

REAL_HASHER = ["studio.hashers.StudioArgon2"]
PARTY = "\N{PARTY POPPER}"


@pytest.mark.parametrize(
    ("passphrase", "code"),
    [
        ("a" * 14, "short"),
        ("", "short"),
        (PARTY * 14, "short"),
        # Fourteen letters, one of them typed as e and a combining accent: still fourteen.
        ("e\u0301" + "a" * 13, "short"),
        ("a" * 257, "long"),
        (PARTY * 257, "long"),
    ],
    ids=["14", "none", "14-emoji", "14-with-combining-accent", "257", "257-emoji"],
)
def test_refused(passphrase, code):
    with pytest.raises(ValidationError) as refused:
        validate_password(passphrase)
    assert [error.code for error in refused.value.error_list] == [code]


@pytest.mark.parametrize(
    "passphrase",
    ["a" * 15, "1" * 15, " " * 15, "x" * 60 + PARTY * 4, "a" * 256, "four ordinary words here"],
    ids=["15-lower-case", "15-digits", "15-spaces", "64-with-emoji", "256", "words"],
)
def test_accepted(passphrase):
    validate_password(passphrase)


def test_the_last_character_counts():
    person = StaffFactory.build()
    person.set_password("x" * 63 + "a")
    assert person.check_password("x" * 63 + "a")
    assert not person.check_password("x" * 63 + "b")


def test_composed_and_decomposed_letters_are_the_same():
    composed, decomposed = "caf\u00e9 on the corner", "cafe\u0301 on the corner"
    assert composed != decomposed, "the two spellings differ as strings"
    assert unicodedata.normalize("NFC", decomposed) == composed
    person = StaffFactory.build()
    person.set_password(composed)
    assert person.check_password(decomposed)
    person.set_password(decomposed)
    assert person.check_password(composed)


@pytest.mark.parametrize(
    "typed",
    ["Zoë", "ZOË", "zoe\u0308", " zoë "],
    ids=["as-given", "capitals", "combining", "spaces-around"],
)
def test_a_sign_in_name_is_the_same_from_every_keyboard(typed):
    assert folded(typed) == "zoë"


class TestAsStored:
    """With the hasher of the delivered settings; the other tests use a cheap one."""

    @pytest.fixture(autouse=True)
    def _real_hasher(self, settings):
        settings.PASSWORD_HASHERS = REAL_HASHER

    def test_is_argon2id_with_its_costs(self):
        person = StaffFactory.build()
        person.set_password("four plain words suffice")
        algorithm, kind, _version, costs, _salt, _hash = person.password.split("$")
        assert (algorithm, kind, costs) == ("argon2", "argon2id", "m=19456,t=2,p=1")

    def test_the_reference_library_agrees(self):
        person = StaffFactory.build()
        person.set_password("four plain words suffice")
        encoded = person.password.removeprefix("argon2")
        assert argon2.PasswordHasher().verify(encoded, "four plain words suffice")
        found = argon2.extract_parameters(encoded)
        assert found.type is argon2.Type.ID
        assert (found.memory_cost, found.time_cost, found.parallelism) == (19456, 2, 1)

    def test_every_salt_is_its_own(self):
        one, other = StaffFactory.build(), StaffFactory.build()
        one.set_password("four plain words suffice")
        other.set_password("four plain words suffice")
        assert one.password != other.password

    def test_the_delivered_settings_use_it(self):
        import studio.settings

        assert studio.settings.PASSWORD_HASHERS == REAL_HASHER

    @pytest.mark.django_db
    def test_a_weaker_stored_value_is_raised_at_the_next_sign_in(self, client, house):
        weak = argon2.PasswordHasher(time_cost=1, memory_cost=8 * 1024, parallelism=1)
        person = StaffFactory(sign_in_name="linnet")
        Staff.objects.filter(pk=person.pk).update(password="argon2" + weak.hash("four plain words suffice"))
        answer = client.post(
            "/sign-in/", {"sign_in_name": "linnet", "passphrase": "four plain words suffice"}
        )
        assert answer.status_code == 302
        person.refresh_from_db()
        assert "m=19456,t=2,p=1" in person.password
        assert person.check_password("four plain words suffice")
