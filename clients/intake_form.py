"""The paper form as data: its questions, the answers it takes, and what follows from them. Plain computation.

Answers are plain values that JSON keeps:

    groups      group id -> 'no', 'yes', 'not_sure' or 'left_empty'
    conditions  condition id -> {side, when, on, due}, for every condition that is ticked
    limits      {words, by, dated}: what a clinician has said, as written on the form
    hurts, tablets, operations, anything, wishes, home_other   the client's own words
    home        ids of what they have at home
    touch       'yes', 'ask', 'no' or ''

Dates are ISO texts. A key may be missing: then nothing was said.
"""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from library import tables

# Raise it whenever a question, a condition or a way to answer changes (a test notices).
FORM_VERSION = 1

NO, YES, NOT_SURE, LEFT_EMPTY = "no", "yes", "not_sure", "left_empty"
ANSWERS = (NO, YES, NOT_SURE, LEFT_EMPTY)
SIDES = ("left", "right", "both", "unknown")
DATE, LONG_AGO, UNKNOWN = "date", "long_ago", "unknown"
WHENS = (DATE, LONG_AGO, UNKNOWN)
TEXTS = ("hurts", "tablets", "operations", "anything", "wishes", "home_other")
# What a clinician said, before an instructor has sorted it under a demand or an exercise.
UNSETTLED = "unsettled"

# 'Long ago' leaves out every window that has an end. None is longer than this (a test looks).
LONG_AGO_DAYS = 366


@dataclass(frozen=True, slots=True)
class Question:
    """One condition of the form. `asks` is 'event' (date of something), 'due' (due date) or ''."""

    id: str
    group: str
    sided: bool
    asks: str


@dataclass(frozen=True, slots=True)
class Proposal:
    """A flag that answers suggest: a condition, or (`about`) a clinician's words still to be sorted."""

    condition: str = ""
    side: str = ""
    when: str = ""
    on: dt.date | None = None
    due: dt.date | None = None
    about: str = ""
    words: str = ""
    by: str = ""
    dated: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Ask:
    """A group to ask about. `why` is 'not_sure', 'nothing_named' or 'not_answered'."""

    group: str
    why: str


_ASKS = {"ongoing": "", "event_days": "event", "gestation_days": "due"}


@cache
def questions() -> Mapping[str, Question]:
    """Return every condition of the table as a question, by its id, in the order of the table."""
    return {
        row["id"]: Question(row["id"], row["group"], row["sided"], _ASKS[row["window_basis"]])
        for row in tables.rule_table().conditions.values()
    }


@cache
def groups() -> tuple[tuple[str, tuple[Question, ...]], ...]:
    """Return the sections of the health part: group id and its conditions, as on paper."""
    ids = [row["id"] for row in tables.rule_data()["condition_groups"]]
    return tuple((group, tuple(q for q in questions().values() if q.group == group)) for group in ids)


def proposed(answers: Mapping) -> list[Proposal]:
    """Return the flags these answers suggest, in the order of the table; a clinician's words come last.

    A ticked condition proposes a flag whatever was answered above it. A side or a date that is missing
    counts as not known. 'Not sure' without a tick proposes nothing: see `to_ask`.
    """
    ticked = answers.get("conditions") or {}
    order = {name: place for place, name in enumerate(questions())}
    names = sorted(ticked, key=lambda name: (order.get(name, len(order)), name))
    found = [_condition(name, ticked[name] or {}) for name in names]
    limits = answers.get("limits") or {}
    if (limits.get("words") or "").strip():
        found.append(
            Proposal(
                about=UNSETTLED,
                words=limits["words"].strip(),
                by=(limits.get("by") or "").strip(),
                dated=date_of(limits.get("dated")),
            )
        )
    return found


def _condition(name: str, told: Mapping) -> Proposal:
    question = questions().get(name)
    side = told.get("side") or ""
    if question is None:
        return Proposal(condition=name, side=side if side in SIDES else "")
    if not question.sided:
        side = ""
    elif side not in SIDES:
        side = UNKNOWN
    if question.asks == "due":
        due = date_of(told.get("due"))
        return Proposal(condition=name, side=side, when="" if due else UNKNOWN, due=due)
    if question.asks == "event":
        on, when = date_of(told.get("on")), told.get("when")
        if on and when in (None, "", DATE):
            return Proposal(condition=name, side=side, when=DATE, on=on)
        return Proposal(condition=name, side=side, when=LONG_AGO if when == LONG_AGO else UNKNOWN)
    return Proposal(condition=name, side=side)


def to_ask(submissions: Iterable[Mapping]) -> list[Ask]:
    """Return what an instructor still has to ask, from all answers of a client, newest first.

    A later form that leaves a group empty does not answer for it: the newest real answer counts. With no
    form at all there is nothing to ask about in particular.
    """
    given = list(submissions)
    if not given:
        return []
    found = []
    for group, conditions in groups():
        ids = {question.id for question in conditions}
        why = next((w for w in (_open_point(a, group, ids) for a in given) if w is not None), "not_answered")
        if why:
            found.append(Ask(group, why))
    return found


def _open_point(answers: Mapping, group: str, ids: set[str]) -> str | None:
    """Return why one form leaves a group open, '' where it does not, None where it does not speak of it."""
    answer = (answers.get("groups") or {}).get(group, LEFT_EMPTY)
    named = any(name in ids for name in answers.get("conditions") or {})
    if answer == NOT_SURE:
        return "not_sure"
    if answer == YES:
        return "" if named else "nothing_named"
    if answer == NO or named:
        return ""
    return None


def date_of(text) -> dt.date | None:
    """Return the date an ISO text means, or None: nothing typed or stored here may raise."""
    try:
        return dt.date.fromisoformat(text or "")
    except (TypeError, ValueError):
        return None
