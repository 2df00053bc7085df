"""The rule for passphrases: long, anything goes, never cut (NIST SP 800-63B-4, section 3.1.1.2)."""

import unicodedata

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

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
                _("Use at least %(n)d characters. Four or five ordinary words with spaces do well.")
                % {"n": SHORTEST},
                code="short",
            )
        if length > LONGEST:
            raise ValidationError(_("Use at most %(n)d characters.") % {"n": LONGEST}, code="long")

    def get_help_text(self):
        return _("At least %(n)d characters. Four or five ordinary words with spaces do well.") % {
            "n": SHORTEST
        }
