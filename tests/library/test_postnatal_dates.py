"""One client after a birth on three dates: four weeks, ten weeks and five months after it.

Read by hand in the tables of section 4.10 of the screening page and typed here, not taken from the data. Behind
them: HSE Ireland on exercise after a caesarean (S39), BJSM on running after birth (S40), NHS Fife (S41), Cardiff
and Vale UHB (S42), a pelvic-floor page (S43); the rest is common practice, no source. Each row names its rules.
"""

import datetime as dt

import pytest

from library.precautions import clearance, judge

from .cases_screening_kit import flag

BORN = "2026-07-18"
# 28, 70 and 153 days after: before the check at six to eight weeks, at ten weeks, in the fifth month.
DATES = (dt.date(2026, 8, 15), dt.date(2026, 9, 26), dt.date(2026, 12, 18))

CAESAREAN = {
    "mat_breath_supine": "none none none",
    "mat_pelvic_tilt": "none none none",
    "sc_seated_twist": "none none none",
    "st_sit_to_stand": "none none none",
    # R398 R399, then R409 R626
    "mat_chest_lift": "avoid modify none",
    # R398 R405 R637, then R409 R639
    "mat_rolling_back": "avoid modify none",
    # R400 holds for twelve weeks, R627 until the sixteenth
    "mat_leg_circle": "avoid avoid none",
    # R401 R634, then R401 R635, then R640
    "mat_plank": "avoid avoid modify",
    # R634, then R635 until the sixteenth week
    "mat_plank_knees": "avoid modify none",
    # R638
    "st_wall_push_up": "modify none none",
    "sp_band_row": "modify none none",
    # R631 for twelve weeks
    "mat_spine_twist": "modify modify none",
    # R629, then R630
    "mat_mermaid": "avoid modify none",
    # R406 R633, then R633 R636
    "mat_prone_chest_lift": "modify modify none",
    # R403 R404 for sixteen weeks, then R410
    "ref_jump": "avoid avoid modify",
    # R638 R641, then R641
    "ref_chest_expansion": "modify modify none",
}
VAGINAL = {
    "mat_breath_supine": "none none none",
    "mat_spine_twist": "none none none",
    "mat_mermaid": "none none none",
    # R385 R386, then R395
    "mat_chest_lift": "avoid modify none",
    # R387, then R620
    "mat_leg_circle": "avoid modify none",
    # R389 R622, then R389 R622, then R397
    "mat_plank": "avoid avoid modify",
    # R388, R391, then R396
    "ref_jump": "avoid avoid modify",
    # R394
    "st_wall_squat": "modify none none",
    # R625 for twenty-six weeks
    "mat_hamstring_band": "watch watch watch",
}
# A separated belly beside a caesarean: R411 to R418 have no end.
WITH_A_GAP = {
    "mat_breath_supine": "none none none",
    "st_wall_push_up": "modify none none",
    # R411 R412 beside the rules above
    "mat_chest_lift": "avoid modify modify",
    # R413
    "mat_leg_circle": "avoid avoid modify",
    # R414 R417
    "mat_plank": "avoid avoid avoid",
    "mat_plank_knees": "avoid modify modify",
    # R411
    "mat_rolling_back": "avoid modify modify",
    "mat_mermaid": "avoid modify none",
}
CLIENTS = {
    "caesarean": ([flag("postnatal_caesarean", on=BORN)], CAESAREAN),
    "vaginal birth": ([flag("postnatal_vaginal", on=BORN)], VAGINAL),
    "caesarean and a gap": ([flag("postnatal_caesarean", on=BORN), flag("diastasis_recti")], WITH_A_GAP),
}
ROWS = [
    pytest.param(flags, exercise, words.split(), id=f"{client}-{exercise}")
    for client, (flags, table) in CLIENTS.items()
    for exercise, words in table.items()
]


@pytest.mark.parametrize(("flags", "exercise", "expected"), ROWS)
def test_three_dates(flags, exercise, expected):
    assert [judge(flags, exercise, day).verdict for day in DATES] == expected


# Both births: "ask to day 84".
@pytest.mark.parametrize("condition", ["postnatal_caesarean", "postnatal_vaginal"])
def test_the_clinic_is_asked_until_the_twelfth_week(condition):
    asked = [[one.level for one in clearance([flag(condition, on=BORN)], day)] for day in DATES]
    assert asked == [["ask"], ["ask"], []]
