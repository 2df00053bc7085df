"""The library's data files, read once and kept: exercise facts, closed lists, the rule table.

Everything here is reading. The files lie beside this module in `data/`, one record a line, each
with its sources; what they mean is computed elsewhere (`library.precautions` for the rules).
"""

import copy
import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from types import MappingProxyType

DATA = Path(__file__).resolve().parent / "data"
RULE_FILES = ("meta", "demands", "conditions", "rules", "sources", "screening", "supine_spell")
STUDIO = "studio"


@dataclass(frozen=True, slots=True)
class Rule:
    """One line of the rule table: this condition, this demand, this verdict, in this window of days.

    `by` and `since` say who made a rule of the studio's own, and when; a shipped rule has neither.
    """

    id: str
    condition: str
    demand: str
    verdict: str
    basis: str
    from_day: int | None
    to_day: int | None
    spell: str | None
    reason: str
    adaptation: str
    sources: tuple[str, ...]
    by_extension: tuple[str, ...]
    support: str
    source_text: str
    window_text: str
    by: str = ""
    since: date | None = None

    @classmethod
    def from_row(cls, row):
        window = row["window"]
        return cls(
            id=row["id"],
            condition=row["condition"],
            demand=row["demand"],
            verdict=row["verdict"],
            basis=window["basis"],
            from_day=window["from_day"],
            to_day=window["to_day"],
            spell=row.get("spell"),
            reason=row["reason"],
            adaptation=row["adaptation"],
            sources=tuple(row["sources"]),
            by_extension=tuple(row.get("by_extension", ())),
            support=row.get("support", ""),
            source_text=row.get("source_text", ""),
            window_text=window.get("text", ""),
            by=row.get("by", ""),
            since=date.fromisoformat(row["since"]) if row.get("since") else None,
        )


class Table:
    """The rule table with its indexes.

    `rules_of` is condition id -> rules; `demands` and `conditions` are id -> row; `demand_order` is
    demand id -> place in the list; `supine_limit_s` parts a short spell on the back from a long one,
    and `supine_break_s` off the back ends one.
    `version` names the content: the schema number and the first eight hex digits of the SHA-256 of
    rules, demands and conditions, written with sorted keys and no spaces.
    """

    def __init__(self, data: Mapping):
        self.demands = MappingProxyType({row["id"]: row for row in data["demands"]})
        self.conditions = MappingProxyType({row["id"]: row for row in data["conditions"]})
        self.sources = MappingProxyType({row["id"]: row for row in data.get("sources", ())})
        self.rules = tuple(Rule.from_row(row) for row in data["rules"])
        self.demand_order = {demand: place for place, demand in enumerate(self.demands)}
        self.supine_demand = data["supine_spell"]["demand"]
        self.supine_limit_s = data["supine_spell"]["limit_s"]
        self.supine_break_s = data["supine_spell"]["break_s"]
        self.version = version_of(data)
        self.rules_of = _by_condition(self.rules)

    def __repr__(self):
        return f"<Table {self.version}>"

    def is_sided(self, demand: str) -> bool:
        """True where left and right are handled apart. A demand outside the list counts as unsided."""
        row = self.demands.get(demand)
        return bool(row and row["sided"])


def _by_condition(rules: Iterable[Rule]) -> dict[str, tuple[Rule, ...]]:
    found = {}
    for rule in rules:
        found.setdefault(rule.condition, []).append(rule)
    return {condition: tuple(rows) for condition, rows in found.items()}


def with_rules(table: Table, rules: Iterable[Rule], mark: str) -> Table:
    """The table with a studio's own rules beside the shipped ones; version '<shipped>+<mark>'.

    Each has an id that begins with 'studio-' and counts days as its condition does, or none. A rule
    more can only make a verdict stricter, since the strictest counts: nothing is replaced and nothing
    taken away. Without rules the table itself is returned. Raises ValueError, in a sentence, for a
    rule that is not the studio's, that stands twice, or that speaks of what the table does not know.
    """
    extra = tuple(rules)
    if not extra:
        return table
    known = {rule.id for rule in table.rules}
    for rule in extra:
        _check_studio_rule(table, rule)
        if rule.id in known:
            raise ValueError(f"There are two rules '{rule.id}'.")
        known.add(rule.id)
    changed = copy.copy(table)
    changed.rules = (*table.rules, *extra)
    changed.rules_of = _by_condition(changed.rules)
    changed.version = f"{table.version}+{mark}"
    return changed


