"""Further cases: left, right, both and not known; exercises that alternate are judged on both sides.

A rule of a sided condition counts where a sided demand loads the affected side; side unknown or both counts as
affected (screening 4.1, CP). Which side an exercise loads ('sides'): common practice, no source.
"""

from .cases_further_kit import had, row, weeks

TWO_KNEES = [weeks("knee_replacement", 3, "left"), weeks("knee_replacement", 20, "right")]
SIDES = ("left", "right", None)
HIP = "screening R149, S70, S71; sides (alternating: check both)"
CUFF = "screening R129, S63; sides (alternating: check both)"
WRIST = "screening R740, S147; sides (alternating: check both)"
LEG = "screening R747, S138, S139; sides"

# Exercise that alternates, flag, demand, verdict of the demand and of the exercise whatever side is recorded.
ALTERNATING = [
    ("sc_seated_march", weeks("hip_replacement_posterior", 4, "left"), "hip_flexion_past_90", "avoid", HIP),
    ("sc_seated_side_bend", weeks("rotator_cuff_repair", 3, "right"), "overhead_reach", "avoid", CUFF),
    ("mat_bird_dog", weeks("wrist_hand_injury_acute", 3, "right"), "wrist_weight_bearing", "avoid", WRIST),
    ("lb_hip_extension", weeks("wrist_hand_injury_acute", 3, "left"), "wrist_weight_bearing", "avoid", WRIST),
    ("ref_running", weeks("fracture_leg_recent", 4, "right"), "closed_chain_single_leg", "avoid", LEG),
    ("arc_bicycle", weeks("hip_replacement_anterior", 4, "right"), "hip_end_range_extension", "avoid",
     "screening R159, S71; sides"),
    ("mat_swimming_prep", weeks("breast_surgery", 1, "left"), "overhead_reach", "avoid",
     "screening R444, S112; sides"),
    ("mat_prone_leg_lift", had("hip_impingement_labral", side="left"), "hip_end_range_extension", "watch",
     "screening R172, CP; sides"),
]  # fmt: skip

# Exercise with one side at a time, flag, demand, verdict of it when the left side is done, and the right.
ONE_AT_A_TIME = [
    # Clam: the side underneath is the other one.
    ("mat_clam", weeks("rotator_cuff_repair", 3, "left"), "side_lying", "none", "avoid", "screening R135, CP"),
    ("sp_band_clam", had("frozen_shoulder", side="right"), "side_lying", "modify", "none", "screening R119, CP"),
    # Leg lifted to the side, standing: the other leg carries.
    ("st_side_leg_lift", weeks("fracture_leg_recent", 4, "left"), "closed_chain_single_leg", "none/modify",
     "avoid", "screening R747, R754, S138, S139"),
    ("st_single_leg_stand", weeks("fracture_leg_recent", 4, "left"), "closed_chain_single_leg", "avoid",
     "none/modify", "screening R747, R754, S138, S139"),
    ("mat_side_kick_kneeling", weeks("knee_replacement", 3, "left"), "kneeling_load", "none/modify", "avoid",
     "screening R181, R554, S73, CP"),
    ("ch_swan_single", had("carpal_tunnel_wrist", side="right"), "wrist_weight_bearing", "none", "modify",
     "screening R142, R145, S64"),
    ("lb_leg_stretch_side", weeks("shoulder_instability", 4, "left"), "overhead_reach", "none/modify", "avoid",
     "screening R120, R123, S62"),
    ("ref_single_leg_strap", had("hip_impingement_labral", side="right"), "hip_adduction_past_midline", "none",
     "modify", "screening R170, CP"),
    ("ref_side_lying_press", had("patellofemoral_pain", side="left"), "deep_knee_flexion_loaded", "modify",
     "none", "screening R202, S76"),
    ("ref_skating", had("meniscus_tear", side="left"), "deep_knee_flexion_loaded", "none/modify", "modify",
     "screening R767, R770, S141"),
    ("ch_ankle_press", weeks("ankle_sprain", 2, "right"), "ankle_end_range_loaded", "none/modify", "modify",
     "screening R208, R209, R210, S77"),
    ("ref_kneel_side_arm", had("tennis_elbow", side="right"), "isometric_grip", "none", "modify",
     "screening R146, S65"),
    ("arc_side_stretch", had("frozen_shoulder", side="left"), "shoulder_loaded_end_range", "none/modify",
     "avoid", "screening R115, R116, R119, S61"),
    ("mat_half_kneel_rise", had("lymphoedema_leg", side="left"), "kneeling_load", "none/watch", "modify",
     "screening R883, R884, R885, S146, CP"),
    ("st_calf_stretch", had("plantar_heel_pain", side="right"), "ankle_end_range_loaded", "none", "watch",
     "screening R215, S78"),
]  # fmt: skip


