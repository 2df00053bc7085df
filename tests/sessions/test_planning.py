"""The sums of a plan against worked examples.

Source: the trade's own arithmetic, worked by hand from the library's repetitions and seconds; the numbers
themselves (pace 1.6 and 2.0, 75 s a change) are common practice, no source.
"""

import pytest

from library import tables
from sessions.planning import Pace, Row, bare_seconds, changes, total_seconds, whole_minutes

# A 55-minute private of seventeen entries; each time is set-up + middle of the range, counted by hand.
WORKED = {
    "mat_breath_supine": 67,
    "mat_pelvic_curl": 66,
    "mat_knee_fold": 60,
    "mat_chest_lift": 58,
    "mat_clam": 115,
    "ref_foot_heels": 80,
    "ref_foot_toes": 80,
    "ref_foot_single": 100,
    "ref_tendon": 50,
    "ref_frog": 80,
    "ref_bottom_lift": 82,
    "ref_side_lying_press": 150,
    "ch_standing_pump": 102,
    "mat_bird_dog": 88,
    "st_single_leg_stand": 95,
    "mat_hip_flexor_stretch": 122,
    "st_roll_down": 58,
}


def middle(facts):
    """The exact middle of the range, which may be a half."""
    reps = (facts["reps_min"] + facts["reps_max"]) / 2
    if facts["sides"] == "both_together":
        return Row(facts, both=reps)
    return Row(facts, left=reps, right=reps)


@pytest.mark.parametrize("key, seconds", WORKED.items())
def test_bare_time_of_each_entry(key, seconds):
    assert bare_seconds(middle(tables.exercise(key))) == pytest.approx(seconds, abs=0.6)


def test_bare_time_of_the_worked_plan():
    assert sum(bare_seconds(middle(tables.exercise(key))) for key in WORKED) == pytest.approx(1453, abs=1)


def test_clam_eight_a_side():
    clam = tables.exercise("mat_clam")
    assert bare_seconds(Row(clam, left=8, right=8)) == 15 + 64 + 20
    assert bare_seconds(Row(clam, left=12, right=12)) == 131


def test_one_side_only_has_no_switch():
    clam = tables.exercise("mat_clam")
    assert bare_seconds(Row(clam, left=8)) == 15 + 32


@pytest.mark.parametrize(
    "pace, seconds, minutes",
    [(160, 300 + 1453 * 1.6 + 225 + 240, 52), (200, 3671, 62)],
    ids=["known material, 3.5 minutes free", "new material, 6 min 11 s over"],
)
def test_the_whole_session(pace, seconds, minutes):
    rows = [middle(tables.exercise(key)) for key in WORKED]
    assert changes(rows) == 3
    total = total_seconds(rows, Pace(pace_percent=pace))
    assert total == pytest.approx(seconds, abs=2)
    assert whole_minutes(total) == minutes


def test_typed_minutes_stand_in_for_the_sum():
    clam = tables.exercise("mat_clam")
    assert total_seconds([Row(clam, left=8, right=8, minutes=4)], Pace()) == 300 + 240 + 240


def test_going_between_mat_and_standing_is_no_change():
    rows = [middle(tables.exercise(k)) for k in ("mat_clam", "st_roll_down", "sp_band_row", "ref_frog")]
    assert changes(rows) == 1
