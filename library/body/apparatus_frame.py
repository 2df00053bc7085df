"""Trapeze table with its frame, bars and springs."""

import numpy as np

from library.body.points import locate
from library.body.scene import Layers, angle_in
from library.body.skeleton import Skeleton
from library.body.surfaces import (
    FOOT_POST,
    PUSH_BAR_PIVOT,
    TABLE_BED,
    push_bar_end,
)

TABLE_X, TABLE_HALF_WIDTH, TABLE_BOTTOM, FRAME_TOP = (-1.86, 0.28), 0.33, 0.47, 2.00
BAR_EYE = (FOOT_POST + 0.02, 1.52)


def table(layers: Layers, scene: dict, phase: dict, body: Skeleton) -> None:
    """Bed on legs inside a frame of posts, with whatever the hands or feet hold."""
    (x0, x1), w, z0, top = TABLE_X, TABLE_HALF_WIDTH, TABLE_BOTTOM, FRAME_TOP
    in0, in1 = x0 + 0.03, x1 - 0.02
    layers.posts(*(((x, w - 0.03, 0), (x, w - 0.03, z0)) for x in (x0 + 0.06, x1 - 0.06)), far=True)
    layers.posts(((in0, w, TABLE_BED), (in0, w, top), (in1, w, top), (in1, w, TABLE_BED)), far=True)
    layers.slab((x0, x1), (-w, w), (z0, TABLE_BED))
    layers.posts(*(((x, -w + 0.03, 0), (x, -w + 0.03, z0)) for x in (x0 + 0.06, x1 - 0.06)))
    layers.posts(((in0, -w, top), (in0, w, top)), ((in1, -w, top), (in1, w, top)), far=True)
    push_bar = angle_in(phase, "pushbar")
    if push_bar is not None:
        _push_bar(layers, push_bar, low=scene.get("bar_springs") == "low")
    if phase.get("springs"):
        _leg_springs(layers, scene["eye"], body)
    if phase.get("bar"):
        _roll_bar(layers, body)
    layers.posts(((in0, -w, z0 + 0.06), (in0, -w, top), (in1, -w, top), (in1, -w, z0 + 0.06)), front=True)


def _push_bar(layers: Layers, degrees: float, *, low: bool) -> None:
    """The bar with its two springs, hung from the top of the frame or held from the bed."""
    pivot, grip, w = PUSH_BAR_PIVOT, push_bar_end(degrees), 0.25
    spring_z = TABLE_BED + 0.06 if low else FRAME_TOP - 0.02
    for y, front in ((w, False), (-w, True)):
        layers.posts(((pivot[0], y, pivot[1]), (grip[0], y, grip[1])), front=front, far=not front)
        knot = np.array((pivot[0], y, pivot[1])) * 0.55 + np.array((grip[0], y, grip[1])) * 0.45
        layers.springs((knot, (TABLE_X[1] - 0.04, y, spring_z)), front=front)
    layers.posts(((grip[0], w, grip[1]), (grip[0], -w, grip[1])), far=True)


def _leg_springs(layers: Layers, eye: tuple[float, float], body: Skeleton) -> None:
    for side, y, front in (("l", 0.16, False), ("r", -0.16, True)):
        layers.springs(
            ((eye[0], y, eye[1]), locate(body, f"{side}.instep")), front=front, turns=24, width=2.2
        )
    layers.posts(
        ((eye[0] - 0.02, -TABLE_HALF_WIDTH, eye[1]), (eye[0] - 0.02, TABLE_HALF_WIDTH, eye[1])), far=True
    )


def _roll_bar(layers: Layers, body: Skeleton) -> None:
    palm = locate(body, "mid.palm")
    for y, front in ((0.20, False), (-0.20, True)):
        layers.springs(((palm[0], y, palm[2]), (BAR_EYE[0], y, BAR_EYE[1])), front=front, turns=9)
    layers.posts(((palm[0], -0.30, palm[2]), (palm[0], 0.30, palm[2])))
