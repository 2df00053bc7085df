"""Minutes on the back: how neighbouring entries add up, and what ends a spell.

Times of single entries follow the library's formula, set-up + repetitions x seconds x sides + switch, times the
pace: sums done by hand. Three minutes part short from long (earliest onset of faintness in a textbook, S157); the
minute that ends a spell is common practice, no source. What is off the back in doubt is read the stricter way.
"""

from types import SimpleNamespace

import pytest

from library import supine
from library.precautions import judge, supine_spells
from library.tables import exercises, rule_table
from library.transitions import added

from .cases_lifts import ON, pregnant

# Pelvic curl: 10 + 7 x 8 = 66 s; at 1.6: 105.6 s. Pelvic tilt: 10 + 7 x 6 = 52 s; at 1.6: 83.2 s.
CURL, TILT = ("mat_pelvic_curl", None, ()), ("mat_pelvic_tilt", None, ())
# Clam, 10 a side: 15 + 10 x 4 x 2 + 20 = 115 s (worked example of the formula: 8 give 99 s, 12 give 131 s).
CLAM = ("mat_clam", None, ())
WEDGE, SEATED, ON_SIDE = ("trunk_raised_on_wedge",), ("do_seated",), ("do_side_lying",)


@pytest.mark.parametrize(("repetitions", "seconds"), [(8, 99), (12, 131), (None, 115)])
def test_seconds_of_an_entry_worked_by_hand(repetitions, seconds):
    clam = exercises()["mat_clam"]
    assert supine.planned_seconds(clam, repetitions, 1) == seconds
    assert supine.planned_seconds(clam, repetitions, 2) == 2 * seconds


def test_the_middle_of_an_odd_range_is_rounded_up():
    assert supine.planned_seconds(exercises()["mat_breath_supine"], None, 1) == 15 + 7 * 8  # 5 to 8


PLANS = [
    ("nothing", [], []),
    ("one entry alone", [CURL], [106]),
    ("two neighbours", [CURL, TILT], [189]),
    ("whole seconds are rounded up once", [CURL, CURL, CURL], [317]),
    ("a minute's pause", [CURL, 60, TILT], [106, 84]),
    ("a shorter pause is not added", [CURL, 59, TILT], [189]),
    ("two short pauses do not add up to one", [CURL, 40, 40, TILT], [189]),
    ("an entry on the side", [CURL, CLAM, TILT], [106, 84]),
    # One clam a side at bare pace 0.5: (15 + 8 + 20) / 2 = 21.5 s; the entries on the back 33 and 26 s.
    ("a short entry on the side", 0.5, [CURL, ("mat_clam", 1, ()), TILT], [59]),
    ("off the back at both ends", [CLAM, 90, CURL, CLAM], [106]),
    ("an entry that is never on the back", [CLAM, 30], []),
    ("on a wedge it is not added and ends nothing", [CURL, ("mat_pelvic_tilt", None, WEDGE), CURL], [212]),
    ("on a wedge alone it is no spell", [("mat_pelvic_tilt", None, WEDGE)], []),
    ("a wedge does not help a bridge", [("mat_pelvic_curl", None, WEDGE), TILT], [189]),
    ("the same work sitting ends it", [CURL, ("mat_breath_supine", None, SEATED), CURL], [106, 106]),
    ("the same work on the side ends it", [CURL, ("mat_breath_supine", None, ON_SIDE), CURL], [106, 106]),
    # In doubt which of the two is meant: 15 + 7 x 8 = 71 s not added, and no end.
    ("sitting or on a wedge", [CURL, ("mat_breath_supine", None, (*SEATED, *WEDGE)), CURL], [212]),
    ("sitting where no row says so", [CURL, ("mat_pelvic_tilt", None, SEATED), CURL], [295]),
    ("the wall slide lying down is on the back", [CURL, ("st_wall_slide", 5, ("do_lying",)), CURL], [276]),
    ("an unknown adaptation", [CURL, ("mat_pelvic_tilt", None, ("fly",)), CURL], [295]),
]


@pytest.mark.parametrize("plan", PLANS, ids=[plan[0] for plan in PLANS])
def test_spells_of_a_plan(plan):
    _, *pace, entries, seconds = plan
    assert supine_spells(entries, pace[0] if pace else 1.6) == seconds


