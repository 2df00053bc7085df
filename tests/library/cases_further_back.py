"""Further cases: minutes on the back, and the limits of a pregnancy in weeks and days.

Short is up to and including 180 s, long is more or not known (screening 4.1, CP; S155, S156, S157). Weeks of a
pregnancy: to 13w6d, 14w0d to 15w6d, 16w0d to 27w6d, from 28w0d on (screening R357-R378, R690-R692, section 3.1).
"""

from .cases_further_kit import had, pregnant, row, weeks

EARLY = "screening R357, S37"
TO_16 = "screening R358, R690, S36, S38, S156"
TO_28 = "screening R359, R691, S36, S38, S156, S157"
LATE = "screening R359, R692, S155, S157, CP"
WEDGE = "screening 4.1, lifts L01, CP"
WEDGE_FOLDS = "screening 4.1, lifts L02, CP"
BACK, RAISED = "supine_lying_long", "trunk_raised_on_wedge"

# Age, planned seconds of the spell (None: not known), verdict, source.
SPELLS = [
    ("8w0d", 60, "watch", EARLY),
    ("13w6d", 60, "watch", EARLY),
    ("13w6d", 180, "watch", EARLY),
    ("13w6d", 181, "watch", EARLY),
    ("13w6d", None, "watch", EARLY),
    ("14w0d", 60, "watch", TO_16),
    ("14w0d", 180, "watch", TO_16),
    ("14w0d", 181, "modify", TO_16),
    ("14w0d", None, "modify", TO_16),
    ("15w6d", 180, "watch", TO_16),
    ("15w6d", 181, "modify", TO_16),
    ("15w6d", None, "modify", TO_16),
    ("16w0d", 0, "modify", TO_28),
    ("16w0d", 60, "modify", TO_28),
    ("16w0d", 180, "modify", TO_28),
    ("16w0d", 180.5, "avoid", TO_28),
    ("16w0d", 181, "avoid", TO_28),
    ("16w0d", None, "avoid", TO_28),
    ("27w6d", 180, "modify", TO_28),
    ("27w6d", 181, "avoid", TO_28),
    ("27w6d", None, "avoid", TO_28),
    ("28w0d", 1, "avoid", LATE),
    ("28w0d", 180, "avoid", LATE),
    ("28w0d", 181, "avoid", LATE),
    ("28w0d", None, "avoid", LATE),
    ("40w0d", 60, "avoid", LATE),
]

# The same with the trunk raised: whether the demand carries the wedge, and whether the exercise rests on it.
RAISED_SPELLS = [
    ("13w6d", None, "watch", False, False),
    ("14w0d", 180, "watch", False, False),
    ("14w0d", 181, "modify", True, False),
    ("15w6d", None, "modify", True, False),
    ("16w0d", 180, "modify", True, False),
    ("16w0d", 181, "modify", True, True),
    ("27w6d", None, "modify", True, True),
    ("28w0d", 60, "modify", True, True),
    ("28w0d", None, "modify", True, True),
]

# The day before a limit of a pregnancy and the limit: exercise, demand, the two ages and verdicts.
LIMITS = [
    ("mat_dart", "prone_lying", "13w6d", "watch", "14w0d", "avoid", "R360, R361, S38"),
    ("arc_roll_back", "loaded_spinal_flexion", "13w6d", "watch", "14w0d", "modify", "R362, R363, S41, CP"),
    ("arc_roll_back", "loaded_spinal_flexion", "27w6d", "modify", "28w0d", "avoid", "R363, R364, CP"),
    ("st_roll_down", "inversion", "27w6d", "modify", "28w0d", "avoid", "R367, R368, CP"),
    ("st_roll_down", "end_range_spinal_flexion", "13w6d", "none/modify", "14w0d", "modify", "R612, R367, CP"),
    ("lb_twist", "elevated_unstable_platform", "13w6d", "modify", "14w0d", "avoid", "R609, R370, S36, S38"),
    ("sp_roller_swan", "prone_lying", "13w6d", "watch", "14w0d", "avoid", "R360, R361, S38"),
    ("mat_plank_knees", "shoulder_weight_bearing", "13w6d", "none", "14w0d", "modify", "R611, CP"),
    ("arc_breath", "spinal_extension_end_range", "13w6d", "none/modify", "14w0d", "modify", "R376, R367, CP"),
]


