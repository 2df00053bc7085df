"""What the judge says of an exercise for a client, in a form that can be stored with a plan. Plain computation.

`table` is the rule table in force (library.models.table_in_force); None is the table as shipped.
"""

import datetime as dt
import hashlib
import json
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import combinations
from types import SimpleNamespace

from library import lifts
from library.precautions import Judgement, judge, strictest
from library.verdicts import RANK
from sessions.neighbours import Place, PlanRow, at_the_end, on_a_sheet, places, tail, timed
from sessions.planning import Pace

__all__ = [
    "Place",
    "PlanRow",
    "answers",
    "at_the_end",
    "judge_facts",
    "judge_placed",
    "judge_rows",
    "judged",
    "lifting",
    "mark",
    "on_a_sheet",
    "places",
    "same_substance",
    "setting_demands",
    "stored",
    "strictest",
    "tail",
    "timed",
]

HEAVIEST, ALL_OUT = "very_heavy", "near_maximal_effort"


def judge_facts(
    flags: Iterable,
    facts: dict,
    on: dt.date,
    *,
    sides: str = "",
    adaptations=(),
    setting: dict | None = None,
    supine_seconds: float | None = None,
    added: Iterable[str] = (),
    table=None,
) -> Judgement:
    """Judge an exercise by its facts (those of the version at hand, not of the shipped file).

    flags: active flags of the client. sides: 'left' or 'right' when only that side is done; anything
    else judges both sides, and the strictest counts. setting: the springs hooked on, which may add demands.
    supine_seconds: the spell on the back it stands in; None is not known and counts as long. added: demands
    that its place in the plan adds.
    """
    demands = facts["demands"]
    if demands is not None:
        extra = (*setting_demands(setting), *added)
        demands = list(dict.fromkeys([*demands, *extra]))
    exercise = SimpleNamespace(
        id=facts["id"],
        demands=demands,
        demand_sides=facts.get("demand_sides") or {},
        adaptations=facts.get("adaptations"),
    )
    side = sides if sides in ("left", "right") else None
    chosen = tuple(adaptations)
    return judge(
        flags, exercise, on, side=side, adaptations=chosen, supine_seconds=supine_seconds, table=table
    )


def judge_placed(flags: Iterable, row: PlanRow, place: Place, on: dt.date, *, table=None) -> Judgement:
    """Judge one row of a plan in its place (see sessions.neighbours.places)."""
    return judge_facts(
        flags,
        row.facts,
        on,
        sides=row.sides,
        adaptations=row.adaptations,
        setting=row.setting,
        supine_seconds=place.supine_seconds,
        added=place.added,
        table=table,
    )


def judged(flags: Iterable, row: PlanRow, place: Place, on: dt.date, *, table=None) -> dict:
    """Return the stored judgement of one row in its place.

    Where it rests on adaptations, `without` is the verdict that it has with those taken out. Where two lift
    the same demand, it rests on both: with one of them taken out the other still holds.
    """
    flags = list(flags)
    judgement = judge_placed(flags, row, place, on, table=table)
    kept = stored(judgement, place.supine_seconds)
    if judgement.carries:
        carries = _lifting_alike(row, judgement)
        left = tuple(code for code in row.adaptations if code not in carries)
        kept["carries"] = list(carries)
        plain = judge_placed(flags, replace(row, adaptations=left), place, on, table=table)
        kept["without"] = plain.verdict
    return kept


def _lifting_alike(row: PlanRow, judgement: Judgement) -> tuple[str, ...]:
    """Return the adaptations a judgement rests on, with every other chosen one that lifts the same demands."""
    held = lifts.chosen(row.facts["id"], row.adaptations, listed=row.facts.get("adaptations"))
    demands = {name for name, part in judgement.demands.items() if part.carries}
    alike = {way.adaptation for way in held if demands & set(way.lifts)}
    return tuple(code for code in row.adaptations if code in alike or code in judgement.carries)


def lifting(flags: Iterable, rows: Sequence[PlanRow], which: int, on: dt.date, *, pace: Pace, table=None):
    """Return what adaptations would make one row of a plan less strict: (codes, verdict) of each way.

    One adaptation at a time, in the order the exercise lists them; two together only where none does so alone.
    """
    flags, row = list(flags), rows[which]
    now = judge_placed(flags, row, places(rows, pace)[which], on, table=table)
    if now.verdict not in ("avoid", "modify"):
        return []
    codes = [code for code in row.facts["adaptations"] if code not in row.adaptations]
    codes = [
        code for code in codes if lifts.chosen(row.facts["id"], (code,), listed=row.facts["adaptations"])
    ]

    def tried(more):
        changed = replace(row, adaptations=(*row.adaptations, *more))
        place = places([*rows[:which], changed, *rows[which + 1 :]], pace)[which]
        return judge_placed(flags, changed, place, on, table=table)

    for ways in ([(code,) for code in codes], list(combinations(codes, 2))):
        found = [(more, then.verdict) for more in ways if _is_laxer(then := tried(more), now)]
        if found:
            return found
    return []


