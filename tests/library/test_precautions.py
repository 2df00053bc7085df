"""How the judge combines a client's flags, on small examples.

The combining rules are design choices of a studio (common practice, no source) unless a line says otherwise;
the rows of the table they work on carry their own sources. The verdicts themselves are checked against cases
of a second hand in test_verdict_cases.py.
"""

from datetime import date, datetime
from types import SimpleNamespace

import pytest

from library.precautions import judge, strictest
from library.tables import exercises, rule_data, rule_table

ON = date(2026, 11, 25)


def flag(condition=None, **kwargs):
    return SimpleNamespace(condition=condition, **kwargs)


def word(about, verdict, **kwargs):
    """A clinician's instruction."""
    return flag(instruction=about, verdict=verdict, words="as in the letter", by="Dr Osei", **kwargs)


def doing(*demands, id="x", **sides):
    return SimpleNamespace(id=id, demands=list(demands), demand_sides=sides)


def verdicts(judged):
    return {demand: found.verdict for demand, found in judged.demands.items()}


# What comes back.


def test_a_client_without_flags_meets_no_rule():
    judged = judge([], "mat_roll_over", ON)
    assert judged.verdict == "none"
    assert judged.reasons == ()
    assert set(verdicts(judged).values()) == {"none"}
    assert judged.table_version == rule_table().version


def test_every_reason_carries_rule_text_adaptation_and_sources():
    judged = judge([flag("osteoporosis")], doing("end_range_spinal_flexion"), ON)
    (reason,) = judged.reasons
    row = next(row for row in rule_data()["rules"] if row["id"] == "R001")
    assert (reason.kind, reason.rule, reason.condition) == ("rule", "R001", "osteoporosis")
    assert (reason.text, reason.adaptation) == (row["reason"], row["adaptation"])
    assert reason.sources == ("S50", "S51")
    assert (reason.until, reason.flag, reason.outranked) == (None, 0, False)


def test_reasons_come_strictest_first_and_the_deciding_ones_are_told_apart():
    flags = [flag("osteopenia"), flag("hypermobility"), flag("osteoporosis")]
    judged = judge(flags, doing("end_range_spinal_flexion"), ON)
    assert [reason.verdict for reason in judged.reasons] == ["avoid", "modify", "watch"]
    assert [reason.flag for reason in judged.deciding] == [2]


def test_a_demand_says_when_its_verdict_ends():
    hip = flag("hip_replacement_posterior", side="left", on=date(2026, 11, 1))
    judged = judge([hip], doing("jump_impact", "hip_internal_rotation", hip_internal_rotation="named"), ON)
    assert judged.demands["jump_impact"].until == date(2027, 5, 2)
    assert judged.demands["hip_internal_rotation"].until == date(2027, 1, 24)
    ongoing = judge([hip, flag("osteoporosis")], doing("jump_impact"), ON)
    rules = {reason.condition: reason.until for reason in ongoing.reasons}
    assert rules["hip_replacement_posterior"] == date(2027, 5, 2)


LOADS = [
    ("named", "left", "left"),
    ("named", "right", "right"),
    ("named", None, "both"),
    ("other", "left", "right"),
    ("other", None, "both"),
    ("both", "left", "both"),
    (None, "left", "both"),
]


@pytest.mark.parametrize(("means", "side", "loads"), LOADS)
def test_which_side_of_the_body_a_demand_loads(means, side, loads):
    sides = {"kneeling_load": means} if means else {}
    judged = judge([], doing("kneeling_load", "inversion", **sides), ON, side=side)
    assert judged.demands["kneeling_load"].loads == loads
    assert judged.demands["inversion"].loads is None


def test_an_adaptation_that_lifts_nothing_here_or_that_nobody_knows_changes_nothing():
    flags = [flag("osteoporosis")]
    plain = judge(flags, "mat_chest_lift", ON)
    for picked in (("smaller_range", "no_such_adaptation"), (None, 7, ["x"]), "unknown", None):
        assert judge(flags, "mat_chest_lift", ON, adaptations=picked) == plain
    assert {found.carries for found in plain.demands.values()} == {None}


