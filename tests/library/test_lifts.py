"""Adaptations that take a demand away: every row of the table, and how the judge uses it.

The rows and the verdicts without them come from `cases_lifts`, typed by hand. The combining rules are design
choices (common practice, no source): with the adaptation chosen an avoid or modify of the lifted demand is 'modify'
and carries the adaptation's name; watch stays watch; it never becomes none; without it the ordinary verdict stands.
"""

from itertools import combinations
from types import SimpleNamespace

import pytest

from library import lifts, supine
from library.precautions import judge
from library.tables import adaptation_lifts, exercises
from tests.rows import each

from .cases_lifts import ADDED, BOTH, LIFTED, ON, STAYS, TABLE, had, pregnant

ADAPTATION = {row[0]: row[1] for row in TABLE}
ROWS = {row.id: row for row in map(lifts.Lift.from_row, adaptation_lifts())}


def name(case):
    row, exercise, demand, flag, _ = case
    return f"{row}-{exercise}-{demand}-{flag.condition}"


def word(about, verdict, **kwargs):
    """A clinician's instruction."""
    return SimpleNamespace(
        instruction=about, verdict=verdict, words="as in the letter", by="Dr Osei", **kwargs
    )


def own(like, **kwargs):
    """A library exercise as an object of the studio's own, with some facts changed."""
    fact = exercises()[like]
    facts = {key: fact[key] for key in ("id", "demands", "demand_sides")}
    return SimpleNamespace(**{**facts, **kwargs})


# The table, row by row.


def test_there_are_42_rows_of_19_adaptations_for_148_exercises():
    assert [row[0] for row in TABLE] == list(ROWS) == [f"L{n:02}" for n in range(1, 43)]
    assert len({row[1] for row in TABLE}) == 19
    assert len({exercise for row in ROWS.values() for exercise in row.only_for}) == 148


@each("typed", TABLE, ids=lambda row: row[0])
def test_a_row_is_as_the_written_table_has_it(typed):
    row_id, adaptation, lifted, count, adds, not_for = typed
    row = ROWS[row_id]
    assert row.adaptation == adaptation
    assert set(row.lifts) == set(lifted.split())
    assert len(row.only_for) == count
    assert row.adds == tuple(adds.split())
    assert row.not_for == frozenset(not_for.split())
    assert row.both_sides == (row_id in BOTH)
    assert row.source
    assert row.note


def test_every_row_has_a_case_that_it_lifts_and_one_that_it_does_not():
    assert {case[0] for case in LIFTED} == {case[0] for case in STAYS} == set(ROWS)
    assert {case[0] for case in ADDED} == {row[0] for row in TABLE if row[4]}


@each("case", LIFTED, ids=name)
def test_a_row_lifts(case):
    row, exercise, demand, flag, before = case
    assert row in [held.id for held in lifts.chosen(exercise, [ADAPTATION[row]])]
    plain = judge([flag], exercise, ON).demands[demand]
    assert (plain.verdict, plain.carries, plain.without) == (before, None, None)
    held = judge([flag], exercise, ON, adaptations=[ADAPTATION[row]]).demands[demand]
    assert (held.verdict, held.carries, held.without) == ("modify", ADAPTATION[row], before)
    softened = [reason for reason in held.reasons if reason.lifted_by]
    assert softened
    assert {reason.lifted_by for reason in softened} == {ADAPTATION[row]}
    assert before in {reason.before_lift for reason in softened}


@each("case", STAYS, ids=name)
def test_a_row_does_not_lift(case):
    row, exercise, demand, flag, verdict = case
    plain = judge([flag], exercise, ON).demands[demand]
    held = judge([flag], exercise, ON, adaptations=[ADAPTATION[row]]).demands[demand]
    assert plain.verdict == held.verdict == verdict
    assert (held.carries, held.without) == (None, None)
    assert held.reasons == plain.reasons


@each("case", ADDED, ids=name)
@each("side", ["left", "right", None])
def test_what_a_row_brings_along_is_judged_on_both_sides(case, side):
    row, exercise, demand, flag, verdict = case
    assert demand not in judge([flag], exercise, ON, side=side).demands
    found = judge([flag], exercise, ON, side=side, adaptations=[ADAPTATION[row]]).demands[demand]
    assert (found.verdict, found.added_by) == (verdict, ADAPTATION[row])
    assert found.loads == (None if demand == "inversion" else "both")


