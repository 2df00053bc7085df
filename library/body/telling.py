"""What a posed body is doing, as findings that words can be made of: computed from angles and contacts.

The findings are keys of closed lists and whole degrees; `library.pose_wording` says them. Directions are
judged in the room (lying, standing) and limbs in the frame they hang from. The bounds between one word and
the next are common practice, no source.
"""

from dataclasses import dataclass

import numpy as np

from library.body.contacts import STOOD_ON, sides_on_toes
from library.body.holding import FEET, FOREARMS, HANDS, KNEES, LEVEL_SURFACES, Held, rounded, slope
from library.body.own_hands import OwnHands
from library.body.points import locate

STRAIGHT = 20  # degrees of a knee or an elbow that still reads as straight
_FOLDED = 8  # degrees of the spine above level, at and below which a seated trunk lies over its legs
_HIP_UP = 0.1  # sine of the tilt of a seated pelvis with one hip off the seat
_SIDEWAYS = 0.5  # the share ahead or behind, below which a trunk leans to the side
_NEAR = 0.15  # metres between a palm and what it holds
_HEELS = 0.1  # metres between heels that are together
_BARS = {"footbar", "pushbar", "pedal"}
_BY_ARMS = (
    "plank",
    "plank_on_knees",
    "plank_face_up",
    "folded_forward",
    "hands_and_knees",
    "hands_and_feet",
    "standing",
    "kneeling",
)
_HOLDS = {"knee": "kneecap", "shin": "shin", "ankle": "ankle", "foot": "instep"}
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
    return _Teller(pose[phase]).telling()