def _limits():
    for exercise, demand, *pairs, lines in LIMITS:
        for age, said in zip(pairs[::2], pairs[1::2], strict=True):
            one, _, whole = said.partition("/")
            name = f"pregnancy-{age}-{exercise}-{demand}"
            yield row(name, f"screening {lines}", pregnant(age), exercise, whole or one, f"{demand}={one}")


CASES = [
    row(f"back-{age}-{s}-s", source, pregnant(age), "mat_pelvic_tilt", verdict, f"{BACK}={verdict}", supine=s)
    for age, s, verdict, source in SPELLS
]
CASES += [
    row(
        f"back-{age}-{s}-s-trunk-raised",
        WEDGE,
        pregnant(age),
        "mat_pelvic_tilt",
        verdict,
        f"{BACK}={verdict}" + (f"@{RAISED}" if held else ""),
        supine=s,
        adaptations=RAISED,
        carries=RAISED if rests else "",
    )
    for age, s, verdict, held, rests in RAISED_SPELLS
]
CASES += _limits()

CASES += [
    # Rules that speak to every spell.
    row("back-heart-disease-short", "screening R262, S06", had("coronary_disease"), "mat_heel_slide", "watch",
        f"{BACK}=watch", supine=30),
    row("back-heart-disease-raised-stays-watch", "screening R262, S06; 4.1", had("coronary_disease"),
        "mat_heel_slide", "watch", f"{BACK}=watch", supine=600, adaptations=RAISED),
    row("back-vertigo-short", "screening R320, S103", had("vertigo_bppv"), "ch_pelvic_lift", "modify",
        f"{BACK}=modify", supine=30),
    row("back-eye-bubble-short", "screening R311, S102", weeks("retinal_detachment", 4), "sp_ball_bridge",
        "avoid", f"{BACK}=avoid", supine=30),
    row("back-eye-bubble-raised-not-softened", "screening R311, S102; lifts L01",
        weeks("retinal_detachment", 4), "mat_arm_arcs", "avoid", f"{BACK}=avoid", supine=30, adaptations=RAISED),
    row("back-lung-disease-raised", "screening R829, S06; lifts L02", had("lung_disease_other"),
        "tt_leg_springs_walk", "modify", f"{BACK}=modify@{RAISED} leg_lowering_long_lever=none", supine=400,
        adaptations=RAISED),
    row("back-reflux-short", "screening R477, S110", had("reflux"), "arc_bridge", "modify", f"{BACK}=modify",
        supine=20),
    row("back-eye-pressure-short-and-head-down", "screening R304, R300, S100, S101", had("glaucoma"),
        "tt_bridge_sling", "avoid", f"{BACK}=watch inversion=avoid", supine=20),
    row("back-low-pressure-long", "screening R823, S143", had("orthostatic_hypotension"), "ref_bottom_lift",
        "watch", f"{BACK}=watch", supine=900),
    # Pregnancy: bridges take no wedge; other positions; what a wedge brings along.
    row("back-20w0d-bridge-takes-no-wedge", TO_28 + "; lifts (not for bridges)", pregnant("20w0d"),
        "mat_pelvic_curl", "avoid", f"{BACK}=avoid", supine=240, adaptations=RAISED),
    row("back-20w0d-chair-bridge-short", TO_28, pregnant("20w0d"), "ch_pelvic_lift", "modify",
        f"{BACK}=modify", supine=120),
    row("back-30w0d-chair-bridge-short", LATE, pregnant("30w0d"), "ch_pelvic_lift", "avoid", f"{BACK}=avoid",
        supine=120),
    row("back-20w0d-seat-stretch-seated", "screening 4.1, R613; lifts L03, CP", pregnant("20w0d"),
        "mat_figure_four", "modify", f"{BACK}=modify@do_seated passive_end_range_stretch=watch", supine=300,
        adaptations="do_seated", carries="do_seated"),
    row("back-30w0d-breathing-on-the-side", "screening 4.1; lifts L04, CP", pregnant("30w0d"),
        "mat_breath_supine", "modify", f"{BACK}=modify@do_side_lying side_lying=none", supine=90,
        adaptations="do_side_lying", carries="do_side_lying"),
    row("back-20w0d-leg-lowers-raised", WEDGE_FOLDS + "; R366", pregnant("20w0d"), "ref_leg_lowers", "modify",
        f"{BACK}=modify@{RAISED} leg_lowering_long_lever=modify hip_flexion_past_90=none", supine=300,
        adaptations=RAISED, carries=RAISED),
    row("back-reflux-new-hip-raised-folds-the-hip", WEDGE_FOLDS + "; R149, S70, S71; R477, S110",
        [had("reflux"), weeks("hip_replacement_posterior", 6, "left")], "tt_leg_springs_lower", "avoid",
        f"{BACK}=modify@{RAISED} hip_flexion_past_90=avoid", supine=300, adaptations=RAISED),
    row("back-32w0d-jump-raised-other-rules-stand", WEDGE_FOLDS + "; R369, R374, S43, S33",
        pregnant("32w0d"), "ref_jump", "modify",
        f"{BACK}=modify@{RAISED} jump_impact=modify sustained_vigorous_pace=modify", supine=200,
        adaptations=RAISED, carries=RAISED),
    row("back-20w0d-chest-lift-raised", WEDGE + "; R363, R365", pregnant("20w0d"), "mat_chest_lift", "modify",
        f"{BACK}=modify@{RAISED} loaded_spinal_flexion=modify head_lifted_neck_flexion=modify", supine=500,
        adaptations=RAISED, carries=RAISED),
    row("back-30w0d-chest-lift-raised-rounding-stays", WEDGE + "; R364", pregnant("30w0d"), "mat_chest_lift",
        "avoid", f"{BACK}=modify@{RAISED} loaded_spinal_flexion=avoid", supine=100, adaptations=RAISED),
    row("back-30w0d-wedge-taken-out-again", LATE, pregnant("30w0d"), "ref_tendon", "avoid", f"{BACK}=avoid",
        supine=100),
    row("back-30w0d-wedge-chosen", WEDGE, pregnant("30w0d"), "ref_tendon", "modify", f"{BACK}=modify@{RAISED}",
        supine=100, adaptations=RAISED, carries=RAISED),
    row("back-no-due-date-short", "screening 4.1 (no date: every window), R692, CP", had("pregnancy"),
        "mat_pelvic_tilt", "avoid", f"{BACK}=avoid", supine=60),
    row("back-due-ten-months-ahead-short", "screening 4.1 and 3.1 (below day 0: ask again), R692, CP",
        pregnant("-1w0d"), "mat_pelvic_tilt", "avoid", f"{BACK}=avoid", supine=60),
    row("back-no-due-date-raised", WEDGE, had("pregnancy"), "mat_pelvic_tilt", "modify",
        f"{BACK}=modify@{RAISED}", adaptations=RAISED, carries=RAISED),
    row("back-43w0d-still-late", "screening 3.1 (after 42w0d still third trimester), R692, CP",
        pregnant("43w0d"), "mat_pelvic_tilt", "avoid", f"{BACK}=avoid", supine=60),
    row("back-off-the-back-the-spell-says-nothing", "screening R357-R692 name no sitting", pregnant("30w0d"),
        "sp_band_breath", "none", supine=900),
]  # fmt: skip

