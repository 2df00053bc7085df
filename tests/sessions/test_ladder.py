"""How far a client is with an exercise, by the studio's rule of going up.

The rule: Steady (3) or better on both sides in two sessions running, at the top of the repetitions, no pain noted
(common practice, no source; the two sessions running as in the two-for-two rule, ACSM position stand 2009, from
memory). Cases are worked by hand.
"""

import datetime as dt

import pytest

from sessions import ladder
from sessions.ladder import Side, Standing, Went

TOGETHER = {"sides": "both_together", "reps_max": 8}
TURNS = {"sides": "one_then_other", "reps_max": 8}
ALTERNATING = {"sides": "alternating", "reps_max": 8}
DAY = dt.date(2026, 11, 2)


def went(number, skipped=False, **sides):
    """Entry of the session of that number; a side is (quality, repetitions) or (quality, repetitions, felt)."""
    held = {name: Side(*values) for name, values in sides.items()}
    return Went((number,), DAY + dt.timedelta(days=7 * number), held, skipped)


CASES = {
    "never done": ([], TOGETHER, "", False),
    "once, clean": ([went(1, both=(4, 8))], TOGETHER, "working", False),
    "twice steady at the top": ([went(1, both=(3, 8)), went(2, both=(3, 8))], TOGETHER, "secure", True),
    "twice steady, below the top": ([went(1, both=(3, 8)), went(2, both=(3, 7))], TOGETHER, "secure", False),
    "repetitions not noted": ([went(1, both=(3, 8)), went(2, both=(3, None))], TOGETHER, "secure", False),
    "quality not noted": ([went(1, both=(3, 8)), went(2, both=(None, 8))], TOGETHER, "working", False),
    "shaky in between": (
        [went(1, both=(4, 8)), went(2, both=(2, 8)), went(3, both=(4, 8))],
        TOGETHER,
        "working",
        False,
    ),
    "shaky long ago": (
        [went(1, both=(1, 8)), went(2, both=(4, 8)), went(3, both=(4, 8))],
        TOGETHER,
        "secure",
        True,
    ),
    "twice in one session": ([went(1, both=(4, 8)), went(1, both=(4, 8))], TOGETHER, "working", False),
    "the weaker set counts": (
        [went(1, both=(4, 8)), went(2, both=(4, 8)), went(2, both=(2, 8))],
        TOGETHER,
        "working",
        False,
    ),
    "both sides": (
        [went(n, left=(3, 8), right=(4, 8)) for n in (1, 2)],
        TURNS,
        "secure",
        True,
    ),
    "left shaky": (
        [went(1, left=(3, 8), right=(4, 8)), went(2, left=(2, 8), right=(4, 8))],
        TURNS,
        "working",
        False,
    ),
    "right missing": ([went(1, left=(4, 8), right=(4, 8)), went(2, left=(4, 8))], TURNS, "working", False),
    "sides in two entries": (
        [went(1, left=(4, 8)), went(1, right=(4, 8)), went(2, left=(4, 8), right=(4, 8))],
        TURNS,
        "secure",
        True,
    ),
    "one number for two sides": ([went(n, both=(4, 8)) for n in (1, 2)], TURNS, "working", False),
    "one number where sides change": ([went(n, both=(4, 8)) for n in (1, 2)], ALTERNATING, "secure", True),
    "pain on one side": (
        [went(1, left=(4, 8), right=(4, 8)), went(2, left=(4, 8, ["pain"]), right=(4, 8))],
        TURNS,
        "working",
        False,
    ),
    "stretch felt": ([went(n, both=(4, 8, ["stretch"])) for n in (1, 2)], TOGETHER, "secure", True),
    "skipped in between": (
        [went(1, both=(4, 8)), went(2, skipped=True), went(3, both=(4, 8))],
        TOGETHER,
        "secure",
        True,
    ),
    "skipped for tingling": (
        [went(1, both=(4, 8)), went(2, both=(4, 8)), went(3, skipped=True, both=(None, None, ["tingling"]))],
        TOGETHER,
        "working",
        False,
    ),
    "only skipped": ([went(1, skipped=True)], TOGETHER, "", False),
    "in no order": (
        [went(3, both=(2, 8)), went(1, both=(4, 8)), went(2, both=(4, 8))],
        TOGETHER,
        "working",
        False,
    ),
}


@pytest.mark.parametrize(("entries", "facts", "kind", "ready"), CASES.values(), ids=CASES)
def test_standing(entries, facts, kind, ready):
    found = ladder.standing(entries, facts)
    assert (found.kind, found.ready) == (kind, ready)


def test_last_is_the_newest_day_it_was_done():
    entries = [went(2, both=(3, 8)), went(1, both=(3, 8)), went(5, skipped=True)]
    assert ladder.standing(entries, TOGETHER).last == DAY + dt.timedelta(days=14)


READY, SECURE, WORKING = Standing("secure", True), Standing("secure"), Standing("working")
LADDER = {
    "low": {"progression_of": []},
    "other": {"progression_of": []},
    "high": {"progression_of": ["low"]},
    "two": {"progression_of": ["low", "other"]},
    "top": {"progression_of": ["high"]},
}
NEXTS = {
    "nothing done": ({}, (), set()),
    "ready below": ({"low": READY}, (), {"high", "two"}),
    "secure, not at the top": ({"low": SECURE}, (), set()),
    "in work below": ({"low": WORKING}, (), set()),
    "the other still in work": ({"low": READY, "other": WORKING}, (), {"high"}),
    "the other secure": ({"low": READY, "other": SECURE}, (), {"high", "two"}),
    "done already": ({"low": READY, "high": WORKING}, (), {"two"}),
    "the rules say avoid": ({"low": READY}, {"high"}, {"two"}),
}


@pytest.mark.parametrize(("known", "left_out", "wanted"), NEXTS.values(), ids=NEXTS)
def test_upcoming(known, left_out, wanted):
    assert ladder.upcoming(known, LADDER, left_out) == wanted
