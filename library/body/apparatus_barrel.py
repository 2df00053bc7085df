"""Ladder barrel: a half drum on legs and a ladder on the same base rails.

A scene of kind ``barrel`` says where its ``ladder`` stands (x) and may say (metres; sizes: common practice,
no source):

    block     [[x0, x1], [y0, y1], height] of a firm block on the floor
    mat       [x0, x1] of a thin mat on the floor, for a foot that stands beside the drum
"""

from math import acos, cos, pi, sin

import numpy as np

from library.body.scene import Layers
from library.body.surfaces import BARREL_AXIS, BARREL_RADIUS, RUNG_LOWEST, RUNG_STEP

HALF_WIDTH = 0.24
MAT_Y, MAT_THICKNESS = (-0.25, 0.35), 0.012
RUNGS, LADDER_TOP = 5, 1.14
LEGS_APART, RAIL_END, RAIL_OVER = 0.28, 0.42, 0.03


def barrel(layers: Layers, scene: dict, _reach: tuple[float, float]) -> None:
    """The drum with its ladder; a block, and a mat under a foot from x0 to x1, when the scene has them."""
    (cx, cz), r, w = BARREL_AXIS, BARREL_RADIUS, HALF_WIDTH
    if "mat" in scene:
        layers.slab(scene["mat"], MAT_Y, (-MAT_THICKNESS, 0))
    ladder = scene["ladder"]
    ends = sorted((ladder, -RAIL_END if ladder > 0 else RAIL_END))
    rail = (ends[0] - RAIL_OVER, ends[1] + RAIL_OVER)
    heights = [RUNG_LOWEST + RUNG_STEP * n for n in range(RUNGS)]
    rungs = [((ladder, -w, z), (ladder, w, z)) for z in heights]
    for y, far in ((w, True), (-w, False)):
        layers.posts(
            ((rail[0], y, 0.015), (rail[1], y, 0.015)),
            *(((x, y, 0.03), (x, y, cz)) for x in (cx - LEGS_APART, cx + LEGS_APART)),
            *([((ladder, y, 0.02), (ladder, y, LADDER_TOP))] if far else rungs),
            far=far,
        )
    # feet and hands on a rung are between the uprights
    layers.posts(((ladder, -w, 0.02), (ladder, -w, LADDER_TOP)), front=True)
    half_drum(layers, (cx, cz), r, -w, w, cut=cz)
    if "block" in scene:
        x, y, height = scene["block"]
        layers.slab(x, y, (0, height))


def half_drum(layers: Layers, axis, r: float, y0: float, y1: float, *, cut: float) -> None:
    """The part of a lying drum above height ``cut``: curved top and near end face."""
    cx, cz = axis
    rise = acos((cut - cz) / r)
    angles = np.linspace(pi / 2 + rise, pi / 2 - rise, 33)
    layers.extruded([(cx + r * cos(a), cz + r * sin(a)) for a in angles], (y0, y1))
