"""What is wrong or doubtful about a pose: names, reach, joint ranges, limbs inside floor or apparatus.

Ranges: American Academy of Orthopaedic Surgeons, normal joint motion (from memory), with 15 % slack; toes: those of
the big toe where it joins the foot; blade: textbooks give the collar bone 15 to 30 degrees either way. People
vary, so a joint out of range is a doubt and no fault; it is shown and kept.
"""

from collections.abc import Iterator

import numpy as np

from library.body.clearance import bone_depths, skin_depths
from library.body.contacts import first_point
from library.body.filing import PHASES
from library.body.grounding import GroundingError, contact_gaps, stored
from library.body.movement import between
from library.body.points import locate
from library.body.shape import Complaint, slips
from library.body.skeleton import angles_of, stand
from library.body.solids import solids
from library.body.surfaces import target

__all__ = ["Complaint", "depths", "examine", "out_of_range", "stored_complaints"]

RANGES = {
    "hip": (-30, 120),
    "hip_out": (-30, 45),
    "hip_turn": (-45, 45),
    "knee": (0, 135),
    "ankle": (-50, 20),
    "toes": (-45, 70),
    "blade": (-30, 30),
    "shoulder": (-60, 180),
    "shoulder_out": (-50, 180),
    "shoulder_turn": (-70, 90),
    "elbow": (0, 150),
}
SLACK = 1.15
DEEPEST_M = 0.011
_AS_DEEP_M = 0.0005
SHARES = np.linspace(0, 1, 11)
# What rounding of stored angles to a tenth of a degree adds to a gap, over a whole body (metres).
LARGEST_STORED_GAP_M = 0.008
STILL_DEGREES, STILL_M = 1.0, 0.01


def examine(pose: dict) -> tuple[dict, list[Complaint]]:
    """Return the pose with its solved angles and every complaint; as given where nothing can be solved."""
    found = slips(pose)
    if found:
        return pose, found
    try:
        solved = stored(pose)
    except GroundingError as error:
        return pose, [Complaint("out_of_reach", error.phase, error.point, error.gap_m)]
    except (KeyError, AttributeError, TypeError, ValueError):
        return pose, [_unknown_surface(pose)]
    except np.linalg.LinAlgError:
        return pose, [Complaint("out_of_reach", "", "hips", 9.99)]
    try:
        return solved, [*out_of_range(solved), *_inside(solved), *_still(solved)]
    except (KeyError, AttributeError, TypeError, ValueError, IndexError):
        return pose, [Complaint("no_drawing", "", "scene")]


def stored_complaints(pose: dict) -> list[Complaint]:
    """Return what is wrong about the solved angles that a pose brings along: they are what is drawn."""
    for name, phase in _phases(pose):
        if "solved" not in phase or "solved_hips" not in phase:
            return [Complaint("not_met", name, "solved")]
    start = stand(angles_of(pose["start"]), tuple(pose["start"]["solved_hips"]))
    return [one for name, phase in _phases(pose) for one in _unmet(name, phase, pose["scene"], start)]


def _unmet(name: str, phase: dict, scene: dict, start):
    body = stand(angles_of(phase), tuple(phase["solved_hips"]))
    for touch in phase["touch"]:
        point = first_point(touch)
        same = float(locate(start, point)[0]) if touch.get("x") == "same" and name != "start" else None
        gap = max(map(abs, contact_gaps(body, touch["point"], target(touch, scene, same_x=same))), default=0)
        if gap > LARGEST_STORED_GAP_M:
            yield Complaint("not_met", name, point, gap)


def _phases(pose: dict) -> list[tuple[str, dict]]:
    return [(name, pose[name]) for name in PHASES if name in pose]


def _unknown_surface(pose: dict) -> Complaint:
    """Which contact asks for what this scene does not have."""
    for name, phase in _phases(pose):
        for touch in phase["touch"]:
            try:
                target(touch, pose["scene"])
            except (KeyError, AttributeError, TypeError, ValueError):
                return Complaint("unknown_surface", name, str(touch.get("on", "")))
    return Complaint("no_drawing", "", "scene")


def _still(pose: dict):
    """Nothing moves from start to end."""
    first, last = pose["start"], pose["end"]
    names = first["solved"].keys() | last["solved"].keys()
    turned = max((abs(first["solved"].get(n, 0) - last["solved"].get(n, 0)) for n in names), default=0)
    moved = max(abs(a - b) for a, b in zip(first["solved_hips"], last["solved_hips"], strict=True))
    if turned < STILL_DEGREES and moved < STILL_M and not pose.get("arrow_path") and "middle" not in pose:
        yield Complaint("still", "end", "")


def out_of_range(pose: dict) -> Iterator[Complaint]:
    """A doubt for every solved angle beyond its usual range."""
    for name, phase in _phases(pose):
        for angle, value in phase["solved"].items():
            low, high = RANGES.get(angle.rpartition(".")[2], (-np.inf, np.inf))
            if not low * SLACK - 1 <= value <= high * SLACK + 1:
                yield Complaint("out_of_range", name, angle, value)


def depths(pose: dict) -> dict[str, tuple[float, str, float]]:
    """Every skin point and middle line of a limb inside something on the way: metres, in what, at which share.

    Eleven shares of the way.
    """
    deepest: dict[str, tuple[float, str, float]] = {}
    for share, body in zip(SHARES, between(pose, SHARES), strict=True):
        firm = solids(pose["scene"], body)
        found = {name: hit for name, hit in skin_depths(body, firm).items() if hit[0] > DEEPEST_M}
        found |= {name: hit for name, hit in bone_depths(body, firm).items() if hit[0] > 0.001}
        for name in found:
            # What is as deep all the way is said of where it begins.
            if found[name][0] > deepest.get(name, (0.0, "", 0.0))[0] + _AS_DEEP_M:
                deepest[name] = (*found[name], float(share))
    return deepest


def _inside(pose: dict):
    for name, (depth, inside, share) in depths(pose).items():
        phase = "start" if share == 0 else "end" if share == 1 else "way"
        yield Complaint("inside", phase, name, depth, inside)
