"""Verdict cases: joints in general, heart, circulation, lungs, sugar. Typed by hand from the advice named."""

from .cases_screening_kit import ongoing, want, windowed

ARTHRITIS = "NICE NG226 as summarised (screening S79); rest common practice, no source"
RHEUMATOID = (
    "rheumatology page on the neck in rheumatoid arthritis (screening S80); rest common practice, no source"
)
LOOSE = (
    "hypermobility physiotherapy notes, Ehlers-Danlos Support UK (screening S81); rest common practice, "
    "no source"
)
FIBRO = (
    "fibromyalgia guidance on the EULAR 2016 recommendations (screening S82); rest common practice, no source"
)
PRESSURE = (
    "ACSM 2004 stand on exercise and hypertension, from memory (screening M13); rest common practice, "
    "no source"
)
HIGH_PRESSURE = (
    "Integrated Blood Pressure Control 2024 table 1 (screening S13); ACSM 2004 from memory (M13); rest "
    "common practice, no source"
)
HEART = (
    "British Heart Foundation and cardiac-rehabilitation standards, from memory (screening M14); ACSM "
    "signs and symptoms (S06); rest common practice, no source"
)
BREASTBONE = (
    "Boston Medical Center, exercise after cardiac surgery (screening S90); rest common practice, no source"
)
PACER = (
    "Rotherham NHS pacemaker leaflet (screening S91); Br J Cardiol 2019 survey (S92); from memory M14; "
    "rest common practice, no source"
)
SUGAR = "ADA and ACSM guideline table (screening S93); rest common practice, no source"
EYE_SUGAR = (
    "ADA position statement 2016 from memory (screening M12); diabetes clinic page on retinopathy "
    "(S95); rest common practice, no source"
)
LUNGS = "Asthma UK as quoted in a pharmacy module (screening S94); rest common practice, no source"
THINNERS = "pages on living with blood thinners (screening S130); rest common practice, no source"
CLOT = (
    "Liu 2015 and Izcovich 2016 on walking after a clot (screening S131); blood-thinner pages (S130); "
    "the weeks common practice, no source"
)
ANEURYSM = (
    "2022 ACC/AHA aortic guideline (screening S133); Ehrman 2020 (S134); hospital column on brain "
    "aneurysm (S135); rest common practice, no source"
)
FAINT = (
    "Gerontology 2017 on standing up slowly and postural-pressure leaflets (screening S143); rest "
    "common practice, no source"
)
COPD = (
    "pages and trial on breathing with COPD (screening S144); ACSM signs and symptoms (S06); rest "
    "common practice, no source"
)

# Heart surgery through the breastbone: limits at 12 and 26 weeks, one rule for good.
breastbone_0_12 = want(
    avoid="""arm_push_pull_loaded overhead_reach shoulder_weight_bearing end_range_rotation
    loaded_rotation breath_hold_strain near_maximal_effort prone_lying shoulder_loaded_end_range
    spinal_extension_end_range loaded_spinal_flexion inversion elevated_unstable_platform jump_impact
    sustained_vigorous_pace""",
    modify="head_lifted_neck_flexion side_lying lateral_flexion_loaded isometric_grip",
)
breastbone_12_26 = want(
    avoid="breath_hold_strain",
    modify="arm_push_pull_loaded shoulder_weight_bearing loaded_spinal_flexion",
)
breastbone_26_on = want(avoid="breath_hold_strain")

# Pacemaker: limit at 6 weeks.
pacer_0_6 = want(
    avoid="""overhead_reach arm_push_pull_loaded shoulder_weight_bearing shoulder_loaded_end_range
    breath_hold_strain near_maximal_effort""",
    modify="sustained_vigorous_pace prone_lying side_lying elevated_unstable_platform",
)
pacer_6_on = want(
    avoid="breath_hold_strain",
    modify="sustained_vigorous_pace elevated_unstable_platform",
    watch="shoulder_loaded_end_range",
)

# Clot in a leg vein or the lung: limits at 6 and 12 weeks.
clot_0_6 = want(
    avoid="""sustained_vigorous_pace near_maximal_effort jump_impact breath_hold_strain
    elevated_unstable_platform""",
    modify="inversion passive_end_range_stretch",
)
clot_6_12 = want(
    avoid="breath_hold_strain elevated_unstable_platform",
    modify="inversion sustained_vigorous_pace near_maximal_effort jump_impact",
)
clot_12_on = want(watch="sustained_vigorous_pace")