@pytest.mark.parametrize("side", ["left", "right", None])
def test_a_demand_of_the_exercise_that_is_brought_along_too_counts_for_both_sides(side):
    # One leg in the strap, trunk raised: the thigh that rests comes nearer the trunk as well.
    hip = had("hip_replacement_posterior", 6, "left")
    strap = own("ref_single_leg_strap", demands=["hip_flexion_past_90"])
    strap.demand_sides = {"hip_flexion_past_90": "named"}
    plain = judge([hip], strap, ON, side=side).demands["hip_flexion_past_90"]
    assert plain.verdict == ("none" if side == "right" else "avoid")
    raised = judge([hip], strap, ON, side=side, adaptations=["trunk_raised_on_wedge"])
    found = raised.demands["hip_flexion_past_90"]
    assert (found.verdict, found.loads, found.added_by) == ("avoid", "both", None)


# How a judgement says what it rests on.


def test_a_verdict_that_rests_on_an_adaptation_says_so():
    judged = judge(
        [pregnant(20)], "mat_pelvic_tilt", ON, adaptations=["smaller_range", "trunk_raised_on_wedge"]
    )
    assert (judged.verdict, judged.carries) == ("modify", ("trunk_raised_on_wedge",))
    assert judge([pregnant(20)], "mat_pelvic_tilt", ON).verdict == "avoid"


def test_a_verdict_that_would_be_the_same_without_rests_on_nothing():
    flags = [pregnant(20), had("disc_flexion_intolerant")]
    judged = judge(flags, "mat_chest_lift", ON, adaptations=["trunk_raised_on_wedge"])
    assert (judged.verdict, judged.carries) == ("avoid", ())
    assert judged.demands["supine_lying_long"].carries == "trunk_raised_on_wedge"
    was_modify = judge([had("osteopenia")], "mat_chest_lift", ON, adaptations=["head_stays_down"])
    assert (was_modify.verdict, was_modify.carries) == ("modify", ())
    assert was_modify.demands["loaded_spinal_flexion"].carries == "head_stays_down"


def test_a_verdict_may_rest_on_two_adaptations():
    flags = [pregnant(20), had("disc_flexion_intolerant")]
    picked = ["trunk_raised_on_wedge", "head_stays_down"]
    judged = judge(flags, "mat_chest_lift", ON, adaptations=picked)
    assert (judged.verdict, set(judged.carries)) == ("modify", set(picked))
    for left_out in picked:
        assert judge(flags, "mat_chest_lift", ON, adaptations=set(picked) - {left_out}).verdict == "avoid"


def test_watch_stays_watch_and_no_rule_stays_no_rule():
    held = judge([had("coronary_disease")], "mat_pelvic_tilt", ON, adaptations=["trunk_raised_on_wedge"])
    (reason,) = held.reasons
    assert (held.verdict, reason.lifted_by, held.carries) == ("watch", None, ())
    assert judge([], "mat_pelvic_tilt", ON, adaptations=["trunk_raised_on_wedge"]).verdict == "none"


def test_a_condition_that_is_not_softened_counts_beside_one_that_is():
    flags = [had("osteoporosis"), had("spinal_surgery", 8)]
    found = judge(flags, "mat_saw", ON, adaptations=["keep_spine_long"]).demands["end_range_spinal_flexion"]
    assert (found.verdict, found.carries) == ("avoid", None)
    assert [(r.condition, r.verdict) for r in found.reasons] == [
        ("spinal_surgery", "avoid"),
        ("osteoporosis", "modify"),
    ]


def test_when_two_adaptations_lift_one_demand_either_is_enough():
    fracture = had("osteoporosis_vertebral_fracture")
    for picked in permuted(["stay_in_mid_range", "keep_spine_long"]):
        found = judge([fracture], "mat_spine_stretch", ON, adaptations=picked).demands[
            "end_range_spinal_flexion"
        ]
        assert (found.verdict, found.carries) == ("modify", "keep_spine_long")


