"""What the judge says of an exercise for a client, in a form that can be stored with a plan. Plain computation."""

import datetime as dt
import hashlib
import json
from collections.abc import Iterable
from types import SimpleNamespace

from library.precautions import Judgement, judge, strictest

__all__ = [
    "answers",
    "judge_facts",
    "judge_row",
    "mark",
    "same_substance",
    "setting_demands",
    "stored",
    "strictest",
]

HEAVIEST, ALL_OUT = "very_heavy", "near_maximal_effort"


def judge_facts(
    flags: Iterable, facts: dict, on: dt.date, *, sides: str = "", adaptations=(), setting: dict | None = None
) -> Judgement:
    """Judge an exercise by its facts (those of the version at hand, not of the shipped file).

    flags: active flags of the client. sides: 'left' or 'right' when only that side is done; anything
    else judges both sides, and the strictest counts. setting: the springs hooked on, which may add demands.
    """
    demands = facts["demands"]
    if demands is not None:
        demands = [*demands, *(extra for extra in setting_demands(setting) if extra not in demands)]
    exercise = SimpleNamespace(id=facts["id"], demands=demands, demand_sides=facts.get("demand_sides") or {})
    side = sides if sides in ("left", "right") else None
    return judge(flags, exercise, on, side=side, adaptations=tuple(adaptations))


def judge_row(flags: Iterable, facts: dict, row, on: dt.date) -> Judgement:
    """Judge a plan row (anything with `sides`, `adaptations` and `setting`) by the facts given."""
    return judge_facts(flags, facts, on, sides=row.sides, adaptations=row.adaptations, setting=row.setting)


def setting_demands(setting: dict | None) -> tuple[str, ...]:
    """Return the demands that springs add: a very heavy one makes the set near-maximal effort."""
    springs = (setting or {}).get("springs", ())
    heavy = any(spring["grade"] == HEAVIEST and spring.get("count") for spring in springs)
    return (ALL_OUT,) if heavy else ()


def stored(judgement: Judgement) -> dict:
    """Return the judgement as plain values that JSON keeps: verdict, date, version of the table, reasons.

    Every reason is kept, also those a clinician's word has lifted (`outranked`), strictest first.
    """
    return {
        "verdict": judgement.verdict,
        "on": judgement.on.isoformat(),
        "side": judgement.side,
        "spell": judgement.spell,
        "table_version": judgement.table_version,
        "demands": {
            name: {"verdict": row.verdict, "loads": row.loads} for name, row in judgement.demands.items()
        },
        "reasons": [_reason(reason) for reason in judgement.reasons],
    }


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
        "words": reason.words,
        "outranked": reason.outranked,
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
)


def _substance(verdict: dict) -> list:
    return sorted([str(reason[name]) for name in (*_NAMES, "until")] for reason in verdict["reasons"])


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
        return {tuple(reason[name] for name in _NAMES) for reason in counting}

    return kept is not None and avoids(now) <= avoids(kept)
