"""What the judge says of an exercise for a client, in a form that can be stored with a plan. Plain computation."""

import datetime as dt
from collections.abc import Iterable
from types import SimpleNamespace

from library.precautions import Judgement, judge, strictest

__all__ = ["judge_facts", "stored", "strictest"]


def judge_facts(flags: Iterable, facts: dict, on: dt.date, *, sides: str = "", adaptations=()) -> Judgement:
    """Judge an exercise by its facts (those of the version at hand, not of the shipped file).

    flags: active flags of the client. sides: 'left' or 'right' when only that side is done; anything
    else judges both sides, and the strictest counts.
    """
    exercise = SimpleNamespace(
        id=facts["id"], demands=facts["demands"], demand_sides=facts.get("demand_sides") or {}
    )
    side = sides if sides in ("left", "right") else None
    return judge(flags, exercise, on, side=side, adaptations=tuple(adaptations))


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