def test_of_two_adaptations_the_one_with_fewer_exceptions_is_named():
    # For a fracture only the hip hinge counts, for weak bone either: one name is enough for both.
    flags = [had("osteoporosis"), had("osteoporosis_vertebral_fracture")]
    for picked in permuted(["stay_in_mid_range", "keep_spine_long"]):
        assert judge(flags, "mat_spine_stretch", ON, adaptations=picked).carries == ("keep_spine_long",)


def permuted(picked):
    return [picked, picked[::-1]]


def test_a_demand_that_another_chosen_adaptation_brings_along_is_not_lifted():
    knee = had("knee_replacement", 3)
    rows = [
        lifts.Lift("X1", "up", ("kneeling_load",), ("x",), frozenset(), (), False, "", ""),
        lifts.Lift(
            "X2", "down", ("breath_hold_strain",), ("x",), frozenset(), ("kneeling_load",), False, "", ""
        ),
        lifts.Lift(
            "X3", "up", ("wrist_weight_bearing",), ("x",), frozenset(), ("kneeling_load",), False, "", ""
        ),
    ]
    assert set(lifts.effect((rows[0],)).lifted) == {"kneeling_load"}
    assert set(lifts.effect((rows[0], rows[1])).lifted) == {"breath_hold_strain"}
    assert lifts.effect((rows[1], rows[0])) == lifts.effect((rows[0], rows[1]))
    assert set(lifts.effect((rows[0], rows[2])).lifted) == {"kneeling_load", "wrist_weight_bearing"}
    picked = ["do_seated", "forearms_instead_of_hands"]
    judged = judge([knee, had("glaucoma")], "mat_cat", ON, adaptations=picked)
    assert judged.demands["inversion"].verdict == "avoid"


# Sides.


def test_with_both_legs_together_every_sided_demand_counts_for_both():
    # The left foot rests while the right presses, until both press.
    hip = had("hip_replacement_posterior", 6, "left")
    plain = judge([hip], "ref_foot_single", ON, side="right")
    assert plain.demands["hip_flexion_past_90"].verdict == "none"
    both = judge([hip], "ref_foot_single", ON, side="right", adaptations=["both_legs_together"])
    assert both.demands["hip_flexion_past_90"].verdict == "avoid"
    assert {found.loads for found in both.demands.values()} == {None, "both"}
    # On wide footwork the same words change nothing: no row names it.
    assert lifts.chosen("ref_foot_wide", ["both_legs_together"]) == ()


def test_a_laxer_word_for_one_side_of_the_exercise_does_not_cover_both_legs_together():
    knees = had("knee_replacement", 3, "both")
    said = word("ref_foot_single", "none", side="right")
    one = judge([knees, said], "ref_foot_single", ON, side="right")
    assert one.verdict == "none"
    both = judge([knees, said], "ref_foot_single", ON, side="right", adaptations=["both_legs_together"])
    assert both.verdict == "modify"


def test_a_side_that_alternates_is_judged_on_both():
    # The leg that waits its turn in a marching bridge carries the body.
    ankle = had("fracture_leg_recent", 4, "left")
    for side in ("left", "right", None):
        assert judge([ankle], "mat_bridge_march", ON, side=side).verdict == "avoid"
    alone = own("mat_bridge_march", sides="one_then_other")
    assert judge([ankle], alone, ON, side="right").demands["closed_chain_single_leg"].verdict == "none"


# A clinician's word comes first.

SUPINE = "supine_lying_long"


@pytest.mark.parametrize("said", ["avoid", "modify", "watch", "none"])
def test_a_word_on_a_lifted_demand_decides_in_either_direction(said):
    flags = [pregnant(20), word(SUPINE, said)]
    held = judge(flags, "mat_pelvic_tilt", ON, adaptations=["trunk_raised_on_wedge"])
    assert held.demands[SUPINE].verdict == said
    assert (held.carries, held.demands[SUPINE].carries) == ((), None)


def test_a_word_of_avoid_stays_whatever_is_chosen():
    picked = exercises()["mat_pelvic_tilt"]["adaptations"]
    assert judge([word(SUPINE, "avoid")], "mat_pelvic_tilt", ON, adaptations=picked).verdict == "avoid"
    assert (
        judge([word("mat_pelvic_tilt", "avoid")], "mat_pelvic_tilt", ON, adaptations=picked).verdict
        == "avoid"
    )


