"""Further cases by a second hand: library exercises, adaptations, minutes on the back, springs, quick changes."""

from collections import Counter
from types import SimpleNamespace

from library import transitions
from library.precautions import judge, supine_spells
from library.tables import exercises
from sessions.judging import setting_demands
from tests.rows import each

from . import (
    cases_further_apparatus,
    cases_further_back,
    cases_further_lifts,
    cases_further_more_lifts,
    cases_further_several,
    cases_further_sides,
    cases_further_windows,
    cases_further_words,
)
from .cases_further_back import PLANS
from .cases_screening import CASES as FIRST

CASES = [
    *cases_further_windows.CASES,
    *cases_further_back.CASES,
    *cases_further_sides.CASES,
    *cases_further_lifts.CASES,
    *cases_further_more_lifts.CASES,
    *cases_further_several.CASES,
    *cases_further_words.CASES,
    *cases_further_apparatus.CASES,
]

# The apparatus an exercise is listed under; standing and small props count as two.
APPARATUS = "mat reformer trapeze_table chair ladder_barrel arc standing small_prop"
LIFTING = (
    "trunk_raised_on_wedge do_seated do_side_lying do_standing head_stays_down arms_below_shoulder"
    " forearms_instead_of_hands loops_on_wrist_or_forearm knees_stay_soft carriage_stop_out extra_box_or_riser"
    " both_legs_together knees_bent breathe_out_aloud stay_in_mid_range keep_spine_long smaller_range"
    " cushion_between_knees wall_support"
)


def test_there_are_200_more_and_each_has_a_name_and_a_source():
    assert len(CASES) >= 200
    assert max(Counter(case["id"] for case in [*FIRST, *CASES]).values()) == 1
    assert all(case["source"] for case in CASES)


def test_they_cover_every_apparatus_and_every_adaptation_that_lifts():
    assert {exercises()[case["exercise"]]["apparatus"] for case in CASES} == set(APPARATUS.split())
    assert {held for case in CASES for held in case["holds"].values() if held} == set(LIFTING.split())
    assert len({case["exercise"] for case in CASES}) >= 100


@each("case", CASES, ids=lambda case: case["id"])
def test_verdict(case):
    judged = judge(
        case["flags"],
        as_set_up(case),
        case["on"],
        side=case["side"],
        adaptations=case["adaptations"],
        supine_seconds=case["supine_seconds"],
    )
    found = {demand: judged.demands[demand] for demand in case["demands"]}
    assert {demand: part.verdict for demand, part in found.items()} == case["demands"]
    assert {demand: part.carries for demand, part in found.items()} == case["holds"]
    assert judged.verdict == case["verdict"]
    if case.get("all_demands"):
        assert set(judged.demands) == set(case["demands"])
    assert set(judged.carries) == case["carries"]


@each("name, plan, pace, lengths", PLANS, ids=lambda name, *_rest: name)
def test_lengths_of_the_spells_on_the_back(name, plan, pace, lengths):
    assert supine_spells(plan, pace) == lengths


def as_set_up(case):
    """The exercise of a case: its id, or its facts with what the springs and the place in the plan add."""
    springs = {"springs": [{"grade": case["springs"], "count": 1}]} if case["springs"] else None
    extra = (*setting_demands(springs), *(transitions.added(*case["between"]) if case["between"] else ()))
    if not extra:
        return case["exercise"]
    fact = exercises()[case["exercise"]]
    demands = list(dict.fromkeys([*fact["demands"], *extra]))
    return SimpleNamespace(id=fact["id"], demands=demands, demand_sides=fact["demand_sides"])
