"""Verdict cases: pregnancy, after birth and pelvic floor. Each table read in the advice named, typed by hand.

A spell on the back of unknown length counts as long, so the rules for short spells do not speak here.
"""

from .cases_screening_kit import NOTHING, ongoing, pregnant, want, windowed

PREGNANT = (
    "Tommy's and NHS text on the back in pregnancy (screening S36); 2019 Canadian guideline (S37); "
    "health-board pages (S38); ACOG Opinion 804 (S33, M08 from memory); trimesters ACOG from memory (M07); "
    "rest common practice, no source"
)
GIRDLE = (
    "Northern Care Alliance NHS leaflet on pelvic girdle pain (screening S59); rest common practice, no "
    "source"
)
BIRTH = (
    "NHS Fife postnatal page (screening S41); BJSM table on running after birth (S40); pelvic-floor "
    "page (S43); rest common practice, no source"
)
CAESAREAN = (
    "HSE Ireland on exercise after a caesarean (screening S39); Cardiff and Vale UHB advice (S42); BJSM "
    "table (S40); rest common practice, no source"
)
GAP = (
    "NHS text on the post-pregnancy body (screening S41); pelvic-floor page (S43); rest common "
    "practice, no source"
)
FLOOR = "pelvic-floor-friendly exercise page (screening S43); rest common practice, no source"

# Pregnancy: limits at 14w0d, 16w0d and 28w0d.
weeks_0_13 = want(
    avoid="breath_hold_strain neck_shoulder_weight_bearing",
    modify="""inversion jump_impact standing_balance near_maximal_effort sustained_vigorous_pace
    rapid_position_change elevated_unstable_platform""",
    watch="""supine_lying_long prone_lying loaded_spinal_flexion end_range_rotation hip_wide_abduction
    passive_end_range_stretch""",
)
weeks_14_15 = want(
    avoid="prone_lying elevated_unstable_platform breath_hold_strain neck_shoulder_weight_bearing",
    modify="""supine_lying_long loaded_spinal_flexion head_lifted_neck_flexion leg_lowering_long_lever
    inversion jump_impact standing_balance near_maximal_effort sustained_vigorous_pace
    spinal_extension_end_range rapid_position_change loaded_rotation shoulder_weight_bearing
    end_range_spinal_flexion""",
    watch="end_range_rotation hip_wide_abduction passive_end_range_stretch",
)
weeks_16_27 = want(
    avoid="""supine_lying_long prone_lying elevated_unstable_platform breath_hold_strain
    neck_shoulder_weight_bearing""",
    modify="""loaded_spinal_flexion head_lifted_neck_flexion leg_lowering_long_lever inversion jump_impact
    standing_balance near_maximal_effort sustained_vigorous_pace spinal_extension_end_range
    rapid_position_change loaded_rotation shoulder_weight_bearing end_range_spinal_flexion""",
    watch="end_range_rotation hip_wide_abduction passive_end_range_stretch",
)
weeks_28_on = want(
    avoid="""supine_lying_long prone_lying loaded_spinal_flexion inversion elevated_unstable_platform
    breath_hold_strain neck_shoulder_weight_bearing""",
    modify="""head_lifted_neck_flexion leg_lowering_long_lever jump_impact standing_balance
    near_maximal_effort sustained_vigorous_pace spinal_extension_end_range rapid_position_change
    loaded_rotation shoulder_weight_bearing end_range_spinal_flexion""",
    watch="end_range_rotation hip_wide_abduction passive_end_range_stretch",
)

# After a vaginal birth: limits at 6, 12 and 26 weeks.
birth_0_6 = want(
    avoid="""loaded_spinal_flexion leg_lowering_long_lever jump_impact breath_hold_strain
    near_maximal_effort inversion""",
    modify="""head_lifted_neck_flexion sustained_vigorous_pace hip_wide_abduction deep_knee_flexion_loaded
    shoulder_weight_bearing loaded_rotation spinal_extension_end_range""",
    watch="passive_end_range_stretch",
)
birth_6_12 = want(
    avoid="jump_impact breath_hold_strain",
    modify="""loaded_spinal_flexion leg_lowering_long_lever near_maximal_effort sustained_vigorous_pace
    shoulder_weight_bearing loaded_rotation""",
    watch="passive_end_range_stretch",
)
birth_12_26 = want(modify="jump_impact breath_hold_strain", watch="passive_end_range_stretch")

