"""Home practice as plain values: doses, minutes, gates, words that may not go home.

Gates after the studio's own rules; that fewer exercises are done better: Henry KD, Rosemond C, Eckert LB.
Phys Ther 1999;79:270-277 (two done better than eight), cited from memory. Times are reckoned by hand:
set-up + repetitions x seconds each + the switch of sides.
"""

import pytest

from library import tables
from sessions import home_rules as rules
from sessions import home_wording

LYING = {
    "id": "lying",
    "sides": "both_together",
    "side_means": None,
    "reps_min": 6,
    "reps_max": 8,
    "seconds_per_rep": 8,
    "setup_s": 20,
    "switch_s": 0,
    "breath": "free",
    "compare_by": None,
    "families": ["hip_extension"],
    "home_props": [],
}
ON_ONE_LEG = LYING | {
    "id": "on_one_leg",
    "sides": "one_then_other",
    "side_means": "stance_leg",
    "reps_min": 2,
    "reps_max": 3,
    "seconds_per_rep": 15,
    "switch_s": 10,
    "breath": "hold_keep_breathing",
    "compare_by": "hold_s",
    "home_props": ["sturdy_chair", "wall"],
}


def item(facts, **changes) -> dict:
    return {**rules.usual("public", facts), **changes}


@pytest.mark.parametrize(
    ("changes", "dose"),
    [
        ({}, {"both": {"times": 7}}),
        ({"seconds": 20}, {"both": {"times": 7, "seconds": 20}}),
        ({"repetitions": None, "seconds": 20}, {"both": {"seconds": 20}}),
    ],
    ids=["so many", "so many holds", "one hold"],
)
def test_dose_of_work_without_sides(changes, dose):
    assert rules.dose(item(LYING, **changes), LYING) == dose


@pytest.mark.parametrize(
    ("changes", "left", "right"),
    [
        ({}, {"times": 3, "seconds": 15}, {"times": 3, "seconds": 15}),
        ({"repetitions": 10, "seconds": None, "repetitions_right": 8}, {"times": 10}, {"times": 8}),
        ({"seconds_right": 10}, {"times": 3, "seconds": 15}, {"times": 3, "seconds": 10}),
        ({"sides": "left"}, {"times": 3, "seconds": 15}, None),
        ({"sides": "right"}, None, {"times": 3, "seconds": 15}),
    ],
    ids=["usual", "fewer right", "shorter right", "left only", "right only"],
)
def test_both_sides_get_the_same_unless_typed_different(changes, left, right):
    dose = rules.dose(item(ON_ONE_LEG, **changes), ON_ONE_LEG)
    assert dose.pop("means") == "stance_leg"
    assert dose == {side: count for side, count in (("left", left), ("right", right)) if count}


@pytest.mark.parametrize(
    ("facts", "changes", "seconds"),
    [
        (LYING, {}, 20 + 7 * 8),
        (LYING, {"repetitions": 10}, 20 + 10 * 8),
        (ON_ONE_LEG, {}, 20 + 2 * 3 * 15 + 10),
        (ON_ONE_LEG, {"repetitions_right": 2}, 20 + (3 + 2) * 15 + 10),
        (ON_ONE_LEG, {"sides": "left"}, 20 + 3 * 15),
        (ON_ONE_LEG, {"repetitions": None, "seconds": 30}, 20 + 2 * 30 + 10),
    ],
    ids=["middle of the range", "typed", "both sides", "fewer right", "one side", "one long hold"],
)
def test_time_is_the_bare_time_of_what_is_on_the_sheet(facts, changes, seconds):
    assert rules.seconds(item(facts, **changes), facts) == seconds


@pytest.mark.parametrize(("seconds", "long"), [(719, False), (720, False), (721, True)])
def test_it_is_long_above_twelve_minutes(seconds, long):
    assert rules.is_long(seconds) is long


@pytest.mark.parametrize(
    ("item", "often"),
    [
        ({"per_week": 7, "days": []}, {"days": 7}),
        ({"per_week": 4, "days": []}, {"days": 4}),
        ({"per_week": None, "days": [0, 3]}, {"weekdays": [0, 3]}),
        ({"per_week": None, "days": list(range(7))}, {"days": 7}),
    ],
    ids=["every day", "four days", "by name", "all seven by name"],
)
def test_how_often(item, often):
    assert rules.often(item) == often


def test_an_item_that_names_its_days_keeps_them():
    kept = rules.whole({"exercise": "public", "days": [0, 2, 4]}, LYING)
    assert rules.often(kept) == {"weekdays": [0, 2, 4]}
    assert set(kept) == set(rules.usual("public", LYING))


