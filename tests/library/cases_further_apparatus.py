"""Further cases: exercises of every apparatus, each with every demand it makes written out.

What an exercise asks for: the ordinary version, start position and all (common practice, no source); one more or less
than written fails. Conditions, lines and publications: screening 4.4 to 4.11.
"""

from .cases_further_kit import had, pregnant, row, weeks

FOLDED = "demands (floor sitting, knees bent, folds the hip); "
MILD = had("migraine")
bone = had("osteoporosis")
disc = had("disc_flexion_intolerant")


def all_of(id, source, flags, exercise, verdict, demands, **more):
    """A case that names every demand of the exercise."""
    return {**row(id, source, flags, exercise, verdict, demands, **more), "all_demands": True}


CASES = [
    # Mat.
    all_of("mat-roll-up-bone", "screening R001, R002, R010, S50, S51", bone, "mat_roll_up", "avoid",
        "loaded_spinal_flexion=avoid end_range_spinal_flexion=avoid head_lifted_neck_flexion=modify"
        " supine_lying_long=none overhead_reach=none hip_flexion_past_90=none"),
    all_of("mat-half-roll-back-disc", "screening R035, R043, S53, S54, CP", disc, "mat_half_roll_back", "avoid",
        "loaded_spinal_flexion=avoid hip_flexion_past_90=modify"),
    all_of("mat-open-leg-balance-girdle", "screening R380, S59", had("pregnancy_pelvic_girdle_pain"),
        "mat_open_leg_balance", "avoid",
        "loaded_spinal_flexion=none hip_flexion_past_90=none hip_wide_abduction=avoid"),
    all_of("mat-seal-hypermobile", "screening R236, R238, R566, R568, R571, S81, CP", had("hypermobility"),
        "mat_seal", "avoid",
        "loaded_spinal_flexion=none end_range_spinal_flexion=modify neck_shoulder_weight_bearing=avoid"
        " inversion=watch rapid_position_change=watch hip_flexion_past_90=none"
        " hip_external_rotation_end_range=modify"),
    all_of("mat-jackknife-aneurysm", "screening R804, R808, R809, R812, R813, S133, CP", had("aneurysm_known"),
        "mat_jackknife", "avoid",
        "loaded_spinal_flexion=modify end_range_spinal_flexion=none leg_lowering_long_lever=modify"
        " neck_shoulder_weight_bearing=avoid inversion=avoid supine_lying_long=none hip_flexion_past_90=none"
        " breath_hold_strain=avoid"),
    all_of("mat-double-leg-kick-neck-arm", "screening R092, R510, R511, S57, CP", had("cervical_radiculopathy"),
        "mat_double_leg_kick", "avoid",
        "spinal_extension_end_range=modify spinal_extension_loaded=none neck_end_range=avoid prone_lying=modify"
        " shoulder_loaded_end_range=none"),
    all_of("mat-swan-dive-slip", "screening R056, R057, R058, R502, R503, S56, CP", had("spondylolisthesis"),
        "mat_swan_dive", "avoid",
        "spinal_extension_end_range=avoid spinal_extension_loaded=avoid neck_end_range=none prone_lying=watch"
        " overhead_reach=none hip_end_range_extension=modify breath_hold_strain=modify"),
    all_of("mat-side-bend-scoliosis", "screening R063, CP", had("scoliosis"), "mat_side_bend", "modify",
        "lateral_flexion_loaded=modify wrist_weight_bearing=none overhead_reach=none shoulder_weight_bearing=none"
        " breath_hold_strain=none hip_flexion_past_90=none", side="left"),
    all_of("mat-push-up-rheumatoid", "screening R225, R226, R563, R564, S80, CP", had("rheumatoid_arthritis"),
        "mat_push_up", "avoid",
        "end_range_spinal_flexion=none inversion=avoid rapid_position_change=none wrist_weight_bearing=modify"
        " shoulder_weight_bearing=watch arm_push_pull_loaded=none hip_flexion_past_90=none breath_hold_strain=none"
        " near_maximal_effort=modify"),
    all_of("mat-mermaid-new-hip", FOLDED + "screening R149, R151, R532, R548, S70, S71, S84",
        weeks("hip_replacement_posterior", 5, "left"), "mat_mermaid", "avoid",
        "lateral_flexion_loaded=modify overhead_reach=none hip_internal_rotation=avoid"
        " hip_external_rotation_end_range=modify hip_flexion_past_90=avoid"),
    all_of("mat-hamstring-band-hypermobile", "screening R230, S81", had("hypermobility"), "mat_hamstring_band",
        "avoid", "supine_lying_long=none isometric_grip=none hip_flexion_past_90=none"
        " passive_end_range_stretch=avoid", side="right"),
    all_of("mat-leg-pull-front-heel", "screening R215, R216, S78, CP", had("plantar_heel_pain", side="left"),
        "mat_leg_pull_front", "watch",
        "wrist_weight_bearing=none shoulder_weight_bearing=none closed_chain_single_leg=watch"
        " ankle_end_range_loaded=watch breath_hold_strain=none"),
    all_of("mat-dead-bug-cuff", "screening R136, S63", weeks("rotator_cuff_repair", 8, "left"), "mat_dead_bug",
        "modify", "leg_lowering_long_lever=none supine_lying_long=none overhead_reach=modify", side="left"),
    all_of("mat-shoulder-bridge-sacroiliac", "screening R068, R071, S59, CP", had("si_joint_pain"),
        "mat_shoulder_bridge", "modify",
        "leg_lowering_long_lever=modify supine_lying_long=none wrist_weight_bearing=none"
        " closed_chain_single_leg=modify", side="right"),
    # Reformer.
    all_of("ref-short-spine-glaucoma", "screening R300, R303, R304, S100, S101", had("glaucoma"),
        "ref_short_spine", "avoid",
        "loaded_spinal_flexion=none end_range_spinal_flexion=none neck_shoulder_weight_bearing=avoid inversion=avoid"
        " supine_lying_long=watch hip_flexion_past_90=none hip_external_rotation_end_range=none"),
    all_of("ref-arm-circles-cuff-day-83", "sides (arm circles lift the elbow); screening R130, R132, R136, S63",
        had("rotator_cuff_repair", 83, "left"), "ref_arm_circles", "avoid",
        "supine_lying_long=none isometric_grip=none shoulder_loaded_end_range=avoid arm_push_pull_loaded=avoid"
        " overhead_reach=modify"),
    all_of("ref-long-stretch-carpal", "screening R142, R144, S64, CP", had("carpal_tunnel_wrist", side="right"),
        "ref_long_stretch", "modify",
        "wrist_weight_bearing=modify shoulder_weight_bearing=watch ankle_end_range_loaded=none"
        " breath_hold_strain=none elevated_unstable_platform=none"),
    all_of("ref-mermaid-after-anterior-hip", FOLDED + "screening R160, R544, S71, CP",
        weeks("hip_replacement_anterior", 5, "right"), "ref_mermaid", "avoid",
        "lateral_flexion_loaded=modify overhead_reach=none arm_push_pull_loaded=none hip_internal_rotation=none"
        " hip_external_rotation_end_range=avoid hip_flexion_past_90=none"),
    all_of("ref-knees-off-arthritis-knee", "screening R197, S79, CP", had("knee_osteoarthritis", side="left"),
        "ref_knees_off", "modify",
        "loaded_spinal_flexion=none wrist_weight_bearing=none shoulder_weight_bearing=none hip_flexion_past_90=none"
        " deep_knee_flexion_loaded=modify breath_hold_strain=none near_maximal_effort=none"
        " elevated_unstable_platform=none"),
    all_of("ref-row-front-lungs", "screening R827, R831, S144", had("lung_disease_other"), "ref_row_front",
        "modify", "isometric_grip=none overhead_reach=modify arm_push_pull_loaded=watch"),
    all_of("ref-row-back-new-back-pain", "screening R075, R076, M10, CP", weeks("acute_low_back_pain", 2),
        "ref_row_back_round", "avoid",
        "loaded_spinal_flexion=avoid end_range_spinal_flexion=modify isometric_grip=none"
        " shoulder_loaded_end_range=none arm_push_pull_loaded=none hip_flexion_past_90=none"),
    all_of("ref-standing-lunge-balance", "screening R327, R328, R330, S105", had("multiple_sclerosis"),
        "ref_standing_lunge", "modify",
        "hip_end_range_extension=none closed_chain_single_leg=modify passive_end_range_stretch=none"
        " standing_balance=modify elevated_unstable_platform=modify", side="left"),
    all_of("ref-scooter-feet", "screening R874, R875, R876, S145", had("peripheral_neuropathy_feet"),
        "ref_scooter", "avoid",
        "hip_end_range_extension=none closed_chain_single_leg=modify standing_balance=modify"
        " elevated_unstable_platform=avoid", side="right"),
    all_of("ref-short-box-twist-pregnant", "screening R370, R375, R610, S36, S38, CP", pregnant("18w0d"),
        "ref_short_box_twist", "avoid",
        "end_range_rotation=watch loaded_rotation=modify overhead_reach=none elevated_unstable_platform=avoid"),
    all_of("ref-stomach-back-impingement", "screening R110, S60", had("shoulder_impingement", side="left"),
        "ref_stomach_back", "avoid",
        "shoulder_loaded_end_range=avoid hip_flexion_past_90=none hip_external_rotation_end_range=none"
        " deep_knee_flexion_loaded=none knee_locked_extension_loaded=none"),
    all_of("ref-hamstring-curl-reflux", "screening R478, CP", had("reflux"), "ref_hamstring_curl", "modify",
        "prone_lying=modify deep_knee_flexion_loaded=none elevated_unstable_platform=none"),
    all_of("ref-jump-concussion-5-weeks", "screening R863, S142", weeks("concussion_recent", 5), "ref_jump", "watch",
        "supine_lying_long=none hip_flexion_past_90=none ankle_end_range_loaded=none jump_impact=watch"
        " sustained_vigorous_pace=none"),
    all_of("ref-knee-stretch-knee-surgery", "screening R775, R773, S140", weeks("meniscus_repair", 8, "right"),
        "ref_knee_stretch_flat", "avoid",
        "kneeling_load=avoid wrist_weight_bearing=none shoulder_weight_bearing=none hip_flexion_past_90=none"
        " deep_knee_flexion_loaded=avoid"),
    # Trapeze table.
    all_of("tt-roll-down-disc", FOLDED + "screening R035, R036, R043, S53, S54, CP", disc, "tt_roll_down", "avoid",
        "loaded_spinal_flexion=avoid end_range_spinal_flexion=avoid isometric_grip=none arm_push_pull_loaded=none"
        " hip_flexion_past_90=modify"),
    all_of("tt-roll-down-turn-bone-cancer", FOLDED + "screening R464, R465, R466, R472, R672, S113, CP",
        had("bone_metastases"), "tt_roll_down_turn", "avoid",
        "loaded_spinal_flexion=avoid end_range_spinal_flexion=avoid loaded_rotation=avoid isometric_grip=none"
        " arm_push_pull_loaded=modify hip_flexion_past_90=modify"),
    all_of("tt-mermaid-hip-pinch", FOLDED + "screening R168, R169, S75", had("hip_impingement_labral", side="left"),
        "tt_mermaid", "modify",
        "lateral_flexion_loaded=none isometric_grip=none overhead_reach=none arm_push_pull_loaded=none"
        " hip_internal_rotation=modify hip_external_rotation_end_range=none hip_flexion_past_90=modify"),
    all_of("tt-breathing-stroke", "screening R341, R347, R348, M15, CP", had("stroke", side="left"), "tt_breathing",
        "avoid", "inversion=avoid supine_lying_long=none isometric_grip=modify overhead_reach=modify"
        " arm_push_pull_loaded=none"),
    all_of("tt-full-hang-heart-surgery", "screening R270, S90; long ago, CP",
        had("cardiac_surgery_sternotomy", "ago"), "tt_full_hang", "avoid",
        "spinal_extension_end_range=none inversion=none isometric_grip=none overhead_reach=none"
        " shoulder_loaded_end_range=none hip_end_range_extension=none breath_hold_strain=avoid"
        " near_maximal_effort=none elevated_unstable_platform=none"),
    all_of("tt-tower-neck", "screening R087, R089, R090, CP", had("neck_pain"), "tt_tower", "avoid",
        "loaded_spinal_flexion=none end_range_spinal_flexion=none neck_shoulder_weight_bearing=avoid inversion=modify"
        " supine_lying_long=none isometric_grip=none overhead_reach=watch hip_flexion_past_90=none"
        " knee_locked_extension_loaded=none"),
    all_of("tt-cat-pregnant-first-weeks", "screening R362, R367, R609, S36, CP", pregnant("10w0d"), "tt_cat",
        "modify", "loaded_spinal_flexion=watch end_range_spinal_flexion=none spinal_extension_loaded=none"
        " inversion=modify kneeling_load=none isometric_grip=none overhead_reach=none arm_push_pull_loaded=none"
        " elevated_unstable_platform=modify"),
    all_of("tt-prone-bar-treatment", "screening R463, CP", had("cancer_treatment_active"), "tt_prone_bar", "watch",
        "spinal_extension_end_range=none spinal_extension_loaded=none prone_lying=watch isometric_grip=none"
        " overhead_reach=none shoulder_loaded_end_range=none arm_push_pull_loaded=none"),
    all_of("tt-leg-press-single-kneecap", "screening R202, R204, R206, S76, CP",
        had("patellofemoral_pain", side="right"), "tt_leg_press_single", "modify",
        "supine_lying_long=none hip_flexion_past_90=none deep_knee_flexion_loaded=modify"
        " knee_locked_extension_loaded=watch closed_chain_single_leg=modify", side="right"),
    all_of("tt-thigh-stretch-arm-nodes", "screening R454, R455, M16", had("lymphoedema_risk", side="left"),
        "tt_thigh_stretch", "modify",
        "kneeling_load=none isometric_grip=modify arm_push_pull_loaded=modify deep_knee_flexion_loaded=none"
        " elevated_unstable_platform=none"),
    # Chair.
    all_of("ch-mermaid-new-hip", FOLDED.replace("floor", "folded") + "screening R149, R151, R525, R532, S70, S71, CP",
        weeks("hip_replacement_posterior", 5, "left"), "ch_mermaid", "avoid",
        "lateral_flexion_loaded=modify overhead_reach=none arm_push_pull_loaded=none hip_internal_rotation=avoid"
        " hip_external_rotation_end_range=modify elevated_unstable_platform=avoid hip_flexion_past_90=avoid"),
    all_of("ch-pike-floor", "screening R419, R421, R422, S43, CP", had("pelvic_floor_prolapse"), "ch_pike", "avoid",
        "loaded_spinal_flexion=modify inversion=none wrist_weight_bearing=none shoulder_weight_bearing=none"
        " arm_push_pull_loaded=none hip_flexion_past_90=none breath_hold_strain=avoid near_maximal_effort=modify"
        " elevated_unstable_platform=none"),
    all_of("ch-side-over-vertigo", "screening R316, R318, R321, S103", had("vertigo_bppv"), "ch_side_over", "avoid",
        "lateral_flexion_loaded=none inversion=avoid side_lying=watch arm_push_pull_loaded=none"
        " elevated_unstable_platform=avoid", side="left"),
    all_of("ch-seated-twist-gap", "screening R415, CP", had("diastasis_recti"), "ch_seated_twist", "modify",
        "loaded_rotation=modify lateral_flexion_loaded=none arm_push_pull_loaded=none"
        " elevated_unstable_platform=none", side="right"),
    all_of("ch-standing-pump-tremor", "screening R333, R336, S106", had("parkinsons"), "ch_standing_pump", "modify",
        "hip_flexion_past_90=none deep_knee_flexion_loaded=none closed_chain_single_leg=modify"
        " standing_balance=modify", side="left"),
    all_of("ch-frog-knee-nodes", "screening 4.11 (no line on these)", had("lymphoedema_leg", side="left"),
        "ch_frog_lying", "none",
        "supine_lying_long=none hip_flexion_past_90=none hip_external_rotation_end_range=none"),
    all_of("ch-foot-single-hip-arthritis", "screening R176, R177, R179, S79, CP",
        had("hip_osteoarthritis", side="right"), "ch_foot_single", "modify",
        "hip_flexion_past_90=watch deep_knee_flexion_loaded=modify closed_chain_single_leg=watch", side="right"),
    all_of("ch-swan-hernia", "screening R644, CP", had("hernia"), "ch_swan", "watch",
        "spinal_extension_end_range=watch spinal_extension_loaded=none prone_lying=none wrist_weight_bearing=none"
        " arm_push_pull_loaded=none elevated_unstable_platform=none"),
    # Ladder barrel.
    all_of("lb-side-stretch-frozen", "screening R115, R116, R117, S61", had("frozen_shoulder", side="left"),
        "lb_side_stretch", "avoid",
        "lateral_flexion_loaded=none inversion=none side_lying=none overhead_reach=modify"
        " shoulder_loaded_end_range=avoid passive_end_range_stretch=modify elevated_unstable_platform=none",
        side="right"),
    all_of("lb-side-leg-bone", "screening R005, R006, R011, S50, CP", bone, "lb_side_leg", "avoid",
        "lateral_flexion_loaded=modify inversion=modify side_lying=none elevated_unstable_platform=avoid",
        side="left"),
    all_of("lb-swan-prep-migraine", "screening R351, CP", MILD, "lb_swan_prep", "watch",
        "spinal_extension_loaded=none inversion=watch prone_lying=none elevated_unstable_platform=none"),
    all_of("lb-leg-stretch-front-heart", "screening 4.8 (no line on these)", had("coronary_disease"),
        "lb_leg_stretch_front", "none",
        "hip_flexion_past_90=none closed_chain_single_leg=none passive_end_range_stretch=none"
        " standing_balance=none", side="left"),
    all_of("lb-hip-extension-low-pressure", "screening R818, R820, S143", had("orthostatic_hypotension"),
        "lb_hip_extension", "avoid",
        "inversion=modify prone_lying=none wrist_weight_bearing=none shoulder_weight_bearing=none"
        " hip_end_range_extension=none elevated_unstable_platform=avoid"),
    # Arc.
    all_of("arc-scissors-sugar-eye", "screening R293, M12", had("diabetic_retinopathy"), "arc_leg_scissors", "avoid",
        "leg_lowering_long_lever=none inversion=avoid supine_lying_long=none hip_flexion_past_90=none"
        " hip_end_range_extension=none"),
    all_of("arc-lift-turn-caesarean", "screening R398, R399, R405, R407, R408, S39, S42, CP",
        weeks("postnatal_caesarean", 3), "arc_chest_lift_turn", "avoid",
        "loaded_spinal_flexion=avoid spinal_extension_end_range=avoid loaded_rotation=avoid"
        " head_lifted_neck_flexion=avoid inversion=avoid overhead_reach=none"),
    # Standing and small props.
    all_of("st-heel-raise-feet", "screening R875, R877, S145", had("peripheral_neuropathy_feet"), "st_heel_raise",
        "modify", "ankle_end_range_loaded=modify standing_balance=modify"),
    all_of("st-split-squat-epilepsy", "screening R867, R871, S149, CP", had("epilepsy_uncontrolled"),
        "st_split_squat", "modify", "closed_chain_single_leg=watch standing_balance=modify", side="left"),
    all_of("st-tandem-tired", "screening R490, CP", had("me_cfs_long_covid"), "st_tandem_stand", "watch",
        "standing_balance=watch", side="right"),
    all_of("st-wall-side-bend-neck", "screening R089, CP", had("neck_pain"), "st_wall_side_bend", "watch",
        "overhead_reach=watch", side="left"),
    all_of("sp-roller-march-heart", "screening R262, S06", had("coronary_disease"), "sp_roller_march", "watch",
        "supine_lying_long=watch"),
    all_of("sp-ball-chest-lift-reflux", "screening R479, S110", had("reflux"), "sp_ball_chest_lift", "watch",
        "loaded_spinal_flexion=watch hip_flexion_past_90=none"),
    all_of("sc-figure-four-new-hip", "screening R149, R530, R548, S70, S71, S84, CP",
        weeks("hip_replacement_posterior", 5, "left"), "sc_seated_figure_four", "avoid",
        "hip_flexion_past_90=avoid hip_external_rotation_end_range=none passive_end_range_stretch=none",
        side="right"),
    all_of("sp-ring-inner-press-vertigo", "screening R320, S103", had("vertigo_bppv"), "sp_ring_inner_press",
        "modify", "supine_lying_long=modify"),
]  # fmt: skip
