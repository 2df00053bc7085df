"""Finding exercises by name: case and accents do not matter, other names count."""

import unicodedata
from collections.abc import Mapping


def fold(text: str) -> str:
    """Return a text without case, accents and doubled spaces, so that 'Élan' and 'elan' are the same."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return " ".join("".join(char for char in apart if not unicodedata.combining(char)).split())


def is_found(facts: Mapping, words: str) -> bool:
    """Return whether every word typed is part of the exercise's name or of one of its other names."""
    names = fold(" ".join([facts["name"], *facts["alt_names"]]))
    return all(word in names for word in fold(words).split())
