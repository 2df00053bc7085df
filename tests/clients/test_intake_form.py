"""From answers to flags: tables of answers and what they suggest.

The rule that 'not sure' is asked about, and that a date nobody knows counts as unknown and never as long
ago, is the studio's own: common practice, no source.
"""

import datetime as dt
import hashlib
import json

import pytest

from clients.intake_form import (
    FORM_VERSION,
    LONG_AGO_DAYS,
    UNSETTLED,
    Ask,
    Proposal,
    groups,
    proposed,
    questions,
    to_ask,
)
from library import tables

OCT = dt.date(2026, 10, 2)
DUE = dt.date(2027, 6, 1)


def ticks(**conditions):
    return {"conditions": conditions}


@pytest.mark.parametrize(
    ("answers", "expected"),
    [
        pytest.param({}, [], id="nothing said"),
        pytest.param({"groups": {"bone_spine": "no"}}, [], id="no"),
        pytest.param({"groups": {"bone_spine": "not_sure"}}, [], id="not sure without a tick"),
        pytest.param({"groups": {"bone_spine": "yes"}}, [], id="yes without a tick"),
        pytest.param(ticks(scoliosis={}), [Proposal(condition="scoliosis")], id="no side, no date asked"),
        pytest.param(
            ticks(frozen_shoulder={"side": "left"}),
            [Proposal(condition="frozen_shoulder", side="left")],
            id="side",
        ),
        pytest.param(
            ticks(frozen_shoulder={}),
            [Proposal(condition="frozen_shoulder", side="unknown")],
            id="side not said",
        ),
        pytest.param(
            ticks(scoliosis={"side": "left"}),
            [Proposal(condition="scoliosis")],
            id="a side where none is asked is dropped",
        ),
        pytest.param(
            ticks(knee_replacement={"side": "both", "when": "date", "on": "2026-10-02"}),
            [Proposal(condition="knee_replacement", side="both", when="date", on=OCT)],
            id="side and date",
        ),
        pytest.param(
            ticks(knee_replacement={"side": "right", "when": "long_ago"}),
            [Proposal(condition="knee_replacement", side="right", when="long_ago")],
            id="long ago",
        ),
        pytest.param(
            ticks(knee_replacement={"side": "right", "when": "unknown"}),
            [Proposal(condition="knee_replacement", side="right", when="unknown")],
            id="date not known",
        ),
        pytest.param(
            ticks(knee_replacement={"side": "right"}),
            [Proposal(condition="knee_replacement", side="right", when="unknown")],
            id="date not said counts as not known, not as long ago",
        ),
        pytest.param(
            ticks(knee_replacement={"side": "right", "when": "date", "on": "2 Oct"}),
            [Proposal(condition="knee_replacement", side="right", when="unknown")],
            id="a date that is none",
        ),
        pytest.param(
            ticks(pregnancy={"due": "2027-06-01"}), [Proposal(condition="pregnancy", due=DUE)], id="due date"
        ),
        pytest.param(
            ticks(pregnancy={"when": "unknown"}),
            [Proposal(condition="pregnancy", when="unknown")],
            id="due date not known",
        ),
        pytest.param(
            {"groups": {"bone_spine": "not_sure"}, **ticks(scoliosis={})},
            [Proposal(condition="scoliosis")],
            id="not sure with a tick",
        ),
        pytest.param(
            ticks(migraine={}, scoliosis={}, glaucoma={}),
            [Proposal(condition="scoliosis"), Proposal(condition="glaucoma"), Proposal(condition="migraine")],
            id="in the order of the table",
        ),
        pytest.param(
            ticks(no_such_condition={"side": "left"}),
            [Proposal(condition="no_such_condition", side="left")],
            id="a condition that is not in the table is not lost",
        ),
        pytest.param(
            {"limits": {"words": " No bending. ", "by": "Dr Thornquill", "dated": "2026-10-02"}},
            [Proposal(about=UNSETTLED, words="No bending.", by="Dr Thornquill", dated=OCT)],
            id="a clinician's words",
        ),
        pytest.param({"limits": {"words": "  ", "by": "Dr Thornquill"}}, [], id="a clinician without words"),
        pytest.param(
            {**ticks(scoliosis={}), "limits": {"words": "No bending."}},
            [Proposal(condition="scoliosis"), Proposal(about=UNSETTLED, words="No bending.")],
            id="a clinician's words come last",
        ),
        pytest.param({"hurts": "Left knee", "tablets": "Aspirin"}, [], id="free words alone"),
    ],
)
def test_proposed(answers, expected):
    assert proposed(answers) == expected


ALL_NO = {"groups": {group: "no" for group, _rows in groups()}}


def with_group(group, answer, **more):
    return {"groups": {**ALL_NO["groups"], group: answer}, **more}


@pytest.mark.parametrize(
    ("forms", "expected"),
    [
        pytest.param([], [], id="no form"),
        pytest.param([ALL_NO], [], id="no to everything"),
        pytest.param([with_group("eyes_neuro", "not_sure")], [Ask("eyes_neuro", "not_sure")], id="not sure"),
        pytest.param(
            [with_group("eyes_neuro", "not_sure", conditions={"migraine": {}})],
            [Ask("eyes_neuro", "not_sure")],
            id="not sure stays to be asked beside a tick",
        ),
        pytest.param(
            [with_group("eyes_neuro", "yes")], [Ask("eyes_neuro", "nothing_named")], id="yes, nothing named"
        ),
        pytest.param([with_group("eyes_neuro", "yes", conditions={"migraine": {}})], [], id="yes, named"),
        pytest.param(
            [with_group("eyes_neuro", "left_empty")], [Ask("eyes_neuro", "not_answered")], id="left empty"
        ),
        pytest.param(
            [ALL_NO, with_group("eyes_neuro", "not_sure")], [], id="a later answer settles an open one"
        ),
        pytest.param(
            [with_group("eyes_neuro", "left_empty"), with_group("eyes_neuro", "not_sure")],
            [Ask("eyes_neuro", "not_sure")],
            id="a later form that is silent settles nothing",
        ),
        pytest.param(
            [with_group("eyes_neuro", "not_sure"), ALL_NO],
            [Ask("eyes_neuro", "not_sure")],
            id="a later doubt opens it again",
        ),
        pytest.param([{}], [Ask(group, "not_answered") for group, _rows in groups()], id="an empty form"),
    ],
)
def test_to_ask(forms, expected):
    assert to_ask(forms) == expected


def test_every_condition_of_the_table_is_asked_once():
    asked = [question.id for _group, rows in groups() for question in rows]
    assert sorted(asked) == sorted(tables.rule_table().conditions)
    assert len(asked) == 80


def test_long_ago_is_longer_than_every_window_that_ends():
    """'More than a year ago' may leave out windows with an end, so none may be longer than a year."""
    ends = [r.to_day for r in tables.rule_table().rules if r.basis == "event_days" and r.to_day]
    limits = [row["clearance"]["until_day"] or 0 for row in tables.rule_table().conditions.values()]
    assert max(ends) <= LONG_AGO_DAYS - 1
    assert max(limits) <= LONG_AGO_DAYS - 1


def test_form_version_goes_with_its_questions():
    """A changed question needs a new FORM_VERSION: answers say which form they were given on."""
    asked = [(q.id, q.group, q.sided, q.asks) for q in questions().values()]
    mark = hashlib.sha256(json.dumps(asked).encode()).hexdigest()[:12]
    assert (FORM_VERSION, mark) == (1, "d9675655d938")
