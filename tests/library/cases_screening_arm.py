"""Verdict cases: shoulder, elbow and wrist. Each table read in the advice named and typed by hand."""

from .cases_screening_kit import NOTHING, ongoing_sided, want, windowed

SHOULDER = (
    "subacromial shoulder pain pages of the British Elbow and Shoulder Society and NHS Highland "
    "(screening S60); rest common practice, no source"
)
FROZEN = "frozen-shoulder pages (screening S61); rest common practice, no source"
DISLOCATED = (
    "Sheffield NHS pages on shoulder instability (screening S62); dislocation rehabilitation guides "
    "(S66); rest common practice, no source"
)
CUFF = (
    "published surgeon and hospital protocols for rotator-cuff repair (screening S63); rest common "
    "practice, no source"
)
CARPAL = "carpal tunnel pages (screening S64); rest common practice, no source"
ELBOW = "Arthritis Research UK leaflet 2307 on tennis elbow (screening S65); rest common practice, no source"
ARM_BREAK = (
    "NHS pages on broken bones (screening S138); NHS pages on wrist injury (S147); rest common "
    "practice, no source"
)
WRIST = "NHS pages on wrist injury (screening S147); rest common practice, no source"

# Shoulder dislocation: limits at 6 and 12 weeks.
loose_0_6 = want(
    avoid="overhead_reach shoulder_loaded_end_range shoulder_weight_bearing",
    modify="passive_end_range_stretch side_lying arm_push_pull_loaded elevated_unstable_platform",
)
loose_6_12 = want(
    avoid="overhead_reach shoulder_loaded_end_range",
    modify="""passive_end_range_stretch side_lying arm_push_pull_loaded elevated_unstable_platform
    shoulder_weight_bearing""",
)
loose_12_on = want(
    modify="shoulder_loaded_end_range",
    watch="passive_end_range_stretch overhead_reach shoulder_weight_bearing",
)

# Rotator-cuff repair: limits at 6, 12 and 26 weeks.
cuff_0_6 = want(
    avoid="""overhead_reach arm_push_pull_loaded shoulder_weight_bearing shoulder_loaded_end_range
    wrist_weight_bearing side_lying elevated_unstable_platform jump_impact near_maximal_effort""",
    modify="passive_end_range_stretch prone_lying",
)
cuff_6_12 = want(
    avoid="""arm_push_pull_loaded shoulder_weight_bearing shoulder_loaded_end_range wrist_weight_bearing
    jump_impact near_maximal_effort""",
    modify="overhead_reach side_lying elevated_unstable_platform passive_end_range_stretch prone_lying",
)
cuff_12_26 = want(
    modify="arm_push_pull_loaded shoulder_weight_bearing shoulder_loaded_end_range overhead_reach"
)

# Broken arm: limits at 6, 12 and 26 weeks.
arm_0_6 = want(
    avoid="""wrist_weight_bearing shoulder_weight_bearing arm_push_pull_loaded isometric_grip
    overhead_reach shoulder_loaded_end_range""",
    modify="passive_end_range_stretch side_lying elevated_unstable_platform jump_impact",
)
arm_6_12 = want(
    avoid="wrist_weight_bearing shoulder_weight_bearing shoulder_loaded_end_range",
    modify="""passive_end_range_stretch side_lying elevated_unstable_platform jump_impact
    arm_push_pull_loaded isometric_grip overhead_reach""",
)
arm_12_26 = want(modify="arm_push_pull_loaded wrist_weight_bearing shoulder_weight_bearing")

# Wrist or hand sprain: limits at 2, 6 and 12 weeks.
wrist_0_2 = want(
    avoid="wrist_weight_bearing isometric_grip",
    modify="arm_push_pull_loaded shoulder_weight_bearing",
    watch="elevated_unstable_platform",
)
wrist_2_6 = want(
    avoid="wrist_weight_bearing",
    modify="isometric_grip arm_push_pull_loaded shoulder_weight_bearing",
    watch="elevated_unstable_platform",
)
wrist_6_12 = want(modify="wrist_weight_bearing")

