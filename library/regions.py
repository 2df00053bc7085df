"""Where on the body a flag sits, for the small body seen from behind. Plain computation.

Which part stands for a condition or a demand: common practice, no source. What concerns the whole body has
no place here and is not drawn. The names of the parts are those of `studio.drawing.REGIONS`.
"""

from collections.abc import Iterable, Mapping

PLACES: Mapping[str, tuple[str, ...]] = {
    "osteoporosis_vertebral_fracture": ("upper_back",),
    "disc_flexion_intolerant": ("low_back",),
    "spinal_stenosis": ("low_back",),
    "spondylolisthesis": ("low_back",),
    "scoliosis": ("upper_back",),
    "si_joint_pain": ("pelvis",),
    "acute_low_back_pain": ("low_back",),
    "neck_pain": ("neck",),
    "cervical_radiculopathy": ("neck",),
    "whiplash": ("neck",),
    "spinal_surgery": ("low_back",),
    "shoulder_impingement": ("shoulder",),
    "frozen_shoulder": ("shoulder",),
    "shoulder_instability": ("shoulder",),
    "rotator_cuff_repair": ("shoulder",),
    "carpal_tunnel_wrist": ("wrist",),
    "tennis_elbow": ("elbow",),
    "fracture_arm_recent": ("upper_arm",),
    "wrist_hand_injury_acute": ("wrist",),
    "hip_replacement_posterior": ("hip",),
    "hip_replacement_anterior": ("hip",),
    "hip_impingement_labral": ("hip",),
    "hip_osteoarthritis": ("hip",),
    "knee_replacement": ("knee",),
    "acl_reconstruction": ("knee",),
    "knee_osteoarthritis": ("knee",),
    "patellofemoral_pain": ("knee",),
    "ankle_sprain": ("ankle",),
    "plantar_heel_pain": ("foot",),
    "fracture_leg_recent": ("shin",),
    "meniscus_tear": ("knee",),
    "meniscus_repair": ("knee",),
    "cardiac_surgery_sternotomy": ("chest",),
    "pacemaker_icd": ("chest",),
    "glaucoma": ("head",),
    "retinal_detachment": ("head",),
    "vertigo_bppv": ("head",),
    "cataract_surgery": ("head",),
    "concussion_recent": ("head",),
    "migraine": ("head",),
    "peripheral_neuropathy_feet": ("foot",),
    "pregnancy": ("belly",),
    "pregnancy_pelvic_girdle_pain": ("pelvis",),
    "postnatal_vaginal": ("pelvis",),
    "postnatal_caesarean": ("belly",),
    "diastasis_recti": ("belly",),
    "pelvic_floor_prolapse": ("pelvis",),
    "hernia": ("belly",),
    "abdominal_surgery_recent": ("belly",),
    "breast_surgery": ("chest",),
    "lymphoedema_risk": ("upper_arm",),
    "lymphoedema_leg": ("shin",),
    "reflux": ("chest",),
}
# A clinician's instruction names a demand: the part that carries it.
DEMAND_PLACES: Mapping[str, tuple[str, ...]] = {
    "loaded_spinal_flexion": ("low_back",),
    "end_range_spinal_flexion": ("low_back",),
    "spinal_extension_end_range": ("low_back",),
    "spinal_extension_loaded": ("low_back",),
    "end_range_rotation": ("low_back",),
    "loaded_rotation": ("low_back",),
    "lateral_flexion_loaded": ("low_back",),
    "leg_lowering_long_lever": ("low_back",),
    "head_lifted_neck_flexion": ("neck",),
    "neck_end_range": ("neck",),
    "neck_shoulder_weight_bearing": ("neck",),
    "kneeling_load": ("knee",),
    "wrist_weight_bearing": ("wrist",),
    "isometric_grip": ("hand",),
    "overhead_reach": ("shoulder",),
    "shoulder_loaded_end_range": ("shoulder",),
    "shoulder_weight_bearing": ("shoulder",),
    "arm_push_pull_loaded": ("shoulder",),
    "hip_flexion_past_90": ("hip",),
    "hip_adduction_past_midline": ("hip",),
    "hip_internal_rotation": ("hip",),
    "hip_external_rotation_end_range": ("hip",),
    "hip_end_range_extension": ("hip",),
    "hip_wide_abduction": ("hip",),
    "deep_knee_flexion_loaded": ("knee",),
    "knee_locked_extension_loaded": ("knee",),
    "closed_chain_single_leg": ("thigh",),
    "ankle_end_range_loaded": ("ankle",),
}


def regions_of(flag) -> tuple[str, ...]:
    """Return the parts of the body a flag sits in; none where it concerns the whole body.

    flag: anything with `condition` and `instruction`, as `library.precautions.judge` takes them.
    """
    if flag.condition:
        return PLACES.get(flag.condition, ())
    return DEMAND_PLACES.get(flag.instruction or "", ())


def spots(flags: Iterable) -> list[tuple[str, str | None]]:
    """Return where flags sit as (part, side) for the small body, each once, in the order of the flags."""
    found: dict[tuple[str, str | None], None] = {}
    for flag in flags:
        for region in regions_of(flag):
            found[region, flag.side or None] = None
    return list(found)


def numbered(flags: Iterable) -> list[tuple[object, list[int]]]:
    """Return every flag with the numbers that its spots carry on the large body, none where it has none."""
    flags = list(flags)
    places = {spot: number for number, spot in enumerate(spots(flags), start=1)}
    return [(flag, [places[region, flag.side or None] for region in regions_of(flag)]) for flag in flags]
