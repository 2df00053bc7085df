"""The rows of adaptations that lift a demand, and what they do for a client: written by hand, row by row.

Nothing here was computed from the program's data. The rows were typed from the written table of safer adaptations
(common practice, no source, but for the leanings named at the row); the verdicts without an adaptation were read
off the condition tables, whose publications stand in the sheets `cases_screening_*.py`.
"""

from datetime import date, timedelta
from types import SimpleNamespace

ON = date(2026, 11, 25)


def had(condition, weeks=None, side=None):
    """A flag: an event so many weeks before the day that is judged, or a lasting condition."""
    on = None if weeks is None else ON - timedelta(weeks=weeks)
    return SimpleNamespace(condition=condition, on=on, side=side)


def pregnant(weeks):
    return SimpleNamespace(condition="pregnancy", due=ON + timedelta(weeks=40 - weeks))


# After operations and with weak bone, 'less range' is not softened: nobody can see the limit from outside.
RANGE = (
    "bone_metastases spinal_surgery osteoporosis_vertebral_fracture hip_replacement_posterior"
    " hip_replacement_anterior cardiac_surgery_sternotomy knee_replacement acl_reconstruction meniscus_repair"
    " fracture_leg_recent retinal_detachment"
)
LONG = "bone_metastases spinal_surgery retinal_detachment"
PRESSURE = (
    "hypertension_uncontrolled coronary_disease cardiac_surgery_sternotomy aneurysm_known diabetic_retinopathy"
    " retinal_detachment cataract_surgery spinal_surgery osteoporosis_vertebral_fracture recent_clot stroke"
    " concussion_recent abdominal_surgery_recent bone_metastases"
)
PUSHING = (
    "rotator_cuff_repair shoulder_instability fracture_arm_recent cardiac_surgery_sternotomy breast_surgery"
    " pacemaker_icd bone_metastases"
)
KNEE = "fracture_leg_recent meniscus_repair"

# Row, adaptation, what it lifts, how many exercises, what it adds, not softened for. '=' both: see BOTH.
TABLE = [
    ("L01", "trunk_raised_on_wedge", "supine_lying_long", 16, "", "retinal_detachment"),
    ("L02", "trunk_raised_on_wedge", "supine_lying_long", 30, "hip_flexion_past_90", "retinal_detachment"),
    ("L03", "do_seated", "supine_lying_long", 3, "", ""),
    ("L04", "do_side_lying", "supine_lying_long", 1, "side_lying", ""),
    ("L05", "head_stays_down", "head_lifted_neck_flexion loaded_spinal_flexion", 12, "", ""),
    ("L06", "arms_below_shoulder", "overhead_reach", 18, "", ""),
    ("L07", "arms_below_shoulder", "overhead_reach shoulder_loaded_end_range", 3, "", ""),
    ("L08", "forearms_instead_of_hands", "wrist_weight_bearing", 8, "", ""),
    ("L09", "forearms_instead_of_hands", "wrist_weight_bearing", 6, "inversion", ""),
    ("L10", "loops_on_wrist_or_forearm", "isometric_grip", 6, "", "lymphoedema_risk breast_surgery"),
    ("L11", "knees_stay_soft", "knee_locked_extension_loaded", 6, "", ""),
    ("L12", "carriage_stop_out", "hip_flexion_past_90 deep_knee_flexion_loaded", 7, "", KNEE),
    ("L13", "extra_box_or_riser", "hip_flexion_past_90 deep_knee_flexion_loaded", 1, "", KNEE),
    ("L14", "both_legs_together", "closed_chain_single_leg", 10, "", "fracture_leg_recent"),
    ("L15", "both_legs_together", "closed_chain_single_leg standing_balance", 1, "", "fracture_leg_recent"),
    ("L16", "knees_bent", "leg_lowering_long_lever", 14, "", ""),
    ("L17", "knees_bent", "breath_hold_strain", 1, "kneeling_load", ""),
    ("L18", "breathe_out_aloud", "breath_hold_strain", 32, "", PRESSURE),
    (
        "L19",
        "do_seated",
        "end_range_spinal_flexion kneeling_load wrist_weight_bearing shoulder_weight_bearing",
        1,
        "",
        "",
    ),
    ("L20", "do_seated", "kneeling_load", 1, "", ""),
    ("L21", "do_seated", "kneeling_load elevated_unstable_platform", 3, "", ""),
    ("L22", "do_seated", "kneeling_load deep_knee_flexion_loaded", 1, "", ""),
    (
        "L23",
        "do_seated",
        "lateral_flexion_loaded hip_internal_rotation hip_external_rotation_end_range",
        1,
        "",
        "",
    ),
    ("L24", "do_seated", "side_lying", 1, "", ""),
    ("L25", "do_seated", "standing_balance", 2, "", ""),
    ("L26", "do_standing", "prone_lying", 2, "", ""),
    ("L27", "stay_in_mid_range", "end_range_spinal_flexion inversion hip_flexion_past_90", 1, "", RANGE),
    ("L28", "stay_in_mid_range", "end_range_spinal_flexion inversion", 1, "", RANGE),
    ("L29", "stay_in_mid_range", "end_range_spinal_flexion", 4, "", RANGE),
    ("L30", "keep_spine_long", "end_range_spinal_flexion", 4, "", LONG),
    ("L31", "keep_spine_long", "end_range_spinal_flexion inversion", 1, "", LONG),
    ("L32", "keep_spine_long", "loaded_spinal_flexion", 1, "", LONG),
    ("L33", "smaller_range", "end_range_rotation", 3, "", RANGE),
    ("L34", "smaller_range", "spinal_extension_end_range", 1, "", RANGE),
    ("L35", "smaller_range", "hip_end_range_extension", 2, "", RANGE),
    ("L36", "smaller_range", "hip_flexion_past_90 hip_adduction_past_midline", 1, "", RANGE),
    ("L37", "smaller_range", "hip_adduction_past_midline", 2, "", RANGE),
    ("L38", "smaller_range", "deep_knee_flexion_loaded", 1, "", RANGE),
    ("L39", "smaller_range", "hip_flexion_past_90 deep_knee_flexion_loaded", 1, "", RANGE),
    ("L40", "smaller_range", "ankle_end_range_loaded", 4, "", RANGE),
    ("L41", "cushion_between_knees", "hip_adduction_past_midline", 1, "", ""),
    ("L42", "wall_support", "kneeling_load shoulder_weight_bearing", 3, "arm_push_pull_loaded", PUSHING),
]
BOTH = {"L14", "L15"}  # every sided demand then counts for both sides

