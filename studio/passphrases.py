"""The rule for passphrases: long, anything goes, never cut (NIST SP 800-63B-4, section 3.1.1.2)."""

import unicodedata
from functools import cache

from django.contrib.auth.password_validation import CommonPasswordValidator
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from studio import guessable

SHORTEST = 15
LONGEST = 256


def normalised(passphrase: str) -> str:
    """Return the passphrase in Unicode NFC, so that it is the same from every keyboard."""
    return unicodedata.normalize("NFC", passphrase)


def folded(sign_in_name: str) -> str:
    """Return a sign-in name as it is kept: the same from every keyboard and in either case."""
    return normalised(normalised(sign_in_name.strip()).casefold())


class LengthValidator:
    """Between 15 and 256 code points; no rule about kinds of characters."""

    def validate(self, password, user=None):
        length = len(normalised(password))
        if length < SHORTEST:
            raise ValidationError(
                _("This is too short. Use at least %(n)d characters.") % {"n": SHORTEST}, code="short"
            )
        if length > LONGEST:
            raise ValidationError(_("Use at most %(n)d characters.") % {"n": LONGEST}, code="long")

    def get_help_text(self):
        return _("At least %(n)d characters. Four or five ordinary words with spaces do well.") % {
            "n": SHORTEST
        }


@cache
def _common() -> frozenset[str]:
    """Return the twenty thousand passwords most often found in leaks, as they come with Django."""
    return frozenset(CommonPasswordValidator().passwords)


def check(passphrase: str, *names: str) -> None:
    """Raise ValidationError, with the reason, for a passphrase that is too short, too long or easily guessed.

    names: names of this place and person (studio, sign-in name, full name) that somebody would try first.
    """
    LengthValidator().validate(passphrase)
    found = guessable.why(normalised(passphrase), guessable.words_of(*names), _common())
    if found == "common":
        raise ValidationError(
            _("That one is on the lists that are tried first. Take words that do not belong together."),
            code="common",
        )
    if found == "place":
        raise ValidationError(
            _("That one is made of names of this place or of you. Take words that nobody here would guess."),
            code="place",
        )
