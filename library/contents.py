"""The shipped library as one checked whole: facts, text and pose of each exercise that has a text.

Reads the files under `data/`, checks them against the closed lists and against each other, and returns
plain values. Nothing here knows a database.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from library.contents_rules import fact_faults, text_faults

DATA = Path(__file__).resolve().parent / "data"
# Part of the digest: raise it when the shape of a payload changes while the files do not.
PAYLOAD_FORMAT = 2
_PARTS = ("exercises", "en", "poses")


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
    """Return the SHA-256 of all files a payload is made from, as 64 hex digits."""
    total = hashlib.sha256(f"format {PAYLOAD_FORMAT}".encode())
    for part in _PARTS:
        for path in sorted((folder / part).glob("*.json")):
            content = path.read_bytes()
            total.update(f"\n{part}/{path.name} {len(content)}\n".encode())
            total.update(content)
    return total.hexdigest()


def content_hash(payload: Mapping) -> str:
    """Return the SHA-256 of one payload, written with sorted keys and no spaces."""
    text = json.dumps(payload, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def payloads(folder: Path = DATA) -> dict[str, dict]:
    """Return exercise id -> {"facts", "text", "pose"} for every exercise that has a text, in library order.

    `pose` is None where nothing is drawn. Raises BrokenLibrary with every problem found.
    """
    shelf = _Shelf(folder)
    shelf.check()
    if shelf.problems:
        raise BrokenLibrary(tuple(shelf.problems))
    return {
        key: {"facts": facts, "text": shelf.texts[key], "pose": shelf.poses.get(key)}
        for key, facts in shelf.facts.items()
        if key in shelf.texts
    }


class _Shelf:
    """All rows of the data files by exercise id, with the file each came from and what is wrong with them."""

    def __init__(self, folder: Path):
        self.folder = folder
        self.problems: list[Problem] = []
        self.file_of: dict[tuple[str, str], str] = {}
        self.vocab = self._read("exercises/vocab.json", "vocab", {})
        names = [row["id"] for row in self.vocab.get("apparatus", ())]
        self.facts = self._collect("exercises", names, "exercises", "id")
        self.texts = self._collect("en", names, None, "id")
        self.poses = self._collect("poses", names, "poses", "key")

    def _read(self, name: str, key: str | None, empty):
        path = self.folder / name
        try:
            data = json.loads(path.read_text(encoding="utf-8"))
            return data if key is None else data[key]
        except json.JSONDecodeError as error:
            self._add(name, "", f"line {error.lineno}", f"is not valid JSON ({error.msg}).")
        except (KeyError, TypeError):
            self._add(name, "", key or "", "is missing from the file.")
        return empty

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
        for key, field, says in self._every_fault():
            part = {"facts": "exercises", "text": "en", "pose": "poses"}[key[0]]
            self._add(self.file_of[part, key[1]], key[1], field, says)

    def _every_fault(self) -> Iterator[tuple[tuple[str, str], str, str]]:
        for key, facts in self.facts.items():
            for field, says in fact_faults(facts, self.vocab, self.facts):
                yield ("facts", key), field, says
        for key, text in self.texts.items():
            yield from ((("text", key), field, says) for field, says in self._text_faults(key, text))
        for key in self.poses:
            if key not in self.facts:
                yield ("pose", key), "key", "no exercise has this id."

    def _text_faults(self, key: str, text: dict) -> Iterator[tuple[str, str]]:
        if key not in self.facts:
            yield "id", "no exercise has this id."
            return
        home = self.file_of["exercises", key].partition("/")[2]
        if self.file_of["en", key].partition("/")[2] != home:
            yield "id", f"belongs in en/{home}, where its facts say."
        yield from text_faults(text, self.facts[key])