def test_a_laxer_word_on_the_exercise_is_kept_under_a_lift():
    flags = [pregnant(20), word("mat_pelvic_tilt", "watch")]
    held = judge(flags, "mat_pelvic_tilt", ON, adaptations=["trunk_raised_on_wedge"])
    assert (held.verdict, held.carries) == ("watch", ())
    assert [reason.outranked for reason in held.demands[SUPINE].reasons] == [True]


def test_a_doubtful_word_neither_lifts_nor_stops_a_lift():
    flags = [pregnant(20), word(SUPINE, "none", side="unknown")]
    held = judge(flags, "mat_pelvic_tilt", ON, adaptations=["trunk_raised_on_wedge"])
    assert (held.verdict, held.carries) == ("modify", ("trunk_raised_on_wedge",))


def test_a_word_for_one_side_leaves_the_other_to_the_lift():
    wrists = had("wrist_hand_injury_acute", 2, "both")
    flags = [wrists, word("wrist_weight_bearing", "watch", side="left")]
    found = judge(flags, "mat_plank", ON, adaptations=["forearms_instead_of_hands"]).demands[
        "wrist_weight_bearing"
    ]
    assert dict(found.sides) == {"left": "watch", "right": "modify"}
    assert (found.carries, found.without) == ("forearms_instead_of_hands", "avoid")


# Exercises given as objects.


def test_a_studios_own_version_keeps_the_rows_of_the_id_it_keeps():
    flags, picked = [pregnant(20)], ["trunk_raised_on_wedge"]
    same = own("mat_pelvic_tilt")
    assert judge(flags, same, ON, adaptations=picked) == judge(
        flags, "mat_pelvic_tilt", ON, adaptations=picked
    )
    assert judge(flags, own("mat_pelvic_tilt", id="own_tilt"), ON, adaptations=picked).verdict == "avoid"
    assert (
        judge(flags, own("mat_pelvic_tilt", adaptations=["smaller_range"]), ON, adaptations=picked).verdict
        == "avoid"
    )


def test_an_exercise_nobody_classified_still_asks_and_is_judged_for_what_is_brought_along():
    knee = had("knee_replacement", 3)
    judged = judge([knee], SimpleNamespace(id="own_plank", demands=None), ON, adaptations=["knees_bent"])
    assert (judged.verdict, dict(judged.demands)) == ("watch", {})


# What is left with adaptations chosen: counts made by a second hand with a program of their own, over all 287
# exercises. Left is whatever is not 'avoid'; in the studio, and of these at home; as listed (time on the back not
# known), and with any adaptations chosen, the entry alone on the back at pace 1.6. Sided entries count where one of
# the sides can be done; where sides alternate, both must be.
LEFT = [
    ("pregnant, 20 weeks", pregnant(20), (103, 63), (210, 110)),
    ("pregnant, 30 weeks", pregnant(30), (83, 56), (143, 81)),
    ("caesarean, 8 weeks", had("postnatal_caesarean", 8), (221, 103), (250, 111)),
    ("spinal fracture, 6 weeks", had("osteoporosis_vertebral_fracture", 6), (124, 78), (143, 87)),
    ("hip from behind, 6 weeks", had("hip_replacement_posterior", 6, "left"), (154, 89), (164, 91)),
    ("disc", had("disc_flexion_intolerant"), (188, 89), (216, 106)),
    ("stenosis", had("spinal_stenosis"), (270, 117), (271, 118)),
    ("glaucoma", had("glaucoma"), (212, 105), (239, 116)),
    ("hypermobile", had("hypermobility"), (256, 111), (256, 111)),
    ("shoulder, no date", had("shoulder_instability", None, "left"), (198, 89), (217, 99)),
    ("blood pressure, controlled", had("hypertension_controlled"), (247, 110), (279, 119)),
    ("parkinson's", had("parkinsons"), (238, 119), (241, 119)),
    ("blood thinners", had("blood_thinners"), (238, 119), (241, 119)),
    ("clot, 3 weeks", had("recent_clot", 3), (207, 110), (211, 111)),
    ("aneurysm", had("aneurysm_known"), (210, 105), (213, 108)),
    ("spinal fusion, 8 weeks", had("spinal_surgery", 8), (125, 79), (142, 86)),
    ("left arm broken, 4 weeks", had("fracture_arm_recent", 4, "left"), (165, 82), (182, 92)),
    ("right wrist, 2 weeks", had("wrist_hand_injury_acute", 2, "right"), (251, 107), (263, 117)),
    ("right ankle broken, 5 weeks", had("fracture_leg_recent", 5, "right"), (191, 102), (200, 108)),
    ("left meniscus, 8 weeks", had("meniscus_repair", 8, "left"), (204, 105), (213, 111)),
    ("low pressure on standing", had("orthostatic_hypotension"), (232, 117), (235, 117)),
    ("lungs", had("lung_disease_other"), (247, 110), (279, 119)),
    ("numb feet", had("peripheral_neuropathy_feet"), (236, 119), (239, 119)),
    ("epilepsy, uncontrolled", had("epilepsy_uncontrolled"), (208, 114), (213, 116)),
    ("cataract, 1 week", had("cataract_surgery", 1), (210, 105), (213, 108)),
]


