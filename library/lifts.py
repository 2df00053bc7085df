"""Adaptations that take a demand away, as rows: which ones hold for an exercise, and what they do to it.

Which adaptation lifts what is a reading of the movement, not a finding; nearly every row is common
practice, no source (each row says). Most adaptations are in no row: they ease and lift nothing.

- A row holds for the exercises it names and no others. A studio's own version keeps the rows of the
  id it keeps; an exercise under an id of its own has none.
- A row holds only where the exercise lists the adaptation.
- A demand that another chosen adaptation brings along is not lifted.
- Where two chosen adaptations lift one demand, either is enough: a rule that one of them does not
  soften may be softened by the other.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from types import MappingProxyType
from typing import NamedTuple

from library import tables


@dataclass(frozen=True, slots=True)
class Lift:
    """One row: this adaptation takes these demands away from these exercises.

    `adds` are demands that the change brings along, judged on both sides. `not_for` are conditions
    whose rules it does not soften. `both_sides`: every sided demand then counts for both sides.
    """

    id: str
    adaptation: str
    lifts: tuple[str, ...]
    only_for: tuple[str, ...]
    not_for: frozenset[str]
    adds: tuple[str, ...]
    both_sides: bool
    note: str
    source: str

    @classmethod
    def from_row(cls, row: Mapping):
        return cls(
            id=row["id"],
            adaptation=row["adaptation"],
            lifts=tuple(row["lifts"]),
            only_for=tuple(row["only_for"]),
            not_for=frozenset(row.get("not_for_conditions", ())),
            adds=tuple(row.get("adds", ())),
            both_sides=row.get("sides_become") == "both",
            note=row["note"],
            source=row["source"],
        )


class Effect(NamedTuple):
    """What the chosen rows do together.

    `lifted`: demand -> (adaptation, conditions it does not soften) of each row that lifts it, the one
    with the fewest exceptions first. `added`: demand -> the adaptation that brings it along.
    """

    lifted: Mapping[str, tuple[tuple[str, frozenset[str]], ...]]
    added: Mapping[str, str]
    both_sides: bool


NOTHING = Effect(MappingProxyType({}), MappingProxyType({}), False)


@cache
def of_exercise(exercise_id: str | None) -> tuple[Lift, ...]:
    """Every row that names the exercise, in the order of the table, whatever was chosen."""
    return _by_exercise().get(exercise_id, ())


def chosen(exercise_id: str | None, adaptations: Iterable[str], *, listed=None) -> tuple[Lift, ...]:
    """The rows that hold for an exercise with these adaptations chosen, in the order of the table.

    `adaptations`: codes; one that nobody knows changes nothing. `listed`: the codes the exercise
    itself offers; None takes those of the library. An exercise outside the library has no rows.
    """
    picked = codes(adaptations)
    if not picked or not of_exercise(exercise_id):
        return ()
    offered = codes(tables.exercise(exercise_id)["adaptations"] if listed is None else listed)
    return tuple(row for row in of_exercise(exercise_id) if row.adaptation in picked & offered)


def lifts_demand(rows: Iterable[Lift], demand: str) -> bool:
    """Is the demand taken away by these rows together? See `Effect`."""
    return demand in effect(tuple(rows)).lifted


@lru_cache(maxsize=1024)
def effect(rows: tuple[Lift, ...]) -> Effect:
    """What some rows do together; the order they are given in never matters."""
    if not rows:
        return NOTHING
    rows = sorted(rows, key=lambda row: (len(row.not_for), row.id))
    lifted, added = {}, {}
    for row in sorted(rows, key=lambda row: row.id):
        for demand in row.adds:
            added.setdefault(demand, row.adaptation)
    for row in rows:
        brought = {demand for other in rows if other.adaptation != row.adaptation for demand in other.adds}
        for demand in row.lifts:
            if demand not in brought:
                lifted.setdefault(demand, []).append((row.adaptation, row.not_for))
    return Effect(
        MappingProxyType({demand: tuple(found) for demand, found in lifted.items()}),
        MappingProxyType(added),
        any(row.both_sides for row in rows),
    )


@cache
def _by_exercise() -> Mapping[str, tuple[Lift, ...]]:
    found = {}
    for row in map(Lift.from_row, tables.adaptation_lifts()):
        for exercise_id in row.only_for:
            found.setdefault(exercise_id, []).append(row)
    return {exercise_id: tuple(rows) for exercise_id, rows in found.items()}


def codes(adaptations) -> frozenset[str]:
    """Codes of adaptations as a set; one code alone is taken for a list of one, what is no text is left out."""
    if isinstance(adaptations, str):
        return frozenset((adaptations,))
    return frozenset(code for code in adaptations or () if isinstance(code, str))
