"""One-time codes that are read off a screen or a console and typed by hand."""

import secrets

# No letters or digits that look alike when read aloud or off a page.
ALPHABET = "abcdefghjkmnpqrstuvwxyz23456789"
GROUP = 5
# Characters without the dashes. log2(31) is 4.954: 74 bits for one day, 123.9 bits for one that lies in a drawer
# (OWASP verification standard 5.0, 6.5.2 and 6.6.2: 20 bits at least, 112 for what lasts).
DAY_LENGTH, LASTING_LENGTH = 15, 25


def make(length: int) -> str:
    """Return a random code of so many characters, in groups of five with dashes."""
    letters = "".join(secrets.choice(ALPHABET) for _ in range(length))
    return "-".join(letters[at : at + GROUP] for at in range(0, length, GROUP))


def bare(typed: str) -> str:
    """Return a code as it is compared: small letters and digits, whatever stood between them."""
    return "".join(c for c in typed.casefold() if c.isalnum())
