"""What the makers of the rule table ask a licensed clinician, and how the table is backed, counted.

Plain computation. The questions lie in `data/rules/open_questions.json`; each names the conditions, demands,
rules, adaptation rows, red flags and measures it touches.
"""

import json
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

from library import measures, tables
from library.contents import BrokenLibrary, Problem

FILE = "rules/open_questions.json"
TOUCHES = ("conditions", "demands", "rules", "lifts", "red_flags", "measures")
SUPPORTS = ("direct", "by_extension", "from_memory", "practice", tables.STUDIO)
PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Question:
    """One question. `ask` may hold {rules}, {practice} and {by_extension}, to be filled with `counts`.

    `rules` are those named, else every rule of its conditions on its demands, else of its conditions.
    """

    id: str
    about: str
    ask: str
    conditions: tuple[str, ...]
    demands: tuple[str, ...]
    rules: tuple[str, ...]
    lifts: tuple[str, ...]
    red_flags: tuple[str, ...]
    measures: tuple[str, ...]


@cache
def questions() -> tuple[Question, ...]:
    """Return the shipped questions in their order. Raises `contents.BrokenLibrary` where one does not hold."""
    text = (Path(tables.DATA) / FILE).read_text(encoding="utf-8")
    return read(json.loads(text)["open_questions"])


def read(rows: list[dict]) -> tuple[Question, ...]:
    """Check rows against the library and return them as questions.

    Raises `contents.BrokenLibrary` with file, entry and field of everything that is wrong.
    """
    problems = [problem for row in rows for problem in _problems(row)]
    ids = Counter(row.get("id") for row in rows)
    problems += [Problem(FILE, str(one), "id", "This id stands twice.") for one, n in ids.items() if n > 1]
    if problems:
        raise BrokenLibrary(tuple(problems))
    return tuple(_question(row) for row in rows)


def _known() -> Mapping[str, object]:
    table = tables.rule_table()
    return {
        "conditions": table.conditions,
        "demands": table.demands,
        "rules": {rule.id for rule in table.rules},
        "lifts": {row["id"] for row in tables.adaptation_lifts()},
        "red_flags": {row["id"] for row in tables.rule_data()["red_flags"]},
        "measures": measures.all_measures(),
    }


def _problems(row: dict):
    entry = str(row.get("id") or "?")
    for field in ("id", "about", "ask"):
        if not (isinstance(row.get(field), str) and row[field].strip()):
            yield Problem(FILE, entry, field, "Write it.")
    known = _known()
    for field in TOUCHES:
        if not isinstance(row.get(field), list):
            yield Problem(FILE, entry, field, "Give a list, empty where it touches none.")
            continue
        for one in row[field]:
            if one not in known[field]:
                yield Problem(FILE, entry, field, f"There is no '{one}' in the library.")


def _question(row: dict) -> Question:
    touched = {field: tuple(row[field]) for field in TOUCHES}
    touched["rules"] = touched["rules"] or _rules_between(touched["conditions"], touched["demands"])
    return Question(id=row["id"], about=row["about"], ask=row["ask"], **touched)


def _rules_between(conditions, demands) -> tuple[str, ...]:
    return tuple(
        rule.id
        for condition in conditions
        for rule in tables.rule_table().rules_of.get(condition, ())
        if not demands or rule.demand in demands
    )


def counts(table: tables.Table) -> Mapping[str, int]:
    """Return how the table is backed: rules in all, by kind of support, conditions, adaptation rows.

    Keys: rules, each of SUPPORTS, conditions, demands, lifts, and lifts_practice: those without any source.
    """
    by_support = Counter(rule.support for rule in table.rules)
    lifts = tables.adaptation_lifts()
    return MappingProxyType(
        {
            "rules": len(table.rules),
            **{support: by_support[support] for support in SUPPORTS},
            "conditions": len(table.conditions),
            "demands": len(table.demands),
            "lifts": len(lifts),
            "lifts_practice": sum(row["source"].startswith(PRACTICE) for row in lifts),
        }
    )
