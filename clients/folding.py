"""Words folded for finding: without accents, without case."""

import unicodedata


def fold(text: str) -> str:
    """Return the text in a form in which Zoë, ZOE and zoe are the same. Letters of other scripts stay."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return " ".join("".join(c for c in apart if not unicodedata.combining(c)).split())