# Row, exercise, demand, flag, the verdict without the adaptation. With it: 'modify', carrying its name.
LIFTED = [
    ("L01", "mat_chest_lift", "supine_lying_long", pregnant(20), "avoid"),
    ("L01", "ref_tendon", "supine_lying_long", pregnant(30), "avoid"),
    ("L02", "ref_foot_toes", "supine_lying_long", pregnant(30), "avoid"),
    ("L03", "mat_figure_four", "supine_lying_long", pregnant(20), "avoid"),
    ("L03", "mat_breath_supine", "supine_lying_long", had("retinal_detachment", 4), "avoid"),
    ("L04", "mat_breath_supine", "supine_lying_long", pregnant(30), "avoid"),
    ("L05", "mat_hundred", "loaded_spinal_flexion", had("disc_flexion_intolerant"), "avoid"),
    ("L05", "ref_coordination", "head_lifted_neck_flexion", had("whiplash", 3), "avoid"),
    ("L06", "mat_arm_arcs", "overhead_reach", had("shoulder_instability", 4), "avoid"),
    ("L07", "lb_side_stretch", "shoulder_loaded_end_range", had("frozen_shoulder"), "avoid"),
    ("L07", "arc_breath", "overhead_reach", had("rotator_cuff_repair", 4), "avoid"),
    ("L08", "mat_plank", "wrist_weight_bearing", had("wrist_hand_injury_acute", 2), "avoid"),
    ("L09", "mat_bird_dog", "wrist_weight_bearing", had("fracture_arm_recent", 4), "avoid"),
    ("L10", "ref_arm_circles", "isometric_grip", had("wrist_hand_injury_acute", 1), "avoid"),
    ("L11", "ref_foot_toes", "knee_locked_extension_loaded", had("acl_reconstruction", 4), "modify"),
    ("L12", "ref_foot_heels", "hip_flexion_past_90", had("hip_replacement_posterior", 6), "avoid"),
    ("L12", "ref_foot_single", "deep_knee_flexion_loaded", had("knee_replacement", 30), "modify"),
    ("L13", "st_sit_to_stand", "hip_flexion_past_90", had("hip_replacement_posterior", 6), "avoid"),
    ("L14", "mat_single_leg_bridge", "closed_chain_single_leg", had("pregnancy_pelvic_girdle_pain"), "avoid"),
    ("L15", "ref_arabesque", "closed_chain_single_leg", had("pregnancy_pelvic_girdle_pain"), "avoid"),
    ("L15", "ref_arabesque", "standing_balance", had("stroke"), "modify"),
    ("L16", "mat_hundred", "leg_lowering_long_lever", had("postnatal_caesarean", 8), "avoid"),
    ("L17", "mat_plank", "breath_hold_strain", had("glaucoma"), "avoid"),
    ("L17", "mat_plank", "breath_hold_strain", had("coronary_disease"), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("hypertension_controlled"), "avoid"),
    ("L19", "mat_cat", "end_range_spinal_flexion", had("osteoporosis"), "avoid"),
    ("L19", "mat_cat", "kneeling_load", had("knee_replacement", 3), "avoid"),
    ("L19", "mat_cat", "wrist_weight_bearing", had("wrist_hand_injury_acute", 2), "avoid"),
    ("L19", "mat_cat", "shoulder_weight_bearing", had("rotator_cuff_repair", 4), "avoid"),
    ("L20", "mat_kneel_arm_raise", "kneeling_load", had("knee_replacement", 3), "avoid"),
    ("L21", "ref_chest_expansion", "kneeling_load", had("meniscus_repair", 8), "avoid"),
    ("L21", "tt_chest_expansion", "elevated_unstable_platform", had("osteoporosis"), "avoid"),
    ("L22", "mat_rest_stretch", "kneeling_load", had("knee_replacement", 3), "avoid"),
    ("L22", "mat_rest_stretch", "deep_knee_flexion_loaded", had("meniscus_repair", 8), "avoid"),
    ("L23", "mat_mermaid", "lateral_flexion_loaded", had("osteoporosis_vertebral_fracture"), "avoid"),
    ("L23", "mat_mermaid", "hip_internal_rotation", had("hip_replacement_posterior", 6), "avoid"),
    ("L23", "mat_mermaid", "hip_external_rotation_end_range", had("hip_replacement_anterior", 6), "avoid"),
    ("L24", "mat_breath_side", "side_lying", had("rotator_cuff_repair", 4), "avoid"),
    ("L25", "st_heel_raise", "standing_balance", had("osteoporosis"), "modify"),
    ("L26", "mat_dart", "prone_lying", pregnant(20), "avoid"),
    ("L27", "st_roll_down", "end_range_spinal_flexion", had("osteoporosis"), "avoid"),
    ("L27", "st_roll_down", "inversion", had("glaucoma"), "avoid"),
    ("L27", "st_roll_down", "hip_flexion_past_90", had("disc_flexion_intolerant"), "modify"),
    ("L28", "sc_seated_roll_down", "end_range_spinal_flexion", had("disc_flexion_intolerant"), "avoid"),
    ("L28", "sc_seated_roll_down", "inversion", had("vertigo_bppv"), "avoid"),
    ("L29", "ch_roll_down", "end_range_spinal_flexion", had("disc_flexion_intolerant"), "avoid"),
    ("L30", "mat_saw", "end_range_spinal_flexion", had("osteoporosis"), "avoid"),
    ("L30", "mat_saw", "end_range_spinal_flexion", had("osteoporosis_vertebral_fracture", 6), "avoid"),
    ("L31", "st_roll_down", "inversion", had("stroke"), "avoid"),
    ("L32", "ref_elephant", "loaded_spinal_flexion", had("osteoporosis"), "avoid"),
    ("L33", "mat_saw", "end_range_rotation", had("osteoporosis"), "avoid"),
    ("L34", "mat_swan_prep", "spinal_extension_end_range", had("spondylolisthesis"), "avoid"),
    ("L35", "mat_prone_leg_lift", "hip_end_range_extension", had("spinal_stenosis"), "modify"),
    ("L36", "mat_leg_circle_bent", "hip_flexion_past_90", had("disc_flexion_intolerant"), "modify"),
    ("L36", "mat_leg_circle_bent", "hip_adduction_past_midline", had("hip_impingement_labral"), "modify"),
    ("L37", "mat_leg_circle", "hip_adduction_past_midline", had("hip_impingement_labral"), "modify"),
    ("L38", "st_wall_squat", "deep_knee_flexion_loaded", had("knee_osteoarthritis"), "modify"),
    ("L39", "tt_squat_springs", "deep_knee_flexion_loaded", had("patellofemoral_pain"), "modify"),
    ("L40", "st_heel_raise", "ankle_end_range_loaded", had("ankle_sprain", 3), "modify"),
    ("L41", "mat_book_opening", "hip_adduction_past_midline", had("hip_replacement_posterior", 6), "avoid"),
    ("L42", "mat_plank_knees", "shoulder_weight_bearing", had("postnatal_caesarean", 4), "avoid"),
    ("L42", "mat_plank_knees", "kneeling_load", had("knee_replacement", 3), "avoid"),
]

