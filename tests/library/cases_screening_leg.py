"""Verdict cases: hip, knee, ankle and foot. Each table read in the advice named and typed by hand."""

from .cases_screening_kit import NOTHING, ongoing_sided, want, windowed

HIP_BACK = (
    "Leeds leaflet and RNOH guide to hip precautions (screening S70); therapist summary by approach "
    "(S71); hip precautions by approach (S84); rest common practice, no source"
)
HIP_FRONT = (
    "therapist summary by approach (screening S71); hip precautions by approach (S84); rest common "
    "practice, no source"
)
LABRUM = (
    "squat depth in cam impingement, PMC2635464, and StatPearls (screening S75); rest common practice, "
    "no source"
)
ARTHRITIS = "NICE NG226 as summarised (screening S79); rest common practice, no source"
NEW_KNEE = (
    "Wylde 2019 kneeling after knee replacement (screening S72); NHS return-to-work tips (S73); rest "
    "common practice, no source"
)
ACL = (
    "Brinlee 2021 and the Delaware guideline (screening S74); the weeks and some rows common practice, "
    "no source"
)
KNEECAP = (
    "systematic review of squats and patellofemoral pain 2022 (screening S76); rest common practice, no "
    "source"
)
ANKLE = "sprain and physiotherapy pages (screening S77); rest common practice, no source"
HEEL = "plantar heel pain pages (screening S78); rest common practice, no source"
LEG_BREAK = (
    "NHS pages on broken bones (screening S138); ankle-fracture pages (S139); rest common practice, no source"
)
MENISCUS = "NHS leaflets on degenerative meniscal tears (screening S141); rest common practice, no source"
STITCHED = "meniscus-repair protocols (screening S140); rest common practice, no source"

# Hip replacement from behind or the side: limits at 12 and 26 weeks.
hip_back_0_12 = want(
    avoid="""hip_flexion_past_90 hip_adduction_past_midline hip_internal_rotation jump_impact
    end_range_rotation elevated_unstable_platform near_maximal_effort""",
    modify="""deep_knee_flexion_loaded closed_chain_single_leg side_lying loaded_rotation standing_balance
    rapid_position_change leg_lowering_long_lever passive_end_range_stretch kneeling_load
    lateral_flexion_loaded breath_hold_strain spinal_extension_end_range hip_end_range_extension
    hip_external_rotation_end_range prone_lying""",
)
hip_back_12_26 = want(
    avoid="jump_impact",
    watch="hip_flexion_past_90 hip_internal_rotation hip_adduction_past_midline",
)
hip_back_26_on = want(
    modify="jump_impact",
    watch="hip_flexion_past_90 hip_internal_rotation hip_adduction_past_midline",
)

# Hip replacement from the front: the same limits.
hip_front_0_12 = want(
    avoid="""hip_end_range_extension hip_external_rotation_end_range jump_impact
    elevated_unstable_platform near_maximal_effort""",
    modify="""prone_lying deep_knee_flexion_loaded closed_chain_single_leg side_lying end_range_rotation
    loaded_rotation standing_balance rapid_position_change leg_lowering_long_lever
    passive_end_range_stretch kneeling_load lateral_flexion_loaded breath_hold_strain
    spinal_extension_end_range hip_adduction_past_midline""",
)
hip_front_12_26 = want(avoid="jump_impact", watch="hip_end_range_extension hip_external_rotation_end_range")
hip_front_26_on = want(modify="jump_impact", watch="hip_end_range_extension hip_external_rotation_end_range")