# Objects and ids.


def test_a_library_id_and_its_facts_as_an_object_are_judged_alike():
    flags = [flag("pregnancy", due=date(2027, 4, 14)), flag("shoulder_instability", side="left")]
    for exercise_id in ("mat_side_bend", "ref_long_stretch", "st_wall_side_bend"):
        fact = exercises()[exercise_id]
        given = SimpleNamespace(
            id=exercise_id, demands=fact["demands"], demand_sides=fact["demand_sides"], name="ours"
        )
        assert judge(flags, given, ON, side="right") == judge(flags, exercise_id, ON, side="right")


def test_attributes_that_are_missing_or_empty_count_as_none():
    bare = SimpleNamespace(condition="shoulder_instability")
    full = SimpleNamespace(
        condition="shoulder_instability",
        instruction="",
        verdict="",
        words="",
        by="",
        until=None,
        side="",
        on=None,
        due=None,
    )
    exercise = doing("overhead_reach", overhead_reach="named")
    assert judge([bare], exercise, ON, side="left") == judge([full], exercise, ON, side="left")


def test_moments_are_taken_by_their_day():
    at = flag("hip_replacement_posterior", side="left", on=datetime(2026, 11, 1, 23, 30))
    on = flag("hip_replacement_posterior", side="left", on=date(2026, 11, 1))
    exercise = doing("jump_impact")
    assert judge([at], exercise, datetime(2026, 11, 25, 8)) == judge([on], exercise, ON)


def test_an_unknown_exercise_id_is_refused_in_a_sentence():
    with pytest.raises(LookupError, match=r"There is no exercise 'mat_flying' in the library\."):
        judge([], "mat_flying", ON)


@pytest.mark.parametrize("on", [None, "2026-11-25", 5])
def test_a_verdict_needs_a_date(on):
    with pytest.raises(TypeError, match="A verdict needs the date it is for"):
        judge([], "mat_hundred_prep", on)


def test_a_changed_table_may_be_given_as_plain_data():
    rows = [{**row, "verdict": "watch"} if row["id"] == "R001" else row for row in rule_data()["rules"]]
    changed = {**rule_data(), "rules": rows}
    exercise = doing("end_range_spinal_flexion")
    judged = judge([flag("osteoporosis")], exercise, ON, table=changed)
    assert judged.verdict == "watch"
    assert judged.table_version != rule_table().version
    assert judge([flag("osteoporosis")], exercise, ON).verdict == "avoid"


# What the table does not know.


def test_a_condition_outside_the_table_asks():
    judged = judge([flag("gout_of_the_moon", side="left")], "sc_seated_cat", ON)
    assert judged.verdict == "watch"
    (reason,) = judged.exercise_reasons
    assert (reason.kind, reason.code, reason.condition) == ("ask", "not_in_table", "gout_of_the_moon")
    assert reason.text == "Not in the table: ask."


def test_a_flag_that_names_nothing_asks():
    assert judge([SimpleNamespace()], "sc_seated_cat", ON).verdict == "watch"


def test_a_demand_outside_the_table_asks():
    judged = judge([], doing("levitation", "inversion"), ON)
    assert verdicts(judged) == {"levitation": "watch", "inversion": "none"}
    assert judged.verdict == "watch"


def test_an_exercise_nobody_classified_asks_and_one_without_demands_does_not():
    unclassified = judge([], SimpleNamespace(id="own_1", demands=None), ON)
    assert (unclassified.verdict, unclassified.reasons[0].code) == ("watch", "unclassified")
    assert judge([flag("osteoporosis")], doing(), ON).verdict == "none"


# Clinician's instructions.


