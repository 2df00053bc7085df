"""Finding exercises: by name, other names and words, forgiving accents and slips of typing. Plain computation.

Every word typed has to be found somewhere in an exercise; where it is found decides the place in the list. A
slip is forgiven only when nothing is found without forgiving: first for words the library does not hold at all,
then for every word. The distance of two words is that of Damerau and Levenshtein without overlapping changes
(optimal string alignment): letters doubled, dropped, changed and swapped with their neighbour count one each.
"""

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

from rapidfuzz.distance import OSA

from library import contents, tables, vocabulary_wording
from studio.folding import fold

__all__ = ["FILTERS", "Entry", "Found", "keeps", "marked", "search", "slips_forgiven"]

# How much a find in each field is worth. A name counts most; common practice, no source.
WEIGHTS = {
    "name": 1.0,
    "alt_name": 0.95,
    "apparatus": 0.55,
    "skill": 0.5,
    "family": 0.5,
    "position": 0.5,
    "accessories": 0.45,
    "home_props": 0.45,
    "level": 0.4,
    "fault": 0.35,
    "purpose": 0.3,
}
NAMES = ("name", "alt_name")
# Field of the facts -> name of the closed list whose words are searched.
_LISTS = {
    "apparatus": ("apparatus", "apparatus"),
    "skills": ("skill", "skill"),
    "families": ("family", "family"),
    "position": ("position", "position"),
    "accessories": ("accessories", "accessories"),
    "home_props": ("home_props", "home_prop"),
    "level": ("level", "level"),
    "faults": ("fault", "fault"),
}
FILTERS = ("apparatus", "position", "family", "skill", "level", "transfer", "home", "props")
_ONE_OF = {"apparatus": "apparatus", "position": "position", "level": "level", "transfer": "transfer_family"}
_ANY_OF = {"family": "families", "skill": "skills"}

EXACT_NAME, EXACT_OTHER_NAME, NAME_BEGINS, WHOLE_IN_NAME = 200.0, 180.0, 20.0, 20.0
_WORD = re.compile(r"[^\W_]+")
_SHOWN_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")


@dataclass(frozen=True, slots=True)
class Found:
    """One exercise found.

    score: higher is nearer; 0 where nothing was typed. where: the field of the word that was furthest from the
    name ('' where nothing was typed), and `text` what is written there. words: folded words that matched, for
    `marked`.
    """

    id: str
    score: float
    where: str = ""
    text: str = ""
    words: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Entry:
    """An exercise made ready for searching; worth keeping as long as facts and text stay the same."""

    facts: Mapping
    # field -> tuple of (shown text, its folded words)
    lines: Mapping[str, tuple[tuple[str, tuple[str, ...]], ...]]
    # word -> (field, shown text), the weightiest
    words: Mapping[str, tuple[str, str]]
    # (field, value of its closed list) -> shown text
    values: Mapping[tuple[str, str], str] = field(default_factory=dict)

    @classmethod
    def of(cls, facts: Mapping, text: Mapping) -> "Entry":
        """Make an entry from the facts and the text of an exercise (whole, or only a purpose)."""
        lines = {"name": [facts["name"]], "alt_name": list(facts["alt_names"])}
        values = {}
        for name, (where, closed) in _LISTS.items():
            held = [facts[name]] if isinstance(facts[name], str) else facts[name]
            for value in held:
                values[where, value] = vocabulary_wording.label(closed, value)
            lines[where] = [values[where, value] for value in held]
        lines["purpose"] = [text["purpose"]] if text.get("purpose") else []
        read = {where: tuple((line, words_of(line)) for line in rows) for where, rows in lines.items()}
        return cls(facts, read, _by_word(read), values)


def _by_word(lines) -> dict[str, tuple[str, str]]:
    found = {}
    for where in sorted(lines, key=WEIGHTS.get, reverse=True):
        for line, words in lines[where]:
            # 'Roll-up' is typed as one word too.
            pairs = ["".join(pair) for pair in zip(words, words[1:], strict=False)] if where in NAMES else ()
            for word in (*words, *pairs):
                found.setdefault(word, (where, line))
    return found


def words_of(text: str) -> tuple[str, ...]:
    """Return the folded words of a text, without its marks."""
    return tuple(_WORD.findall(fold(text)))


def slips_forgiven(word: str) -> int:
    """Return how many slips are forgiven in a typed word: none below four letters, two from eight on."""
    return 0 if len(word) < 4 else 1 if len(word) < 8 else 2