# Knee replacement: limits at 6 and 12 weeks.
knee_0_6 = want(
    avoid="kneeling_load jump_impact elevated_unstable_platform near_maximal_effort",
    modify="""deep_knee_flexion_loaded closed_chain_single_leg passive_end_range_stretch standing_balance
    rapid_position_change prone_lying""",
    watch="knee_locked_extension_loaded",
)
knee_6_12 = want(
    avoid="jump_impact elevated_unstable_platform near_maximal_effort",
    modify="""kneeling_load deep_knee_flexion_loaded closed_chain_single_leg passive_end_range_stretch
    standing_balance rapid_position_change""",
    watch="knee_locked_extension_loaded",
)
knee_12_on = want(
    avoid="jump_impact",
    modify="kneeling_load deep_knee_flexion_loaded passive_end_range_stretch",
    watch="knee_locked_extension_loaded",
)

# ACL reconstruction: limits at 12 and 39 weeks.
acl_0_12 = want(
    avoid="jump_impact elevated_unstable_platform",
    modify="""knee_locked_extension_loaded deep_knee_flexion_loaded closed_chain_single_leg kneeling_load
    rapid_position_change""",
    watch="standing_balance",
)
acl_12_39 = want(
    modify="jump_impact elevated_unstable_platform rapid_position_change",
    watch="closed_chain_single_leg kneeling_load",
)
acl_39_on = want(watch="kneeling_load")

# Ankle sprain: limits at 6 and 12 weeks.
ankle_0_6 = want(
    avoid="jump_impact elevated_unstable_platform",
    modify="closed_chain_single_leg standing_balance ankle_end_range_loaded",
)
ankle_6_12 = want(
    modify="jump_impact", watch="standing_balance ankle_end_range_loaded closed_chain_single_leg"
)

# Broken leg: limits at 6, 12 and 26 weeks.
leg_0_6 = want(
    avoid="""closed_chain_single_leg jump_impact elevated_unstable_platform near_maximal_effort
    deep_knee_flexion_loaded ankle_end_range_loaded kneeling_load""",
    modify="""standing_balance knee_locked_extension_loaded leg_lowering_long_lever hip_wide_abduction
    passive_end_range_stretch rapid_position_change side_lying""",
)
leg_6_12 = want(
    avoid="closed_chain_single_leg jump_impact elevated_unstable_platform near_maximal_effort",
    modify="""deep_knee_flexion_loaded ankle_end_range_loaded kneeling_load standing_balance
    knee_locked_extension_loaded leg_lowering_long_lever hip_wide_abduction passive_end_range_stretch""",
)
leg_12_26 = want(modify="closed_chain_single_leg jump_impact elevated_unstable_platform")

# Meniscus repair: limits at 6, 12, 16 and 26 weeks.
stitched_0_6 = want(
    avoid="""deep_knee_flexion_loaded closed_chain_single_leg kneeling_load jump_impact
    elevated_unstable_platform""",
    modify="""near_maximal_effort standing_balance knee_locked_extension_loaded passive_end_range_stretch
    hip_wide_abduction""",
)
stitched_6_12 = want(
    avoid="deep_knee_flexion_loaded kneeling_load jump_impact elevated_unstable_platform",
    modify="""closed_chain_single_leg near_maximal_effort standing_balance passive_end_range_stretch
    hip_wide_abduction""",
)
stitched_12_16 = want(
    avoid="deep_knee_flexion_loaded jump_impact",
    modify="near_maximal_effort closed_chain_single_leg kneeling_load",
)
stitched_16_26 = want(modify="deep_knee_flexion_loaded kneeling_load jump_impact")