def test_a_laxer_word_shows_who_said_it_and_keeps_the_rule_in_sight():
    judged = judge(
        [flag("osteoporosis"), word("end_range_rotation", "none")], doing("end_range_rotation"), ON
    )
    assert judged.verdict == "none"
    said, rule = judged.reasons
    assert (said.kind, said.by, said.words, said.outranked) == (
        "instruction",
        "Dr Osei",
        "as in the letter",
        False,
    )
    assert (rule.verdict, rule.rule, rule.outranked) == ("avoid", "R003", True)


def test_a_rule_that_is_no_stricter_than_the_word_is_not_called_outranked():
    judged = judge([flag("osteopenia"), word("end_range_rotation", "avoid")], doing("end_range_rotation"), ON)
    assert [(r.kind, r.outranked) for r in judged.reasons] == [("instruction", False), ("rule", False)]


def test_two_words_on_one_demand_the_stricter_counts():
    flags = [word("inversion", "none"), word("inversion", "modify"), flag("glaucoma")]
    judged = judge(flags, doing("inversion"), ON)
    assert judged.verdict == "modify"
    assert judged.reasons[-1].outranked


UNTIL = [(date(2026, 11, 24), "avoid"), (ON, "watch"), (date(2026, 11, 26), "watch"), (None, "watch")]


@pytest.mark.parametrize(("until", "verdict"), UNTIL, ids=str)
def test_a_word_holds_through_its_last_day(until, verdict):
    judged = judge([flag("glaucoma"), word("inversion", "watch", until=until)], doing("inversion"), ON)
    assert judged.verdict == verdict
    if verdict == "watch":
        assert judged.reasons[0].last_day == until


IN_DOUBT = [
    ("a side that is not known", {"side": "unknown"}),
    ("a date still to come", {"on": date(2026, 12, 1)}),
    ("a word that is no verdict", {"verdict": "perhaps"}),
    ("no verdict", {"verdict": None}),
]


@pytest.mark.parametrize("doubt", [kwargs for _, kwargs in IN_DOUBT], ids=[name for name, _ in IN_DOUBT])
def test_a_doubtful_word_lifts_nothing(doubt):
    said = word("kneeling_load", **{"verdict": "none", **doubt})
    exercise = doing("kneeling_load", kneeling_load="named")
    knee = flag("knee_replacement", side="left", on=date(2026, 11, 1))
    assert judge([knee, said], exercise, ON, side="left").verdict == "avoid"


@pytest.mark.parametrize("doubt", [{"side": "unknown"}, {"on": date(2026, 12, 1)}], ids=["side", "date"])
def test_a_doubtful_word_still_makes_it_stricter(doubt):
    said = word("kneeling_load", "avoid", **doubt)
    exercise = doing("kneeling_load", kneeling_load="named")
    assert judge([said], exercise, ON, side="left").verdict == "avoid"


def test_words_without_a_verdict_are_shown_and_watched():
    judged = judge([word("inversion", None)], doing("inversion"), ON)
    assert (judged.verdict, judged.reasons[0].words) == ("watch", "as in the letter")


def test_a_word_for_one_side_leaves_the_other_to_the_table():
    hips = flag("hip_replacement_posterior", side="both", on=date(2026, 11, 1))
    said = word("hip_flexion_past_90", "modify", side="left")
    exercise = doing("hip_flexion_past_90", hip_flexion_past_90="named")
    found = judge([hips, said], exercise, ON).demands["hip_flexion_past_90"]
    assert dict(found.sides) == {"left": "modify", "right": "avoid"}
    assert not any(reason.outranked for reason in found.reasons)
    assert judge([hips, said], exercise, ON, side="left").reasons[-1].outranked


def test_on_a_demand_without_sides_a_word_for_the_right_does_not_lift_a_rule_of_the_left():
    knee = flag("acl_reconstruction", side="left", on=date(2026, 11, 1))
    exercise = doing("jump_impact")
    assert judge([knee, word("jump_impact", "none", side="right")], exercise, ON).verdict == "avoid"
    assert judge([knee, word("jump_impact", "watch", side="left")], exercise, ON).verdict == "watch"


# Instructions on an exercise.

BONE = flag("osteoporosis")
TWIST_AND_BEND = ("end_range_rotation", "end_range_spinal_flexion", "prone_lying")


