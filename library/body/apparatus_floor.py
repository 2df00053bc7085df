"""Mat with or without a cushion, bare floor with a household chair or a wall, and arc."""

from math import cos, pi, sin

import numpy as np

from library.body.apparatus_barrel import half_drum
from library.body.scene import Layers
from library.body.surfaces import ARC_AXIS, ARC_RADIUS, STOOL_BACK, STOOL_SEAT

MAT_HALF_WIDTH, MAT_THICKNESS, MAT_LENGTH = 0.35, 0.022, 1.72
PLATE_THICKNESS = 0.010
CUSHION_HALF_WIDTH, CUSHION_ROUND = 0.17, 0.045
STOOL_HALF, STOOL_THICKNESS = 0.21, 0.04
ARC_HALF_WIDTH = 0.23


def mat(layers: Layers, scene: dict, reach: tuple[float, float]) -> None:
    """A mat under a body that lies between ``reach``, with a cushion for the head when the scene has one.

    ``cushion`` is x0, x1 and height; ``pads`` are further cushions: x0, x1, height, y0, y1 each. ``x0`` and ``x1``
    are the mat's ends, where they are to be others; ``mat_y`` moves it sideways under who lies along its edge.
    """
    if "cushion" in scene:
        reach = (min(reach[0], scene["cushion"][0]), max(reach[1], scene["cushion"][1]))
    middle, length = (reach[0] + reach[1]) / 2, max(MAT_LENGTH, reach[1] - reach[0] + 0.16)
    x0 = scene.get("x0", middle - length / 2)
    x1 = scene.get("x1", middle + length / 2)
    y = scene.get("mat_y", 0.0)
    layers.slab((x0, x1), (y - MAT_HALF_WIDTH, y + MAT_HALF_WIDTH), (-MAT_THICKNESS, 0))
    if "cushion" in scene:
        _cushion(layers, *scene["cushion"])
    for pad in scene.get("pads", ()):
        _cushion(layers, *pad)


def _cushion(
    layers: Layers,
    x0: float,
    x1: float,
    height: float,
    y0: float = -CUSHION_HALF_WIDTH,
    y1: float = CUSHION_HALF_WIDTH,
) -> None:
    """A soft block on the mat: every edge of its profile rounded."""
    r = min(CUSHION_ROUND, height / 2)
    corners = ((x1 - r, height - r), (x0 + r, height - r), (x0 + r, r), (x1 - r, r))
    turns = np.linspace(0, pi / 2, 7)
    rim = [
        (x + r * cos(quarter * pi / 2 + a), z + r * sin(quarter * pi / 2 + a))
        for quarter, (x, z) in enumerate(corners)
        for a in turns
    ]
    layers.extruded(rim, (y0, y1))


def floor(layers: Layers, scene: dict, reach: tuple[float, float]) -> None:
    """A patch of floor, with a household chair and walls when the scene has them.

    ``wall`` is the x of a wall in front, ``rear_wall`` of one behind the back, ``back_wall`` the y of one
    at the far side. ``stool`` is the chair: x and y of its seat's middle and, between them, 1 where it faces
    to the right of the page or -1. ``x0``, ``x1``, ``y0``, ``y1`` are edges of the patch, where it is to have others.
    """
    x0 = scene.get("x0", min(reach[0] - 0.15, -0.36))
    x1 = scene.get("x1", max(reach[1] + 0.15, 0.46))
    y0, y1 = scene.get("y0", -0.36), scene.get("y1", 0.36)
    wall = scene.get("wall")
    if wall is not None:
        x1 = wall
    x0 = scene.get("rear_wall", x0)
    layers.slab((x0, x1), (y0, y1), (-PLATE_THICKNESS, 0))
    if wall is not None:
        corners = ((wall, y0, 0), (wall, y1, 0), (wall, y1, 2.12), (wall, y0, 2.12))
        layers.face("top", corners)
        layers.slab((wall, wall + 0.03), (y0, y0 + 0.001), (-PLATE_THICKNESS, 2.12))
    if "rear_wall" in scene:
        layers.face("top", ((x0, y0, 0), (x0, y1, 0), (x0, y1, 1.86), (x0, y0, 1.86)))
    if "back_wall" in scene:
        y = scene["back_wall"]
        layers.face("top", ((x0, y, 0), (x1, y, 0), (x1, y, 2.05), (x0, y, 2.05)))
    if "stool" in scene:
        _stool(layers, *scene["stool"])


def _stool(layers: Layers, x: float, facing: int, y: float) -> None:
    half, seat, under = STOOL_HALF, STOOL_SEAT, STOOL_SEAT - STOOL_THICKNESS
    back = x - facing * STOOL_BACK[0]
    front = x + facing * (half - 0.02)
    top = STOOL_BACK[1]
    near, far = y - half + 0.02, y + half - 0.02
    layers.posts(((front, far, 0), (front, far, under)), far=True)
    layers.posts(((back, far, 0), (back, far, top)), far=True)
    layers.posts(((back, far, top), (back, near, top)), ((back, far, 0.7), (back, near, 0.7)))
    layers.posts(((back, near, 0), (back, near, top)), ((front, near, 0), (front, near, under)))
    layers.slab((x - half, x + half), (y - half, y + half), (under, seat))


def arc(layers: Layers, scene: dict, reach: tuple[float, float]) -> None:
    """A low arc on a mat."""
    edge = ARC_AXIS[0] - ARC_RADIUS
    mat(layers, scene, (min(reach[0], edge), max(reach[1], edge + 2 * ARC_RADIUS)))
    half_drum(layers, ARC_AXIS, ARC_RADIUS, -ARC_HALF_WIDTH, ARC_HALF_WIDTH, cut=0.0)