def search(text: str, *, filters: Mapping | None = None, exercises: Iterable | None = None) -> list[Found]:
    """Return the exercises that hold every word typed, best first, then in the order given.

    text: what was typed, perhaps not to its end; empty finds everything. filters: mapping with keys of FILTERS;
    see `keeps`. exercises: pairs of (facts, text), or ready `Entry` objects; without it the shipped library.
    LookupError, in a sentence, for a filter that is not known.
    """
    entries = _shipped() if exercises is None else [_entry(one) for one in exercises]
    wanted = filters or {}
    typed = words_of(text)
    if not typed:
        return [] if text.strip() else [Found(e.facts["id"], 0.0) for e in entries if keeps(e.facts, wanted)]
    found = _ranked(typed, entries)
    return [one for one, facts in found if keeps(facts, wanted)]


def _entry(one) -> Entry:
    return one if isinstance(one, Entry) else Entry.of(*one)


@cache
def _shipped() -> tuple[Entry, ...]:
    """Return the shipped library, in the words of the language in which it was first asked for."""
    payloads = contents.payloads().values()
    return tuple(Entry.of(one["facts"], one["text"]) for one in payloads)


def keeps(facts: Mapping, filters: Mapping) -> bool:
    """Return whether an exercise passes every filter that is set.

    apparatus, position, level, transfer, family, skill: lists of ids, one of them has to be the exercise's.
    home: true keeps what may go home. props: what the client has; everything the exercise needs at home has to be
    among them (an empty list keeps what needs nothing). None, and '' or [] elsewhere, mean not set.
    """
    for name, value in filters.items():
        if name not in FILTERS:
            raise LookupError(f"There is no filter '{name}'. Use one of: {', '.join(FILTERS)}.")
        if name == "props":
            if value is not None and not set(facts["home_props"]) <= set(value):
                return False
        elif value and not _passes(facts, name, value):
            return False
    return True


def _passes(facts: Mapping, name: str, value) -> bool:
    if name == "home":
        return facts["home_ok"]
    asked = {value} if isinstance(value, str) else set(value)
    if name in _ONE_OF:
        return facts[_ONE_OF[name]] in asked
    return not asked.isdisjoint(facts[_ANY_OF[name]])


# Weighing.


def _ranked(typed: tuple[str, ...], entries: Sequence[Entry]) -> list[tuple[Found, Mapping]]:
    """Return what was found with its facts, best first; the first way of looking that finds anything counts."""
    stop = _stop_words()
    asked = tuple(word for word in typed if word not in stop) or typed
    library = {word for entry in entries for word in entry.words}
    near = [_Word(asked, place, library) for place in range(len(asked))]
    spoken = _spoken(asked)
    found = _weighed(typed, near, spoken, entries)
    for forgiven in ([not one.known and not one.place_in(spoken) for one in near], [True] * len(near)):
        if found:
            break
        if any(forgiven):
            for one, slips in zip(near, forgiven, strict=True):
                if slips:
                    one.forgive(library)
            found = _weighed(typed, near, spoken, entries)
    return sorted(found, key=lambda pair: -pair[0].score)


class _Word:
    """One typed word with the words of the library that it may mean: word -> how well it fits, up to 1."""

    def __init__(self, asked: tuple[str, ...], place: int, library: set[str]):
        self.word, self.place = asked[place], place
        # 'on the', with nothing else typed, is looked for in names only.
        self.little = self.word in _stop_words()
        # Two words typed where the library writes one: 'foot work'.
        self.joined = [
            "".join(asked[start : start + 2]) for start in (place - 1, place) if 0 <= start < len(asked) - 1
        ]
        fits = ((word, self._fit(word)) for word in library)
        self.fits = {word: fit for word, fit in fits if fit}
        self.known = bool(self.fits)
        self.slips = {}

    def place_in(self, spoken) -> bool:
        return any(self.place in places for places, _means in spoken)

    def _fit(self, word: str) -> float:
        typed = self.word
        if word == typed:
            return 1.0
        if word in _same_words().get(typed, ()):
            return 0.9
        if len(typed) > 2 and (word == typed + "s" or typed == word + "s"):
            return 0.95
        if word.startswith(typed):
            return 0.6 + 0.3 * len(typed) / len(word)
        if len(typed) >= 4 and typed in word:
            return 0.4
        if any(len(two) >= 5 and word.startswith(two) for two in self.joined):
            return 0.85
        return 0.0

    def forgive(self, library: set[str]) -> None:
        """Take in words that lie within the slips forgiven, also of one that is not typed to its end."""
        most, size = slips_forgiven(self.word), len(self.word)
        if not most:
            return
        for word in library:
            slips = OSA.distance(self.word, word, score_cutoff=most)
            if slips <= most:
                self.slips[word] = 0.5 - 0.1 * slips
            elif size >= 5 and len(word) > size:
                begun = min(
                    OSA.distance(self.word, word[:n], score_cutoff=1) for n in (size - 1, size, size + 1)
                )
                if begun <= 1:
                    self.slips[word] = 0.3

    def best_in(self, entry: Entry) -> tuple[float, str, str, str] | None:
        """Return (weight, word, field, shown text) of the best find in an entry, or None."""
        best = None
        for fits in (self.fits, self.slips):
            for word in fits.keys() & entry.words.keys():
                where, line = entry.words[word]
                if where not in NAMES and (self.little or len(self.word) <= 2 and word != self.word):
                    continue
                value = fits[word] * WEIGHTS[where]
                if best is None or (value, word) > best[:2]:
                    best = value, word, where, line
        return best


