"""The shipped library as one checked whole: facts, text and pose of each exercise that has a text.

Reads the files under `data/`, checks them against the closed lists and against each other, and returns
plain values. Nothing here knows a database.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from library import contents_between
from library.contents_between import Found, vocab_faults
from library.contents_rules import Fault, fact_faults, has_shape, text_faults
from library.contents_transfer import family_faults, lift_faults

DATA = Path(__file__).resolve().parent / "data"
# Part of the digest: raise it when the shape of a payload changes while the files do not.
PAYLOAD_FORMAT = 2
_PARTS = ("exercises", "en", "poses")
# What the payloads are checked against besides.
_BESIDES = ("rules/demands.json", "rules/conditions.json")
# What a check speaks of -> its file, where it is always the same one.
_FILE_OF = {
    "vocab": "exercises/vocab.json",
    "families": "exercises/transfer_families.json",
    "lifts": "exercises/adaptation_lifts.json",
    "order": "exercises/mat.json",
}


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in a data file: where it is and what to do, in a sentence."""

    file: str
    entry: str
    field: str
    says: str

    def __str__(self) -> str:
        place = ", ".join(part for part in (self.file, self.entry, self.field) if part)
        return f"{place}: {self.says}"


class BrokenLibrary(Exception):
    """The data files do not hold together. `problems` lists everything found, in file order."""

    def __init__(self, problems: tuple[Problem, ...]):
        super().__init__("\n".join(str(problem) for problem in problems))
        self.problems = problems


def digest(folder: Path = DATA) -> str:
    """Return the SHA-256 of all files a payload is made from and checked against, as 64 hex digits."""
    total = hashlib.sha256(f"format {PAYLOAD_FORMAT}".encode())
    paths = [path for part in _PARTS for path in sorted((folder / part).glob("*.json"))]
    for path in [*paths, *(folder / name for name in _BESIDES)]:
        content = path.read_bytes() if path.exists() else b""
        total.update(f"\n{path.parent.name}/{path.name} {len(content)}\n".encode())
        total.update(content)
    return total.hexdigest()


