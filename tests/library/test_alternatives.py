"""What is proposed instead of an exercise: by hand, and what must hold for anybody."""

from types import SimpleNamespace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from library import alternatives, alternatives_wording, lifts
from library.alternatives import Why, nearest
from library.precautions import judge
from library.tables import exercise, exercises
from library.verdicts import RANK
from tests.rows import each

from .cases_alternatives import LATER, ON, ROWS, flag, flags_of
from .test_precautions_properties import flag_lists

exercise_ids = st.sampled_from(sorted(exercises()))
FEW = settings(max_examples=60, deadline=None)


def instead(flags, exercise_id, **more):
    """Ask as the screens do: each judged for these flags, lifts proposed."""

    def judge_changed(other, codes):
        return judge(flags, other, ON, adaptations=codes)

    return nearest(exercise_id, lambda other: judge(flags, other, ON), judge_changed=judge_changed, **more)


def ids(found):
    return [one.id for one in found]


# By hand: common practice, no source (see cases_alternatives).


@each("row", ROWS, ids=lambda row: row[0])
def test_first_three_are_what_an_instructor_would_take(row):
    name, _flag, exercise_id, wanted = row
    assert judge(flags_of(row), exercise_id, ON).verdict == "avoid"
    wanted = {*wanted.split(), *LATER.get(name, "").split()}
    assert wanted <= set(exercises())
    first = ids(instead(flags_of(row), exercise_id))[:3]
    assert len(first) == 3
    assert set(first) <= wanted


def test_table_by_hand_is_large_enough_and_mostly_untouched():
    assert len({(id(row[1]), row[2]) for row in ROWS}) >= 30
    assert set(LATER) <= {row[0] for row in ROWS}
    assert len(LATER) < len(ROWS) / 2


# Properties, for any client and any exercise.


@FEW
@given(flag_lists, exercise_ids)
def test_nothing_to_be_avoided_is_proposed(flags, exercise_id):
    for one in instead(flags, exercise_id):
        again = judge(flags, one.id, ON, adaptations=one.adaptations)
        assert again.verdict == one.judgement.verdict != "avoid"


@FEW
@given(flag_lists, exercise_ids)
def test_each_shares_a_skill_and_none_is_the_exercise_itself(flags, exercise_id):
    found = instead(flags, exercise_id)
    own = set(exercise(exercise_id)["skills"])
    assert exercise_id not in ids(found)
    assert len(set(ids(found))) == len(found) <= 6
    for one in found:
        assert one.skills
        assert set(one.skills) == own & set(exercise(one.id)["skills"])


@FEW
@given(flag_lists.flatmap(lambda flags: st.tuples(st.just(flags), st.permutations(flags))), exercise_ids)
def test_order_of_flags_changes_nothing(both, exercise_id):
    def bare(flags):
        return [(one.id, one.why, one.adaptations) for one in instead(flags, exercise_id)]

    assert bare(both[0]) == bare(both[1])


@FEW
@given(flag_lists, exercise_ids)
def test_those_that_need_a_change_come_last_and_verdicts_only_grow(flags, exercise_id):
    order = [(bool(one.adaptations), RANK[one.judgement.verdict]) for one in instead(flags, exercise_id)]
    assert order == sorted(order)


@FEW
@given(flag_lists, exercise_ids)
def test_what_is_said_of_each_is_true(flags, exercise_id):
    for one in instead(flags, exercise_id, at_hand={"reformer": "booked", "chair": "free"}):
        made = set(exercise(one.id)["demands"])
        for why in one.why:
            assert alternatives_wording.why_words(why)
            if why.code == "without":
                assert why.about not in made
            if why.code in ("same_skill", "other_skill"):
                assert why.about in one.skills
            if why.code == "easier_relative":
                here = exercise(exercise_id)
                assert one.id in {*here["regression_to"], *here["progression_of"]}
            if why.code in ("booked", "free", "elsewhere", "same_apparatus"):
                assert why.about == exercise(one.id)["apparatus"]


@each("exercise_id", sorted(exercises()))
def test_everything_has_variety(exercise_id):
    """Without a client every exercise has others beside it that train its first skill."""
    found = nearest(exercise_id, None)
    main = exercise(exercise_id)["skills"][0]
    assert len(found) >= 2
    assert all(one.judgement is None and main in one.skills for one in found)


# The questions, one by one.


def test_other_skills_count_only_where_the_first_one_has_nothing_left():
    shelf = {key: exercise(key) for key in ("mat_hundred", "mat_plank_knees", "mat_arm_arcs")}
    assert ids(nearest("mat_hundred", None, exercises=shelf)) == ["mat_plank_knees"]
    found = nearest("mat_hundred", None, exercises=shelf, leave_out=("mat_plank_knees",))
    assert [(one.id, one.why[0]) for one in found] == [("mat_arm_arcs", Why("other_skill", "breath_control"))]


