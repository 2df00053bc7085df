"""Joint angles to joint positions: one rigid skeleton of sixteen segments in three dimensions.

World axes: x to the right of the page, y away from the viewer, z up; metres and degrees.
Segment axes in neutral standing: x forward, y to the body's left, z up along the body.
Every angle is 0 in anatomical standing with the arms at the sides (neutral-zero method of the American
Academy of Orthopaedic Surgeons, from memory). Names and signs of the angles:

    lean            leaning back: 90 supine, -90 prone        hip, shoulder   flexion +, extension -
    roll            about the long axis, to the left          hip_out, shoulder_out    away from the side
    face            whole body turned to its left             hip_turn, shoulder_turn  outward rotation
    list            pelvis tilted to the left                 knee, elbow     flexion
    low_curl        bending forward at L5/S1                  ankle           dorsiflexion
    up_curl         bending forward at the upper joint        toes            upwards, from the ball on
    side, twist     bending, turning to the left              wrist           hand towards the front
    nod, neck_side, neck_turn   chin to chest, to the left, to the left
    blade           shoulder blade forward round the ribs: the collar bone turns about its inner end
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import chain
from math import cos, radians, sin

import numpy as np

from library.body.contacts import sides_on_toes
from library.body.tables import (
    COLLAR_BONE,
    HIP_HALF_WIDTH,
    SHOULDER_HALF_WIDTH,
    STATURE_M,
    TABLES,
    Table,
)
from library.body.turning import UPRIGHT, Frame, Vector, moved, turned

BODY_ANGLES = (
    "lean", "roll", "face", "list", "low_curl", "up_curl", "side", "twist", "nod", "neck_side", "neck_turn",
)  # fmt: skip
LEG_ANGLES = ("hip", "hip_out", "hip_turn", "knee", "ankle", "toes")
ARM_ANGLES = ("blade", "shoulder", "shoulder_out", "shoulder_turn", "elbow", "wrist")
LIMB_ANGLES = LEG_ANGLES + ARM_ANGLES
HANDED_ANGLES = ("roll", "face", "list", "side", "twist", "neck_side", "neck_turn")
SIDES = {"l": 1, "r": -1}
_LEG, _ARM = (
    {side: [f"{side}.{name}" for name in names] for side in SIDES} for names in (LEG_ANGLES, ARM_ANGLES)
)
LIMBS = ("l.arm", "r.arm", "l.leg", "r.leg")
PARTS = (*LIMBS, "trunk", "head")
_LOW_SHARE, _HIGH_SHARE = 0.2, 0.8  # how a twist divides over the two spinal joints


@dataclass(frozen=True)
class Skeleton:
    """Where a posed body is: a 3x3 frame (columns are the segment's axes) and an origin per segment.

    Frames are keyed pelvis, abdomen, thorax, head and, with ``l.`` or ``r.``, thigh, shank, foot,
    toes, upper_arm, forearm, hand. Origins are keyed by joint: hips, lumbosacral, upper_joint, c7 and, with
    ``l.`` or ``r.``, hip, knee, ankle, shoulder, elbow, wrist. Metres.
    """

    table: Table
    stature_m: float
    frames: dict[str, np.ndarray]
    origins: dict[str, np.ndarray]

    def at(self, origin: str, frame: str, offset: tuple[float, float, float]) -> np.ndarray:
        """The point ``offset`` (shares of stature, in ``frame``) away from joint ``origin``, in metres."""
        return self.origins[origin] + self.frames[frame] @ (np.asarray(offset) * self.stature_m)

    def moved(self, by: tuple[float, float, float]) -> "Skeleton":
        """The same body ``by`` metres away."""
        return replace(self, origins={name: place + by for name, place in self.origins.items()})


def angles_of(phase: Mapping) -> dict[str, float]:
    """All non-zero angles of one phase, limbs as ``l.hip`` and ``r.hip``.

    Solved angles are used where they are stored, the authored ones otherwise. A pose that was kept before
    feet had toes stands on its balls without an angle for them: there they lie flat, as solving leaves them.
    """
    if "solved" not in phase:
        return authored_angles(phase)
    angles = dict(phase["solved"])
    for side in sides_on_toes(phase):
        if f"{side}.toes" not in angles:
            angles[f"{side}.toes"] = level_toes(stand(angles, limbs=[f"{side}.leg"]), side)
    return angles


def level_toes(body: "Skeleton", side: str) -> float:
    """How far (degrees) the toes are bent that lie flat under a foot that stands on its ball."""
    foot = body.frames[f"{side}.foot"]
    return float(np.degrees(np.arctan2(-foot[2, 0], foot[2, 2])))


def authored_angles(phase: Mapping) -> dict[str, float]:
    """The angles as the author typed them: ``body``, then ``both``, overridden by ``left``, ``right``."""
    angles = dict(phase.get("body", {}))
    for side, own in (("l", "left"), ("r", "right")):
        for name, value in {**phase.get("both", {}), **phase.get(own, {})}.items():
            angles[f"{side}.{name}"] = value
    return angles


def joints(phase: Mapping, *, stature_m: float = STATURE_M, table: str = "neutral") -> dict[str, np.ndarray]:
    """Joint positions of one phase of a pose in metres, plus ``crown``.

    ``phase`` is the ``start`` or ``end`` of a pose. The hips are where the phase stores them
    (``solved_hips``), or at the world's origin.
    """
    body = stand(angles_of(phase), phase.get("solved_hips", (0, 0, 0)), stature_m=stature_m, table=table)
    crown = body.at("c7", "head", (0, 0, body.table.crown - body.table.c7))
    return {**body.origins, "crown": crown}


def stand(
    angles: Mapping[str, float],
    hips: tuple[float, float, float] = (0, 0, 0),
    *,
    stature_m: float = STATURE_M,
    table: str = "neutral",
    limbs: Iterable[str] = LIMBS,
) -> Skeleton:
    """Pose the skeleton: flat ``angles`` in degrees (missing ones are 0), middle of the hip axis at ``hips``.

    ``limbs`` are those that are wanted; the others are not there then. Raises KeyError for an unknown table.
    """
    sizes = TABLES[table]
    frames: dict[str, Frame] = {}
    origins: dict[str, Vector] = {"hips": tuple(map(float, hips))}
    _place_spine(angles, sizes, stature_m, frames, origins)
    for limb in limbs:
        side, _, kind = limb.partition(".")
        place = _place_leg if kind == "leg" else _place_arm
        place(side, SIDES[side], angles, sizes, stature_m, frames, origins)
    numbers = chain.from_iterable(chain.from_iterable(frames.values()))
    axes = np.fromiter(numbers, float, 9 * len(frames)).reshape(-1, 3, 3)
    places = np.fromiter(chain.from_iterable(origins.values()), float, 3 * len(origins)).reshape(-1, 3)
    return Skeleton(
        sizes,
        stature_m,
        dict(zip(frames, axes.swapaxes(1, 2), strict=True)),
        dict(zip(origins, places, strict=True)),
    )


def _place_spine(angles, sizes, stature, frames, origins) -> None:
    def angle(name: str) -> float:
        return angles.get(name, 0.0)

    side, twist = angle("side"), angle("twist")
    pelvis = turned(
        UPRIGHT, ("z", angle("face")), ("y", -angle("lean")), ("x", -angle("list")), ("z", angle("roll"))
    )
    abdomen = turned(pelvis, ("y", angle("low_curl")), ("x", -0.5 * side), ("z", _LOW_SHARE * twist))
    thorax = turned(abdomen, ("y", angle("up_curl")), ("x", -0.5 * side), ("z", _HIGH_SHARE * twist))
    head = turned(thorax, ("y", angle("nod")), ("x", -angle("neck_side")), ("z", angle("neck_turn")))
    frames.update(pelvis=pelvis, abdomen=abdomen, thorax=thorax, head=head)
    low = moved(origins["hips"], pelvis[2], sizes.lumbosacral * stature)
    upper = moved(low, abdomen[2], (sizes.upper_joint - sizes.lumbosacral) * stature)
    c7 = moved(upper, thorax[2], (sizes.c7 - sizes.upper_joint) * stature)
    origins.update(lumbosacral=low, upper_joint=upper, c7=c7)


def _place_leg(side, sign, angles, sizes, stature, frames, origins) -> None:
    hip, hip_out, hip_turn, knee, ankle, toes = (angles.get(name, 0.0) for name in _LEG[side])
    pelvis = frames["pelvis"]
    thigh = turned(pelvis, ("y", -hip), ("x", sign * hip_out), ("z", sign * hip_turn))
    shank = turned(thigh, ("y", knee))
    foot = turned(shank, ("y", -ankle))
    toes = turned(foot, ("y", -toes))
    hip = moved(origins["hips"], pelvis[1], sign * HIP_HALF_WIDTH * stature)
    knee = moved(hip, thigh[2], -sizes.thigh.length * stature)
    ankle = moved(knee, shank[2], -sizes.shank.length * stature)
    frames.update(
        {f"{side}.thigh": thigh, f"{side}.shank": shank, f"{side}.foot": foot, f"{side}.toes": toes}
    )
    origins.update({f"{side}.hip": hip, f"{side}.knee": knee, f"{side}.ankle": ankle})


def _place_arm(side, sign, angles, sizes, stature, frames, origins) -> None:
    blade, shoulder, shoulder_out, shoulder_turn, elbow, wrist = (
        angles.get(name, 0.0) for name in _ARM[side]
    )
    thorax = frames["thorax"]
    upper = turned(thorax, ("y", -shoulder), ("x", sign * shoulder_out), ("z", sign * shoulder_turn))
    forearm = turned(upper, ("y", -elbow))
    hand = turned(forearm, ("y", -wrist))
    blade = radians(blade)
    aside = SHOULDER_HALF_WIDTH - (1 - cos(blade)) * COLLAR_BONE
    out = (sin(blade) * COLLAR_BONE, sign * aside, sizes.shoulder - sizes.upper_joint)
    shoulder = origins["upper_joint"]
    for axis, by in zip(thorax, out, strict=True):
        shoulder = moved(shoulder, axis, by * stature)
    elbow = moved(shoulder, upper[2], -sizes.upper_arm.length * stature)
    wrist = moved(elbow, forearm[2], -sizes.forearm.length * stature)
    frames.update({f"{side}.upper_arm": upper, f"{side}.forearm": forearm, f"{side}.hand": hand})
    origins.update({f"{side}.shoulder": shoulder, f"{side}.elbow": elbow, f"{side}.wrist": wrist})
