"""How a posed body is held in the room: lying, sitting, kneeling, standing, and on what.

Judged from contacts and from where pelvis and spine point. The bounds between one and the next are common
practice, no source.
"""

from math import asin, degrees

import numpy as np

from library.body.contacts import STOOD_ON, points_of
from library.body.points import locate
from library.body.skeleton import Skeleton, angles_of, stand

ROUND_TO = 5
SOMETHING = "something"  # a contact that only names a height
LEVEL_SURFACES = STOOD_ON | {"seat", "box", "stool", "cushion", SOMETHING}
FEET, KNEES = ("heel", "ball", "toe", "arch", "instep"), ("kneecap", "shin")
HANDS = ("palm", "knuckle", "fingertip")
FOREARMS = ("forearm_edge", "elbow_tip")
_BACK = {"pelvis.back", "waist.back", "upper_back", "ribs.back", "head.back"}
_OVER = {"barrel", "arc"}
_OFF = 0.04  # metres above a surface that no longer read as on it
_WALLS = {"wall", "rear_wall", "post"}


def slope(vector: np.ndarray) -> float:
    """Degrees above the horizontal, -90 to 90."""
    return degrees(asin(float(np.clip(vector[2] / np.linalg.norm(vector), -1, 1))))


def rounded(angle: float) -> int:
    """An angle as it is said: to the nearest five degrees."""
    return int(ROUND_TO * round(abs(angle) / ROUND_TO))