# Demands given to exercises since those counts were made: left out here, so that the counts stay comparable.
SINCE = {
    "mat_mermaid": "hip_flexion_past_90",
    "ref_mermaid": "hip_flexion_past_90",
    "tt_mermaid": "hip_flexion_past_90",
    "ch_mermaid": "hip_flexion_past_90",
    "tt_roll_down": "hip_flexion_past_90",
    "tt_roll_down_turn": "hip_flexion_past_90",
    "ref_arm_circles": "overhead_reach",
    "mat_foot_dome": "hip_flexion_past_90",
    "mat_reverse_table": "hip_flexion_past_90",
    "mat_side_bend": "hip_flexion_past_90",
    "arc_swan": "inversion",
    "arc_side_lift": "inversion",
}


def _as_counted(fact):
    return own(fact["id"], demands=[d for d in fact["demands"] if d != SINCE.get(fact["id"])])


def _can_be_done(flag, fact, **how):
    sides = ("left", "right") if fact["sides"] == "one_then_other" else (None,)
    return any(judge([flag], _as_counted(fact), ON, side=side, **how).verdict != "avoid" for side in sides)


def _can_be_changed(flag, fact):
    sides = 1 if fact["sides"] == "both_together" else 2
    middle = -(-(fact["reps_min"] + fact["reps_max"]) // 2)
    alone = 1.6 * (fact["setup_s"] + middle * fact["seconds_per_rep"] * sides + fact["switch_s"])
    codes = sorted({row.adaptation for row in lifts.of_exercise(fact["id"])})
    ways = [way for size in range(len(codes) + 1) for way in combinations(codes, size)]
    return any(_can_be_done(flag, fact, adaptations=way, supine_seconds=alone) for way in ways)


@pytest.mark.parametrize(
    ("flag", "listed", "changed"), [row[1:] for row in LEFT], ids=[row[0] for row in LEFT]
)
def test_how_much_is_left(flag, listed, changed):
    plain = [fact for fact in exercises().values() if _can_be_done(flag, fact)]
    held = [fact for fact in exercises().values() if _can_be_changed(flag, fact)]
    assert (len(plain), sum(fact["home_ok"] for fact in plain)) == listed
    assert (len(held), sum(fact["home_ok"] for fact in held)) == changed


@pytest.mark.parametrize("other", ["do_seated", "do_side_lying", "trunk_raised_on_wedge"])
def test_what_is_done_lying_after_all_is_not_lifted_from_the_back(other):
    """The minutes and the verdict agree: with both chosen it is on the back, as if nothing were chosen."""
    plain = judge([pregnant(20)], "mat_breath_supine", ON)
    both = judge([pregnant(20)], "mat_breath_supine", ON, adaptations=[other, supine.LIES_DOWN])
    flat = both.demands["supine_lying_long"]
    assert (flat.verdict, flat.carries) == (plain.demands["supine_lying_long"].verdict, None)
    assert supine.row(exercises()["mat_breath_supine"], 60, [other, supine.LIES_DOWN]).lies_flat
