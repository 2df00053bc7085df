"""Verdict cases: eyes, balance and nervous system. Each table read in the advice named, typed by hand."""

from .cases_screening_kit import NOTHING, ongoing, ongoing_sided, want, windowed

GLAUCOMA = (
    "Jasien 2015 on head-down positions (screening S100); Berkeley Wellness note (S101); rest common "
    "practice, no source"
)
RETINA = "hospital instructions after retinal surgery (screening S102); rest common practice, no source"
VERTIGO = (
    "MedlinePlus and NHS Lanarkshire on positional vertigo (screening S103); rest common practice, no source"
)
EPILEPSY = (
    "Epilepsy Action and Epilepsy Society sport pages (screening S104); rest common practice, no source"
)
SEIZURES = (
    "Capovilla 2016, ILAE task force on sports (screening S149); Epilepsy Action (S104); rest common "
    "practice, no source"
)
MS = "Davis 2010 on heat in multiple sclerosis (screening S105); rest common practice, no source"
PARKINSON = "APTA guideline on Parkinson disease 2021 (screening S106); rest common practice, no source"
STROKE = (
    "Billinger 2014, AHA/ASA stroke survivors (screening S107); stroke guidelines from memory (M15); "
    "rest common practice, no source"
)
CUSTOM = "common practice, no source"
CATARACT = "Moorfields and other cataract-surgery pages (screening S150); rest common practice, no source"
CONCUSSION = (
    "Patricios 2023, Amsterdam consensus on concussion (screening S142); rest common practice, no source"
)
FEET = (
    "review of touch and balance in peripheral neuropathy, PMC6523875 (screening S145); ADA 2016 from "
    "memory (M23); rest common practice, no source"
)

# Retina: limit at 8 weeks.
retina_0_8 = want(
    avoid="""inversion jump_impact breath_hold_strain near_maximal_effort rapid_position_change
    supine_lying_long sustained_vigorous_pace elevated_unstable_platform""",
    modify="prone_lying end_range_spinal_flexion standing_balance side_lying",
)
retina_8_on = want(modify="inversion breath_hold_strain", watch="jump_impact")

# Cataract: limits at 2 and 4 weeks.
cataract_0_2 = want(
    avoid="inversion near_maximal_effort breath_hold_strain jump_impact sustained_vigorous_pace",
    modify="prone_lying end_range_spinal_flexion elevated_unstable_platform",
)
cataract_2_4 = want(
    modify="inversion near_maximal_effort breath_hold_strain jump_impact sustained_vigorous_pace"
)

# Concussion: limits at 2, 4 and 12 weeks.
blow_0_2 = want(
    avoid="""inversion jump_impact elevated_unstable_platform rapid_position_change
    neck_shoulder_weight_bearing sustained_vigorous_pace near_maximal_effort breath_hold_strain""",
    modify="neck_end_range standing_balance head_lifted_neck_flexion",
    watch="supine_lying_long",
)
blow_2_4 = want(
    avoid="""inversion jump_impact elevated_unstable_platform rapid_position_change
    neck_shoulder_weight_bearing""",
    modify="""sustained_vigorous_pace near_maximal_effort breath_hold_strain neck_end_range
    standing_balance""",
)
blow_4_12 = want(watch="inversion jump_impact")

