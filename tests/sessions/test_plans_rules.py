"""Plans as plain rules: what springs add, sides, doing it once more, doses and waiting in words.

Verdicts are checked against the publications that the rules cite, named beside each; what is the trade's own
habit says so.
"""

import datetime as dt
from types import SimpleNamespace

import pytest

from library import tables
from sessions import judging, planning, wording
from sessions.demo import factories as f
from sessions.models import PlanItem
from tests.sessions.plan_scene import springs

TODAY = dt.date(2026, 11, 25)


def flag(condition, side="", on=None):
    return SimpleNamespace(
        condition=condition,
        instruction=None,
        verdict="",
        words="",
        by="",
        until=None,
        side=side,
        on=on,
        due=None,
    )


def said(condition, key, **row):
    return judging.stored(judging.judge_facts([flag(condition)], tables.exercise(key), TODAY, **row))


# Common practice, no source: the heaviest spring makes a set nearly all-out effort. What follows from that:
# Giangregorio 2015 (Too Fit To Fracture), table 5: lifting with maximal strength predisposes to fracture.
@pytest.mark.parametrize(
    "setting, verdict",
    [({}, "none"), (springs("heavy", "medium"), "none"), (springs("very_heavy"), "modify")],
    ids=["no springs", "heavy and medium", "very heavy"],
)
def test_a_very_heavy_spring_adds_near_maximal_effort(setting, verdict):
    found = said("osteoporosis", "ref_foot_heels", setting=setting)
    assert found["verdict"] == verdict
    assert ("near_maximal_effort" in found["demands"]) == (verdict == "modify")


def test_a_very_heavy_spring_that_hangs_unused_adds_nothing():
    setting = {"springs": [{"spring": "a", "name": "a", "grade": "very_heavy", "count": 0}]}
    assert said("osteoporosis", "ref_foot_heels", setting=setting)["verdict"] == "none"


def test_an_exercise_nobody_has_classified_stays_to_be_asked_whatever_its_springs():
    facts = {**tables.exercise("ref_foot_heels"), "demands": None, "id": "studio_own"}
    judgement = judging.judge_facts([], facts, TODAY, setting=springs("very_heavy"))
    assert judgement.verdict == "watch"


# Shoulder instability, 28 days ago: arm-overhead work is left out in the first 3 months after a dislocation
# (Sheffield self-help pages, leaflet HEY1586/2025), counted in the table as 12 weeks: up to 19 January 2027.
# Bending to the right lifts the left arm, bending to the left does not.
@pytest.mark.parametrize(
    "sides, verdict", [("right", "avoid"), ("left", "none"), ("both", "avoid")], ids=["right", "left", "both"]
)
def test_a_one_sided_condition_hits_only_its_side(sides, verdict):
    hurt = flag("shoulder_instability", "left", TODAY - dt.timedelta(days=28))
    found = judging.stored(
        judging.judge_facts([hurt], tables.exercise("st_wall_side_bend"), TODAY, sides=sides)
    )
    assert found["verdict"] == verdict
    if verdict == "avoid":
        assert found["reasons"][0]["until"] == "2027-01-19"


def test_the_mark_of_judgements_moves_with_a_reason_and_not_with_a_text():
    one, other = said("osteoporosis", "mat_roll_up"), said("osteopenia", "mat_roll_up")
    reworded = {**one, "reasons": [{**reason, "text": "other words"} for reason in one["reasons"]]}
    assert judging.mark([one]) == judging.mark([reworded]) and judging.same_substance(one, reworded)
    assert judging.mark([one]) != judging.mark([other]) and not judging.same_substance(one, other)
    assert judging.mark([one, other]) != judging.mark([other, one])


@pytest.mark.parametrize(
    "sides, first",
    [
        (["left"], "left"),
        (["right", "", None], "right"),
        (["left", "right"], None),
        (["both"], None),
        (["left", "unknown"], None),
        ([], None),
    ],
    ids=str,
)
def test_the_one_side_that_is_affected(sides, first):
    assert planning.one_side_affected(sides) == first


BEND, CURL = tables.exercise("st_wall_side_bend"), tables.exercise("mat_pelvic_curl")
AGAIN = {
    "together": (CURL, {"both": (8, None)}, False, ("", 8, None, None, None)),
    "together, held": (CURL, {"both": (1, 30)}, False, ("", 1, 30, None, None)),
    "both alike": (BEND, {"left": (6, None), "right": (6, None)}, False, ("both", 6, None, None, None)),
    "the smaller number for both": (
        BEND,
        {"left": (6, 20), "right": (8, 30)},
        False,
        ("both", 6, 20, None, None),
    ),
    "own numbers each": (BEND, {"left": (6, None), "right": (8, None)}, True, ("both", 6, None, 8, None)),
    "right only": (BEND, {"right": (8, None)}, False, ("right", 8, None, None, None)),
    "one side not noted": (
        BEND,
        {"left": (None, None), "right": (8, None)},
        False,
        ("both", 8, None, None, None),
    ),
    # Nothing noted: the middle of the usual 3 to 5.
    "nothing noted": (BEND, {}, False, ("both", planning.usual_repetitions(BEND), None, None, None)),
}


@pytest.mark.parametrize("facts, done, apart, expected", AGAIN.values(), ids=AGAIN)
def test_once_more_with_the_same_number_on_both_sides(facts, done, apart, expected):
    """Which side gives the number: the weaker one, common practice, no source."""
    names = ("sides", "repetitions", "seconds", "repetitions_right", "seconds_right")
    assert planning.again(facts, done, apart=apart) == dict(zip(names, expected, strict=True))


DOSES = {
    "8 times": {"repetitions": 8},
    "1 time": {"repetitions": 1},
    "30 s": {"seconds": 30},
    "3 × 30 s": {"repetitions": 3, "seconds": 30},
    "8 each side": {"repetitions": 8, "sides": "both"},
    "6 left, 8 right": {"repetitions": 6, "repetitions_right": 8, "sides": "both"},
    "20 s left, 30 s right": {"seconds": 20, "seconds_right": 30, "sides": "both"},
    "8 left only": {"repetitions": 8, "sides": "left"},
    "8 right only": {"repetitions": 8, "sides": "right"},
    "–": {},
}


@pytest.mark.parametrize("words, row", DOSES.items(), ids=DOSES)
def test_doses_in_words(words, row):
    assert wording.dose(PlanItem(**row)) == words


@pytest.mark.parametrize(
    "numbers, words",
    [
        ([6], "Settle 6, then approve"),
        ([2, 6], "Settle 2 and 6, then approve"),
        ([1, 2, 6], "Settle 1, 2 and 6, then approve"),
        ([1, 2, 3, 4], "Settle 4 rows, then approve"),
    ],
    ids=str,
)
def test_what_approval_waits_for(numbers, words):
    assert wording.settle_words(numbers) == words


def test_a_held_row_without_a_number_is_held_once_on_each_side(house):
    item = f.PlanItemFactory(exercise__key="st_single_leg_stand", repetitions=None, seconds=20, minutes=None)
    facts = item.exercise.current.facts
    item.seconds_right = 30
    bare = facts["setup_s"] + 20 + 30 + facts["switch_s"]
    assert planning.bare_seconds(item.as_row()) == bare
