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
    "mat_pelvic_tilt": "the pelvis turns by a few degrees",
    "mat_pelvic_clock": "the pelvis turns by a few degrees",
    "mat_rocking": "the whole body rocks as one piece",
    "sp_ring_inner_press": "the ring gives by a little",
    "sp_ring_arm_press": "the ring gives by a little",
    "sp_towel_curl": "only the toes move",
    "mat_foot_dome": "only the arch of the foot moves",
    "st_tandem_stand": "standing still is the exercise",
}
# Which groups of contacts stand for a position where the apparatus changes it: (groups, reason).
SUPPORTS: dict[str, tuple] = {}
# How deep (metres) something may go on the way, and why it is left.
THROUGH: dict[str, tuple[float, str]] = {}
