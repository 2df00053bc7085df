"""What a posed body is doing, as findings that words can be made of: computed from angles and contacts.

The findings are keys of closed lists and whole degrees; `library.pose_wording` says them. Directions are
judged in the room (lying, standing) and limbs in the frame they hang from. The bounds between one word and
the next are common practice, no source.
"""

from dataclasses import dataclass
from math import asin, degrees

import numpy as np

from library.body.points import locate
from library.body.skeleton import Skeleton, angles_of, stand

STRAIGHT = 20  # degrees of a knee or an elbow that still reads as straight
ROUND_TO = 5
SOMETHING = "something"  # a contact that only names a height
_LEVEL_SURFACES = {
    "mat",
    "floor",
    "carriage",
    "table",
    "seat",
    "box",
    "stool",
    "cushion",
    "step",
    "platform",
    SOMETHING,
}
_FEET, _KNEES = ("heel", "ball", "toe", "arch", "instep"), ("kneecap", "shin")
_HANDS = ("palm", "knuckle", "fingertip")
_FOREARMS = ("forearm_edge", "elbow_tip")
_BACK = {"pelvis.back", "waist.back", "upper_back", "ribs.back", "head.back"}
_NEAR = 0.15  # metres between a palm and what it holds
_OVER = {"barrel", "arc"}
_UPRIGHT = ("standing", "kneeling", "folded", "plank", "hanging", "hands")


@dataclass(frozen=True)
class Limb:
    """One leg or arm: what it does (a key), how far in degrees or None, and what it is on, or ''."""

    does: str
    degrees: int | None = None
    on: str = ""


@dataclass(frozen=True)
class Telling:
    """Findings of one phase: how the body is held, on what, what the trunk does, how far the hips are bent
    (degrees, None where the rest says it), how the legs stand to each other, and every limb."""

    base: str
    on: str
    trunk: tuple[str, ...]
    hips: int | None
    spread: tuple[str, ...]
    legs: dict[str, Limb]
    arms: dict[str, Limb]


def tell(pose: dict, phase: str) -> Telling:
    """Findings of a pose at its ``start``, ``middle`` or ``end``; sides are those of the pose as given.

    Raises KeyError for a phase that the pose does not have.
    """
    return _Teller(pose, pose[phase]).telling()


def slope(vector: np.ndarray) -> float:
    """Degrees above the horizontal, -90 to 90."""
    return degrees(asin(float(np.clip(vector[2] / np.linalg.norm(vector), -1, 1))))


def rounded(angle: float) -> int:
    """An angle as it is said: to the nearest five degrees."""
    return int(ROUND_TO * round(abs(angle) / ROUND_TO))