CASES = [
    *windowed(
        "hip_replacement_posterior",
        HIP_BACK,
        "2026-03-02",
        [
            (-1, "2026-03-01", hip_back_0_12),
            (0, "2026-03-02", hip_back_0_12),
            (83, "2026-05-24", hip_back_0_12),
            (84, "2026-05-25", hip_back_12_26),
            (85, "2026-05-26", hip_back_12_26),
            (181, "2026-08-30", hip_back_12_26),
            (182, "2026-08-31", hip_back_26_on),
            (183, "2026-09-01", hip_back_26_on),
        ],
        unknown=hip_back_0_12,
        long_ago=hip_back_26_on,
        side="left",
        other=(
            10,
            "2026-03-12",
            want(
                avoid="jump_impact end_range_rotation elevated_unstable_platform near_maximal_effort",
                modify="""loaded_rotation standing_balance rapid_position_change leg_lowering_long_lever
                lateral_flexion_loaded breath_hold_strain spinal_extension_end_range prone_lying""",
            ),
        ),
    ),
    *windowed(
        "hip_replacement_anterior",
        HIP_FRONT,
        "2025-11-17",
        [
            (-1, "2025-11-16", hip_front_0_12),
            (0, "2025-11-17", hip_front_0_12),
            (83, "2026-02-08", hip_front_0_12),
            (84, "2026-02-09", hip_front_12_26),
            (85, "2026-02-10", hip_front_12_26),
            (181, "2026-05-17", hip_front_12_26),
            (182, "2026-05-18", hip_front_26_on),
            (183, "2026-05-19", hip_front_26_on),
        ],
        unknown=hip_front_0_12,
        long_ago=hip_front_26_on,
        side="left",
        other=(
            10,
            "2025-11-27",
            want(
                avoid="jump_impact elevated_unstable_platform near_maximal_effort",
                modify="""prone_lying end_range_rotation loaded_rotation standing_balance
                rapid_position_change leg_lowering_long_lever lateral_flexion_loaded breath_hold_strain
                spinal_extension_end_range""",
            ),
        ),
    ),
    *ongoing_sided(
        "hip_impingement_labral",
        LABRUM,
        want(
            modify="""hip_flexion_past_90 hip_internal_rotation hip_adduction_past_midline
            deep_knee_flexion_loaded passive_end_range_stretch jump_impact""",
            watch="hip_end_range_extension",
        ),
        other=want(modify="jump_impact"),
    ),
    *ongoing_sided(
        "hip_osteoarthritis",
        ARTHRITIS,
        want(
            modify="hip_internal_rotation deep_knee_flexion_loaded jump_impact",
            watch="hip_flexion_past_90 hip_end_range_extension closed_chain_single_leg",
        ),
        other=want(modify="jump_impact"),
    ),
    *windowed(
        "knee_replacement",
        NEW_KNEE,
        "2026-03-02",
        [
            (-1, "2026-03-01", knee_0_6),
            (0, "2026-03-02", knee_0_6),
            (41, "2026-04-12", knee_0_6),
            (42, "2026-04-13", knee_6_12),
            (43, "2026-04-14", knee_6_12),
            (83, "2026-05-24", knee_6_12),
            (84, "2026-05-25", knee_12_on),
            (85, "2026-05-26", knee_12_on),
        ],
        unknown=knee_0_6,
        long_ago=knee_12_on,
        side="left",
        other=(
            10,
            "2026-03-12",
            want(
                avoid="jump_impact elevated_unstable_platform near_maximal_effort",
                modify="standing_balance rapid_position_change prone_lying",
            ),
        ),
    ),
    *windowed(
        "acl_reconstruction",
        ACL,
        "2023-12-11",
        [
            (-1, "2023-12-10", acl_0_12),
            (0, "2023-12-11", acl_0_12),
            (83, "2024-03-03", acl_0_12),
            (84, "2024-03-04", acl_12_39),
            (85, "2024-03-05", acl_12_39),
            (272, "2024-09-08", acl_12_39),
            (273, "2024-09-09", acl_39_on),
            (274, "2024-09-10", acl_39_on),
        ],
        unknown=acl_0_12,
        long_ago=acl_39_on,
        side="left",
        other=(
            10,
            "2023-12-21",
            want(
                avoid="jump_impact elevated_unstable_platform",
                modify="rapid_position_change",
                watch="standing_balance",
            ),
        ),
    ),
    *ongoing_sided(
        "knee_osteoarthritis",
        ARTHRITIS,
        want(
            modify="deep_knee_flexion_loaded kneeling_load jump_impact",
            watch="closed_chain_single_leg knee_locked_extension_loaded",
        ),
        other=want(modify="jump_impact"),
    ),
    *ongoing_sided(
        "patellofemoral_pain",
        KNEECAP,
        want(
            modify="deep_knee_flexion_loaded kneeling_load closed_chain_single_leg jump_impact",
            watch="knee_locked_extension_loaded",
        ),
        other=want(modify="jump_impact"),
    ),
    *windowed(
        "ankle_sprain",
        ANKLE,
        "2026-03-02",
        [
            (-1, "2026-03-01", ankle_0_6),
            (0, "2026-03-02", ankle_0_6),
            (41, "2026-04-12", ankle_0_6),
            (42, "2026-04-13", ankle_6_12),
            (43, "2026-04-14", ankle_6_12),
            (83, "2026-05-24", ankle_6_12),
            (84, "2026-05-25", NOTHING),
            (85, "2026-05-26", NOTHING),
        ],
        unknown=ankle_0_6,
        long_ago=NOTHING,
        side="left",
        other=(
            10,
            "2026-03-12",
            want(avoid="jump_impact elevated_unstable_platform", modify="standing_balance"),
        ),
    ),
    *ongoing_sided(
        "plantar_heel_pain",
        HEEL,
        want(avoid="jump_impact", watch="ankle_end_range_loaded closed_chain_single_leg"),
        other=want(avoid="jump_impact"),
    ),
    *windowed(
        "fracture_leg_recent",
        LEG_BREAK,
        "2025-11-17",
        [
            (-1, "2025-11-16", leg_0_6),
            (0, "2025-11-17", leg_0_6),
            (41, "2025-12-28", leg_0_6),
            (42, "2025-12-29", leg_6_12),
            (43, "2025-12-30", leg_6_12),
            (83, "2026-02-08", leg_6_12),
            (84, "2026-02-09", leg_12_26),
            (85, "2026-02-10", leg_12_26),
            (181, "2026-05-17", leg_12_26),
            (182, "2026-05-18", NOTHING),
            (183, "2026-05-19", NOTHING),
        ],
        unknown=leg_0_6,
        long_ago=NOTHING,
        side="left",
        other=(
            10,
            "2025-11-27",
            want(
                avoid="jump_impact elevated_unstable_platform near_maximal_effort",
                modify="standing_balance leg_lowering_long_lever rapid_position_change",
            ),
        ),
    ),
    *ongoing_sided(
        "meniscus_tear",
        MENISCUS,
        want(
            modify="deep_knee_flexion_loaded kneeling_load jump_impact elevated_unstable_platform",
            watch="closed_chain_single_leg knee_locked_extension_loaded",
        ),
        other=want(modify="jump_impact elevated_unstable_platform"),
    ),
    *windowed(
        "meniscus_repair",
        STITCHED,
        "2026-03-02",
        [
            (-1, "2026-03-01", stitched_0_6),
            (0, "2026-03-02", stitched_0_6),
            (41, "2026-04-12", stitched_0_6),
            (42, "2026-04-13", stitched_6_12),
            (43, "2026-04-14", stitched_6_12),
            (83, "2026-05-24", stitched_6_12),
            (84, "2026-05-25", stitched_12_16),
            (85, "2026-05-26", stitched_12_16),
            (111, "2026-06-21", stitched_12_16),
            (112, "2026-06-22", stitched_16_26),
            (113, "2026-06-23", stitched_16_26),
            (181, "2026-08-30", stitched_16_26),
            (182, "2026-08-31", NOTHING),
            (183, "2026-09-01", NOTHING),
        ],
        unknown=stitched_0_6,
        long_ago=NOTHING,
        side="left",
        other=(
            10,
            "2026-03-12",
            want(
                avoid="jump_impact elevated_unstable_platform",
                modify="near_maximal_effort standing_balance",
            ),
        ),
    ),
]