def content_hash(payload: Mapping) -> str:
    """Return the SHA-256 of one payload, written with sorted keys and no spaces."""
    text = json.dumps(payload, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def payloads(folder: Path = DATA) -> dict[str, dict]:
    """Return exercise id -> {"facts", "text", "pose"} for every exercise, in library order.

    `text` is whole or only id and purpose (contents_rules.is_whole); `pose` is None where nothing is drawn.
    Raises BrokenLibrary with every problem found. What lies between rows is looked at only once each row can
    be read and has its shape: until then it would be noise.
    """
    shelf = _Shelf(folder)
    shelf.check()
    if shelf.problems:
        raise BrokenLibrary(tuple(shelf.problems))
    return {
        key: {"facts": facts, "text": shelf.texts[key], "pose": shelf.poses.get(key)}
        for key, facts in shelf.facts.items()
    }


class _Shelf:
    """All rows of the data files by exercise id, with the file each came from and what is wrong with them."""

    def __init__(self, folder: Path):
        self.folder = folder
        self.problems: list[Problem] = []
        self.file_of: dict[tuple[str, str], str] = {}
        self.vocab = self._read("exercises/vocab.json", "vocab", {})
        names = self._apparatus()
        self.demands = {row["id"]: row for row in self._read("rules/demands.json", "demands", [])}
        self.conditions = {row["id"] for row in self._read("rules/conditions.json", "conditions", [])}
        self.families = self._rows("exercises/transfer_families.json", "transfer_families")
        self.lifts = self._rows("exercises/adaptation_lifts.json", "adaptation_lifts")
        self.facts = self._collect("exercises", names, "exercises", "id")
        self.texts = self._collect("en", names, None, "id")
        self.poses = self._collect("poses", names, "poses", "key")

        self._know_every_file(names)

    def _know_every_file(self, names: list[str]) -> None:
        """A file under a name that nothing reads would be left out without a word."""
        known = {f"{part}/{name}.json" for part in _PARTS for name in names} | set(_FILE_OF.values())
        known.add("exercises/value_sources.json")
        for part in _PARTS:
            for path in sorted((self.folder / part).glob("*.json")):
                if f"{part}/{path.name}" not in known:
                    self._add(f"{part}/{path.name}", "", "", "has no name that is read: no such apparatus.")

    def _read(self, name: str, key: str | None, empty):
        path = self.folder / name
        try:
            data = json.loads(path.read_text(encoding="utf-8"))
            return data if key is None else data[key]
        except json.JSONDecodeError as error:
            self._add(name, "", f"line {error.lineno}", f"is not valid JSON ({error.msg}).")
        except (KeyError, TypeError):
            self._add(name, "", key or "", "is missing from the file.")
        except FileNotFoundError:
            self._add(name, "", "", "is missing: the program came without this file.")
        return empty

    def _apparatus(self) -> list[str]:
        """Return the ids of the apparatus: each has its own file in every part."""
        if not isinstance(self.vocab, dict):
            self._add("exercises/vocab.json", "vocab", "", "holds the closed lists by their names.")
            self.vocab = {}
        rows = self.vocab.get("apparatus")
        return [row["id"] for row in rows or () if isinstance(row, dict) and "id" in row]

    def _rows(self, name: str, key: str) -> list[dict]:
        """Return rows that are checked as they are; one that is no row at all is reported here."""
        rows = self._read(name, key, [])
        for place, row in enumerate(rows, start=1):
            if not isinstance(row, dict):
                self._add(name, f"entry {place}", "", "is a row with an id.")
        return [row for row in rows if isinstance(row, dict)]

    def _collect(self, part: str, names: list[str], key: str | None, id_field: str) -> dict[str, dict]:
        found: dict[str, dict] = {}
        for name in names:
            file = f"{part}/{name}.json"
            if not (self.folder / file).exists():
                continue
            for place, row in enumerate(self._read(file, key, []), start=1):
                self._keep(found, file, part, place, row, id_field)
        return found

    def _keep(self, found: dict, file: str, part: str, place: int, row, id_field: str) -> None:
        row_id = row.get(id_field) if isinstance(row, dict) else None
        if not isinstance(row_id, str) or not row_id:
            self._add(file, f"entry {place}", id_field, "needs an id.")
        elif row_id in found:
            self._add(file, row_id, id_field, "is there twice. Each id stands once.")
        else:
            found[row_id] = row
            self.file_of[part, row_id] = file

    def _add(self, file: str, entry: str, field: str, says: str) -> None:
        self.problems.append(Problem(f"library/data/{file}", entry, field, says))

    def check(self) -> None:
        if self.problems:
            return
        for what, entry, field, says in self._every_fault():
            self._add(self._file(what, entry), entry, field, says)

    def _file(self, what: str, entry: str) -> str:
        if what in _FILE_OF:
            return _FILE_OF[what]
        part = {"facts": "exercises", "text": "en", "pose": "poses"}[what]
        # A text that is not there belongs where its exercise stands.
        return self.file_of.get((part, entry)) or self.file_of["exercises", entry].replace("exercises", part)

    def _every_fault(self) -> Iterator[Found]:
        broken = [*vocab_faults(self.vocab)]
        if broken:
            yield from broken
            return
        yield from self._by_themselves()
        if all(has_shape(facts) for facts in self.facts.values()):
            yield from contents_between.faults(self.facts, self.vocab, self.demands)
            yield from family_faults(self.families, self.facts, self.vocab)
            yield from lift_faults(self.lifts, self.facts, self.vocab, self.conditions)

    def _by_themselves(self) -> Iterator[Found]:
        sided = {key for key, row in self.demands.items() if row["sided"]}
        for key, facts in self.facts.items():
            yield from (("facts", key, *fault) for fault in self._fact_faults(key, facts, sided))
        for key, text in self.texts.items():
            yield from (("text", key, *fault) for fault in self._text_faults(key, text))
        for key in self.facts:
            if key not in self.texts:
                yield "text", key, "purpose", "is missing: every exercise says what it is for."
        for key in self.poses:
            if key not in self.facts:
                yield "pose", key, "key", "no exercise has this id."

    def _fact_faults(self, key: str, facts: dict, sided: set[str]) -> Iterator[Fault]:
        yield from fact_faults(facts, self.vocab, sided)
        home = f"exercises/{facts.get('apparatus')}.json"
        if self.file_of["exercises", key] != home:
            yield "apparatus", f"says that the exercise belongs in {home}."

    def _text_faults(self, key: str, text: dict) -> Iterator[Fault]:
        if key not in self.facts:
            yield "id", "no exercise has this id."
            return
        home = self.file_of["exercises", key].partition("/")[2]
        if self.file_of["en", key].partition("/")[2] != home:
            yield "id", f"belongs in en/{home}, where its facts say."
        yield from text_faults(text, self.facts[key])
