"""Chair: padded seat on splayed legs, a pedal held up by springs, handles when the scene has any.

A scene of kind ``chair`` may say (metres, degrees; sizes: common practice, no source):

    x, y      where the middle of the seat is; 0
    dir       1: the pedal points to the right of the page, -1: to the left
    facing    "viewer" instead: the pedal points to the viewer (``dir`` is not read)
    handles   [distance from the seat's middle towards the pedal, height of the grips]
    handle    "far": only the handle on the far side is in its socket
    mat       [x0, x1] of a mat on the floor
    block     [[x0, x1], [y0, y1], height] of a firm block on the floor, to sit or to put the feet on

The pedal stands where the phase's contact has it; untouched, where the springs hold it.
"""

import numpy as np

from library.body.apparatus_floor import MAT_HALF_WIDTH, MAT_THICKNESS
from library.body.scene import Layers, angle_in
from library.body.skeleton import Skeleton
from library.body.surfaces import CHAIR_SEAT, PEDAL_ARM, PEDAL_PIVOT, pedal_end

SEAT_HALF_LENGTH, SEAT_HALF_WIDTH, SEAT_THICKNESS = 0.21, 0.26, 0.08
LEGS_APART, ARMS_APART = 0.23, 0.15
PEDAL_HALF_LENGTH, PEDAL_HALF_WIDTH = 0.05, 0.25
PEDAL_TOP = 36.0  # degrees above level
SPRING_AT = 0.45  # share of the arm at which its spring holds it
HANDLE_FOOT, HANDLE_GRIP = 0.30, 0.10


def placed(scene: dict):
    """The function that turns (along the pedal's way, across it, up) into a place in the scene."""
    x, y, way = scene.get("x", 0.0), scene.get("y", 0.0), scene.get("dir", 1)
    if scene.get("facing") == "viewer":
        return lambda along, across, z: (x + across, y - along, z)
    return lambda along, across, z: (x + way * along, y + across, z)


def chair(layers: Layers, scene: dict, phase: dict, _body: Skeleton) -> None:
    """The whole apparatus, what lies on the floor beside it first."""
    if "mat" in scene:
        layers.slab(scene["mat"], (-MAT_HALF_WIDTH, MAT_HALF_WIDTH), (-MAT_THICKNESS, 0))
    place = placed(scene)
    far, near = LEGS_APART, -LEGS_APART
    handles = _handles(scene, place)
    pedal = angle_in(phase, "pedal")
    alone = scene.get("handle") == "far"  # held by the near hand: as dark as what is near
    layers.posts(_stand(place, far), *([] if alone else handles[:1]), far=True)
    if alone:
        layers.posts(*handles)
    arms = _pedal(layers, place, PEDAL_TOP if pedal is None else pedal)
    layers.posts(*arms, _stand(place, near))
    seat = (CHAIR_SEAT - SEAT_THICKNESS, CHAIR_SEAT)
    _slab(layers, place, (-SEAT_HALF_LENGTH, SEAT_HALF_LENGTH), SEAT_HALF_WIDTH, seat)
    if len(handles) > 1:
        layers.posts(handles[1], front=True)
    if "block" in scene:
        x, y, height = scene["block"]
        layers.slab(x, y, (0, height))


def _slab(layers: Layers, place, along, half_width: float, z) -> None:
    (x0, y0, _), (x1, y1, _) = place(along[0], -half_width, 0), place(along[1], half_width, 0)
    layers.slab((x0, x1), (y0, y1), z)


def _stand(place, across: float) -> tuple:
    """One splayed pair of legs with the rail between their feet."""
    under = CHAIR_SEAT - SEAT_THICKNESS
    along = ((-0.18, under), (-0.27, 0.01), (0.27, 0.01), (0.18, under))
    return tuple(place(x, across, z) for x, z in along)


def _handles(scene: dict, place) -> list[tuple]:
    """The strokes of the far and the near handle, or nothing."""
    if "handles" not in scene:
        return []
    along, top = scene["handles"]
    sides = (SEAT_HALF_WIDTH,) if scene.get("handle") == "far" else (SEAT_HALF_WIDTH, -SEAT_HALF_WIDTH)
    return [
        (place(along, side, HANDLE_FOOT), place(along, side, top), place(along - HANDLE_GRIP, side, top))
        for side in sides
    ]


def _pedal(layers: Layers, place, degrees: float) -> list[tuple]:
    """The padded bar and a spring from each of its arms to the seat; gives the strokes of the arms."""
    end = pedal_end(degrees, {})  # along the pedal's way, as everything here before it is placed
    edge = 1 - PEDAL_HALF_LENGTH / PEDAL_ARM
    arms, coils = [], []
    for across in (ARMS_APART, -ARMS_APART):
        start = np.array(place(PEDAL_PIVOT[0], across, PEDAL_PIVOT[1]))
        along = place(end[0], across, end[1]) - start
        arms.append((start, start + edge * along))
        coils.append((start + SPRING_AT * along, place(0.02, across * 0.6, CHAIR_SEAT - SEAT_THICKNESS)))
    layers.springs(*coils, turns=4)
    reach = (end[0] - PEDAL_HALF_LENGTH, end[0] + PEDAL_HALF_LENGTH)
    _slab(layers, place, reach, PEDAL_HALF_WIDTH, (end[1] - 0.018, end[1] + 0.012))
    return arms
