"""Angles, points and surfaces of a figure in the words of somebody who teaches, through gettext."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

# Angle -> its name, and what its sign means. Degrees; 0 is standing upright with the arms at the sides.
ANGLES = {
    "lean": (gettext_lazy("Trunk lean"), gettext_lazy("+ back, 90 lies on the back; − forward, −90 lies face down")),
    "roll": (gettext_lazy("Roll"), gettext_lazy("+ to the left, about the long line of the body")),
    "face": (gettext_lazy("Turn of the whole body"), gettext_lazy("+ to its left")),
    "list": (gettext_lazy("Pelvis tipped sideways"), gettext_lazy("+ to the left")),
    "low_curl": (gettext_lazy("Low back curl"), gettext_lazy("+ rounds, − arches")),
    "up_curl": (gettext_lazy("Upper back curl"), gettext_lazy("+ rounds, − arches")),
    "side": (gettext_lazy("Bend to the side"), gettext_lazy("+ to the left")),
    "twist": (gettext_lazy("Turn of the chest"), gettext_lazy("+ to the left")),
    "nod": (gettext_lazy("Head nod"), gettext_lazy("+ chin to the chest, − looks up")),
    "neck_side": (gettext_lazy("Head tipped sideways"), gettext_lazy("+ to the left")),
    "neck_turn": (gettext_lazy("Head turn"), gettext_lazy("+ to the left")),
    "hip": (gettext_lazy("Hip bend"), gettext_lazy("+ thigh forward, − thigh behind")),
    "hip_out": (gettext_lazy("Leg to the side"), gettext_lazy("+ out, − across")),
    "hip_turn": (gettext_lazy("Leg turn"), gettext_lazy("+ outward, − inward")),
    "knee": (gettext_lazy("Knee bend"), gettext_lazy("0 is straight")),
    "ankle": (gettext_lazy("Foot up or down"), gettext_lazy("+ pulled up, − pointed")),
    "toes": (gettext_lazy("Toes up or curled"), gettext_lazy("+ up, − curled; on the ball of the foot they lie flat")),
    "blade": (gettext_lazy("Shoulder blade"), gettext_lazy("+ forward round the ribs, − back to the spine")),
    "shoulder": (gettext_lazy("Arm forward"), gettext_lazy("+ forward, 180 beside the ear; − behind")),
    "shoulder_out": (gettext_lazy("Arm to the side"), gettext_lazy("+ out, − across")),
    "shoulder_turn": (gettext_lazy("Arm turn"), gettext_lazy("+ outward, − inward")),
    "elbow": (gettext_lazy("Elbow bend"), gettext_lazy("0 is straight")),
    "wrist": (gettext_lazy("Hand bend"), gettext_lazy("85 is a hand flat under a straight arm")),
}  # fmt: skip
GROUPS = {
    "body": gettext_lazy("Whole body"),
    "both_legs": gettext_lazy("Both legs"),
    "right_leg": gettext_lazy("Right leg"),
    "left_leg": gettext_lazy("Left leg"),
    "both_arms": gettext_lazy("Both arms"),
    "right_arm": gettext_lazy("Right arm"),
    "left_arm": gettext_lazy("Left arm"),
}
PHASES = {
    "start": gettext_lazy("Start"),
    "middle": gettext_lazy("Middle"),
    "end": gettext_lazy("End"),
}
TRUNK_POINTS = {
    "pelvis.back": gettext_lazy("back of the pelvis"),
    "pelvis.front": gettext_lazy("front of the pelvis"),
    "pelvis.left": gettext_lazy("left side of the pelvis"),
    "pelvis.right": gettext_lazy("right side of the pelvis"),
    "seat": gettext_lazy("sitting bones"),
    "waist.back": gettext_lazy("back of the waist"),
    "belly": gettext_lazy("belly"),
    "upper_back": gettext_lazy("upper back"),
    "ribs.back": gettext_lazy("back of the ribs"),
    "ribs.front": gettext_lazy("front of the ribs"),
    "ribs.left": gettext_lazy("left side of the ribs"),
    "ribs.right": gettext_lazy("right side of the ribs"),
    "head.back": gettext_lazy("back of the head"),
    "head.front": gettext_lazy("face"),
    "head.left": gettext_lazy("left side of the head"),
    "head.right": gettext_lazy("right side of the head"),
    "vertex": gettext_lazy("crown of the head"),
    "hips": gettext_lazy("middle of the hips"),
    "lumbosacral": gettext_lazy("base of the spine"),
    "upper_joint": gettext_lazy("middle of the spine"),
    "c7": gettext_lazy("base of the neck"),
}
# Part of a limb -> right, left, both.
LIMB_POINTS = {
    "heel": (gettext_lazy("right heel"), gettext_lazy("left heel"), gettext_lazy("both heels")),
    "ball": (
        gettext_lazy("ball of the right foot"),
        gettext_lazy("ball of the left foot"),
        gettext_lazy("balls of both feet"),
    ),
    "toe": (gettext_lazy("right toes"), gettext_lazy("left toes"), gettext_lazy("toes of both feet")),
    "arch": (gettext_lazy("right sole"), gettext_lazy("left sole"), gettext_lazy("both soles")),
    "instep": (gettext_lazy("right instep"), gettext_lazy("left instep"), gettext_lazy("both insteps")),
    "ankle": (gettext_lazy("right ankle"), gettext_lazy("left ankle"), gettext_lazy("both ankles")),
    "outer_ankle": (
        gettext_lazy("outside of the right ankle"),
        gettext_lazy("outside of the left ankle"),
        gettext_lazy("outsides of both ankles"),
    ),
    "inner_ankle": (
        gettext_lazy("inside of the right ankle"),
        gettext_lazy("inside of the left ankle"),
        gettext_lazy("insides of both ankles"),
    ),
    "shin": (gettext_lazy("right shin"), gettext_lazy("left shin"), gettext_lazy("both shins")),
    "calf": (gettext_lazy("right calf"), gettext_lazy("left calf"), gettext_lazy("both calves")),
    "kneecap": (gettext_lazy("right kneecap"), gettext_lazy("left kneecap"), gettext_lazy("both kneecaps")),
    "knee": (gettext_lazy("right knee"), gettext_lazy("left knee"), gettext_lazy("both knees")),
    "thigh_back": (
        gettext_lazy("back of the right thigh"),
        gettext_lazy("back of the left thigh"),
        gettext_lazy("backs of both thighs"),
    ),
    "hip": (gettext_lazy("right hip"), gettext_lazy("left hip"), gettext_lazy("both hips")),
    "palm": (gettext_lazy("right palm"), gettext_lazy("left palm"), gettext_lazy("both palms")),
    "knuckle": (
        gettext_lazy("right knuckles"),
        gettext_lazy("left knuckles"),
        gettext_lazy("knuckles of both hands"),
    ),
    "fingertip": (
        gettext_lazy("right fingertips"),
        gettext_lazy("left fingertips"),
        gettext_lazy("fingertips of both hands"),
    ),
    "wrist": (gettext_lazy("right wrist"), gettext_lazy("left wrist"), gettext_lazy("both wrists")),
    "forearm_edge": (
        gettext_lazy("right forearm"),
        gettext_lazy("left forearm"),
        gettext_lazy("both forearms"),
    ),
    "elbow": (gettext_lazy("right elbow"), gettext_lazy("left elbow"), gettext_lazy("both elbows")),
    "elbow_tip": (
        gettext_lazy("tip of the right elbow"),
        gettext_lazy("tip of the left elbow"),
        gettext_lazy("tips of both elbows"),
    ),
    "arm_back": (
        gettext_lazy("back of the right arm"),
        gettext_lazy("back of the left arm"),
        gettext_lazy("backs of both arms"),
    ),
    "shoulder": (
        gettext_lazy("right shoulder"),
        gettext_lazy("left shoulder"),
        gettext_lazy("both shoulders"),
    ),
}
SIDES = ("r", "l", "mid")
SURFACES = {
    "mat": gettext_lazy("the mat"),
    "floor": gettext_lazy("the floor"),
    "carriage": gettext_lazy("the carriage"),
    "headrest": gettext_lazy("the head rest"),
    "footbar": gettext_lazy("the footbar"),
    "box": gettext_lazy("the box"),
    "jumpboard": gettext_lazy("the jump board"),
    "platform": gettext_lazy("the platform"),
    "table": gettext_lazy("the table"),
    "pushbar": gettext_lazy("the push-through bar"),
    "post": gettext_lazy("the post"),
    "seat": gettext_lazy("the seat"),
    "pedal": gettext_lazy("the pedal"),
    "handle": gettext_lazy("the handles"),
    "barrel": gettext_lazy("the barrel"),
    "rung": gettext_lazy("a rung"),
    "arc": gettext_lazy("the arc"),
    "stool": gettext_lazy("the chair"),
    "backrest": gettext_lazy("the chair’s back"),
    "wall": gettext_lazy("the wall in front"),
    "rear_wall": gettext_lazy("the wall behind"),
    "cushion": gettext_lazy("the cushion"),
    "roller": gettext_lazy("the roller lying across"),
    "roller_along": gettext_lazy("the roller lying along"),
    "step": gettext_lazy("the step"),
}
# What a limb may be inside of besides, as library.body.solids names it.
_SOLIDS = {
    "floor": gettext_lazy("the floor"),
    "frame": gettext_lazy("the frame"),
    "carriage": gettext_lazy("the carriage"),
    "seat": gettext_lazy("the seat"),
    "block": gettext_lazy("the block"),
    "board": gettext_lazy("the jump board"),
    "rear wall": gettext_lazy("the wall behind"),
    "back wall": gettext_lazy("the wall"),
}
_BONES = {
    "hip-knee": (gettext_lazy("right thigh"), gettext_lazy("left thigh")),
    "knee-ankle": (gettext_lazy("right lower leg"), gettext_lazy("left lower leg")),
    "shoulder-elbow": (gettext_lazy("right upper arm"), gettext_lazy("left upper arm")),
    "elbow-wrist": (gettext_lazy("right forearm"), gettext_lazy("left forearm")),
}
_OTHERS = {
    "scene": gettext_lazy("the apparatus"),
    "camera": gettext_lazy("the view"),
    "touch": gettext_lazy("what touches"),
    "free": gettext_lazy("what may follow"),
    "x": gettext_lazy("the place along"),
    "z": gettext_lazy("the height"),
    "pedal": gettext_lazy("the pedal’s angle"),
    "pushbar": gettext_lazy("the bar’s angle"),
}


def angle_name(name: str) -> str:
    """Return an angle with its side: 'Hip bend, right' for r.hip, 'Hip bend, both' for both.hip."""
    part, _dot, angle = name.rpartition(".")
    label = str(ANGLES[angle][0]) if angle in ANGLES else angle
    says = {"r": _("%(angle)s, right"), "l": _("%(angle)s, left"), "both": _("%(angle)s, both")}
    return says[part] % {"angle": label} if part in says else label


def point_name(point: str | list[str]) -> str:
    """Return a point in words; of several points the one that touches first counts."""
    if isinstance(point, list):
        return _("first of: %(points)s") % {"points": ", ".join(map(point_name, point))}
    if point in TRUNK_POINTS:
        return str(TRUNK_POINTS[point])
    side, _dot, part = point.partition(".")
    if part in LIMB_POINTS and side in SIDES:
        return str(LIMB_POINTS[part][SIDES.index(side)])
    bone = part.partition(" ")[0]
    return str(_BONES[bone][SIDES.index(side)]) if bone in _BONES else point


def surface_name(surface: str) -> str:
    return str(SURFACES.get(surface) or surface)


def solid_name(solid: str) -> str:
    """Return a firm part in words; 'seat' is that of a chair or of a stool."""
    return str(_SOLIDS.get(solid) or SURFACES.get(solid) or solid)


def name(code: str) -> str:
    """Return whatever a complaint is about in words: an angle, a point, a surface or an entry."""
    if code.rpartition(".")[2] in ANGLES and code.partition(".")[0] in (*ANGLES, "r", "l", "both"):
        return angle_name(code)
    found = _OTHERS.get(code) or SURFACES.get(code)
    return str(found) if found and code not in TRUNK_POINTS else point_name(code)


def angle_or_point(kind: str, code: str) -> str:
    """Return what a complaint is about: hip, knee and others are the name of an angle and of a point."""
    return point_name(code) if kind in ("out_of_reach", "not_met", "inside", "unknown_point") else name(code)