CASES = [
    *ongoing(
        "glaucoma",
        GLAUCOMA,
        want(
            avoid="inversion breath_hold_strain near_maximal_effort neck_shoulder_weight_bearing",
            watch="supine_lying_long isometric_grip prone_lying",
        ),
    ),
    *windowed(
        "retinal_detachment",
        RETINA,
        "2026-03-02",
        [
            (-1, "2026-03-01", retina_0_8),
            (0, "2026-03-02", retina_0_8),
            (55, "2026-04-26", retina_0_8),
            (56, "2026-04-27", retina_8_on),
            (57, "2026-04-28", retina_8_on),
        ],
        unknown=retina_0_8,
        long_ago=retina_8_on,
    ),
    *ongoing(
        "vertigo_bppv",
        VERTIGO,
        want(
            avoid="rapid_position_change inversion elevated_unstable_platform",
            modify="neck_end_range standing_balance supine_lying_long spinal_extension_end_range",
            watch="side_lying head_lifted_neck_flexion prone_lying",
        ),
    ),
    *ongoing(
        "epilepsy",
        EPILEPSY,
        want(
            modify="elevated_unstable_platform",
            watch="sustained_vigorous_pace standing_balance inversion",
        ),
    ),
    *ongoing(
        "multiple_sclerosis",
        MS,
        want(
            modify="""standing_balance closed_chain_single_leg sustained_vigorous_pace
            elevated_unstable_platform""",
            watch="rapid_position_change wrist_weight_bearing",
        ),
    ),
    *ongoing(
        "parkinsons",
        PARKINSON,
        want(
            avoid="elevated_unstable_platform",
            modify="""standing_balance rapid_position_change closed_chain_single_leg
            end_range_spinal_flexion jump_impact inversion""",
            watch="prone_lying loaded_spinal_flexion",
        ),
    ),
    *ongoing_sided(
        "stroke",
        STROKE,
        want(
            avoid="shoulder_loaded_end_range elevated_unstable_platform breath_hold_strain inversion",
            modify="""standing_balance overhead_reach shoulder_weight_bearing rapid_position_change
            isometric_grip near_maximal_effort closed_chain_single_leg sustained_vigorous_pace
            jump_impact wrist_weight_bearing""",
        ),
        other=want(
            avoid="elevated_unstable_platform breath_hold_strain inversion",
            modify="""standing_balance rapid_position_change near_maximal_effort sustained_vigorous_pace
            jump_impact""",
        ),
    ),
    *ongoing(
        "migraine",
        CUSTOM,
        want(
            modify="breath_hold_strain",
            watch="""inversion rapid_position_change sustained_vigorous_pace neck_end_range
            head_lifted_neck_flexion""",
        ),
    ),
    *windowed(
        "cataract_surgery",
        CATARACT,
        "2025-12-29",
        [
            (-1, "2025-12-28", cataract_0_2),
            (0, "2025-12-29", cataract_0_2),
            (13, "2026-01-11", cataract_0_2),
            (14, "2026-01-12", cataract_2_4),
            (15, "2026-01-13", cataract_2_4),
            (27, "2026-01-25", cataract_2_4),
            (28, "2026-01-26", NOTHING),
            (29, "2026-01-27", NOTHING),
        ],
        unknown=cataract_0_2,
        long_ago=NOTHING,
    ),
    *windowed(
        "concussion_recent",
        CONCUSSION,
        "2026-03-02",
        [
            (-1, "2026-03-01", blow_0_2),
            (0, "2026-03-02", blow_0_2),
            (13, "2026-03-15", blow_0_2),
            (14, "2026-03-16", blow_2_4),
            (15, "2026-03-17", blow_2_4),
            (27, "2026-03-29", blow_2_4),
            (28, "2026-03-30", blow_4_12),
            (29, "2026-03-31", blow_4_12),
            (83, "2026-05-24", blow_4_12),
            (84, "2026-05-25", NOTHING),
            (85, "2026-05-26", NOTHING),
        ],
        unknown=blow_0_2,
        long_ago=NOTHING,
    ),
    *ongoing(
        "epilepsy_uncontrolled",
        SEIZURES,
        want(
            avoid="elevated_unstable_platform inversion neck_shoulder_weight_bearing",
            modify="standing_balance sustained_vigorous_pace near_maximal_effort jump_impact",
            watch="closed_chain_single_leg rapid_position_change",
        ),
    ),
    *ongoing(
        "peripheral_neuropathy_feet",
        FEET,
        want(
            avoid="jump_impact elevated_unstable_platform",
            modify="""standing_balance closed_chain_single_leg ankle_end_range_loaded
            rapid_position_change""",
            watch="passive_end_range_stretch",
        ),
    ),
]