class _Teller:
    def __init__(self, pose: dict, phase: dict):
        self.pose, self.phase = pose, phase
        self.angles = angles_of(phase)
        self.body: Skeleton = stand(self.angles, tuple(phase["solved_hips"]))
        self.surfaces = _surfaces(phase)
        frames, origins = self.body.frames, self.body.origins
        self.front = float(frames["pelvis"][2, 0])  # 1 the belly looks up, -1 down
        self.left_up = float(frames["pelvis"][2, 1])
        self.spine = slope(origins["c7"] - origins["hips"])
        self.base = self._base()

    def telling(self) -> Telling:
        return Telling(
            self.base,
            self._ground(),
            tuple(self._trunk()),
            self._hips(),
            tuple(self._spread()),
            {side: self._leg(side) for side in "lr"},
            {side: self._arm(side) for side in "lr"},
        )

    # --- how the body is held ---------------------------------------------------------------------

    def _touches(self, parts, side: str | None = None) -> bool:
        sides = (side,) if side else ("l", "r")
        return any(f"{s}.{part}" in self.surfaces for s in sides for part in parts)

    def _base(self) -> str:
        on_back = _BACK & self.surfaces.keys()
        sits = "seat" in self.surfaces
        if any(self.surfaces.get(name) in _OVER for name in _BACK):
            return "back_over"
        if sits and self.spine > 8:
            return "sitting"
        if self.spine < -45 and on_back:
            return "on_shoulders"
        lying = self._lying(on_back, sits)
        if lying:
            return lying
        if self._touches(_KNEES):
            return self._kneeling()
        return self._on_feet_or_hands()

    def _lying(self, on_back: set[str], sits: bool) -> str:
        if on_back or (sits and self.front > 0.5):
            lifted = "pelvis.back" not in on_back and not sits and "upper_back" in on_back
            hips, shoulders = self.body.origins["hips"][2], self.body.origins["c7"][2]
            return "pelvis_lifted" if lifted and hips > shoulders + 0.03 else "on_back"
        if {"pelvis.front", "belly", "ribs.front"} & self.surfaces.keys():
            return "face_down"
        for side, up in (("left", -self.left_up), ("right", self.left_up)):
            if {f"pelvis.{side}", f"ribs.{side}"} & self.surfaces.keys():
                return f"on_{side}_side"
            if up > 0.6 and abs(self.spine) < 60 and not self._touches(_KNEES):
                return f"propped_on_{side}"
        return ""

    def _kneeling(self) -> str:
        knees = {side: self._touches(_KNEES, side) for side in "lr"}
        hands = self._touches(_HANDS) or self._touches(_FOREARMS)
        if abs(self.left_up) > 0.6 and hands:
            return "propped_on_left" if self.left_up < 0 else "propped_on_right"
        if self.spine > 48 or not hands:
            if all(knees.values()):
                return "kneeling"
            return "kneeling_left" if knees["l"] else "kneeling_right"
        hip = min(self._thigh_to_trunk(side) for side in "lr")
        return "plank_on_knees" if hip > 135 and self.spine > 5 else "hands_and_knees"

    def _thigh_to_trunk(self, side: str) -> float:
        """Degrees between thigh and spine: 180 in one line."""
        thigh = self.body.origins[f"{side}.knee"] - self.body.origins[f"{side}.hip"]
        spine = self.body.origins["c7"] - self.body.origins["hips"]
        cosine = thigh @ spine / np.linalg.norm(thigh) / np.linalg.norm(spine)
        return float(np.degrees(np.arccos(np.clip(cosine, -1, 1))))

    def _on_feet_or_hands(self) -> str:
        feet, hands = self._touches(_FEET), self._touches(_HANDS) or self._touches(_FOREARMS)
        highest = max(self.body.origins[f"{side}.wrist"][2] for side in "lr")
        if hands and highest > self.body.origins["c7"][2] + 0.2 and not self._stands():
            return "hanging"
        if self.spine > 50:
            return "standing"
        if feet and hands and self.front < -0.2 and self._line_is_straight():
            return "plank"
        if feet and hands and self.front > 0.3:
            return "plank_face_up"
        if feet and self.spine > 25:
            return "standing_leaning"
        return "folded_forward" if feet else "upside_down"

    def _stands(self) -> bool:
        return any(
            self.surfaces.get(f"{side}.{part}") in _LEVEL_SURFACES
            for side in "lr"
            for part in ("heel", "ball")
        )

    def _line_is_straight(self) -> bool:
        return min(self._thigh_to_trunk(side) for side in "lr") > 135

    def _ground(self) -> str:
        """What carries the body: the surface under its main support."""
        names = {
            "back_over": ("upper_back", "waist.back", "ribs.back", "pelvis.back", "head.back"),
            "sitting": ("seat",),
            "on_back": ("pelvis.back", "upper_back", "waist.back", "seat", "ribs.back"),
            "pelvis_lifted": ("upper_back",),
            "on_shoulders": ("upper_back",),
            "face_down": ("pelvis.front", "belly", "ribs.front"),
            "on_left_side": ("pelvis.left", "ribs.left"),
            "on_right_side": ("pelvis.right", "ribs.right"),
        }.get(self.base)
        if names is None:
            parts = _KNEES if "knee" in self.base else _FEET
            names = [f"{side}.{part}" for side in "rl" for part in parts]
        on = [self.surfaces[name] for name in names if self.surfaces.get(name)]
        level = {one for one in on if one in _LEVEL_SURFACES}
        if len(level) > 1:
            return ""  # a foot here and a foot there: the legs say it
        return level.pop() if level else on[0] if on else ""

    # --- trunk -------------------------------------------------------------------------------------

    def _trunk(self):
        angle = self.angles.get
        curl = angle("low_curl", 0) + angle("up_curl", 0)
        if self.base == "on_back" and angle("up_curl", 0) + 0.5 * angle("low_curl", 0) > 14:
            yield "head_and_shoulders_lifted"
        elif self.base == "on_back" and angle("nod", 0) > 14 and "head.back" not in self.surfaces:
            yield "head_lifted"
        elif self.base == "face_down" and (curl < -9 or self.spine > 12):
            yield "chest_lifted"
        elif self.base == "face_down" and self.spine < -6:
            yield "chest_low"
        elif curl > 24:
            yield "back_rounded"
        elif curl < -16:
            yield "back_arched"
        for name, key in (("side", "bent"), ("twist", "turned")):
            value = angle(name, 0)
            settled = name == "side" and self.base.endswith("_side")  # the head on its cushion
            if abs(value) > (18 if settled else 9):
                yield f"{key}_{'left' if value > 0 else 'right'}"
        if self.base in ("sitting", "kneeling") and not abs(self.left_up) > 0.3:
            yield from self._lean()

    def _lean(self):
        if self.spine < 65:
            forward = self.body.frames["pelvis"][:, 0]
            lean = self.body.origins["c7"] - self.body.origins["hips"]
            ahead = lean[:2] @ forward[:2] > 0 if self.front < 0.5 else False
            yield "leaning_forward" if ahead else "leaning_back"

    def _hips(self) -> int | None:
        """How far the carrying legs' hips are bent, where trunk and legs do not say it."""
        if self.base not in (
            "hands_and_knees",
            "plank_on_knees",
            "folded_forward",
            "standing_leaning",
            "kneeling",
        ):
            return None
        bent = rounded(min(180 - self._thigh_to_trunk(side) for side in "lr"))
        return None if self.base == "kneeling" and bent < 20 else bent

    def _spread(self):
        """Legs opened sideways or turned out, where both are."""
        least = {
            name: min(self.angles.get(f"{side}.{name}", 0) for side in "lr")
            for name in ("hip_out", "hip_turn")
        }
        if least["hip_out"] > 16:
            straight = all(self.angles.get(f"{side}.knee", 0) < STRAIGHT for side in "lr")
            yield "legs_apart" if straight else "knees_apart"
        if least["hip_turn"] > 18:
            yield "turned_out"
        yield from self._heels()

    def _heels(self):
        """Heels lifted off the ground that the balls of the feet stand on; in a plank they always are."""
        if not self.base.startswith(("standing", "pelvis_lifted", "sitting", "folded")):
            return
        lifted = [
            side
            for side in "rl"
            if self._on(side, ("ball", "toe")) in _LEVEL_SURFACES and f"{side}.heel" not in self.surfaces
        ]
        if len(lifted) == 2:
            yield "heels_lifted"
        elif lifted:
            yield f"heel_lifted_{'right' if lifted == ['r'] else 'left'}"

    # --- legs --------------------------------------------------------------------------------------

    def _leg(self, side: str) -> Limb:
        body, knee = self.body, self.angles.get(f"{side}.knee", 0.0)
        hip, ankle = body.origins[f"{side}.hip"], body.origins[f"{side}.ankle"]
        foot_on = self._on(side, _FEET)
        straight = knee < STRAIGHT
        if self._touches(_KNEES, side) and self.base != "face_down":
            return Limb("knee_down", on=self._on(side, _KNEES))
        if foot_on and foot_on not in _LEVEL_SURFACES:
            part = next(part for part in _FEET if self.surfaces.get(f"{side}.{part}"))
            part = {"toe": "ball", "instep": "arch"}.get(part, part)
            if straight:
                return Limb(f"straight_{part}_on", None, foot_on)
            return Limb(f"bent_{part}_on", rounded(knee), foot_on)
        if self.base.startswith(_UPRIGHT):
            return self._upright_leg(side, straight, knee, foot_on)
        return self._lying_leg(side, straight, knee, slope(ankle - hip), foot_on)

    def _upright_leg(self, side: str, straight: bool, knee: float, foot_on: str) -> Limb:
        if foot_on or (straight and self._swing(side) < 10 and self.base == "standing"):
            return Limb("foot_down" if straight else "foot_down_bent", None if straight else rounded(knee))
        if self.base in ("hands_and_knees", "plank", "plank_on_knees") and self._way_of_leg(side) == "back":
            return Limb("lifted_back" if straight else "bent_lifted_back")
        does = self._way_of_leg(side)
        if straight:
            return Limb(f"straight_{does}", rounded(self._swing(side)))
        return Limb(f"bent_{does}", rounded(knee))

    def _way_of_leg(self, side: str) -> str:
        """Where a lifted leg goes, seen from its own pelvis."""
        thigh = self.body.frames["pelvis"].T @ -self.body.frames[f"{side}.thigh"][:, 2]
        out = thigh[1] if side == "l" else -thigh[1]
        if out > 0.35 and out > abs(thigh[0]):
            return "aside"
        return "forward" if thigh[0] > 0 else "back"

    def _swing(self, side: str) -> float:
        """Degrees between the thigh and the line of the pelvis downwards."""
        thigh = self.body.frames["pelvis"].T @ -self.body.frames[f"{side}.thigh"][:, 2]
        return float(np.degrees(np.arccos(np.clip(-thigh[2], -1, 1))))

    def _lying_leg(self, side: str, straight: bool, knee: float, rise: float, foot_on: str) -> Limb:
        overhead = self.base in ("on_back", "on_shoulders", "sitting") and self._swing(side) > 100
        if straight:
            if overhead and rise < 75:
                return Limb("straight_over_head")
            if foot_on or rise < 6:
                return Limb("straight_along")
            return Limb("straight_up") if rise > 80 else Limb("straight_at", rounded(rise))
        if foot_on:
            return Limb("bent_foot_down")
        thigh = slope(-self.body.frames[f"{side}.thigh"][:, 2])
        shank = slope(-self.body.frames[f"{side}.shank"][:, 2])
        if thigh > 65 and abs(shank) < 25:
            return Limb("knee_over_hip")
        raised = self.base.endswith("_side") and thigh > 20
        return Limb("bent_raised" if raised else "bent_at", rounded(knee))

    # --- arms --------------------------------------------------------------------------------------

    def _arm(self, side: str) -> Limb:
        on = self._on(side, _HANDS)
        elbow = self.angles.get(f"{side}.elbow", 0.0)
        if on:
            high = self.body.origins[f"{side}.wrist"][2] > self.body.at("c7", "head", (0, 0, 0.1))[2]
            return Limb("hand_high_on" if high and self.base == "standing" else "hand_on", on=on)
        if self._touches(_FOREARMS, side):
            return Limb("forearm_on", on=self._on(side, _FOREARMS))
        near = self._held(side)
        if near:
            return near
        return self._free_arm(side, elbow)

    def _held(self, side: str) -> Limb | None:
        palm = locate(self.body, f"{side}.palm")
        places = {"behind_head": ("head.back",)}
        places |= {f"at_{part}": (f"l.{joint}", f"r.{joint}") for part, joint in _HOLDS.items()}
        reach = {
            key: min(float(np.linalg.norm(locate(self.body, name) - palm)) for name in names)
            for key, names in places.items()
        }
        key = min(reach, key=lambda name: reach[name])
        return Limb(f"hand_{key}") if reach[key] < _NEAR else None

    def _free_arm(self, side: str, elbow: float) -> Limb:
        arm = locate(self.body, f"{side}.wrist") - self.body.origins[f"{side}.shoulder"]
        own = self.body.frames["thorax"].T @ (arm / np.linalg.norm(arm))
        out = own[1] if side == "l" else -own[1]
        if elbow > 70:
            return Limb("elbow_bent")
        for key, share in (("overhead", own[2]), ("aside", out), ("forward", own[0]), ("back", -own[0])):
            if share > 0.72 or (key == "back" and share > 0.5):
                up = key == "forward" and self.base == "on_back" and slope(arm) > 55
                return Limb("arm_to_ceiling" if up else f"arm_{key}")
        if own[2] < -0.8:
            return Limb("arm_along")
        return Limb(
            "arm_forward_low"
            if own[0] > 0.25 and own[2] < 0
            else "arm_forward_high"
            if own[0] > 0.25
            else "arm_aside"
        )

    def _on(self, side: str, parts) -> str:
        return next(
            (self.surfaces[f"{side}.{part}"] for part in parts if f"{side}.{part}" in self.surfaces), ""
        )


_HOLDS = {"knee": "kneecap", "shin": "shin", "ankle": "ankle", "foot": "instep"}


def _surfaces(phase: dict) -> dict[str, str]:
    """Which named points touch, and what: both sides for ``mid.``; a bare height is 'something'."""
    found: dict[str, str] = {}
    for touch in phase["touch"]:
        on = touch.get("on") or (SOMETHING if "z" in touch else "")
        if not on:
            continue
        points = [touch["point"]] if isinstance(touch["point"], str) else touch["point"]
        for point in points:
            both = ("l." + point[4:], "r." + point[4:]) if point.startswith("mid.") else (point,)
            found |= dict.fromkeys(both, on)
    return found
