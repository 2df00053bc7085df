"""What is wrong or doubtful about a pose: names, reach, joint ranges, limbs inside floor or apparatus.

Ranges: American Academy of Orthopaedic Surgeons, normal joint motion (from memory), with 15 % slack. People
vary, so a joint out of range is a doubt and no fault; it is shown and kept.
"""

from dataclasses import dataclass

import numpy as np

from library.body.clearance import bone_depths, skin_depths
from library.body.contacts import sides_on_toes
from library.body.grounding import GroundingError, stored
from library.body.movement import between, keyframes
from library.body.points import locate
from library.body.skeleton import BODY_ANGLES, LIMB_ANGLES, stand
from library.body.solids import solids

RANGES = {
    "hip": (-30, 120),
    "hip_out": (-30, 45),
    "hip_turn": (-45, 45),
    "knee": (0, 135),
    "ankle": (-50, 20),
    "shoulder": (-60, 180),
    "shoulder_out": (-50, 180),
    "shoulder_turn": (-70, 90),
    "elbow": (0, 150),
}
SLACK = 1.15
DEEPEST_M = 0.011
SHARES = np.linspace(0, 1, 11)
_WIDEST = 360  # degrees: more is a slip of the finger


@dataclass(frozen=True)
class Complaint:
    """One thing about a pose: what kind, where (phase, and a point, angle or surface) and how much."""

    kind: str  # unknown_angle, no_number, unknown_point, unknown_surface, out_of_reach, out_of_range, inside
    phase: str
    where: str
    value: float = 0.0
    inside: str = ""

    @property
    def stops(self) -> bool:
        """Return whether nothing can be drawn as it is."""
        return self.kind not in ("out_of_range", "inside")


def examine(pose: dict) -> tuple[dict, list[Complaint]]:
    """Return the pose with its solved angles and every complaint; as given where nothing can be solved."""
    slips = [slip for name, phase in _phases(pose) for slip in _slips(name, phase)]
    if slips:
        return pose, slips
    try:
        solved = stored(pose)
    except GroundingError as error:
        return pose, [Complaint("out_of_reach", error.phase, error.point, error.gap_m)]
    except KeyError as error:
        return pose, [Complaint("unknown_surface", "", str(error.args[0]))]
    return solved, [*_out_of_range(solved), *_inside(solved)]


def _phases(pose: dict) -> list[tuple[str, dict]]:
    return [(name, pose[name]) for name in ("start", "middle", "end") if name in pose]


def _slips(name: str, phase: dict):
    known = {"body": BODY_ANGLES, "both": LIMB_ANGLES, "left": LIMB_ANGLES, "right": LIMB_ANGLES}
    for part, angles in known.items():
        for angle, value in phase.get(part, {}).items():
            if angle not in angles:
                yield Complaint("unknown_angle", name, angle)
            elif not _is_number(value) or abs(value) > _WIDEST:
                yield Complaint("no_number", name, angle)
    for touch in phase.get("touch", ()):
        points = [touch["point"]] if isinstance(touch["point"], str) else touch["point"]
        for point in points:
            if not _is_point(point):
                yield Complaint("unknown_point", name, str(point))


def _is_number(value) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and value == value


def _is_point(name) -> bool:
    try:
        locate(stand({}), name)
    except (KeyError, AttributeError, TypeError):
        return False
    return True


def _out_of_range(pose: dict):
    for name, phase in _phases(pose):
        for angle, value in phase["solved"].items():
            low, high = RANGES.get(angle.rpartition(".")[2], (-np.inf, np.inf))
            if not low * SLACK - 1 <= value <= high * SLACK + 1:
                yield Complaint("out_of_range", name, angle, value)


def depths(pose: dict) -> dict[str, tuple[float, str, float]]:
    """Every skin point and middle line of a limb inside something on the way: metres, in what, at which share.

    Eleven shares of the way. A foot that stands on its ball has rigid toes under the floor; they are drawn
    flat and do not count.
    """
    on_toes = {f"{side}.toe" for _share, phase in keyframes(pose) for side in sides_on_toes(phase)}
    deepest: dict[str, tuple[float, str, float]] = {}
    for share, body in zip(SHARES, between(pose, SHARES), strict=True):
        firm = solids(pose["scene"], body)
        found = {name: hit for name, hit in skin_depths(body, firm).items() if hit[0] > DEEPEST_M}
        found |= {name: hit for name, hit in bone_depths(body, firm).items() if hit[0] > 0.001}
        for name in found.keys() - on_toes:
            deepest[name] = max(deepest.get(name, (0.0, "", 0.0)), (*found[name], float(share)))
    return deepest


def _inside(pose: dict):
    for name, (depth, inside, share) in depths(pose).items():
        phase = "start" if share == 0 else "end" if share == 1 else "way"
        yield Complaint("inside", phase, name, depth, inside)