def _check_studio_rule(table: Table, rule: Rule) -> None:
    if not rule.id.startswith(f"{STUDIO}-"):
        raise ValueError(f"The id of a studio's rule begins with '{STUDIO}-', not '{rule.id}'.")
    if rule.condition not in table.conditions:
        raise ValueError(f"The table has no condition '{rule.condition}'.")
    if rule.demand not in table.demands:
        raise ValueError(f"The table has no demand '{rule.demand}'.")
    if rule.verdict not in ("avoid", "modify", "watch"):
        raise ValueError("A studio's rule says avoid, modify or watch.")
    if rule.spell not in (None, "short", "long"):
        raise ValueError("A spell on the back is short or long.")
    if rule.basis not in ("ongoing", table.conditions[rule.condition]["window_basis"]):
        raise ValueError(f"The condition '{rule.condition}' does not count days that way.")
    if rule.basis == "ongoing" and (rule.from_day, rule.to_day) != (None, None):
        raise ValueError(f"The rule '{rule.id}' counts no days: leave them out.")
    if None not in (rule.from_day, rule.to_day) and rule.from_day >= rule.to_day:
        raise ValueError("The day on which a rule stops comes after the day on which it begins.")


def version_of(data: Mapping) -> str:
    """Name the content of a rule table, e.g. '1-0a1b2c3d'."""
    content = {key: data[key] for key in ("rules", "demands", "conditions")}
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return f"{data['schema_version']}-{hashlib.sha256(text.encode()).hexdigest()[:8]}"


def _read(name: str) -> dict:
    return json.loads((DATA / name).read_text(encoding="utf-8"))


@cache
def rule_data() -> Mapping:
    """All files of `data/rules/` as one mapping, by their top-level keys. Read only: do not change rows."""
    merged = {}
    for name in RULE_FILES:
        merged.update(_read(f"rules/{name}.json"))
    return MappingProxyType(merged)


@cache
def rule_table() -> Table:
    """The rule table as shipped."""
    return Table(rule_data())


@cache
def vocab() -> Mapping:
    """The closed lists of the exercise facts: list name -> ids, or rows with id and meaning."""
    return MappingProxyType(_read("exercises/vocab.json")["vocab"])


def closed_list(name: str) -> tuple[str, ...]:
    """The ids of one closed list in their order, whether its entries are bare ids or rows."""
    return tuple(entry if isinstance(entry, str) else entry["id"] for entry in vocab()[name])


@cache
def exercises() -> Mapping:
    """Exercise id -> its facts, in the order of the apparatus list and then of each file."""
    return MappingProxyType(
        {
            fact["id"]: fact
            for apparatus in closed_list("apparatus")
            for fact in _read(f"exercises/{apparatus}.json")["exercises"]
        }
    )


def exercise(exercise_id: str) -> dict:
    """The facts of one exercise. LookupError, in a sentence, where the id is not in the library."""
    try:
        return exercises()[exercise_id]
    except KeyError:
        raise LookupError(f"There is no exercise '{exercise_id}' in the library.") from None


@cache
def transfer_families() -> tuple[dict, ...]:
    """The families of one idea carried across apparatus, each with its path of exercise ids."""
    return tuple(_read("exercises/transfer_families.json")["transfer_families"])


@cache
def adaptation_lifts() -> tuple[dict, ...]:
    """Which adaptation takes which demand away, for which exercises, with note and source."""
    return tuple(_read("exercises/adaptation_lifts.json")["adaptation_lifts"])


@cache
def value_sources() -> Mapping:
    """Kind of value in the exercise facts -> where such values come from."""
    return MappingProxyType(_read("exercises/value_sources.json")["value_sources"])
