"""Reviewed exceptions of the drawn exercises: each with the reason why it stays."""

import json

from library.body.poses import FOLDER

CATALOGUE = {
    exercise["id"]: exercise
    for path in (FOLDER.parent / "exercises").glob("*.json")
    for exercise in json.loads(path.read_text(encoding="utf-8")).get("exercises", [])
}
# What does not change in words: a breath, a turn of the foot or a nod is too small for them.
SAME_WORDS = {
    "mat_breath_supine": "the ribs widen, nothing moves",
    "mat_breath_side": "the ribs widen, nothing moves",
    "sp_band_breath": "the ribs widen, nothing moves",
    "ref_breath_straps": "the arms hold the ropes, only the ribs widen",
    "mat_pelvic_tilt": "the pelvis turns by a few degrees",
    "mat_pelvic_clock": "the pelvis turns by a few degrees",
    "mat_rocking": "the whole body rocks as one piece",
    "sp_ring_inner_press": "the ring gives by a little",
    "sp_ring_arm_press": "the ring gives by a little",
    "ch_ankle_press": "only the ankle moves",
    "st_tandem_stand": "standing still is the exercise",
}
# Angles beyond the usual range: the position is real, its name-by-name angles are not what a goniometer reads.
_FOLDED = "legs folded aside, one turned in and one turned out"
_FLAT = "kneeling: the rigid foot lies flat on the mat"
_TUCKED = "kneeling on tucked toes: the weight bends them further than a hand that measures"
_OVER_KNEE = "the ankle laid over the other knee"
OUT_OF_RANGE = {
    **{(key, "hip_out"): _FOLDED for key in ("mat_mermaid", "tt_mermaid")},
    **{(key, "hip_turn"): _FOLDED for key in ("mat_mermaid", "ref_mermaid", "tt_mermaid", "ch_mermaid")},
    **{
        (key, "ankle"): _FLAT
        for key in (
            *("mat_bird_dog", "mat_cat", "mat_four_point_rock", "mat_four_point_slide", "mat_scap_glide"),
            "mat_plank_knees",
        )
    },
    ("mat_figure_four", "hip_turn"): _OVER_KNEE,
    ("sc_seated_figure_four", "hip_turn"): _OVER_KNEE,
    ("mat_side_bend", "hip_turn"): "sitting aside on the way up to the hand, the upper foot crossed in front",
    ("mat_side_bend", "hip_out"): "the upper foot crossed in front",
    ("ref_side_support", "hip_turn"): "sitting aside on the way up to the hand",
    ("ref_knee_stretch_round", "toes"): _TUCKED,
    ("ref_knee_stretch_flat", "toes"): _TUCKED,
}
# Arms that the angle calls raised though nobody lifts them: hands on a floor or a bar in front of a folded trunk,
# with the elbow below the shoulder in the room.
_FOLDED_TRUNK = "hands in front of a folded trunk"
HANDS_IN_FRONT = {
    **dict.fromkeys(
        (
            *("mat_spine_stretch", "mat_four_point_rock", "ref_elephant", "ref_arabesque"),
            *("ref_up_stretch", "ref_stomach_round", "ref_knees_off"),
        ),
        _FOLDED_TRUNK,
    ),
    "ref_hamstring_curl": "hands over the edge of the box, below the shoulders",
    "mat_swimming_prep": "the other hand rests on the mat",
}
# Which groups of contacts stand for a position where the apparatus changes it: (groups, reason).
SUPPORTS: dict[str, tuple] = {
    "mat_side_bend": ((("seat", "hip"), ("palm",)), "sitting aside before the lift into the side support"),
}