CASES = [
    *ongoing_sided(
        "shoulder_impingement",
        SHOULDER,
        want(
            avoid="shoulder_loaded_end_range",
            modify="overhead_reach shoulder_weight_bearing side_lying",
            watch="arm_push_pull_loaded",
        ),
        other=NOTHING,
    ),
    *ongoing_sided(
        "frozen_shoulder",
        FROZEN,
        want(
            avoid="shoulder_loaded_end_range",
            modify="passive_end_range_stretch overhead_reach shoulder_weight_bearing side_lying",
            watch="arm_push_pull_loaded",
        ),
        other=NOTHING,
    ),
    *windowed(
        "shoulder_instability",
        DISLOCATED,
        "2026-03-02",
        [
            (-1, "2026-03-01", loose_0_6),
            (0, "2026-03-02", loose_0_6),
            (41, "2026-04-12", loose_0_6),
            (42, "2026-04-13", loose_6_12),
            (43, "2026-04-14", loose_6_12),
            (83, "2026-05-24", loose_6_12),
            (84, "2026-05-25", loose_12_on),
            (85, "2026-05-26", loose_12_on),
        ],
        unknown=loose_0_6,
        long_ago=loose_12_on,
        side="left",
        other=(10, "2026-03-12", want(modify="elevated_unstable_platform")),
    ),
    *windowed(
        "rotator_cuff_repair",
        CUFF,
        "2025-11-17",
        [
            (-1, "2025-11-16", cuff_0_6),
            (0, "2025-11-17", cuff_0_6),
            (41, "2025-12-28", cuff_0_6),
            (42, "2025-12-29", cuff_6_12),
            (43, "2025-12-30", cuff_6_12),
            (83, "2026-02-08", cuff_6_12),
            (84, "2026-02-09", cuff_12_26),
            (85, "2026-02-10", cuff_12_26),
            (181, "2026-05-17", cuff_12_26),
            (182, "2026-05-18", NOTHING),
            (183, "2026-05-19", NOTHING),
        ],
        unknown=cuff_0_6,
        long_ago=NOTHING,
        side="left",
        other=(
            10,
            "2025-11-27",
            want(
                avoid="elevated_unstable_platform jump_impact near_maximal_effort",
                modify="prone_lying",
            ),
        ),
    ),
    *ongoing_sided(
        "carpal_tunnel_wrist",
        CARPAL,
        want(
            modify="wrist_weight_bearing isometric_grip",
            watch="shoulder_weight_bearing arm_push_pull_loaded",
        ),
        other=NOTHING,
    ),
    *ongoing_sided(
        "tennis_elbow",
        ELBOW,
        want(modify="isometric_grip arm_push_pull_loaded", watch="wrist_weight_bearing"),
        other=NOTHING,
    ),
    *windowed(
        "fracture_arm_recent",
        ARM_BREAK,
        "2023-12-11",
        [
            (-1, "2023-12-10", arm_0_6),
            (0, "2023-12-11", arm_0_6),
            (41, "2024-01-21", arm_0_6),
            (42, "2024-01-22", arm_6_12),
            (43, "2024-01-23", arm_6_12),
            (83, "2024-03-03", arm_6_12),
            (84, "2024-03-04", arm_12_26),
            (85, "2024-03-05", arm_12_26),
            (181, "2024-06-09", arm_12_26),
            (182, "2024-06-10", NOTHING),
            (183, "2024-06-11", NOTHING),
        ],
        unknown=arm_0_6,
        long_ago=NOTHING,
        side="left",
        other=(10, "2023-12-21", want(modify="elevated_unstable_platform jump_impact")),
    ),
    *windowed(
        "wrist_hand_injury_acute",
        WRIST,
        "2026-03-02",
        [
            (-1, "2026-03-01", wrist_0_2),
            (0, "2026-03-02", wrist_0_2),
            (13, "2026-03-15", wrist_0_2),
            (14, "2026-03-16", wrist_2_6),
            (15, "2026-03-17", wrist_2_6),
            (41, "2026-04-12", wrist_2_6),
            (42, "2026-04-13", wrist_6_12),
            (43, "2026-04-14", wrist_6_12),
            (83, "2026-05-24", wrist_6_12),
            (84, "2026-05-25", NOTHING),
            (85, "2026-05-26", NOTHING),
        ],
        unknown=wrist_0_2,
        long_ago=NOTHING,
        side="left",
        other=(10, "2026-03-12", want(watch="elevated_unstable_platform")),
    ),
]
