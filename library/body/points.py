"""Named points of the body: where it touches a surface, and what a movement arrow follows.

Skin offsets are shares of stature in the frame of the segment, from the named joint. The thickness of
flesh is common practice, no source; it has to match the drawn thickness or figures float.
"""

from collections.abc import Iterable

import numpy as np

from library.body.skeleton import SIDES, Skeleton
from library.body.tables import (
    ANKLE_FROM_HEEL,
    ANKLE_HEIGHT,
    ARCH_FROM_HEEL,
    BALL_FROM_HEEL,
    INSTEP_FROM_HEEL,
    INSTEP_HEIGHT,
    PALM_ON_HAND,
)

TRUNK_POINTS = {
    "pelvis.back": ("hips", "pelvis", (-0.060, 0, 0.035)),
    "pelvis.front": ("hips", "pelvis", (0.056, 0, 0.040)),
    "seat": ("hips", "pelvis", (-0.012, 0, -0.052)),
    "pelvis.left": ("hips", "pelvis", (0, 0.098, 0.010)),
    "pelvis.right": ("hips", "pelvis", (0, -0.098, 0.010)),
    "waist.back": ("upper_joint", "abdomen", (-0.052, 0, -0.030)),
    "belly": ("lumbosacral", "abdomen", (0.054, 0, 0.060)),
    "upper_back": ("c7", "thorax", (-0.050, 0, -0.055)),
    "ribs.back": ("upper_joint", "thorax", (-0.060, 0, 0.070)),
    "ribs.front": ("upper_joint", "thorax", (0.060, 0, 0.030)),
    "ribs.left": ("upper_joint", "thorax", (0, 0.095, 0.030)),
    "ribs.right": ("upper_joint", "thorax", (0, -0.095, 0.030)),
    "head.back": ("c7", "head", (-0.042, 0, 0.083)),
    "head.front": ("c7", "head", (0.072, 0, 0.075)),
    "head.left": ("c7", "head", (0.010, 0.050, 0.080)),
    "head.right": ("c7", "head", (0.010, -0.050, 0.080)),
}
# y is towards the body's left for the left limb and is reversed for the right one
LIMB_POINTS = {
    "kneecap": ("knee", "thigh", (0.020, 0, -0.024)),
    "shin": ("knee", "shank", (0.026, 0, -0.100)),
    "calf": ("knee", "shank", (-0.035, 0, -0.070)),
    "outer_ankle": ("ankle", "foot", (0, 0.020, -0.005)),
    "inner_ankle": ("ankle", "foot", (0, -0.020, -0.005)),
    "thigh_back": ("hip", "thigh", (-0.050, 0, -0.130)),
    "elbow_tip": ("elbow", "upper_arm", (-0.018, 0, -0.012)),
    "forearm_edge": ("elbow", "forearm", (-0.020, 0, -0.060)),
    "arm_back": ("shoulder", "upper_arm", (-0.028, 0, -0.050)),
}
# along the foot from the heel (share of foot length), height above the sole (share of stature)
FOOT_POINTS = {
    "heel": (0.0, 0.0),
    "ball": (BALL_FROM_HEEL, 0.0),
    "toe": (1.0, 0.0),
    "arch": (ARCH_FROM_HEEL, 0.0),
    "instep": (INSTEP_FROM_HEEL, INSTEP_HEIGHT),
}
HAND_POINTS = ("palm", "knuckle", "fingertip")
ARM_PARTS = {*HAND_POINTS, "elbow_tip", "forearm_edge", "arm_back", "shoulder", "elbow", "wrist"}


def locate(body: Skeleton, name: str) -> np.ndarray:
    """Position of a named point in metres.

    Limb points carry ``l.`` or ``r.``; ``mid.`` is the mean of both sides; ``vertex`` is the crown; any
    joint of the skeleton may be named as well. Raises KeyError for an unknown name.
    """
    if name in TRUNK_POINTS:
        return body.at(*TRUNK_POINTS[name])
    if name == "vertex":
        return body.at("c7", "head", (0, 0, body.table.crown - body.table.c7))
    if name.startswith("mid."):
        return 0.5 * (locate(body, "l." + name[4:]) + locate(body, "r." + name[4:]))
    if name in body.origins:
        return body.origins[name]
    return _locate_limb(body, name)


def limbs_of(names: Iterable[str]) -> set[str]:
    """The limbs that these points lie on."""
    limbs = set()
    for name in names:
        side, _, part = name.partition(".")
        kind = "arm" if part in ARM_PARTS else "leg"
        if side in ("l", "r", "mid"):
            limbs |= {f"{one}.{kind}" for one in (SIDES if side == "mid" else side)}
    return limbs


def _locate_limb(body: Skeleton, name: str) -> np.ndarray:
    side, _, part = name.partition(".")
    if part in LIMB_POINTS:
        joint, frame, (x, y, z) = LIMB_POINTS[part]
        return body.at(f"{side}.{joint}", f"{side}.{frame}", (x, y if side == "l" else -y, z))
    if part in FOOT_POINTS:
        return _locate_on_sole(body, side, *FOOT_POINTS[part])
    if part in HAND_POINTS:
        reach = {
            "palm": PALM_ON_HAND * body.table.hand.length,
            "knuckle": body.table.hand.length,
            "fingertip": body.table.wrist_to_fingertip,
        }[part]
        return body.at(f"{side}.wrist", f"{side}.hand", (0, 0, -reach))
    raise KeyError(name)


def _locate_on_sole(body: Skeleton, side: str, along: float, height: float) -> np.ndarray:
    """A point of the foot; what lies beyond the ball turns with the toes."""
    length, beyond = body.table.foot.length, along - BALL_FROM_HEEL
    on_foot = ((min(along, BALL_FROM_HEEL) - ANKLE_FROM_HEEL) * length, 0, height - ANKLE_HEIGHT)
    place = body.at(f"{side}.ankle", f"{side}.foot", on_foot)
    if beyond > 0:
        place = place + body.frames[f"{side}.toes"][:, 0] * (beyond * length * body.stature_m)
    return place