def _is_laxer(then: Judgement, now: Judgement) -> bool:
    """Return whether a verdict fell, or stays 'modify' with every demand that said so carried."""
    if RANK[then.verdict] != RANK[now.verdict]:
        return RANK[then.verdict] < RANK[now.verdict]
    asking = [name for name, part in now.demands.items() if part.verdict == now.verdict and not part.carries]
    return now.verdict == "modify" and bool(asking) and all(then.demands[name].carries for name in asking)


def judge_rows(
    flags: Iterable, rows: Sequence[PlanRow], on: dt.date, *, pace: Pace, table=None
) -> list[Judgement]:
    """Judge a whole plan, each row in its place: time on the back and quick changes come from neighbours."""
    flags = list(flags)
    placed = zip(rows, places(rows, pace), strict=True)
    return [judge_placed(flags, row, place, on, table=table) for row, place in placed]


def setting_demands(setting: dict | None) -> tuple[str, ...]:
    """Return the demands that springs add: a very heavy one makes the set near-maximal effort."""
    springs = (setting or {}).get("springs", ())
    heavy = any(spring["grade"] == HEAVIEST and spring.get("count") for spring in springs)
    return (ALL_OUT,) if heavy else ()


def stored(judgement: Judgement, supine_seconds: float | None = None) -> dict:
    """Return the judgement as plain values that JSON keeps: verdict, date, version of the table, reasons.

    Every reason is kept, also those a clinician's word has lifted (`outranked`), strictest first.
    carries: the adaptations it rests on; with them taken out it would be stricter (see judged). supine_seconds:
    the spell on the back that it was judged with, None where that was not known or there is none.
    """
    return {
        "verdict": judgement.verdict,
        "on": judgement.on.isoformat(),
        "side": judgement.side,
        "spell": judgement.spell,
        "supine_seconds": supine_seconds,
        "carries": list(judgement.carries),
        "without": None,
        "table_version": judgement.table_version,
        "demands": {name: _demand(row) for name, row in judgement.demands.items()},
        "reasons": [_reason(reason) for reason in judgement.reasons],
    }


def _demand(row) -> dict:
    return {"verdict": row.verdict, "loads": row.loads, "carries": row.carries, "without": row.without}


def _reason(reason) -> dict:
    return {
        "kind": reason.kind,
        "code": reason.code,
        "verdict": reason.verdict,
        "demand": reason.demand,
        "exercise": reason.exercise,
        "condition": reason.condition,
        "rule": reason.rule,
        "text": reason.text,
        "adaptation": reason.adaptation,
        "sources": list(reason.sources),
        "support": reason.support,
        "until": reason.last_day.isoformat() if reason.last_day else None,
        "side": reason.side,
        "by": reason.by,
        "since": reason.since.isoformat() if reason.since else None,
        "words": reason.words,
        "outranked": reason.outranked,
        "lifted_by": reason.lifted_by,
        "before_lift": reason.before_lift,
    }


# What makes two reasons the same, whatever is written around them.
_NAMES = (
    "kind",
    "code",
    "verdict",
    "demand",
    "exercise",
    "condition",
    "rule",
    "side",
    "by",
    "words",
    "outranked",
    "lifted_by",
)


def _substance(verdict: dict) -> list:
    return sorted([str(reason.get(name)) for name in (*_NAMES, "until")] for reason in verdict["reasons"])


def same_substance(one: dict, other: dict) -> bool:
    """Return whether two stored judgements say the same: verdict, reasons, their sides and end dates."""
    return one["verdict"] == other["verdict"] and _substance(one) == _substance(other)


def mark(verdicts: Iterable[dict]) -> str:
    """Return a short mark of stored judgements in their order, to notice that they moved on."""
    text = json.dumps([[verdict["verdict"], _substance(verdict)] for verdict in verdicts])
    return hashlib.sha256(text.encode()).hexdigest()[:24]


def answers(kept: dict | None, now: dict) -> bool:
    """Return whether a reason typed for the judgement `kept` still answers every 'avoid' there is now."""

    def avoids(verdict):
        counting = (r for r in verdict["reasons"] if r["verdict"] == "avoid" and not r["outranked"])
        return {tuple(reason.get(name) for name in _NAMES) for reason in counting}

    return kept is not None and avoids(now) <= avoids(kept)