# The positions named beside the rule: the side, sitting, kneeling, standing. Face down, four-point and plank are
# plainly off the back too. Upside-down work begins and ends on the back; over an arc one still lies.
BETWEEN = [
    ("mat_clam", "side_lying", True),
    ("mat_spine_stretch", "seated", True),
    ("mat_kneel_arm_raise", "kneeling", True),
    ("st_heel_raise", "standing", True),
    ("mat_dart", "prone", True),
    ("mat_cat", "quadruped", True),
    ("mat_plank", "plank_support", True),
    ("tt_half_hang", "inverted", False),
    ("arc_chest_lift", "supine", False),
]


@pytest.mark.parametrize(("exercise", "position", "ends"), BETWEEN, ids=[row[1] for row in BETWEEN])
def test_what_is_off_the_back(exercise, position, ends):
    facts = exercises()[exercise]
    assert facts["position"] == position
    assert supine.row(facts, 75) == (75, False, ends)


def test_every_position_of_the_library_is_decided():
    decided = {position for _, position, _ in BETWEEN}
    assert decided == {fact["position"] for fact in exercises().values()}
    assert decided - supine.OFF_THE_BACK == {"inverted", "supine"}


def test_upside_down_on_the_back_counts_as_flat():
    assert supine.row(exercises()["mat_scissors"], 75) == (75, True, False)


# Rows.


def test_each_row_knows_the_spell_it_stands_in():
    rows = [(100, True, False), (30, False, True), (60.2, True, False), (60, False, True), (10, True, False)]
    assert supine.spells(rows) == [161, None, 161, None, 10]
    assert supine.spells([SimpleNamespace(seconds=s, lies_flat=f, ends_spell=e) for s, f, e in rows]) == [
        161,
        None,
        161,
        None,
        10,
    ]
    assert supine.lengths(rows) == [161, 10]
    assert supine.spells([]) == supine.lengths([]) == []


def test_a_row_that_is_no_end_by_its_kind_ends_nothing_however_long():
    assert supine.spells([(100, True, False), (600, False, False), (100, True, False)]) == [200, None, 200]


def test_the_figures_are_the_tables():
    assert (rule_table().supine_limit_s, rule_table().supine_break_s) == (180, 60)


def test_exact_seconds_do_not_tip_over():
    # 50 x 1.1 is 55 exactly, and ten times 3.3 is 33, whatever binary fractions make of them.
    assert 50 * 1.1 > 55
    assert supine.spells([(50 * 1.1, True, False)]) == [55]
    assert supine.lengths([(1.1 * 3, True, False)] * 10) == [33]
    assert supine.lengths([(180.01, True, False)]) == [181]


# 20 weeks pregnant: up to 27w6d a short spell is 'modify', a long one 'avoid' (S36, S156; stricter: S38).
# Pelvic curl alone is 106 s and so a short spell; after another entry it is not.
def test_neighbours_turn_a_short_spell_long():
    alone = supine_spells([CURL], 1.6)[0]
    among = supine_spells([CURL, TILT], 1.6)[0]
    parted = supine_spells([CURL, 60, TILT], 1.6)[0]
    verdicts = [
        judge([pregnant(20)], "mat_pelvic_curl", ON, supine_seconds=s).verdict for s in (alone, among, parted)
    ]
    assert verdicts == ["modify", "avoid", "modify"]


# Going from one entry to the next. The half minute is the usual way round a quick change: sit for half a minute
# before standing (common practice, no source).
CHANGES = [
    ("supine", "standing", 0, True),
    ("standing", "supine", 0, True),
    ("prone", "standing", 29, True),
    ("side_lying", "standing", 29.9, True),
    ("standing", "prone", None, True),
    ("inverted", "standing", 0, True),  # begins and ends on the back or hanging
    ("supine", "standing", 30, False),
    ("supine", "seated", 0, False),
    ("seated", "standing", 0, False),
    ("kneeling", "standing", 0, False),
    ("quadruped", "standing", 0, False),
    ("plank_support", "standing", 0, False),
    ("supine", "side_lying", 0, False),
    ("supine", "prone", 0, False),
    ("standing", "standing", 0, False),
    (None, "standing", 0, False),
    ("supine", None, 0, False),
    ("floating", "standing", 0, False),
]


@pytest.mark.parametrize(("before", "after", "pause", "quick"), CHANGES)
def test_a_quick_change_of_position(before, after, pause, quick):
    assert added(before, after, pause) == (("rapid_position_change",) if quick else ())
