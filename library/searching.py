"""Finding exercises by name: case and accents do not matter, other names count."""

from collections.abc import Mapping

from studio.folding import fold


def is_found(facts: Mapping, words: str) -> bool:
    """Return whether every word typed is part of the exercise's name or of one of its other names."""
    names = fold(" ".join([facts["name"], *facts["alt_names"]]))
    return all(word in names for word in fold(words).split())
