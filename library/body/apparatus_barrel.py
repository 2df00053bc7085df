"""Ladder barrel: a half drum on legs and a ladder on the same base rails."""

from math import acos, cos, pi, sin

import numpy as np

from library.body.scene import Layers
from library.body.surfaces import BARREL_AXIS, BARREL_RADIUS, RUNG_LOWEST, RUNG_STEP


def barrel(layers: Layers, scene: dict, _reach: tuple[float, float]) -> None:
    """A half drum on legs and a ladder on the same base rails."""
    (cx, cz), r = BARREL_AXIS, BARREL_RADIUS
    y0, y1 = -0.24, 0.24
    ladder = scene["ladder"]
    ends = sorted((ladder, -0.42 if ladder > 0 else 0.42))
    rails = (ends[0] - 0.03, ends[1] + 0.03)
    for y, far in ((y1, True), (y0, False)):
        layers.posts(((rails[0], y, 0.015), (rails[1], y, 0.015)), far=far)
        layers.posts(*(((x, y, 0.03), (x, y, cz)) for x in (cx - 0.28, cx + 0.28)), far=far)
    _ladder(layers, ladder, y0, y1)
    half_drum(layers, (cx, cz), r, y0, y1, cut=cz)


def _ladder(layers: Layers, x: float, y0: float, y1: float) -> None:
    top = 0.96
    layers.posts(((x, y1, 0.02), (x, y1, top)), far=True)
    heights = [RUNG_LOWEST + RUNG_STEP * n for n in range(4)]
    layers.posts(*(((x, y0, z), (x, y1, z)) for z in heights))
    layers.posts(((x, y0, 0.02), (x, y0, top)))


def half_drum(layers: Layers, axis, r: float, y0: float, y1: float, *, cut: float) -> None:
    """The part of a lying drum above height ``cut``: curved top and near end face."""
    cx, cz = axis
    rise = acos((cut - cz) / r)
    angles = np.linspace(pi / 2 + rise, pi / 2 - rise, 33)
    layers.extruded([(cx + r * cos(a), cz + r * sin(a)) for a in angles], (y0, y1))
