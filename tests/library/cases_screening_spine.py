"""Verdict cases: bone, spine and neck. Each table read in the published advice named and typed by hand."""

from .cases_screening_kit import NOTHING, ongoing, want, windowed

BONE = (
    "Giangregorio 2015 Too Fit To Fracture consensus (screening S50); Osteoporosis Canada leaflet (S51); "
    "Strong, steady and straight, UK consensus 2022 (S52); some rows common practice, no source"
)
FRACTURED = (
    "Giangregorio 2015 consensus (screening S50); Osteoporosis Canada leaflet (S51); Royal Osteoporosis "
    "Society guidance on vertebral fracture (S148); some rows common practice, no source"
)
DISC = (
    "patient page on disc pain and direction (screening S53); spine surgeon's page on disc herniation "
    "(S54); rest common practice, no source"
)
STENOSIS = "patient descriptions of lumbar stenosis (screening S55); rest common practice, no source"
SLIP = (
    "Archives of Physiotherapy 2021 masterclass on spondylolisthesis (screening S56); rest common "
    "practice, no source"
)
PELVIS = (
    "Northern Care Alliance NHS leaflet on pelvic girdle pain (screening S59); rest common practice, no "
    "source"
)
NEW_BACK = (
    "spine surgeon's page (screening S54), disc-pain page (S53), NICE NG59 from memory (M10); rest "
    "common practice, no source"
)
ARM_PAIN = "patient page on cervical radiculopathy (screening S57); rest common practice, no source"
WHIPLASH = "NHS leaflets on whiplash (screening S58); the weeks common practice, no source"
SPINE_OP = (
    "spinal-fusion advice pages (screening S136); disc-surgery pages (S137); rest common practice, no source"
)
CUSTOM = "common practice, no source"

# Under twelve weeks from a spinal fracture, then for good.
fresh_fracture = want(
    avoid="""end_range_spinal_flexion loaded_spinal_flexion end_range_rotation loaded_rotation
    lateral_flexion_loaded neck_shoulder_weight_bearing head_lifted_neck_flexion inversion jump_impact
    near_maximal_effort elevated_unstable_platform spinal_extension_end_range leg_lowering_long_lever
    breath_hold_strain rapid_position_change""",
    modify="""standing_balance prone_lying spinal_extension_loaded shoulder_weight_bearing
    arm_push_pull_loaded overhead_reach deep_knee_flexion_loaded""",
)
old_fracture = want(
    avoid="""end_range_spinal_flexion loaded_spinal_flexion end_range_rotation loaded_rotation
    lateral_flexion_loaded neck_shoulder_weight_bearing head_lifted_neck_flexion inversion jump_impact
    near_maximal_effort elevated_unstable_platform""",
    modify="""leg_lowering_long_lever standing_balance prone_lying rapid_position_change
    spinal_extension_end_range spinal_extension_loaded breath_hold_strain""",
)

# New back pain: six weeks, then only loaded rounding stays in stages.
new_back = want(
    avoid="""loaded_spinal_flexion loaded_rotation near_maximal_effort jump_impact
    neck_shoulder_weight_bearing""",
    modify="""end_range_spinal_flexion end_range_rotation leg_lowering_long_lever rapid_position_change
    inversion spinal_extension_end_range lateral_flexion_loaded breath_hold_strain""",
)
settled_back = want(modify="loaded_spinal_flexion")

# Whiplash: six weeks, then to twelve, then nothing.
whiplash_fresh = want(
    avoid="head_lifted_neck_flexion neck_shoulder_weight_bearing inversion jump_impact",
    modify="neck_end_range rapid_position_change breath_hold_strain near_maximal_effort",
    watch="prone_lying",
)
whiplash_later = want(modify="head_lifted_neck_flexion neck_shoulder_weight_bearing inversion")

# Spinal surgery: limits at 6, 12 and 26 weeks.
spine_op_0_6 = want(
    avoid="""loaded_spinal_flexion end_range_spinal_flexion end_range_rotation loaded_rotation
    spinal_extension_end_range lateral_flexion_loaded inversion jump_impact near_maximal_effort
    breath_hold_strain elevated_unstable_platform leg_lowering_long_lever spinal_extension_loaded
    neck_shoulder_weight_bearing""",
    modify="""head_lifted_neck_flexion arm_push_pull_loaded overhead_reach shoulder_weight_bearing
    rapid_position_change prone_lying standing_balance""",
)
spine_op_6_12 = want(
    avoid="""loaded_spinal_flexion end_range_spinal_flexion end_range_rotation loaded_rotation
    spinal_extension_end_range lateral_flexion_loaded inversion jump_impact near_maximal_effort
    breath_hold_strain elevated_unstable_platform leg_lowering_long_lever neck_shoulder_weight_bearing""",
    modify="""head_lifted_neck_flexion arm_push_pull_loaded overhead_reach shoulder_weight_bearing
    rapid_position_change standing_balance spinal_extension_loaded""",
)
spine_op_12_26 = want(
    avoid="neck_shoulder_weight_bearing",
    modify="""spinal_extension_loaded loaded_spinal_flexion loaded_rotation lateral_flexion_loaded
    leg_lowering_long_lever near_maximal_effort jump_impact end_range_spinal_flexion end_range_rotation
    spinal_extension_end_range inversion""",
)
spine_op_26_on = want(
    avoid="neck_shoulder_weight_bearing",
    modify="end_range_spinal_flexion end_range_rotation spinal_extension_end_range inversion",
)