def _alternating():
    for exercise, flag, demand, verdict, source in ALTERNATING:
        for side in SIDES:
            name = f"alternating-{exercise}-{flag.side}-affected-{side or 'no-side'}-recorded"
            yield row(name, source, flag, exercise, verdict, f"{demand}={verdict}", side=side)


def _one_at_a_time():
    for exercise, flag, demand, left, right, source in ONE_AT_A_TIME:
        for side, said in (("left", left), ("right", right)):
            one, _, whole = said.partition("/")
            name = f"one-side-{exercise}-{flag.side}-affected-{side}-done"
            yield row(name, source, flag, exercise, whole or one, f"{demand}={one}", side=side)


CASES = [
    *_alternating(),
    *_one_at_a_time(),
    # Affected side not known, both, or not said at all: every side counts as affected.
    *(
        row(f"side-{said or 'not-said'}-affected-{side or 'no-side'}-recorded",
            "screening R135, CP; 4.1 (unknown side counts as affected)", weeks("rotator_cuff_repair", 3, said),
            "mat_clam", "avoid", "side_lying=avoid", side=side)
        for said in ("unknown", "both", None)
        for side in SIDES
    ),
    row("side-no-side-recorded-counts-for-both", "screening R747, S138, S139; 4.1",
        weeks("fracture_leg_recent", 4, "left"), "st_side_leg_lift", "avoid", "closed_chain_single_leg=avoid"),
    # A demand without sides counts whatever side is affected or done.
    row("side-twist-has-no-side", "screening R523, S84; 4.1", weeks("hip_replacement_posterior", 4, "left"),
        "mat_book_opening", "avoid", "end_range_rotation=avoid hip_adduction_past_midline=none", side="right"),
    row("side-jump-has-no-side", "screening R188, S74; 4.1", weeks("acl_reconstruction", 8, "left"),
        "ref_jump_single", "avoid", "jump_impact=avoid closed_chain_single_leg=none", side="right"),
    row("side-balance-has-no-side", "screening R209, S77; 4.1", weeks("ankle_sprain", 2, "left"),
        "st_heel_raise_single", "modify", "standing_balance=modify ankle_end_range_loaded=none", side="right"),
    # A condition without sides counts on both.
    row("side-condition-without-sides", "screening R379, S59", had("pregnancy_pelvic_girdle_pain"),
        "ch_pelvic_lift_single", "avoid", "closed_chain_single_leg=avoid", side="right"),
    # The same condition twice, each with a side and a date of its own.
    row("side-two-knees-both-kneel", "screening R181, R182, S72, S73", TWO_KNEES, "mat_kneel_arm_raise", "avoid",
        "kneeling_load=avoid"),
    row("side-two-knees-new-one-kneels", "screening R181, R185, R554, S73", TWO_KNEES, "mat_hip_flexor_stretch",
        "avoid", "kneeling_load=avoid passive_end_range_stretch=modify standing_balance=modify", side="left"),
    row("side-two-knees-old-one-kneels", "screening R182, R185, R554, S72, S73", TWO_KNEES,
        "mat_hip_flexor_stretch", "modify",
        "kneeling_load=modify passive_end_range_stretch=modify standing_balance=modify", side="right"),
    # Left and right together.
    row("side-two-conditions-left-and-right-left-done", "screening R202, R178, CP",
        [had("patellofemoral_pain", side="right"), had("hip_osteoarthritis", side="left")],
        "mat_hip_flexor_stretch", "watch", "hip_end_range_extension=watch kneeling_load=none", side="left"),
    row("side-two-conditions-left-and-right-right-done", "screening R203, R178, CP",
        [had("patellofemoral_pain", side="right"), had("hip_osteoarthritis", side="left")],
        "mat_hip_flexor_stretch", "modify", "hip_end_range_extension=none kneeling_load=modify", side="right"),
]  # fmt: skip