OWNED, NOTED = {"sturdy_chair", "wall"}, {"left", "right"}
READY = {"verdict": "none", "owned": OWNED, "noted": NOTED, "place": 0}
NEEDS = [
    ("nothing", {}, {}, []),
    ("watch needs nothing", {"verdict": "watch"}, {}, []),
    ("avoid, whatever is answered", {"verdict": "avoid"}, {"change": "Less.", "has_it": True}, ["avoid"]),
    ("modify without a change", {"verdict": "modify"}, {}, ["change"]),
    ("modify with blanks for a change", {"verdict": "modify"}, {"change": "  "}, ["change"]),
    ("modify with a change of the list", {"verdict": "modify"}, {"adaptations": ["slower"]}, []),
    ("modify with a change in words", {"verdict": "modify"}, {"change": "Left arm: to the tape."}, []),
    ("a wall is missing", {"owned": {"sturdy_chair"}}, {}, ["props"]),
    ("a wall they have after all", {"owned": {"sturdy_chair"}}, {"has_it": True}, []),
    ("never noted", {"noted": set()}, {}, ["taught"]),
    ("noted on one side", {"noted": {"left"}}, {}, ["taught"]),
    ("noted on the side that goes home", {"noted": {"left"}}, {"sides": "left"}, []),
    ("noted with both together", {"noted": {"both"}}, {}, []),
    ("taught today", {"noted": set()}, {"taught_on": "2026-11-25"}, []),
    ("the fourth", {"place": 3}, {}, []),
    ("the fifth", {"place": 4}, {}, ["beyond"]),
    ("the fifth with a yes", {"place": 4}, {"beyond": True}, []),
    (
        "everything at once",
        {"verdict": "modify", "owned": set(), "noted": set(), "place": 4},
        {},
        ["change", "props", "taught", "beyond"],
    ),
]


@pytest.mark.parametrize(
    ("known", "changes", "needs"), [row[1:] for row in NEEDS], ids=[row[0] for row in NEEDS]
)
def test_what_an_exercise_needs_before_it_goes_home(known, changes, needs):
    assert rules.needs(item(ON_ONE_LEG, **changes), ON_ONE_LEG, **(READY | known)) == needs


@pytest.mark.parametrize(("by", "order"), [(-1, "bac"), (1, "acb")], ids=["earlier", "later"])
def test_moving(by, order):
    items = [{"exercise": name} for name in "abc"]
    assert "".join(one["exercise"] for one in rules.moved(items, "b", by)) == order


@pytest.mark.parametrize(("name", "by"), [("a", -1), ("c", 1), ("z", 1)], ids=["first", "last", "stranger"])
def test_moving_past_an_end_changes_nothing(name, by):
    items = [{"exercise": one} for one in "abc"]
    assert rules.moved(items, name, by) == items


FILE = {
    "osteoporosis": ["Osteoporosis, no spinal fracture known", "osteoporosis"],
    "frozen": ["Frozen shoulder (adhesive capsulitis)"],
    "pregnancy": ["Pregnancy"],
    "acl": ["ACL reconstruction", "acl reconstruction"],
    "clinician": ["A. Thornquill, physiotherapist"],
}
TOLD = [
    ("a condition", "osteoporosis", "Mind your osteoporosis.", ["osteoporosis"]),
    ("whatever the case", "osteoporosis", "OSTEOPOROSIS!", ["OSTEOPOROSIS"]),
    ("another ending", "osteoporosis", "For osteoporotic bones.", ["osteoporotic"]),
    ("an accent", "osteoporosis", "östeoporosis", ["östeoporosis"]),
    ("body words are free", "frozen", "Left shoulder: stop at the tape.", []),
    ("its telling word is not", "frozen", "Your frozen shoulder decides.", ["frozen"]),
    ("its state", "pregnancy", "As you are pregnant, sit up.", ["pregnant"]),
    ("letters for a name", "acl", "Careful with the ACL.", ["ACL"]),
    ("part of another word", "acl", "Oracle", []),
    ("whose word it was", "clinician", "As Thornquill wants it.", ["Thornquill"]),
    ("a trade", "clinician", "Ask your physiotherapist.", []),
    ("something else on nobody's file", "frozen", "Mind your osteoporosis.", []),
    ("nothing", "frozen", "", []),
]


@pytest.mark.parametrize(("file", "text", "told"), [row[1:] for row in TOLD], ids=[row[0] for row in TOLD])
def test_words_that_tell_what_is_on_file(file, text, told):
    assert rules.told(text, FILE[file]) == told


def test_every_condition_has_a_word_that_tells_it():
    for key, row in tables.rule_table().conditions.items():
        names = [row["label"], key.replace("_", " ")]
        words = set(" ".join(names).replace(",", " ").split())
        assert rules.told(" ".join(words), names), row["label"]


@pytest.mark.parametrize(
    ("problem", "words"),
    [
        (("telephone", "missing", None), "telephone number is missing"),
        (("look_again", "order", None), "gone by"),
        (("items", "too_few", 2), "two to five"),
        (("when", "too_long", 120), "Shorten it to 120 letters: when in the day."),
        (("items.2.cue", "too_long", 240), "Exercise 3, the cue: shorten it to 240 letters."),
        (("items.0.adaptations", "too_many", 6), "Exercise 1, the changes: 6 at most."),
        (("items.0.pose", "missing", None), "Exercise 1 cannot be printed: its drawing."),
        (("paper", "unknown", None), "cannot be made: paper."),
    ],
    ids=lambda value: value[0] if isinstance(value, tuple) else None,
)
def test_what_keeps_a_page_from_being_made_is_a_sentence(problem, words):
    assert words in home_wording.problem(*problem)
