"""Rules of thumb of the trade, held against the facts of the library. Common practice, no source."""

from library import tables, vocabulary_wording
from tests.rows import each

EXERCISES = tables.exercises()
GRADES = tables.closed_list("spring_grade")
FOOTWORK = [key for key in EXERCISES if key.startswith("ref_foot_")]
# The abdominal series on the reformer: lying, head lifted, hands in the straps.
IN_STRAPS = [
    key
    for key, facts in EXERCISES.items()
    if facts["apparatus"] == "reformer"
    and facts["position"] == "supine"
    and "hand_straps" in facts["accessories"]
    and "head_lifted_neck_flexion" in facts["demands"]
    and facts["transfer_family"] == "tf_front_trunk"
]
SIDE_LEGS = ("mat_clam", "mat_side_leg_lift", "mat_side_inner_thigh", "mat_side_kick", "mat_side_circles")


def grade(key):
    return GRADES.index(EXERCISES[key]["spring_grade"])


# Common practice, no source: the legs push against more than the arms hold while the head is up.
def test_footwork_starts_heavier_than_the_abdominal_series_in_straps():
    assert {"ref_foot_toes", "ref_foot_heels", "ref_foot_single"} <= set(FOOTWORK)
    assert {"ref_hundred_prep", "ref_hundred", "ref_coordination"} <= set(IN_STRAPS)
    assert min(map(grade, FOOTWORK)) > max(map(grade, IN_STRAPS))


# Common practice, no source: eight to ten on each side.
@each("key", SIDE_LEGS)
@each("times", [8, 10])
def test_the_usual_dose_of_the_side_lying_leg_series_lies_inside_the_doses(key, times):
    facts = EXERCISES[key]
    assert facts["position"] == "side_lying"
    assert facts["sides"] == "one_then_other"
    assert facts["reps_min"] <= times <= facts["reps_max"]


# Common practice, no source: some write the leg that works, some the side that is lain on, so it is said.
@each("key", [key for key, facts in EXERCISES.items() if facts["sides"] != "both_together"])
def test_every_sided_exercise_says_what_right_means(key):
    said = vocabulary_wording.right_means(EXERCISES[key]["side_means"])
    assert said.startswith("Right = the ")


def test_work_of_both_sides_together_has_no_right():
    together = [facts for facts in EXERCISES.values() if facts["sides"] == "both_together"]
    assert {vocabulary_wording.right_means(facts["side_means"]) for facts in together} == {""}
    # As many as the catalogue counts: 163 together, 77 one after the other, 47 in turn.
    assert len(together) == 163