# Plan, pace, lengths of the spells: bare time x pace, rounded up; what ends a spell (screening 4.1).
# Tilt, 8: 10 + 48 = 58 s, x 1.6 = 92.8. Slide, 5 a side: 10 + 60 = 70 s, x 1.6 = 112. Clam, 8 a side: 99 s, x 1.6.
TILT, SLIDE, CLAM = ("mat_pelvic_tilt", 8, ()), ("mat_heel_slide", 5, ()), ("mat_clam", 8, ())
PLANS = [
    ("one-entry", [TILT], 1.6, [93]),
    ("one-entry-slower-pace", [TILT], 2.0, [116]),
    ("neighbours-add-up", [TILT, SLIDE], 1.6, [205]),
    ("on-the-side-in-between-ends-it", [TILT, CLAM, SLIDE], 1.6, [93, 112]),
    ("pause-of-59-s-does-not-end-it", [TILT, 59, SLIDE], 1.6, [205]),
    ("pause-of-60-s-ends-it", [TILT, 60, SLIDE], 1.6, [93, 112]),
    ("trunk-raised-neither-adds-nor-ends", [TILT, ("mat_head_nod", 6, (RAISED,)), SLIDE], 1.6, [205]),
    ("trunk-raised-all-through", [("mat_pelvic_tilt", 8, (RAISED,))], 1.6, []),
    ("nothing-on-the-back", [CLAM, 60, CLAM], 1.6, []),
    ("seated-version-ends-it", [TILT, ("mat_breath_supine", 8, ("do_seated",)), SLIDE], 1.6, [93, 112]),
]