CASES = [
    *ongoing(
        "osteoarthritis_general",
        ARTHRITIS,
        want(
            modify="jump_impact",
            watch="kneeling_load wrist_weight_bearing isometric_grip rapid_position_change",
        ),
    ),
    *ongoing(
        "rheumatoid_arthritis",
        RHEUMATOID,
        want(
            avoid="neck_end_range neck_shoulder_weight_bearing inversion",
            modify="""head_lifted_neck_flexion wrist_weight_bearing isometric_grip kneeling_load
            jump_impact near_maximal_effort""",
            watch="shoulder_weight_bearing",
        ),
    ),
    *ongoing(
        "hypermobility",
        LOOSE,
        want(
            avoid="passive_end_range_stretch neck_shoulder_weight_bearing",
            modify="""shoulder_loaded_end_range knee_locked_extension_loaded hip_end_range_extension
            hip_wide_abduction wrist_weight_bearing end_range_spinal_flexion spinal_extension_end_range
            neck_end_range end_range_rotation hip_external_rotation_end_range""",
            watch="rapid_position_change shoulder_weight_bearing overhead_reach inversion",
        ),
    ),
    *ongoing(
        "fibromyalgia",
        FIBRO,
        want(
            modify="near_maximal_effort sustained_vigorous_pace",
            watch="jump_impact passive_end_range_stretch",
        ),
    ),
    *ongoing(
        "hypertension_controlled",
        PRESSURE,
        want(
            avoid="breath_hold_strain",
            modify="isometric_grip near_maximal_effort inversion",
            watch="rapid_position_change sustained_vigorous_pace",
        ),
    ),
    *ongoing(
        "hypertension_uncontrolled",
        HIGH_PRESSURE,
        want(
            avoid="""breath_hold_strain isometric_grip near_maximal_effort sustained_vigorous_pace
            inversion jump_impact""",
            modify="leg_lowering_long_lever rapid_position_change shoulder_weight_bearing",
            watch="overhead_reach",
        ),
    ),
    *ongoing(
        "coronary_disease",
        HEART,
        want(
            avoid="breath_hold_strain near_maximal_effort",
            modify="sustained_vigorous_pace isometric_grip inversion rapid_position_change jump_impact",
            watch="supine_lying_long overhead_reach",
        ),
    ),
    *windowed(
        "cardiac_surgery_sternotomy",
        BREASTBONE,
        "2025-11-17",
        [
            (-1, "2025-11-16", breastbone_0_12),
            (0, "2025-11-17", breastbone_0_12),
            (83, "2026-02-08", breastbone_0_12),
            (84, "2026-02-09", breastbone_12_26),
            (85, "2026-02-10", breastbone_12_26),
            (181, "2026-05-17", breastbone_12_26),
            (182, "2026-05-18", breastbone_26_on),
            (183, "2026-05-19", breastbone_26_on),
        ],
        unknown=breastbone_0_12,
        long_ago=breastbone_26_on,
    ),
    *ongoing(
        "atrial_fibrillation",
        HEART,
        want(
            avoid="breath_hold_strain",
            modify="sustained_vigorous_pace jump_impact elevated_unstable_platform",
            watch="rapid_position_change near_maximal_effort",
        ),
    ),
    *windowed(
        "pacemaker_icd",
        PACER,
        "2023-12-11",
        [
            (-1, "2023-12-10", pacer_0_6),
            (0, "2023-12-11", pacer_0_6),
            (41, "2024-01-21", pacer_0_6),
            (42, "2024-01-22", pacer_6_on),
            (43, "2024-01-23", pacer_6_on),
        ],
        unknown=pacer_0_6,
        long_ago=pacer_6_on,
        side="left",
        other=(
            10,
            "2023-12-21",
            want(
                avoid="breath_hold_strain near_maximal_effort",
                modify="sustained_vigorous_pace prone_lying elevated_unstable_platform",
            ),
        ),
    ),
    *ongoing(
        "diabetes_insulin",
        SUGAR,
        want(
            modify="sustained_vigorous_pace",
            watch="standing_balance rapid_position_change elevated_unstable_platform jump_impact",
        ),
    ),
    *ongoing(
        "diabetic_retinopathy",
        EYE_SUGAR,
        want(
            avoid="""breath_hold_strain inversion jump_impact near_maximal_effort
            sustained_vigorous_pace""",
            modify="rapid_position_change isometric_grip",
        ),
    ),
    *ongoing(
        "asthma",
        LUNGS,
        want(modify="sustained_vigorous_pace", watch="breath_hold_strain prone_lying"),
    ),
    *ongoing(
        "blood_thinners",
        THINNERS,
        want(
            avoid="elevated_unstable_platform",
            modify="standing_balance rapid_position_change",
            watch="jump_impact inversion passive_end_range_stretch",
        ),
    ),
    *windowed(
        "recent_clot",
        CLOT,
        "2026-03-02",
        [
            (-1, "2026-03-01", clot_0_6),
            (0, "2026-03-02", clot_0_6),
            (41, "2026-04-12", clot_0_6),
            (42, "2026-04-13", clot_6_12),
            (43, "2026-04-14", clot_6_12),
            (83, "2026-05-24", clot_6_12),
            (84, "2026-05-25", clot_12_on),
            (85, "2026-05-26", clot_12_on),
        ],
        unknown=clot_0_6,
        long_ago=clot_12_on,
    ),
    *ongoing(
        "aneurysm_known",
        ANEURYSM,
        want(
            avoid="""breath_hold_strain near_maximal_effort sustained_vigorous_pace jump_impact inversion
            neck_shoulder_weight_bearing""",
            modify="""isometric_grip shoulder_weight_bearing leg_lowering_long_lever
            loaded_spinal_flexion arm_push_pull_loaded elevated_unstable_platform
            rapid_position_change""",
        ),
    ),
    *ongoing(
        "orthostatic_hypotension",
        FAINT,
        want(
            avoid="rapid_position_change elevated_unstable_platform",
            modify="standing_balance inversion breath_hold_strain sustained_vigorous_pace",
            watch="supine_lying_long",
        ),
    ),
    *ongoing(
        "lung_disease_other",
        COPD,
        want(
            avoid="breath_hold_strain",
            modify="""sustained_vigorous_pace near_maximal_effort overhead_reach inversion
            supine_lying_long prone_lying""",
            watch="arm_push_pull_loaded loaded_spinal_flexion end_range_spinal_flexion",
        ),
    ),
]
