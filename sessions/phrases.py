"""An instructor's own short notes, the most used first, to be touched instead of typed. Plain computation."""

from collections import Counter, defaultdict
from collections.abc import Iterable

# Five at a time (the design's own figure), each short enough for a chip.
SHOWN, LONGEST = 5, 28
# What was said so often, and of so many people, that it says nothing about one of them.
LEAST_USES, LEAST_CLIENTS = 3, 2
BETWEEN = "; "


def parts(note: str) -> list[str]:
    """Return the phrases of a note."""
    return [part.strip() for part in note.split(BETWEEN.strip()) if part.strip()]


def _plain(phrase: str) -> str:
    return phrase.casefold().rstrip(".")


def most_used(notes: Iterable[tuple[str, int]], leave_out: Iterable[str] = ()) -> list[str]:
    """Return the most used phrases of some notes, each with the key of its client; newest notes first.

    A phrase counts whatever its capitals; it is shown as it was written last. leave_out: what the program writes.
    """
    ours = {_plain(one) for one in leave_out}
    uses, clients, shown = Counter(), defaultdict(set), {}
    for note, client in notes:
        for phrase in parts(note):
            key = _plain(phrase)
            if len(phrase) > LONGEST or key in ours:
                continue
            uses[key] += 1
            clients[key].add(client)
            shown.setdefault(key, phrase)
    often = [key for key, n in uses.most_common() if n >= LEAST_USES and len(clients[key]) >= LEAST_CLIENTS]
    return [shown[key] for key in often[:SHOWN]]


def parted(note: str, phrases: Iterable[str]) -> tuple[list[str], str]:
    """Return which of some phrases a note holds, and what else it says."""
    known = {_plain(phrase): phrase for phrase in phrases}
    said = parts(note)
    ticked = [known[_plain(part)] for part in said if _plain(part) in known]
    return ticked, BETWEEN.join(part for part in said if _plain(part) not in known)


def joined(ticked: Iterable[str], typed: str) -> str:
    """Return one note: the phrases that were touched, then what was typed, nothing twice."""
    found: dict[str, str] = {}
    for part in [*ticked, *parts(typed)]:
        found.setdefault(_plain(part), part.strip())
    return BETWEEN.join(found.values())
