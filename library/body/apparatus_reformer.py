"""Reformer: frame, springs, carriage with shoulder rests and head rest, footbar, risers, straps, box."""

import numpy as np

from library.body import reformer_parts as parts
from library.body.points import locate
from library.body.scene import Layers
from library.body.skeleton import Skeleton
from library.body.surfaces import BED, BOX_HEIGHT, FOOTBAR

FRAME_X, FRAME_HALF_WIDTH, FRAME_Z = (-1.82, 0.09), 0.31, (0.24, 0.30)
CARRIAGE_HALF_LENGTH, CARRIAGE_HALF_WIDTH, CARRIAGE_BOTTOM = 0.39, 0.25, 0.335
REST_FROM_MIDDLE, REST_SKIN = -0.30, 0.055
RISER_X, RISER_TOP = -1.77, 0.64


def carriage_middle(scene: dict, body: Skeleton) -> float:
    """x of the carriage's middle: named by the scene, or where the shoulder rests meet the shoulders."""
    place = scene.get("carriage")
    if place is None:
        return float(locate(body, "mid.shoulder")[0]) - REST_SKIN - REST_FROM_MIDDLE
    if isinstance(place, dict):
        return float(locate(body, place["point"])[0]) + place["dx"]
    return float(place)


def reformer(layers: Layers, scene: dict, phase: dict, body: Skeleton) -> None:
    """The whole apparatus; ``scene`` may move it sideways by ``y``."""
    y = scene.get("y", 0.0)
    middle = carriage_middle(scene, body)
    straps = phase.get("straps")
    _frame(layers, y)
    right = middle + CARRIAGE_HALF_LENGTH
    layers.springs(
        *(
            ((right - 0.02, y + dy, FRAME_Z[1]), (FRAME_X[1] - 0.06, y + dy, FRAME_Z[1]))
            for dy in (-0.14, 0, 0.14)
        )
    )
    _carriage(layers, middle, y)
    if scene.get("board"):
        parts.jump_board(layers, y)
    elif scene.get("platform"):
        parts.platform(layers, y)
    else:
        _footbar(layers, scene.get("bar", FOOTBAR), y)
    if scene.get("box") == "short":
        _short_box(layers, middle, y)
        parts.foot_strap(layers, phase, body, y)
    elif scene.get("box") == "long":
        parts.long_box(layers, middle, y)
    if straps:
        _straps(layers, straps, body, y)


def _frame(layers: Layers, y: float) -> None:
    (x0, x1), (z0, z1), w = FRAME_X, FRAME_Z, FRAME_HALF_WIDTH
    layers.posts(*(((x, y + w - 0.03, 0), (x, y + w - 0.03, z0)) for x in (x0 + 0.05, x1 - 0.05)), far=True)
    layers.posts(((RISER_X, y + w - 0.04, z1), (RISER_X, y + w - 0.04, RISER_TOP)), far=True)
    layers.slab((x0, x1), (y - w, y + w), (z0, z1), roles=("bed", "appfill", "side"))
    layers.posts(*(((x, y - w + 0.03, 0), (x, y - w + 0.03, z0)) for x in (x0 + 0.05, x1 - 0.16)))
    layers.posts(((RISER_X, y - w + 0.02, z1 - 0.01), (RISER_X, y - w + 0.02, RISER_TOP)))


def _carriage(layers: Layers, middle: float, y: float) -> None:
    half, w = CARRIAGE_HALF_LENGTH, CARRIAGE_HALF_WIDTH
    layers.slab((middle - half - 0.23, middle - half), (y - 0.13, y + 0.13), (CARRIAGE_BOTTOM + 0.02, BED))
    layers.slab((middle - half, middle + half), (y - w, y + w), (CARRIAGE_BOTTOM, BED))
    rest = (middle + REST_FROM_MIDDLE - 0.055, middle + REST_FROM_MIDDLE)
    layers.slab(rest, (y + 0.11, y + 0.20), (BED, BED + 0.12))
    layers.slab(rest, (y - 0.20, y - 0.11), (BED, BED + 0.12), front=True)


def _footbar(layers: Layers, bar: tuple[float, float], y: float) -> None:
    x, z = bar
    foot, w = (x - 0.05 if z > 0.5 else x - 0.12, FRAME_Z[1]), 0.27
    layers.posts(((foot[0] + 0.10, y + w, foot[1]), (x, y + w, z), (x, y - w, z)), far=True)
    layers.posts(((foot[0] + 0.10, y - w, foot[1] - 0.02), (x, y - w, z)), front=True)


def _short_box(layers: Layers, middle: float, y: float) -> None:
    layers.slab((middle - 0.22, middle + 0.20), (y - 0.36, y + 0.36), (BED, BED + BOX_HEIGHT))


def _straps(layers: Layers, held_by: str, body: Skeleton, y: float) -> None:
    end = "instep" if held_by == "feet" else "palm"
    w = FRAME_HALF_WIDTH - 0.03
    for side, dy, front in (("l", w, False), ("r", -w, True)):
        hold = locate(body, f"{side}.{end}")
        top = np.array((RISER_X, y + dy, RISER_TOP - 0.02))
        layers.line("rope", (top, hold), front=front)