CASES = [
    *ongoing(
        "osteoporosis",
        BONE,
        want(
            avoid="""end_range_spinal_flexion loaded_spinal_flexion end_range_rotation
            elevated_unstable_platform neck_shoulder_weight_bearing""",
            modify="""loaded_rotation lateral_flexion_loaded standing_balance near_maximal_effort
            head_lifted_neck_flexion inversion jump_impact rapid_position_change""",
        ),
    ),
    *windowed(
        "osteoporosis_vertebral_fracture",
        FRACTURED,
        "2026-03-02",
        [
            (-1, "2026-03-01", fresh_fracture),
            (0, "2026-03-02", fresh_fracture),
            (83, "2026-05-24", fresh_fracture),
            (84, "2026-05-25", old_fracture),
            (85, "2026-05-26", old_fracture),
        ],
        unknown=fresh_fracture,
        long_ago=old_fracture,
    ),
    *ongoing(
        "osteopenia",
        BONE,
        want(
            modify="loaded_spinal_flexion",
            watch="""end_range_spinal_flexion end_range_rotation near_maximal_effort jump_impact
            standing_balance""",
        ),
    ),
    *ongoing(
        "disc_flexion_intolerant",
        DISC,
        want(
            avoid="""loaded_spinal_flexion end_range_spinal_flexion loaded_rotation
            neck_shoulder_weight_bearing breath_hold_strain""",
            modify="""end_range_rotation inversion leg_lowering_long_lever head_lifted_neck_flexion
            hip_flexion_past_90 jump_impact passive_end_range_stretch rapid_position_change
            near_maximal_effort lateral_flexion_loaded""",
            watch="spinal_extension_end_range standing_balance",
        ),
    ),
    *ongoing(
        "spinal_stenosis",
        STENOSIS,
        want(
            avoid="spinal_extension_end_range",
            modify="""spinal_extension_loaded hip_end_range_extension prone_lying jump_impact
            leg_lowering_long_lever elevated_unstable_platform""",
            watch="standing_balance supine_lying_long overhead_reach",
        ),
    ),
    *ongoing(
        "spondylolisthesis",
        SLIP,
        want(
            avoid="spinal_extension_end_range spinal_extension_loaded",
            modify="""hip_end_range_extension loaded_rotation leg_lowering_long_lever jump_impact
            end_range_rotation near_maximal_effort breath_hold_strain""",
            watch="prone_lying",
        ),
    ),
    *ongoing(
        "scoliosis",
        CUSTOM,
        want(
            modify="lateral_flexion_loaded loaded_rotation",
            watch="end_range_rotation end_range_spinal_flexion prone_lying",
        ),
    ),
    *ongoing(
        "si_joint_pain",
        PELVIS,
        want(
            modify="""closed_chain_single_leg hip_wide_abduction deep_knee_flexion_loaded
            leg_lowering_long_lever jump_impact""",
            watch="end_range_rotation hip_end_range_extension",
        ),
    ),
    *windowed(
        "acute_low_back_pain",
        NEW_BACK,
        "2025-12-29",
        [
            (-1, "2025-12-28", new_back),
            (0, "2025-12-29", new_back),
            (41, "2026-02-08", new_back),
            (42, "2026-02-09", settled_back),
            (43, "2026-02-10", settled_back),
        ],
        unknown=new_back,
        long_ago=settled_back,
    ),
    *ongoing(
        "neck_pain",
        CUSTOM,
        want(
            avoid="neck_shoulder_weight_bearing",
            modify="head_lifted_neck_flexion neck_end_range inversion",
            watch="prone_lying overhead_reach breath_hold_strain",
        ),
    ),
    *ongoing(
        "cervical_radiculopathy",
        ARM_PAIN,
        want(
            avoid="neck_end_range neck_shoulder_weight_bearing inversion",
            modify="""head_lifted_neck_flexion shoulder_weight_bearing arm_push_pull_loaded
            breath_hold_strain near_maximal_effort jump_impact prone_lying spinal_extension_end_range""",
            watch="overhead_reach",
        ),
    ),
    *windowed(
        "whiplash",
        WHIPLASH,
        "2023-12-11",
        [
            (-1, "2023-12-10", whiplash_fresh),
            (0, "2023-12-11", whiplash_fresh),
            (41, "2024-01-21", whiplash_fresh),
            (42, "2024-01-22", whiplash_later),
            (43, "2024-01-23", whiplash_later),
            (83, "2024-03-03", whiplash_later),
            (84, "2024-03-04", NOTHING),
            (85, "2024-03-05", NOTHING),
        ],
        unknown=whiplash_fresh,
        long_ago=NOTHING,
    ),
    *windowed(
        "spinal_surgery",
        SPINE_OP,
        "2025-11-17",
        [
            (-1, "2025-11-16", spine_op_0_6),
            (0, "2025-11-17", spine_op_0_6),
            (41, "2025-12-28", spine_op_0_6),
            (42, "2025-12-29", spine_op_6_12),
            (43, "2025-12-30", spine_op_6_12),
            (83, "2026-02-08", spine_op_6_12),
            (84, "2026-02-09", spine_op_12_26),
            (85, "2026-02-10", spine_op_12_26),
            (181, "2026-05-17", spine_op_12_26),
            (182, "2026-05-18", spine_op_26_on),
            (183, "2026-05-19", spine_op_26_on),
        ],
        unknown=spine_op_0_6,
        long_ago=spine_op_26_on,
    ),
]
