"""Measures taken with both sides: their facts, and whether a value has changed by more than its error.

Plain computation in exact decimals. Facts lie in `data/measures/measures.json`, words in
`data/measures/en.json`. Every verdict has a third answer, 'cannot', with a reason code that
`library.measure_wording` turns into a sentence. Trends over several dates: `library.trends`.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path
from types import MappingProxyType

from library.measure_error import gap_change_limit
from library.trends import Trend, trend

__all__ = [
    "Change",
    "Figure",
    "Gap",
    "Measure",
    "Trend",
    "Words",
    "all_measures",
    "change",
    "confirmed",
    "gap",
    "gap_change",
    "measure",
    "source",
    "trend",
    "words",
]

DATA = Path(__file__).resolve().parent / "data" / "measures"
HUNDRED = Decimal(100)


@dataclass(frozen=True, slots=True)
class Figure:
    """A published figure in the unit of its measure. `level`: its confidence in per cent, None where not stated.

    `status` is 'found' (read in the source) or 'derived' (computed from what was read there).
    """

    value: Decimal
    level: int | None
    population: str
    status: str
    sources: tuple[str, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Measure:
    """One measure. `protocol` names the way it is taken: values of two protocols are not compared.

    `unit` is 'cm' or 's'; `step`, `minimum`, `maximum` and `ceiling` are in it. `direction`: 'higher', 'lower' or
    'neutral', what counts as better. `scale`: 'ratio' (a true nought), 'interval' or 'ordinal'. `score`: 'single'
    or 'best' of `tries` a side. `rest_s`: seconds of rest between the sides. `ceiling`: the value at which a test is
    ended, None where it has none.
    `demands`: demand id -> 'named' (the side that is tested), 'both' or None, as the judge takes them.
    """

    id: str
    protocol: str
    unit: str
    step: Decimal
    minimum: Decimal
    maximum: Decimal
    ceiling: Decimal | None
    direction: str
    scale: str
    per_side: bool
    score: str
    tries: int
    minutes: int
    timed: bool
    rest_s: int
    sem: Figure | None
    change_limit: Figure | None
    demands: Mapping[str, str | None]
    sources: tuple[str, ...]

    @property
    def limit(self) -> Decimal | None:
        """The smallest change, and the smallest gap, that is more than noise; None where none is known."""
        return self.change_limit.value if self.change_limit else None

    @property
    def gap_limit(self) -> Decimal | None:
        """The smallest change of a gap that is more than noise: four readings, so root 2 more (rule R7)."""
        if self.limit is None:
            return None
        return gap_change_limit(self.limit, self.sem.value if self.sem else None)


@dataclass(frozen=True, slots=True)
class Words:
    """What a measure is called and how it is taken, in English as shipped: `how` is three lines."""

    name: str
    short: str
    what: str
    kit: str
    how: tuple[str, ...]
    same: str
    stop: str
    bottom: str


@dataclass(frozen=True, slots=True)
class Change:
    """Whether something changed: `kind` 'real', 'noise' or 'cannot'; `amount` is new minus baseline, signed.

    `direction`: 'better', 'worse' or 'changed' for a value, 'narrower', 'wider' or 'crossed' for a gap; empty
    unless real. `reason`: a code where `kind` is 'cannot', else empty. `amount` stays None where the two must not
    be compared at all.
    """

    kind: str
    amount: Decimal | None
    direction: str = ""
    reason: str = ""
    limit: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Gap:
    """The gap between the sides on one date: `kind` 'differ', 'even' (within noise) or 'cannot'.

    `amount` is right minus left, so plus means that the right is larger. `behind`: 'left' or 'right' where the
    sides differ, else empty. `percent`: the smaller of the larger, only for ratio measures whose gap beats the
    limit. `reason`: why there is no verdict ('cannot') or no percentage ('one_side_nothing').
    """

    kind: str
    amount: Decimal
    behind: str = ""
    percent: Decimal | None = None
    reason: str = ""
    limit: Decimal | None = None


@cache
def all_measures() -> Mapping[str, Measure]:
    """Return measure id -> Measure, in the order in which they are shown."""
    return MappingProxyType({row["id"]: _from_row(row) for row in _file("measures")["measures"]})


def measure(key: str) -> Measure:
    """Return one measure. LookupError for an id that is none."""
    return all_measures()[key]


@cache
def words(key: str) -> Words:
    """Return the words of one measure. LookupError for an id that is none."""
    row = _file("en")[key]
    return Words(**{**row, "how": tuple(row["how"])})


def source(key: str) -> Mapping[str, str]:
    """Return {'citation', 'read'} of a source; `read` is how much of it was read: 'table', 'abstract', 'text'."""
    return MappingProxyType(_file("measures")["sources"][key])


def change(of: Measure, baseline: Decimal | int, new: Decimal | int, *, protocol_same: bool = True) -> Change:
    """Judge the change from `baseline` to `new`, both in the unit of the measure (rules R3, R4 and R5).

    protocol_same: whether protocol, device, side and scoring are the same for both; without that nothing is
    compared. At the limit counts as real. TypeError for binary floats.
    """
    _exact(baseline, new)
    if not protocol_same:
        return Change("cannot", None, reason="not_comparable", limit=of.limit)
    amount = Decimal(new) - Decimal(baseline)
    kind, reason = _weigh(amount, of.limit, _capped(of, baseline, new))
    direction = _direction(of, amount) if kind == "real" else ""
    return Change(kind, amount, direction, reason, of.limit)


def confirmed(changes: Iterable[Change]) -> bool:
    """Return whether the latest verdict is confirmed: the last two retests are real and go the same way (R6).

    changes: each retest against one baseline, oldest first.
    """
    last = list(changes)[-2:]
    if len(last) < 2 or any(one.kind != "real" for one in last):
        return False
    return (last[0].amount > 0) == (last[1].amount > 0)


def gap(of: Measure, left: Decimal | int, right: Decimal | int) -> Gap:
    """Judge the gap between the sides of one date (rules R7 and R12). TypeError for binary floats."""
    _exact(left, right)
    left, right = Decimal(left), Decimal(right)
    amount = right - left
    if of.scale == "ratio" and left == right == 0:
        return Gap("cannot", amount, reason="nothing_done", limit=of.limit)
    kind, reason = _weigh(amount, of.limit, _capped(of, left, right))
    if kind == "cannot":
        return Gap("cannot", amount, reason=reason, limit=of.limit)
    nothing = "one_side_nothing" if of.scale == "ratio" and 0 in (left, right) else ""
    if kind == "noise":
        return Gap("even", amount, reason=nothing, limit=of.limit)
    return Gap("differ", amount, _behind(of, amount), _percent(of, left, right), nothing, of.limit)


def gap_change(
    of: Measure,
    before: tuple[Decimal | int, Decimal | int],
    now: tuple[Decimal | int, Decimal | int],
    *,
    protocol_same: bool = True,
) -> Change:
    """Judge how the gap changed between two dates; `before` and `now` are (left, right) (rule R7).

    `amount` is the new gap minus the old, both right minus left. A gap that changed sides is 'crossed'.
    """
    _exact(*before, *now)
    limit = of.gap_limit
    if not protocol_same:
        return Change("cannot", None, reason="not_comparable", limit=limit)
    old, new = Decimal(before[1]) - before[0], Decimal(now[1]) - now[0]
    kind, reason = _weigh(new - old, limit, _capped(of, *before, *now))
    if kind != "real":
        return Change(kind, new - old, reason=reason, limit=limit)
    if old * new < 0:
        return Change(kind, new - old, "crossed", limit=limit)
    return Change(kind, new - old, "narrower" if abs(new) < abs(old) else "wider", limit=limit)


def _weigh(amount: Decimal, limit: Decimal | None, capped: str) -> tuple[str, str]:
    """Return kind and reason of a difference. capped: 'all', 'some' or '' of its values are at the ceiling."""
    if limit is None:
        return "cannot", "no_limit"
    if capped == "all":
        return "cannot", "both_at_ceiling"
    if abs(amount) >= limit:
        return "real", ""
    return ("cannot", "one_at_ceiling") if capped else ("noise", "")


def _capped(of: Measure, *values) -> str:
    if of.ceiling is None:
        return ""
    at = [value >= of.ceiling for value in values]
    return "all" if all(at) else "some" if any(at) else ""


def _direction(of: Measure, amount: Decimal) -> str:
    if of.direction == "neutral":
        return "changed"
    return "better" if (amount > 0) == (of.direction == "higher") else "worse"


def _behind(of: Measure, amount: Decimal) -> str:
    if of.direction == "neutral":
        return ""
    return "left" if (amount > 0) == (of.direction == "higher") else "right"


def _percent(of: Measure, left: Decimal, right: Decimal) -> Decimal | None:
    """The smaller side as per cent of the larger, where that says something: a side at nought gets words."""
    if of.scale != "ratio" or min(left, right) <= 0:
        return None
    return min(left, right) / max(left, right) * HUNDRED


def _exact(*values) -> None:
    for value in values:
        if isinstance(value, bool) or not isinstance(value, (int, Decimal)):
            raise TypeError(f"A measured value is a Decimal or a whole number, not {value!r}.")


@cache
def _file(name: str) -> dict:
    return json.loads((DATA / f"{name}.json").read_text(encoding="utf-8"))


def _from_row(row: dict) -> Measure:
    return Measure(
        id=row["id"],
        protocol=row["protocol"],
        unit=row["unit"],
        step=Decimal(row["step"]),
        minimum=Decimal(row["minimum"]),
        maximum=Decimal(row["maximum"]),
        ceiling=None if row["ceiling"] is None else Decimal(row["ceiling"]),
        direction=row["direction"],
        scale=row["scale"],
        per_side=row["per_side"],
        score=row["score"],
        tries=row["tries"],
        minutes=row["minutes"],
        timed=row["timed"],
        rest_s=row["rest_s"],
        sem=_figure(row["sem"]),
        change_limit=_figure(row["change_limit"]),
        demands=MappingProxyType(row["demands"]),
        sources=tuple(row["sources"]),
    )


def _figure(row: dict | None) -> Figure | None:
    if row is None:
        return None
    return Figure(**{**row, "value": Decimal(row["value"]), "sources": tuple(row["sources"])})