def test_a_laxer_word_on_the_exercise_lowers_what_the_table_says_of_each_demand():
    judged = judge([BONE, word("saw", "watch")], doing(*TWIST_AND_BEND, id="saw"), ON)
    assert judged.verdict == "watch"
    assert verdicts(judged) == {
        "end_range_rotation": "watch",
        "end_range_spinal_flexion": "watch",
        "prone_lying": "none",
    }
    assert judged.exercise_reasons[0].by == "Dr Osei"


def test_a_stricter_word_on_the_exercise_stands_by_itself():
    judged = judge([flag("osteopenia"), word("saw", "avoid")], doing(*TWIST_AND_BEND, id="saw"), ON)
    assert judged.verdict == "avoid"
    assert verdicts(judged)["prone_lying"] == "none"
    assert not any(reason.outranked for reason in judged.reasons)


def test_a_stricter_word_on_a_demand_still_counts_under_a_laxer_one_on_the_exercise():
    flags = [BONE, word("saw", "none"), word("end_range_rotation", "modify")]
    judged = judge(flags, doing(*TWIST_AND_BEND, id="saw"), ON)
    assert judged.verdict == "modify"
    assert verdicts(judged)["end_range_spinal_flexion"] == "none"


def test_a_laxer_word_on_a_demand_does_not_loosen_a_stricter_one_on_the_exercise():
    flags = [word("saw", "avoid"), word("end_range_rotation", "none")]
    assert judge(flags, doing(*TWIST_AND_BEND, id="saw"), ON).verdict == "avoid"


def test_a_word_on_the_exercise_for_one_side_means_the_side_of_the_record():
    knees = flag("knee_replacement", side="both", on=date(2026, 11, 1))
    said = word("kick", "watch", side="left")
    exercise = doing("kneeling_load", id="kick", kneeling_load="other")
    by_side = {
        side: judge([knees, said], exercise, ON, side=side).verdict for side in ("left", "right", None)
    }
    assert by_side == {"left": "watch", "right": "avoid", None: "avoid"}


def test_a_word_on_the_exercise_does_not_answer_for_a_condition_outside_the_table():
    flags = [flag("gout_of_the_moon"), word("saw", "none")]
    assert judge(flags, doing(*TWIST_AND_BEND, id="saw"), ON).verdict == "watch"


def test_a_word_on_a_library_exercise_counts_for_that_exercise_only():
    said = word("mat_saw", "avoid")
    assert judge([said], "mat_saw", ON).verdict == "avoid"
    assert judge([said], "mat_spine_stretch", ON).verdict == "none"


# Time on the back. Rows of the pregnancy table: S36, S38, S156; the limit of 180 s: earliest onset of
# faintness in S157, in whole minutes. due 2027-04-14 is 20 weeks on the day that is judged.
SPELLS = [
    (date(2027, 4, 14), 180, "modify", "R691"),
    (date(2027, 4, 14), 181, "avoid", "R359"),
    (date(2027, 4, 14), None, "avoid", "R359"),
    (date(2027, 5, 20), 106, "watch", "R690"),
    (date(2027, 5, 20), None, "modify", "R358"),
    (date(2027, 2, 17), 60, "avoid", "R692"),
    (date(2027, 2, 18), 60, "modify", "R691"),
]


@pytest.mark.parametrize(("due", "seconds", "verdict", "rule"), SPELLS)
def test_minutes_on_the_back_in_pregnancy(due, seconds, verdict, rule):
    judged = judge([flag("pregnancy", due=due)], doing("supine_lying_long"), ON, supine_seconds=seconds)
    assert (judged.verdict, [r.rule for r in judged.reasons]) == (verdict, [rule])


# The small helper.


def test_the_strictest_of_some_verdicts():
    assert strictest(["watch", "avoid", "none"]) == "avoid"
    assert strictest([]) == "none"
    with pytest.raises(ValueError, match="'maybe' is not a verdict"):
        strictest(["maybe"])
