"""Verdict cases: abdomen, cancer treatment and other. Each table read in the advice named, typed by hand."""

from .cases_screening_kit import NOTHING, ongoing, ongoing_sided, want, windowed

CUSTOM = "common practice, no source"
BELLY = "bowel-surgery and hernia-surgery pages (screening S111); rest common practice, no source"
BREAST = (
    "breast-surgery exercise leaflets, Canadian Cancer Society and others (screening S112); ACSM cancer "
    "roundtable 2019 from memory (M16); rest common practice, no source"
)
LYMPH = (
    "ACSM cancer roundtable 2019 and lymphoedema trial, from memory (screening M16); rest common "
    "practice, no source"
)
LEG_LYMPH = (
    "Macmillan page on exercise with lymphoedema and Davies 2025 Delphi (screening S146); rest common "
    "practice, no source"
)
BONE_CANCER = (
    "bone-metastasis exercise tables, Trials 2018 and Pilot Feasibility Stud 2020 (screening S113); "
    "rest common practice, no source"
)
REFLUX = (
    "reflux pages quoting the American College of Gastroenterology (screening S110); rest common "
    "practice, no source"
)
ENERGY = "NICE NG206 page (screening S83) and from memory (M11); rest common practice, no source"

# Abdominal surgery: limits at 8 and 12 weeks.
belly_0_8 = want(
    avoid="""loaded_spinal_flexion head_lifted_neck_flexion leg_lowering_long_lever breath_hold_strain
    near_maximal_effort loaded_rotation spinal_extension_end_range jump_impact lateral_flexion_loaded
    shoulder_weight_bearing inversion sustained_vigorous_pace""",
    modify="""prone_lying arm_push_pull_loaded end_range_rotation spinal_extension_loaded
    rapid_position_change""",
)
belly_8_12 = want(
    modify="""loaded_spinal_flexion near_maximal_effort head_lifted_neck_flexion leg_lowering_long_lever
    loaded_rotation breath_hold_strain shoulder_weight_bearing spinal_extension_end_range jump_impact"""
)

# Breast surgery: limits at 2, 6 and 26 weeks.
breast_0_2 = want(
    avoid="""overhead_reach arm_push_pull_loaded shoulder_weight_bearing prone_lying near_maximal_effort
    shoulder_loaded_end_range""",
    modify="side_lying spinal_extension_end_range jump_impact",
    watch="isometric_grip",
)
breast_2_6 = want(
    avoid="""arm_push_pull_loaded shoulder_weight_bearing prone_lying near_maximal_effort
    shoulder_loaded_end_range""",
    modify="overhead_reach side_lying spinal_extension_end_range jump_impact",
    watch="isometric_grip",
)
breast_6_26 = want(
    modify="arm_push_pull_loaded prone_lying shoulder_weight_bearing shoulder_loaded_end_range",
    watch="overhead_reach isometric_grip",
)
breast_26_on = want(modify="prone_lying shoulder_weight_bearing", watch="isometric_grip")

CASES = [
    *ongoing(
        "hernia",
        CUSTOM,
        want(
            avoid="breath_hold_strain near_maximal_effort",
            modify="""loaded_spinal_flexion leg_lowering_long_lever jump_impact loaded_rotation
            shoulder_weight_bearing""",
            watch="head_lifted_neck_flexion spinal_extension_end_range",
        ),
    ),
    *windowed(
        "abdominal_surgery_recent",
        BELLY,
        "2025-11-17",
        [
            (-1, "2025-11-16", belly_0_8),
            (0, "2025-11-17", belly_0_8),
            (55, "2026-01-11", belly_0_8),
            (56, "2026-01-12", belly_8_12),
            (57, "2026-01-13", belly_8_12),
            (83, "2026-02-08", belly_8_12),
            (84, "2026-02-09", NOTHING),
            (85, "2026-02-10", NOTHING),
        ],
        unknown=belly_0_8,
        long_ago=NOTHING,
    ),
    *windowed(
        "breast_surgery",
        BREAST,
        "2026-03-02",
        [
            (-1, "2026-03-01", breast_0_2),
            (0, "2026-03-02", breast_0_2),
            (13, "2026-03-15", breast_0_2),
            (14, "2026-03-16", breast_2_6),
            (15, "2026-03-17", breast_2_6),
            (41, "2026-04-12", breast_2_6),
            (42, "2026-04-13", breast_6_26),
            (43, "2026-04-14", breast_6_26),
            (181, "2026-08-30", breast_6_26),
            (182, "2026-08-31", breast_26_on),
            (183, "2026-09-01", breast_26_on),
        ],
        unknown=breast_0_2,
        long_ago=breast_26_on,
        side="left",
        other=(
            10,
            "2026-03-12",
            want(
                avoid="prone_lying near_maximal_effort",
                modify="spinal_extension_end_range jump_impact",
            ),
        ),
    ),
    *ongoing_sided(
        "lymphoedema_risk",
        LYMPH,
        want(
            modify="arm_push_pull_loaded isometric_grip near_maximal_effort",
            watch="shoulder_weight_bearing",
        ),
        other=want(modify="near_maximal_effort"),
    ),
    *ongoing(
        "cancer_treatment_active",
        LYMPH,
        want(
            modify="near_maximal_effort sustained_vigorous_pace jump_impact elevated_unstable_platform",
            watch="standing_balance prone_lying",
        ),
    ),
    *ongoing(
        "bone_metastases",
        BONE_CANCER,
        want(
            avoid="""loaded_spinal_flexion end_range_spinal_flexion loaded_rotation end_range_rotation
            spinal_extension_end_range jump_impact near_maximal_effort elevated_unstable_platform
            spinal_extension_loaded neck_shoulder_weight_bearing lateral_flexion_loaded neck_end_range
            shoulder_loaded_end_range""",
            modify="""shoulder_weight_bearing hip_flexion_past_90 hip_end_range_extension
            closed_chain_single_leg head_lifted_neck_flexion arm_push_pull_loaded
            leg_lowering_long_lever hip_internal_rotation hip_external_rotation_end_range
            hip_wide_abduction deep_knee_flexion_loaded passive_end_range_stretch standing_balance
            breath_hold_strain""",
        ),
    ),
    *ongoing(
        "reflux",
        REFLUX,
        want(
            avoid="inversion",
            modify="supine_lying_long prone_lying breath_hold_strain",
            watch="loaded_spinal_flexion end_range_spinal_flexion",
        ),
    ),
    *ongoing(
        "anxiety_panic",
        CUSTOM,
        want(watch="breath_hold_strain prone_lying inversion sustained_vigorous_pace"),
    ),
    *ongoing(
        "me_cfs_long_covid",
        ENERGY,
        want(
            avoid="sustained_vigorous_pace near_maximal_effort jump_impact",
            modify="rapid_position_change",
            watch="standing_balance supine_lying_long",
        ),
    ),
    *ongoing_sided(
        "lymphoedema_leg",
        LEG_LYMPH,
        want(
            modify="near_maximal_effort sustained_vigorous_pace jump_impact kneeling_load",
            watch="deep_knee_flexion_loaded closed_chain_single_leg passive_end_range_stretch",
        ),
        other=want(modify="near_maximal_effort sustained_vigorous_pace jump_impact"),
    ),
]