class _Teller(Held):
    def telling(self) -> Telling:
        return Telling(
            self.base,
            self.ground(),
            tuple(self._trunk()),
            self._hips(),
            tuple(self._spread()),
            {side: self._leg(side) for side in "lr"},
            {side: self._arm(side) for side in "lr"},
        )

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
        blades = [angle(f"{side}.blade", 0) for side in "lr"]
        if min(blades) > 9:
            yield "blades_apart"
        elif max(blades) < -9:
            yield "blades_together"
        feet_down = all(self._on(side, FEET) in STOOD_ON for side in "lr")
        if self.base == "sitting" and feet_down and abs(self.left_up) > _HIP_UP:
            yield f"hip_lifted_{'left' if self.left_up > 0 else 'right'}"
        if self.base in ("sitting", "kneeling") and not abs(self.left_up) > 0.3:
            yield from self._lean()

    def _lean(self):
        if self.spine < 65:
            forward = self.body.frames["pelvis"][:, 0]
            lean = self.body.origins["c7"] - self.body.origins["hips"]
            ahead = lean[:2] @ forward[:2] > 0 if self.front < 0.5 else False
            level = float(np.hypot(*forward[:2]))
            if level > 0.3 and abs(lean[:2] @ forward[:2]) / level < _SIDEWAYS * np.hypot(*lean[:2]):
                to_left = lean @ self.body.frames["pelvis"][:, 1] > 0
                yield f"leaning_{'left' if to_left else 'right'}"
                return
            folded = self.base == "sitting" and self.spine < _FOLDED
            yield ("folded_over" if folded else "leaning_forward") if ahead else "leaning_back"

    def _hips(self) -> int | None:
        """How far the carrying legs' hips are bent, where trunk and legs do not say it."""
        if self.base not in (
            "hands_and_knees",
            "hands_and_feet",
            "plank_on_knees",
            "folded_forward",
            "standing_leaning",
            "kneeling",
        ):
            return None
        bent = rounded(min(180 - self.thigh_to_trunk(side) for side in "lr"))
        return None if bent < (20 if self.base == "kneeling" else 10) else bent

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
            heels = [locate(self.body, f"{side}.heel") for side in "lr"]
            if np.linalg.norm(heels[0] - heels[1]) < _HEELS:
                yield "heels_together"
        yield from self._heels()
        yield from self._toes()
        domed = self.phase.get("domed", ())
        yield from (f"arch_lifted_{word}" for side, word in (("r", "right"), ("l", "left")) if side in domed)
        if self.base in ("sitting", "seated_far_back", "on_back") and not self.touches(
            ("ball", "arch", "toe")
        ):
            yield from self._feet()

    def _feet(self):
        """Free feet pulled up or pointed: both, or the one that differs from the other."""
        right, left = (self.angles.get(f"{side}.ankle", 0) for side in "rl")
        for key, does in (("pulled_up", lambda a: a > 6), ("pointed", lambda a: a < -25)):
            if does(right) and does(left):
                yield f"feet_{key}"
            elif abs(right - left) > 20 and (does(right) or does(left)):
                yield f"foot_{key}_{'right' if does(right) else 'left'}"

    def _heels(self):
        """Heels lifted off the ground that the balls of the feet stand on; in a plank they always are."""
        on_bar = all(self._on(side, ("ball", "toe")) in _BARS for side in "lr")
        ankles = [self.angles.get(f"{side}.ankle", 0) for side in "lr"]
        if (
            on_bar
            and self.base == "on_back"
            and max(self.angles.get(f"{s}.knee", 0) for s in "lr") < STRAIGHT
        ):
            if min(ankles) > 4:
                yield "heels_low"
            elif max(ankles) < -24:
                yield "heels_lifted"
        if not self.base.startswith(("standing", "pelvis_lifted", "sitting", "folded")):
            return
        lifted = [
            side
            for side in "rl"
            if self._on(side, ("ball", "toe")) in LEVEL_SURFACES and self._heel_rise(side) > 0.03
        ]
        if len(lifted) == 2:
            yield "heels_lifted"
        elif lifted:
            yield f"heel_lifted_{'right' if lifted == ['r'] else 'left'}"

    def _toes(self):
        """Toes bent otherwise than the foot says already: both, or the one side."""
        right, left = (self._way_of_toes(side) for side in "rl")
        if right == left:
            yield from (f"toes_{right}",) if right else ()
        else:
            yield from (f"toes_{way}_{side}" for way, side in ((right, "right"), (left, "left")) if way)

    def _way_of_toes(self, side: str) -> str:
        toes, ankle = (self.angles.get(f"{side}.{name}", 0) for name in ("toes", "ankle"))
        on = self._on(side, FEET)
        if side in sides_on_toes(self.phase):
            tucked = self.touches(KNEES, side) or self.base in (
                *("plank", "plank_on_knees", "hands_and_knees", "hands_and_feet"),
            )
            return "tucked" if tucked and toes > 40 else ""
        if toes < -12 and (on or ankle > -25):  # of a pointed foot they are pointed as well
            return "over" if on in ("footbar", "pushbar") else "curled"
        on_heel = self._on(side, ("heel",))  # on the ball they bend as the heel lifts
        return "up" if toes > 15 and (on_heel or (not on and ankle < 6)) else ""

    def _heel_rise(self, side: str) -> float:
        """Metres from the ball of the foot up to the heel."""
        return float(locate(self.body, f"{side}.heel")[2] - locate(self.body, f"{side}.ball")[2])

    # --- legs --------------------------------------------------------------------------------------

    def _leg(self, side: str) -> Limb:
        body, knee = self.body, self.angles.get(f"{side}.knee", 0.0)
        hip, ankle = body.origins[f"{side}.hip"], body.origins[f"{side}.ankle"]
        foot_on = self._on(side, FEET)
        straight = knee < STRAIGHT
        if self.touches(KNEES, side) and self.base != "face_down":
            return Limb("knee_down", on=self._on(side, KNEES))
        if foot_on and foot_on not in LEVEL_SURFACES:
            part = next(part for part in FEET if self.surfaces.get(f"{side}.{part}"))
            part = {"toe": "ball", "instep": "arch"}.get(part, part)
            if straight:
                return Limb(f"straight_{part}_on", None, foot_on)
            return Limb(f"bent_{part}_on", rounded(knee), foot_on)
        if self.base.startswith(_UPRIGHT):
            return self._upright_leg(side, straight, knee, foot_on)
        return self._lying_leg(side, straight, knee, slope(ankle - hip), foot_on)

    def _upright_leg(self, side: str, straight: bool, knee: float, foot_on: str) -> Limb:
        if foot_on and self.base == "hands_and_feet":
            return Limb("bent_raised", rounded(knee))
        if foot_on in STOOD_ON and self._stands_on_two():
            does = "foot_on" if straight else "foot_on_bent"
            return Limb(does, None if straight else rounded(knee), foot_on)
        if foot_on or (straight and self._swing(side) < 10 and self.base == "standing"):
            return Limb("foot_down" if straight else "foot_down_bent", None if straight else rounded(knee))
        if self.base in ("hands_and_knees", "plank", "plank_on_knees") and self._way_of_leg(side) == "back":
            return Limb("lifted_back" if straight else "bent_lifted_back")
        does = self._way_of_leg(side)
        if straight:
            return Limb(f"straight_{does}", rounded(self._swing(side)))
        return Limb(f"bent_{does}", rounded(knee))

    def _stands_on_two(self) -> bool:
        """A foot on one surface and the other foot on another."""
        return len({self._on(side, FEET) for side in "lr"} & STOOD_ON) == 2

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
        hip = self.angles.get(f"{side}.hip", 0)
        if straight and self.base.endswith("_side") and not 19 > hip > -8:
            return Limb("straight_forward" if hip > 0 else "straight_back", rounded(hip))
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
        raised = self.base.endswith("_side") and thigh > 10
        return Limb("bent_raised" if raised else "bent_at", rounded(knee))

    # --- arms --------------------------------------------------------------------------------------

    def _arm(self, side: str) -> Limb:
        on = self._on(side, HANDS)
        elbow = self.angles.get(f"{side}.elbow", 0.0)
        if on:
            high = self.body.origins[f"{side}.wrist"][2] > self.body.at("c7", "head", (0, 0, 0.1))[2]
            if elbow > 35:
                return Limb("hand_bent_on", rounded(elbow), on)
            if on in _BARS and self.base in _BY_ARMS:
                return Limb("hand_reach_on", rounded(self._lift(side)), on)
            return Limb("hand_high_on" if high and self.base == "standing" else "hand_on", on=on)
        if self.touches(FOREARMS, side):
            return Limb("forearm_on", on=self._on(side, FOREARMS))
        near = self._held(side)
        if near:
            return near
        own = self._own_hands().found(side)
        if own:
            return Limb(f"own_{own}")
        return self._free_arm(side, elbow)

    def _own_hands(self) -> OwnHands:
        elbows = {side: self.angles.get(f"{side}.elbow", 0.0) for side in "lr"}
        return OwnHands(self.body, self.phase, elbows)

    def _lift(self, side: str) -> float:
        """Degrees between the upper arm and the rib cage: 0 hanging, 180 beside the ears."""
        arm, ribs = self.body.frames[f"{side}.upper_arm"][:, 2], self.body.frames["thorax"][:, 2]
        return float(np.degrees(np.arccos(np.clip(arm @ ribs, -1, 1))))

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
