"""Telephone numbers folded for finding: their digits, whatever script, marks and country code they have."""

import unicodedata

# Enough of a number's end to tell people apart, short enough to forget a leading zero or a country code.
_END = 9
_SHORTEST_NUMBER = 6
_SHORTEST_SEARCH = 3


def digits(text: str) -> str:
    """Return the digits of a text, whatever script they are written in."""
    found = (unicodedata.digit(c, None) for c in text)
    return "".join(str(d) for d in found if d is not None)


def is_number(text: str) -> bool:
    """Return whether a text is meant as a telephone number: at least three digits and nothing but its marks."""
    rest = "".join(c for c in text if not c.isdigit()).strip(" +()./-\u00a0")
    return not rest and len(digits(text).lstrip("0")) >= _SHORTEST_SEARCH


def end_of_number(telephone: str) -> str:
    """Return the end of a telephone number, the same for 07700 900123 and +44 7700 900123; empty if too short."""
    found = digits(telephone)
    return found[-_END:] if len(found) >= _SHORTEST_NUMBER else ""
