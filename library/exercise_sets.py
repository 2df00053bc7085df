"""An exercise set as one file: written, read and checked as the shipped library is. Plain computation.

The file is JSON in UTF-8 with four entries: "format" (always FORMAT), "version" (a whole number, VERSION), "sha256" (of
the exercises, 64 hex digits; empty where somebody changed the file by hand) and "exercises", a list of
{"facts", "text", "pose"} as in `library.contents`. Nothing in it is run; whatever is not known is refused.
"""

import hashlib
import json
import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from typing import NamedTuple

from library import own_exercise
from library.contents import Problem, content_hash
from library.contents_rules import has_shape
from library.own_exercise import Library

FORMAT, VERSION = "evenside-exercise-set", 1
LARGEST_BYTES = 8 * 1024 * 1024
MOST_EXERCISES = 1000
LONGEST_WORDS, LONGEST_NAME, LONGEST_LIST = 2000, 80, 60
_MOST_OF_A_POSE = 5
_TOP = ("format", "version", "sha256", "exercises")
_PARTS = ("facts", "text", "pose")
_KEY = re.compile(r"[a-z0-9_]{3,60}")
_BELONGS = "belongs to no exercise known here; one of a studio's own begins with own_."


class Reading(NamedTuple):
    """What a file says and what is wrong with it. Rows are only to be used where `problems` is empty.

    added, changed, same: keys by what taking the set over would do.
    """

    payloads: dict[str, dict]
    problems: tuple[Problem, ...]
    added: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()
    same: tuple[str, ...] = ()


class _Unreadable(Exception):
    """The file is no set at all, or not to be read: one sentence, at one place."""

    def __init__(self, field: str, says: str):
        super().__init__(says)
        self.field, self.says = field, says


