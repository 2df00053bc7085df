"""How deep a body lies inside the floor or the firm parts of its apparatus.

Cushions, balls, bands and thin tubes give way or are too thin to matter and are left out. Metres.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np

from library.body.points import FOOT_POINTS, HAND_POINTS, LIMB_POINTS, TRUNK_POINTS, locate
from library.body.skeleton import Skeleton

SKIN = (
    *TRUNK_POINTS,
    *(f"{side}.{name}" for side, name in product("lr", (*LIMB_POINTS, *FOOT_POINTS, *HAND_POINTS))),
)
_BONES = (("hip", "knee"), ("knee", "ankle"), ("shoulder", "elbow"), ("elbow", "wrist"))
_ALONG = (0.15, 0.38, 0.62, 0.85)
FLOOR = "floor"


@dataclass(frozen=True)
class Block:
    """A firm box, metres."""

    name: str
    x: tuple[float, float]
    y: tuple[float, float]
    z: tuple[float, float]

    def depth(self, points: np.ndarray) -> np.ndarray:
        """How far (n,) each of the points (n, 3) is from the nearest face, inside; 0 outside."""
        low = np.array((self.x[0], self.y[0], self.z[0]))
        high = np.array((self.x[1], self.y[1], self.z[1]))
        return np.minimum(points - low, high - points).min(axis=1).clip(min=0)


@dataclass(frozen=True)
class Drum:
    """The part of a lying drum above height ``cut``; its axis runs along y through ``axis`` (x, z)."""

    name: str
    axis: tuple[float, float]
    radius: float
    y: tuple[float, float]
    cut: float

    def depth(self, points: np.ndarray) -> np.ndarray:
        """As Block.depth; what lies below the cut is outside."""
        reach = np.hypot(points[:, 0] - self.axis[0], points[:, 2] - self.axis[1])
        beside = np.minimum(points[:, 1] - self.y[0], self.y[1] - points[:, 1])
        above = points[:, 2] - self.cut
        return np.minimum(np.minimum(self.radius - reach, beside), above).clip(min=0)


def skin_depths(body: Skeleton, solids) -> dict[str, tuple[float, str]]:
    """Skin points below the floor or inside a solid: name -> (depth in metres, what it is inside of)."""
    return _deepest(SKIN, np.array([locate(body, name) for name in SKIN]), solids)


def bone_depths(body: Skeleton, solids) -> dict[str, tuple[float, str]]:
    """The same of places along the middle line of thighs, shanks and arms: a limb that goes through."""
    names, places = [], []
    for side, (upper, lower) in product("lr", _BONES):
        start, stop = body.origins[f"{side}.{upper}"], body.origins[f"{side}.{lower}"]
        for share in _ALONG:
            names.append(f"{side}.{upper}-{lower} {share:g}")
            places.append(start + share * (stop - start))
    return _deepest(names, np.array(places), solids)


def _deepest(names, points: np.ndarray, solids) -> dict[str, tuple[float, str]]:
    depths = np.array([(-points[:, 2]).clip(min=0), *(solid.depth(points) for solid in solids)])
    inside = [FLOOR, *(solid.name for solid in solids)]
    worst = depths.argmax(axis=0)
    return {
        name: (float(depths[row, i]), inside[row])
        for i, (name, row) in enumerate(zip(names, worst, strict=True))
        if depths[row, i] > 0
    }
