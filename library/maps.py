"""Which exercises a map shows, how they hang together, and the same as a list. Plain computation.

`facts` is exercise id -> its facts, of everything on the shelf. An arrow (easier, harder) is firm where the
harder one grows from the easier, soft where it only falls back on it when it does not work today.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from library import map_layout, progressions


@dataclass(frozen=True)
class Map:
    """ids: what is shown. rest: how many more belong to it. arrows: all between those shown; soft: which of them."""

    ids: tuple[str, ...]
    rest: int
    arrows: tuple[map_layout.Arrow, ...]
    soft: frozenset[map_layout.Arrow]
    focus: str = ""

    def easier(self, key: str) -> list[str]:
        return [low for low, high in self.arrows if high == key]

    def harder(self, key: str) -> list[str]:
        return [high for low, high in self.arrows if low == key]


@dataclass(frozen=True)
class Branch:
    """One exercise of the list, what else it grows from or falls back on, and what grows from it."""

    id: str
    also_from: tuple[str, ...]
    harder: tuple["Branch", ...]


def arrows_of(facts: Mapping[str, Mapping]) -> list[map_layout.Arrow]:
    """Return every (easier, harder), firm and soft, in the order of `facts`."""
    return [(low, key) for key in facts for low in progressions.easier(key, facts)]


def of_exercise(key: str, facts: Mapping[str, Mapping], most: int = map_layout.MOST_SHOWN) -> Map:
    """Return the map around one exercise: what it grows from, and what grows from it, nearest first."""
    arrows = arrows_of(facts)
    shown, rest = map_layout.around(key, arrows, most)
    return _map(shown, rest, arrows, facts, focus=key)


def of_skill(
    skill: str, facts: Mapping[str, Mapping], first: Collection[str] = (), most: int = map_layout.MOST_SHOWN
) -> Map:
    """Return the map of a skill: those in `first` (what a client has done) and those that hang together."""
    wanted = trains(skill, facts)
    arrows = arrows_of(facts)
    shown, rest = map_layout.among(wanted, arrows, most, first)
    return _map(shown, rest, arrows, facts)


def trains(skill: str, facts: Mapping[str, Mapping]) -> list[str]:
    """Return the exercises that train a skill, those whose main one it is before the others."""
    found = [key for key, one in facts.items() if skill in one["skills"]]
    return sorted(found, key=lambda key: facts[key]["skills"][0] != skill)


def _map(shown: Sequence[str], rest: int, arrows: Iterable, facts: Mapping, focus: str = "") -> Map:
    inside = set(shown)
    kept = tuple(arrow for arrow in arrows if arrow[0] in inside and arrow[1] in inside)
    soft = frozenset((low, high) for low, high in kept if low not in facts[high]["progression_of"])
    return Map(tuple(shown), rest, kept, soft, focus)


def drawn(found: Map, names: Mapping[str, str], foot_lines: int = 1) -> map_layout.Layout:
    """Return where everything of a map stands. names: id -> its words."""
    shown = {key: names[key] for key in found.ids}
    return map_layout.laid(shown, found.arrows, found.soft, foot_lines)


def nested(found: Map) -> tuple[Branch, ...]:
    """Return a map as a list from easy to hard, each exercise once.

    It stands under the hardest of those it grows from; the others, and what it only falls back on, are named
    beside it.
    """
    rank = map_layout.layers(found.ids, found.arrows, most=len(found.ids) or 1)
    under: dict[str, list[str]] = {}
    tops, parent = [], {}
    for key in sorted(found.ids, key=rank.__getitem__):
        below = found.easier(key)
        if below:
            firm = [low for low in below if (low, key) not in found.soft]
            parent[key] = max(firm or below, key=rank.__getitem__)
            under.setdefault(parent[key], []).append(key)
        else:
            tops.append(key)

    def branch(key: str) -> Branch:
        also = tuple(low for low in found.easier(key) if low != parent.get(key) or (low, key) in found.soft)
        return Branch(key, also, tuple(branch(high) for high in under.get(key, ())))

    return tuple(branch(key) for key in tops)