def check_sum(rows: list) -> str:
    """Return the SHA-256 of the exercises, written with sorted keys and no spaces, as 64 hex digits."""
    text = json.dumps(rows, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def written(payloads: Iterable[Mapping]) -> str:
    """Return the file for these payloads, ordered by id: the same exercises always give the same file."""
    rows = sorted(
        ({part: one.get(part) for part in _PARTS} for one in payloads), key=lambda r: r["facts"]["id"]
    )
    whole = {"format": FORMAT, "version": VERSION, "sha256": check_sum(rows), "exercises": rows}
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"


def read(
    content: bytes,
    library: Library,
    *,
    file: str,
    present: Mapping[str, str],
    shipped: Collection[str],
    pose_faults: Callable[[Mapping], Collection[str]],
) -> Reading:
    """Read a set and say everything that is wrong with it.

    file: its name, for the sentences. present: key -> content hash of what stands on the shelf. shipped: keys of
    the shipped library. pose_faults: sentences of what keeps a pose from being drawn.
    """
    try:
        rows = _rows(content)
    except _Unreadable as no:
        return Reading({}, (Problem(file, "", no.field, no.says),))
    payloads: dict[str, dict] = {}
    problems = [Problem(file, *found) for found in _row_faults(rows, payloads, {*present, *shipped})]
    if not problems:
        problems = [Problem(file, *found) for found in _faults(payloads, library, present, pose_faults)]
    added = tuple(key for key in payloads if key not in present)
    hashes = {key: content_hash(payload) for key, payload in payloads.items()} if not problems else {}
    same = tuple(key for key, mark in hashes.items() if present.get(key) == mark)
    changed = tuple(key for key in payloads if key not in added and key not in same)
    return Reading(payloads, tuple(problems), added, changed, same)


def _rows(content: bytes) -> list:
    """Return the exercises of a file as they stand there."""
    if len(content) > LARGEST_BYTES:
        raise _Unreadable(
            "", f"is larger than {LARGEST_BYTES // 1024 // 1024} MB. Export fewer exercises at a time."
        )
    whole = _parsed(content)
    if not isinstance(whole, dict) or whole.get("format") != FORMAT:
        raise _Unreadable("format", f"is not '{FORMAT}': this is no exercise set.")
    if whole.get("version") != VERSION or isinstance(whole["version"], bool):
        raise _Unreadable("version", f"is not {VERSION}, the only one that is read here.")
    for name in sorted(set(whole) ^ set(_TOP)):
        raise _Unreadable(name, "is missing." if name in _TOP else "is not an entry here. Take it out.")
    rows = whole["exercises"]
    if not isinstance(rows, list) or not 1 <= len(rows) <= MOST_EXERCISES:
        raise _Unreadable("exercises", f"is a list of 1 to {MOST_EXERCISES} exercises.")
    if whole["sha256"] not in ("", check_sum(rows)):
        says = "does not fit the exercises: the file is damaged, or was changed by hand. "
        raise _Unreadable("sha256", says + 'Where it was changed on purpose, make it "".')
    return rows


def _parsed(content: bytes):
    try:
        return json.loads(content.decode("utf-8"), object_pairs_hook=_once, parse_constant=_no_constant)
    except UnicodeDecodeError:
        raise _Unreadable("", "is not text in UTF-8.") from None
    except json.JSONDecodeError as error:
        raise _Unreadable(f"line {error.lineno}", f"is not valid JSON ({error.msg}).") from None
    except (RecursionError, ValueError) as error:
        says = str(error) if isinstance(error, _Twice) else "is not valid JSON that is read here."
        raise _Unreadable("", says) from None


class _Twice(ValueError):
    pass


def _once(pairs: list) -> dict:
    """An object whose entries stand there once each: of two, JSON would keep the second without a word."""
    found = dict(pairs)
    if len(found) != len(pairs):
        names = [name for name, _value in pairs]
        raise _Twice(f"has the entry '{next(n for n in names if names.count(n) > 1)}' twice in one place.")
    return found


def _no_constant(name: str):
    raise ValueError(f"{name} is no number of JSON")


def _row_faults(rows: list, payloads: dict, known: Collection[str]) -> Iterator[tuple[str, str, str]]:
    """Yield what is wrong before a row can be looked at; fill `payloads` with those that can."""
    for place, row in enumerate(rows, start=1):
        facts = row.get("facts") if isinstance(row, dict) else None
        key = facts.get("id") if isinstance(facts, dict) else None
        if not isinstance(key, str) or not _KEY.fullmatch(key):
            yield f"entry {place}", "id", "needs facts with an id of small letters, digits and low lines."
        elif set(row) != set(_PARTS) or not isinstance(row["text"], dict):
            yield key, "", "has facts, text and pose, and nothing else."
        elif key in payloads:
            yield key, "id", "is there twice. Each id stands once."
        elif key not in known and not key.startswith(own_exercise.OWN_PREFIX):
            yield key, "id", _BELONGS
        else:
            payloads[key] = row
            yield from ((key, *fault) for fault in _sizes(row))


def _sizes(row: Mapping) -> Iterator[tuple[str, str]]:
    for part in ("facts", "text"):
        for field, value in row[part].items():
            most = LONGEST_NAME if field in ("name", "alt_names", "id") else LONGEST_WORDS
            if _too_long(value, most):
                yield str(field)[:60], f"is longer than {most} letters or {LONGEST_LIST} lines."


def _too_long(value, most: int) -> bool:
    if isinstance(value, str):
        return len(value) > most
    if isinstance(value, dict | list):
        inside = value.values() if isinstance(value, dict) else value
        return len(value) > LONGEST_LIST or any(_too_long(one, most) for one in inside)
    return False


def _faults(payloads, library: Library, present, pose_faults) -> Iterator[tuple[str, str, str]]:
    shaped = True
    for key, payload in payloads.items():
        facts, pose = payload["facts"], payload["pose"]
        slips = list(own_exercise.slips_alone(payload, library))
        yield from ((key, slip.field, slip.says) for slip in slips)
        shaped = shaped and has_shape(facts if facts.get("demands") is not None else {**facts, "demands": []})
        if payload["text"].get("id") != key:
            yield key, "text id", "is the id of the exercise."
        was = library.facts.get(key)
        if key in present and facts.get("demands", ()) is None and was and was["demands"] is not None:
            yield key, "demands", "are said here already: a set cannot make that unsaid."
        if pose is not None and not (isinstance(pose, dict) and pose.get("key") == key):
            yield key, "pose", "has the id of the exercise as its key, or is null."
        elif pose is not None:
            for why in list(pose_faults(pose))[:_MOST_OF_A_POSE]:
                yield (
                    key,
                    "pose",
                    f"cannot be drawn. {why} Or make it null: then the exercise has no drawing.",
                )
    if shaped:
        facts = {key: payload["facts"] for key, payload in payloads.items()}
        yield from own_exercise.between(facts, library)