# Row, exercise, demand, flag, the verdict with and without the adaptation: it does not hold for this condition.
# Where a row has no such condition: it does not hold for this exercise, or not for this demand of it.
STAYS = [
    ("L01", "mat_chest_lift", "supine_lying_long", had("retinal_detachment", 4), "avoid"),
    ("L01", "mat_pelvic_curl", "supine_lying_long", pregnant(20), "avoid"),  # a bridge brings the trunk level
    ("L02", "ref_foot_toes", "supine_lying_long", had("retinal_detachment", 4), "avoid"),
    ("L03", "mat_pelvic_tilt", "supine_lying_long", pregnant(20), "avoid"),
    ("L04", "mat_pelvic_tilt", "supine_lying_long", pregnant(20), "avoid"),
    ("L05", "mat_teaser", "loaded_spinal_flexion", had("disc_flexion_intolerant"), "avoid"),
    ("L05", "mat_chest_lift", "overhead_reach", had("shoulder_instability", 4), "avoid"),
    (
        "L06",
        "ref_mermaid",
        "overhead_reach",
        had("shoulder_instability", 4),
        "avoid",
    ),  # the pressing arm rises
    ("L07", "mat_book_opening", "shoulder_loaded_end_range", had("frozen_shoulder"), "avoid"),
    ("L08", "mat_plank", "shoulder_weight_bearing", had("rotator_cuff_repair", 4), "avoid"),
    ("L09", "ref_elephant", "wrist_weight_bearing", had("fracture_arm_recent", 4), "avoid"),
    ("L10", "ref_arm_circles", "isometric_grip", had("lymphoedema_risk"), "modify"),
    ("L10", "ref_arm_circles", "isometric_grip", had("breast_surgery", 4), "watch"),
    ("L11", "ref_foot_single", "knee_locked_extension_loaded", had("acl_reconstruction", 4), "modify"),
    ("L12", "ref_foot_toes", "deep_knee_flexion_loaded", had("meniscus_repair", 8), "avoid"),
    ("L12", "ref_foot_toes", "deep_knee_flexion_loaded", had("fracture_leg_recent", 4), "avoid"),
    ("L13", "st_sit_to_stand", "deep_knee_flexion_loaded", had("meniscus_repair", 8), "avoid"),
    ("L13", "st_sit_to_stand", "deep_knee_flexion_loaded", had("fracture_leg_recent", 4), "avoid"),
    ("L14", "mat_single_leg_bridge", "closed_chain_single_leg", had("fracture_leg_recent", 4), "avoid"),
    ("L15", "ref_arabesque", "closed_chain_single_leg", had("fracture_leg_recent", 4), "avoid"),
    ("L15", "ref_arabesque", "elevated_unstable_platform", had("osteoporosis"), "avoid"),
    ("L16", "mat_lower_lift", "leg_lowering_long_lever", had("postnatal_caesarean", 8), "avoid"),
    ("L17", "mat_leg_pull_front", "breath_hold_strain", had("glaucoma"), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("hypertension_uncontrolled"), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("coronary_disease"), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("cardiac_surgery_sternotomy", 30), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("aneurysm_known"), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("diabetic_retinopathy"), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("retinal_detachment", 4), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("cataract_surgery", 1), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("spinal_surgery", 8), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("osteoporosis_vertebral_fracture", 6), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("recent_clot", 3), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("stroke"), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("concussion_recent", 1), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("abdominal_surgery_recent", 4), "avoid"),
    ("L18", "mat_roll_over", "breath_hold_strain", had("bone_metastases"), "modify"),
    ("L19", "mat_rest_stretch", "end_range_spinal_flexion", had("osteoporosis"), "avoid"),
    ("L20", "mat_kneel_arm_raise", "overhead_reach", had("shoulder_instability", 4), "avoid"),
    ("L21", "ref_chest_expansion", "shoulder_loaded_end_range", had("frozen_shoulder"), "avoid"),
    ("L22", "mat_rest_stretch", "hip_flexion_past_90", had("hip_replacement_posterior", 6), "avoid"),
    ("L23", "mat_mermaid", "overhead_reach", had("shoulder_instability", 4), "avoid"),
    ("L24", "mat_clam", "side_lying", had("rotator_cuff_repair", 4), "avoid"),
    ("L25", "st_heel_raise", "ankle_end_range_loaded", had("fracture_leg_recent", 4), "avoid"),
    ("L26", "mat_swan_prep", "prone_lying", pregnant(20), "avoid"),
    ("L27", "st_roll_down", "end_range_spinal_flexion", had("osteoporosis_vertebral_fracture"), "avoid"),
    ("L27", "st_roll_down", "hip_flexion_past_90", had("hip_replacement_posterior", 6), "avoid"),
    ("L27", "st_roll_down", "inversion", had("retinal_detachment", 4), "avoid"),
    ("L27", "st_roll_down", "inversion", had("cardiac_surgery_sternotomy", 6), "avoid"),
    (
        "L28",
        "sc_seated_roll_down",
        "end_range_spinal_flexion",
        had("osteoporosis_vertebral_fracture"),
        "avoid",
    ),
    ("L28", "sc_seated_roll_down", "hip_flexion_past_90", had("hip_replacement_posterior", 6), "avoid"),
    ("L29", "ch_roll_down", "end_range_spinal_flexion", had("bone_metastases"), "avoid"),
    ("L29", "ch_roll_down", "inversion", had("glaucoma"), "avoid"),
    ("L30", "mat_saw", "end_range_spinal_flexion", had("spinal_surgery", 8), "avoid"),
    ("L30", "mat_saw", "end_range_spinal_flexion", had("bone_metastases"), "avoid"),
    ("L31", "st_roll_down", "inversion", had("retinal_detachment", 4), "avoid"),
    ("L32", "ref_elephant", "loaded_spinal_flexion", had("spinal_surgery", 8), "avoid"),
    ("L33", "mat_saw", "end_range_rotation", had("osteoporosis_vertebral_fracture"), "avoid"),
    ("L33", "mat_saw", "end_range_rotation", had("hip_replacement_posterior", 6), "avoid"),
    ("L33", "mat_spine_twist", "end_range_rotation", had("cardiac_surgery_sternotomy", 6), "avoid"),
    ("L34", "mat_swan_prep", "spinal_extension_end_range", had("spinal_surgery", 8), "avoid"),
    ("L35", "mat_prone_leg_lift", "hip_end_range_extension", had("hip_replacement_anterior", 6), "avoid"),
    ("L36", "mat_leg_circle_bent", "hip_flexion_past_90", had("hip_replacement_posterior", 6), "avoid"),
    ("L37", "mat_leg_circle", "hip_adduction_past_midline", had("hip_replacement_posterior", 6), "avoid"),
    ("L38", "st_wall_squat", "deep_knee_flexion_loaded", had("meniscus_repair", 8), "avoid"),
    ("L39", "tt_squat_springs", "deep_knee_flexion_loaded", had("fracture_leg_recent", 4), "avoid"),
    ("L40", "st_heel_raise", "ankle_end_range_loaded", had("fracture_leg_recent", 4), "avoid"),
    ("L41", "mat_book_opening", "end_range_rotation", had("osteoporosis"), "avoid"),
    ("L42", "mat_plank_knees", "shoulder_weight_bearing", had("rotator_cuff_repair", 4), "avoid"),
    ("L42", "mat_plank_knees", "shoulder_weight_bearing", had("shoulder_instability", 4), "avoid"),
    ("L42", "mat_plank_knees", "shoulder_weight_bearing", had("fracture_arm_recent", 4), "avoid"),
    ("L42", "mat_plank_knees", "shoulder_weight_bearing", had("cardiac_surgery_sternotomy", 6), "avoid"),
    ("L42", "mat_plank_knees", "shoulder_weight_bearing", had("breast_surgery", 4), "avoid"),
    ("L42", "mat_plank_knees", "shoulder_weight_bearing", had("pacemaker_icd", 4), "avoid"),
    ("L42", "mat_plank_knees", "shoulder_weight_bearing", had("bone_metastases"), "modify"),
]

# Row, exercise, the demand it brings along, flag, the verdict on it; without the adaptation there is none.
ADDED = [
    ("L02", "ref_arms_down", "hip_flexion_past_90", had("hip_replacement_posterior", 6, "left"), "avoid"),
    ("L04", "mat_breath_supine", "side_lying", had("shoulder_impingement", None, "right"), "modify"),
    ("L09", "mat_cat", "inversion", had("glaucoma"), "avoid"),
    ("L17", "mat_plank", "kneeling_load", had("knee_replacement", 3, "right"), "avoid"),
    ("L42", "mat_plank_knees", "arm_push_pull_loaded", had("tennis_elbow", None, "left"), "modify"),
]