# After a caesarean birth: limits at 6, 12, 16 and 26 weeks.
caesarean_0_6 = want(
    avoid="""loaded_spinal_flexion head_lifted_neck_flexion leg_lowering_long_lever breath_hold_strain
    near_maximal_effort jump_impact sustained_vigorous_pace inversion spinal_extension_end_range
    loaded_rotation lateral_flexion_loaded shoulder_weight_bearing""",
    modify="""prone_lying end_range_rotation spinal_extension_loaded rapid_position_change
    arm_push_pull_loaded elevated_unstable_platform""",
)
caesarean_6_12 = want(
    avoid="""leg_lowering_long_lever breath_hold_strain near_maximal_effort jump_impact
    sustained_vigorous_pace""",
    modify="""loaded_spinal_flexion head_lifted_neck_flexion loaded_rotation lateral_flexion_loaded
    end_range_rotation spinal_extension_end_range spinal_extension_loaded shoulder_weight_bearing
    prone_lying inversion elevated_unstable_platform""",
)
caesarean_12_16 = want(
    avoid="near_maximal_effort jump_impact sustained_vigorous_pace",
    modify="leg_lowering_long_lever shoulder_weight_bearing breath_hold_strain",
)
caesarean_16_26 = want(modify="jump_impact breath_hold_strain")

CASES = [
    *pregnant(
        PREGNANT,
        "2026-12-28",
        [
            ("0w0d", "2026-03-23", weeks_0_13),
            ("13w6d", "2026-06-28", weeks_0_13),
            ("14w0d", "2026-06-29", weeks_14_15),
            ("14w1d", "2026-06-30", weeks_14_15),
            ("15w6d", "2026-07-12", weeks_14_15),
            ("16w0d", "2026-07-13", weeks_16_27),
            ("16w1d", "2026-07-14", weeks_16_27),
            ("27w6d", "2026-10-04", weeks_16_27),
            ("28w0d", "2026-10-05", weeks_28_on),
            ("28w1d", "2026-10-06", weeks_28_on),
            ("40w0d", "2026-12-28", weeks_28_on),
            ("42w1d", "2027-01-12", weeks_28_on),
        ],
        unknown=weeks_28_on,
    ),
    *pregnant(
        PREGNANT,
        "2024-08-15",
        [
            ("15w6d", "2024-02-28", weeks_14_15),
            ("16w0d", "2024-02-29", weeks_16_27),
            ("16w1d", "2024-03-01", weeks_16_27),
        ],
        name="pregnancy-leap-year",
    ),
    *ongoing(
        "pregnancy_pelvic_girdle_pain",
        GIRDLE,
        want(
            avoid="closed_chain_single_leg hip_wide_abduction jump_impact elevated_unstable_platform",
            modify="""deep_knee_flexion_loaded leg_lowering_long_lever side_lying rapid_position_change
            standing_balance loaded_rotation passive_end_range_stretch""",
            watch="hip_end_range_extension",
        ),
    ),
    *windowed(
        "postnatal_vaginal",
        BIRTH,
        "2026-03-02",
        [
            (-1, "2026-03-01", birth_0_6),
            (0, "2026-03-02", birth_0_6),
            (41, "2026-04-12", birth_0_6),
            (42, "2026-04-13", birth_6_12),
            (43, "2026-04-14", birth_6_12),
            (83, "2026-05-24", birth_6_12),
            (84, "2026-05-25", birth_12_26),
            (85, "2026-05-26", birth_12_26),
            (181, "2026-08-30", birth_12_26),
            (182, "2026-08-31", NOTHING),
            (183, "2026-09-01", NOTHING),
        ],
        unknown=birth_0_6,
        long_ago=NOTHING,
    ),
    *windowed(
        "postnatal_caesarean",
        CAESAREAN,
        "2023-12-11",
        [
            (-1, "2023-12-10", caesarean_0_6),
            (0, "2023-12-11", caesarean_0_6),
            (41, "2024-01-21", caesarean_0_6),
            (42, "2024-01-22", caesarean_6_12),
            (43, "2024-01-23", caesarean_6_12),
            (83, "2024-03-03", caesarean_6_12),
            (84, "2024-03-04", caesarean_12_16),
            (85, "2024-03-05", caesarean_12_16),
            (111, "2024-03-31", caesarean_12_16),
            (112, "2024-04-01", caesarean_16_26),
            (113, "2024-04-02", caesarean_16_26),
            (181, "2024-06-09", caesarean_16_26),
            (182, "2024-06-10", NOTHING),
            (183, "2024-06-11", NOTHING),
        ],
        unknown=caesarean_0_6,
        long_ago=NOTHING,
    ),
    *ongoing(
        "diastasis_recti",
        GAP,
        want(
            avoid="breath_hold_strain",
            modify="""loaded_spinal_flexion head_lifted_neck_flexion leg_lowering_long_lever
            loaded_rotation shoulder_weight_bearing near_maximal_effort""",
            watch="spinal_extension_end_range",
        ),
    ),
    *ongoing(
        "pelvic_floor_prolapse",
        FLOOR,
        want(
            avoid="breath_hold_strain jump_impact",
            modify="""near_maximal_effort loaded_spinal_flexion leg_lowering_long_lever
            deep_knee_flexion_loaded sustained_vigorous_pace""",
            watch="hip_wide_abduction",
        ),
    ),
]