def test_two_levels_harder_is_not_similar():
    advanced = {key for key, facts in exercises().items() if facts["level"] == "advanced"}
    for exercise_id, facts in exercises().items():
        if facts["level"] == "foundation":
            assert advanced.isdisjoint(ids(nearest(exercise_id, None, limit=300)))


def test_what_is_at_hand_comes_first_and_the_floor_is_always_at_hand():
    found = nearest("ref_short_box_round", None, at_hand={"ladder_barrel": "free"}, limit=300)
    far = [
        exercise(one.id)["apparatus"] not in alternatives.ALWAYS_THERE | {"ladder_barrel"} for one in found
    ]
    assert far == sorted(far)
    assert any(far)
    assert Why("free", "ladder_barrel") in next(one for one in found if one.id == "lb_roll_back").why
    assert Why("elsewhere", "reformer") in next(one for one in found if one.id == "ref_bottom_lift").why


def test_bare_collection_at_hand_counts_as_booked():
    found = nearest("ref_short_box_round", None, at_hand=("reformer",), limit=300)
    assert Why("booked", "reformer") in next(one for one in found if one.id == "ref_bottom_lift").why


def test_easier_version_is_judged_like_any_other():
    """A way down that itself bends the loaded back is no way out for brittle bones."""
    assert "mat_half_roll_back" in exercise("ref_short_box_round")["regression_to"]
    assert "mat_half_roll_back" not in ids(instead([flag("osteoporosis")], "ref_short_box_round", limit=300))


def test_clinicians_word_on_an_exercise_keeps_it_out():
    word = SimpleNamespace(instruction="arc_bridge", verdict="avoid", words="not yet", by="Dr Osei")
    assert "arc_bridge" in ids(instead([flag("osteoporosis")], "mat_roll_up"))
    assert "arc_bridge" not in ids(instead([flag("osteoporosis"), word], "mat_roll_up", limit=300))


def test_affected_side_decides():
    """A loose right shoulder: work that loads only the left arm may stay."""
    flags = [flag("shoulder_instability", "right")]

    def left_only(other):
        return judge(flags, other, ON, side="left")

    one_sided = [
        key
        for key, facts in exercises().items()
        if facts["demand_sides"].get("shoulder_weight_bearing") == "named"
        and left_only(key).verdict != "avoid"
    ]
    assert one_sided
    for key in one_sided:
        assert judge(flags, key, ON).verdict == "avoid"
        original = exercise(key)
        others = [k for k, f in exercises().items() if original["skills"][0] in f["skills"] and k != key]
        found = nearest(others[0], left_only, limit=300)
        assert key in ids(found) or alternatives.level_step(exercise(others[0]), original) > 1


def test_change_that_lifts_a_demand_is_named_and_comes_after():
    flags = [flag("pregnancy", due_in=112)]
    found = instead(flags, "mat_prone_chest_lift", limit=300)
    changed = [one for one in found if one.adaptations]
    assert changed
    for one in changed:
        (code,) = one.adaptations
        assert one.why[0] == Why("with_change", code)
        assert one.judgement.verdict == "modify"
        assert one.judgement.carries == (code,)
        assert code in {row.adaptation for row in lifts.of_exercise(one.id)}


def test_exercise_outside_the_library_says_so():
    with pytest.raises(LookupError, match="no exercise"):
        nearest("mat_of_nowhere", None)


# Words.


def test_what_holds_for_all_is_said_once():
    lists = [["same", "easier", "floor"], ["same", "floor"], ["same", "booked"]]
    assert alternatives_wording.apart(lists) == (["same"], [["easier", "floor"], ["floor"], ["booked"]])
    assert alternatives_wording.apart([["same", "floor"]]) == ([], [["same", "floor"]])


def test_only_the_first_of_several_demands_is_named():
    whys = [
        Why("same_skill", "balance_control"),
        Why("without", "inversion"),
        Why("without", "kneeling_load"),
    ]
    assert alternatives_wording.whys(whys) == ["Same skill: balance", "Without: head below the heart"]


@pytest.mark.parametrize(
    ("why", "words"),
    [
        (Why("easier_relative"), "Easier relative"),
        (Why("booked", "reformer"), "On the reformer you have booked"),
        (Why("with_change", "do_standing"), "Only with: standing instead"),
        (Why("harder"), "One level harder"),
    ],
    ids=lambda value: value.code if isinstance(value, Why) else None,
)
def test_words_of_a_reason(why, words):
    assert alternatives_wording.why_words(why) == words