class Held:
    """One phase of a pose: its body, what touches, and ``base``, the key of how the body is held."""

    def __init__(self, phase: dict):
        self.phase = phase
        self.angles = angles_of(phase)
        self.body: Skeleton = stand(self.angles, tuple(phase["solved_hips"]))
        self.surfaces = _surfaces(phase)
        for name in [name for name in self.surfaces if self._hovers(name)]:
            del self.surfaces[name]
        frames, origins = self.body.frames, self.body.origins
        self.front = float(frames["pelvis"][2, 0])  # 1 the belly looks up, -1 down
        self.left_up = float(frames["pelvis"][2, 1])
        self.spine = slope(origins["c7"] - origins["hips"])
        self.base = self._base()

    def _hovers(self, name: str) -> bool:
        """Whether a knee is held at a height above what its own foot stands on: a bare height carries nothing."""
        side, _, part = name.partition(".")
        if part not in KNEES or self.surfaces[name] != SOMETHING:
            return False
        stood_on = self.surfaces.get(f"{side}.ball") in STOOD_ON
        return stood_on and locate(self.body, name)[2] > locate(self.body, f"{side}.ball")[2] + _OFF

    def touches(self, parts, side: str | None = None) -> bool:
        sides = (side,) if side else ("l", "r")
        return any(f"{s}.{part}" in self.surfaces for s in sides for part in parts)

    def _base(self) -> str:
        lain = {name for name, on in self.surfaces.items() if on not in _WALLS}
        on_back = _BACK & lain if self.front > 0.2 or _BACK - {"head.back"} & lain else set()
        sits = "seat" in self.surfaces
        if any(self.surfaces.get(name) in _OVER for name in _BACK):
            return "back_over" if self.spine < 60 else "sitting"
        if sits and (self.spine > 8 or self.front < 0.2):
            return "sitting"
        if sits and self.touches(("thigh_back",)) and not (_BACK - {"pelvis.back"}) & lain:
            return "seated_far_back"  # nothing above the pelvis lies on anything
        if "upper_back" in on_back and self._hips_high():
            return "on_shoulders"
        lying = self._lying(on_back, sits)
        if lying:
            return lying
        if self.touches(KNEES):
            return self._kneeling()
        if self._knees_lifted():
            return "hands_and_feet"
        return self._on_feet_or_hands()

    def _hips_high(self) -> bool:
        """The hips above the shoulders: clearly, or with no foot to hold them there."""
        rise = self.body.origins["hips"][2] - self.body.origins["c7"][2]
        one_line = self.touches(FEET) or self._line_is_straight()  # a bridge, the feet on or in something
        return rise > (0.36 if one_line else 0.15)

    def _lying(self, on_back: set[str], sits: bool) -> str:
        if on_back or (sits and self.front > 0.5):
            lifted = "pelvis.back" not in on_back and not sits and "upper_back" in on_back
            hips, shoulders = self.body.origins["hips"][2], self.body.origins["c7"][2]
            return "pelvis_lifted" if lifted and hips > shoulders + 0.03 else "on_back"
        if {"pelvis.front", "belly", "ribs.front"} & self.surfaces.keys():
            return "face_down"
        by_hands = self.touches((*HANDS, *FOREARMS, "elbow"))
        for side, up in (("left", -self.left_up), ("right", self.left_up)):
            if {f"pelvis.{side}", f"ribs.{side}"} & self.surfaces.keys():
                return f"on_{side}_side"
            if up > 0.6 and abs(self.spine) < 60 and not self.touches(KNEES):
                lies = f"{side[0]}.hip" in self.surfaces and not by_hands
                return f"on_{side}_side" if lies else f"propped_on_{side}"
        return ""

    def _kneeling(self) -> str:
        knees = {side: self.touches(KNEES, side) for side in "lr"}
        hands = self.touches(HANDS) or self.touches(FOREARMS)
        if abs(self.left_up) > 0.6 and hands:
            return "propped_on_left" if self.left_up < 0 else "propped_on_right"
        if self.spine > 48 or not hands:
            if all(knees.values()):
                return "kneeling"
            return "kneeling_left" if knees["l"] else "kneeling_right"
        hip = min(self.thigh_to_trunk(side) for side in "lr")
        return "plank_on_knees" if hip > 135 and self.spine > 5 else "hands_and_knees"

    def _knees_lifted(self) -> bool:
        """On hands and feet as on all fours: the knees bent and low, though nothing carries them."""
        if not (self.touches(FEET) and self.touches(HANDS) and self.front < -0.2 and self.spine < 50):
            return False
        rise = [
            self.body.origins[f"{side}.{upper}"][2] - self.body.origins[f"{side}.{lower}"][2]
            for side in "lr"
            for upper, lower in (("hip", "knee"), ("knee", "ankle"))
        ]
        low = max(rise[1::2]) < 0.5 * min(rise[0::2])
        return low and min(self.angles.get(f"{side}.knee", 0) for side in "lr") > 60

    def thigh_to_trunk(self, side: str) -> float:
        """Degrees between thigh and spine: 180 in one line."""
        thigh = self.body.origins[f"{side}.knee"] - self.body.origins[f"{side}.hip"]
        spine = self.body.origins["c7"] - self.body.origins["hips"]
        cosine = thigh @ spine / np.linalg.norm(thigh) / np.linalg.norm(spine)
        return float(np.degrees(np.arccos(np.clip(cosine, -1, 1))))

    def _on_feet_or_hands(self) -> str:
        feet, hands = self.touches(FEET), self.touches(HANDS) or self.touches(FOREARMS)
        held = [side for side in "lr" if self.touches(HANDS + FOREARMS, side)]
        highest = max((self.body.origins[f"{side}.wrist"][2] for side in held), default=0.0)
        if hands and highest > self.body.origins["c7"][2] + 0.2 and not self._stands():
            return "hanging"
        if hands and not feet and self.phase.get("hang"):
            return "hanging"
        if feet and hands and self.front > 0.3:
            return "plank_face_up"
        if self.spine > 50:
            return "standing"
        if feet and hands and self.front < -0.2 and self._line_is_straight():
            return "plank"
        if feet and self.spine > 25:
            return "standing_leaning"
        return "folded_forward" if feet else "upside_down"

    def _stands(self) -> bool:
        return any(
            self.surfaces.get(f"{side}.{part}") in LEVEL_SURFACES
            for side in "lr"
            for part in ("heel", "ball")
        )

    def _line_is_straight(self) -> bool:
        return min(self.thigh_to_trunk(side) for side in "lr") > 135

    def ground(self) -> str:
        """What carries the body: the surface under its main support."""
        names = {
            "back_over": ("upper_back", "waist.back", "ribs.back", "pelvis.back", "head.back"),
            "sitting": ("seat", "pelvis.back"),
            "seated_far_back": ("seat",),
            "on_back": ("pelvis.back", "upper_back", "waist.back", "seat", "ribs.back"),
            "pelvis_lifted": ("upper_back",),
            "on_shoulders": ("upper_back",),
            "face_down": ("pelvis.front", "belly", "ribs.front"),
            "on_left_side": ("pelvis.left", "ribs.left"),
            "on_right_side": ("pelvis.right", "ribs.right"),
        }.get(self.base)
        if names is None:
            parts = KNEES if "knee" in self.base else FEET
            names = [f"{side}.{part}" for side in "rl" for part in parts]
        on = [self.surfaces[name] for name in names if self.surfaces.get(name)]
        level = {one for one in on if one in LEVEL_SURFACES}
        if len(level) > 1:
            return ""  # a foot here and a foot there: the legs say it
        return level.pop() if level else on[0] if on else ""


def _surfaces(phase: dict) -> dict[str, str]:
    """Which named points touch, and what: both sides for ``mid.``; a bare height is 'something'."""
    found: dict[str, str] = {}
    for touch in phase["touch"]:
        on = touch.get("on") or (SOMETHING if "z" in touch else "")
        if not on:
            continue
        for point in points_of(touch):
            both = ("l." + point[4:], "r." + point[4:]) if point.startswith("mid.") else (point,)
            found |= dict.fromkeys(both, on)
    return found