def _weighed(typed, near, spoken, entries) -> list[tuple[Found, Mapping]]:
    found = (_one(typed, near, spoken, entry) for entry in entries)
    return [(one, entry.facts) for one, entry in zip(found, entries, strict=True) if one]


def _one(typed, near: Sequence[_Word], spoken, entry: Entry) -> Found | None:
    """Weigh one exercise, or return None where a word is found nowhere in it."""
    by_phrase = _by_phrase(spoken, entry)
    finds = []
    for one in near:
        best, said = one.best_in(entry), by_phrase.get(one.place)
        if said and (best is None or said[0] > best[0]):
            best = said
        if best is None:
            return None
        finds.append(best)
    furthest = min(finds, key=lambda find: (find[2] == "name", WEIGHTS[find[2]]))
    score = 100 * sum(find[0] for find in finds) / len(finds) + _for_the_name(typed, finds, entry)
    words = frozenset(find[1] for find in finds if find[1])
    return Found(entry.facts["id"], round(score, 6), furthest[2], furthest[3], words)


def _for_the_name(typed, finds, entry: Entry) -> float:
    """Return what the name as a whole adds: typed exactly, begun, or all that was typed lies in it."""
    name = entry.lines["name"][0][1]
    if typed == name:
        return EXACT_NAME
    if any(typed == words for _line, words in entry.lines["alt_name"]):
        return EXACT_OTHER_NAME
    if not all(find[2] == "name" for find in finds):
        return 0.0
    # 'Clam, side-lying' is the plain clam: what stands behind the comma does not make it longer.
    head = words_of(entry.facts["name"].partition(",")[0]) or name
    share = 0.95 * min(sum(map(len, typed)) / sum(map(len, head)), 1.0) + 0.05 * (head == name)
    begins = " ".join(name).startswith(" ".join(typed))
    return WHOLE_IN_NAME * share + (NAME_BEGINS if begins else 0.0)


# What the trade says, as data.


@cache
def _said() -> Mapping:
    return json.loads((tables.DATA / "finding" / "words.json").read_text(encoding="utf-8"))


@cache
def _stop_words() -> frozenset[str]:
    return frozenset(_said()["stop_words"])


@cache
def _same_words() -> Mapping[str, frozenset[str]]:
    return {word: frozenset(row) - {word} for row in _said()["same_words"] for word in row}


@cache
def _phrases() -> tuple[tuple[tuple[str, ...], tuple[tuple[str, str], ...]], ...]:
    """Return (words of a phrase, the values it means) for everything that is said otherwise, longest first."""
    rows = [
        (
            words_of(phrase),
            tuple((where, value) for where, values in row["means"].items() for value in values),
        )
        for row in _said()["said"]
        for phrase in row["as"]
    ]
    return tuple(sorted(rows, key=lambda row: -len(row[0])))


def _spoken(asked: tuple[str, ...]) -> list[tuple[range, tuple]]:
    """Return (places of the words, values meant) for every phrase of the trade in what was typed."""
    found = []
    for phrase, means in _phrases():
        plain = tuple(word for word in phrase if word not in _stop_words())
        size = len(plain)
        for start in range(len(asked) - size + 1):
            if asked[start : start + size] == plain:
                found.append((range(start, start + size), means))
    return found


def _by_phrase(spoken, entry: Entry) -> dict[int, tuple[float, str, str, str]]:
    """Return place of a typed word -> its find by what the trade says, where the entry has such a value."""
    found = {}
    for places, means in spoken:
        for value in means:
            if value in entry.values:
                where, line = value[0], entry.values[value]
                for place in places:
                    found.setdefault(place, (0.9 * WEIGHTS[where], "", where, line))
                break
    return found


def marked(text: str, words: frozenset[str]) -> list[tuple[str, bool]]:
    """Return a shown text in pieces, each with whether it is among the folded words that matched."""
    pieces, end = [], 0
    shown = list(_SHOWN_WORD.finditer(text))
    for place, match in enumerate(shown):
        alone = fold(match[0])
        joined = {alone + fold(other[0]) for other in shown[place + 1 : place + 2]}
        joined |= {fold(other[0]) + alone for other in shown[max(place - 1, 0) : place]}
        if alone not in words and words.isdisjoint(joined):
            continue
        if match.start() > end:
            pieces.append((text[end : match.start()], False))
        pieces.append((match[0], True))
        end = match.end()
    if text[end:]:
        pieces.append((text[end:], False))
    return pieces
