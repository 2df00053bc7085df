"""Cues that worked for one client in one exercise: their order, how many, which notes of records can become one."""

from collections.abc import Iterable

# More than these nobody reads while somebody lies on the carriage (the house's own figure).
MOST_CUES = 6
LONGEST_CUE = 160
# As many notes of earlier sessions as are offered.
MOST_NOTES = 4


def tidy(words: str) -> str:
    """Return a sentence without white space at its ends or doubled inside it."""
    return " ".join(words.split())


def same(one: str, other: str) -> bool:
    """Return whether two cues say the same but for capitals, white space and the full stop."""
    return tidy(one).casefold().rstrip(".") == tidy(other).casefold().rstrip(".")


def holds(cues: Iterable[str], cue: str) -> bool:
    return any(same(one, cue) for one in cues)


def with_cue(cues: list[str], cue: str) -> list[str]:
    """Return the cues with one in front, once. One that is there already keeps its words and moves up."""
    kept = next((one for one in cues if same(one, cue)), tidy(cue))
    return [kept, *without_cue(cues, cue)]


def without_cue(cues: list[str], cue: str) -> list[str]:
    return [one for one in cues if not same(one, cue)]


def offered(notes: Iterable[str], cues: Iterable[str]) -> list[str]:
    """Return the notes, in their order, that could be kept as a cue: none twice, none that is kept already."""
    found: list[str] = []
    cues = list(cues)
    for note in map(tidy, notes):
        if note and len(note) <= LONGEST_CUE and not holds(cues, note) and not holds(found, note):
            found.append(note)
    return found[:MOST_NOTES]
