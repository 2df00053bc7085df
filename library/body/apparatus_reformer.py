"""Reformer: frame, springs, carriage with shoulder rests and head rest, footbar, risers, straps, box.

A scene's ``carriage`` is the x of the carriage's middle, or ``{"point": …, "dx": …}``, so far from a point of
the body; without it the shoulder rests meet the shoulders. ``bar`` is x and z of the footbar, ``y`` moves
everything sideways, ``"headrest": "up"`` tilts the head rest; else it lies flat. A phase's ``straps``
(``hands`` or ``feet``) draws a rope from each riser to a loop round a fist or a foot, ``strap_side`` (``l`` or ``r``)
only one, from the near riser, or from the far one with ``"rope": "far"``.
Sizes in metres: common practice, no source.
"""

import numpy as np

from library.body import reformer_parts as parts
from library.body.points import locate
from library.body.scene import Layers, Piece
from library.body.skeleton import Skeleton
from library.body.surfaces import BED, BOX_HEIGHT, FOOTBAR

FRAME_X, FRAME_HALF_WIDTH, FRAME_Z = (-2.02, 0.09), 0.31, (0.24, 0.30)
CARRIAGE_X, CARRIAGE_HALF_WIDTH, CARRIAGE_BOTTOM = (-0.39, 0.47), 0.25, 0.335  # x from its middle
HEADREST_LENGTH, HEADREST_HALF_WIDTH, HEADREST_THICK = 0.23, 0.13, 0.045
HEADREST_RISE = 0.08  # of its free end when it is up
REST_FROM_MIDDLE, REST_SKIN = -0.30, 0.055
SHORT_BOX_X, SHORT_BOX_HALF_WIDTH = (-0.30, 0.12), 0.36  # x from the middle, against the rests
RISER_X, RISER_TOP = -1.97, 0.64
SPRING_TURNS = 4


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
    bar = None if scene.get("board") or scene.get("platform") else scene.get("bar", FOOTBAR)
    _frame(layers, y, _footbar(layers, bar, y, before_feet=_feet_on_bar(phase)) if bar else ())
    right = middle + CARRIAGE_X[1]
    layers.springs(
        *(
            ((right - 0.02, y + dy, FRAME_Z[1]), (FRAME_X[1] - 0.06, y + dy, FRAME_Z[1]))
            for dy in (-0.14, 0, 0.14)
        ),
        turns=SPRING_TURNS,
    )
    rise = HEADREST_RISE if scene.get("headrest") == "up" else 0.0
    _carriage(layers, middle, y, rise, rest_in_front="box" not in scene and not _from_the_foot_end(layers))
    if "floor" in scene:
        parts.floor(layers, scene["floor"])
    if scene.get("board"):
        parts.jump_board(layers, y)
    elif scene.get("platform"):
        parts.platform(layers, y)
    if scene.get("box") == "short":
        _short_box(layers, middle, y)
        parts.foot_strap(layers, phase, body, y)
    elif scene.get("box") == "long":
        parts.long_box(layers, middle, y)
    if scene.get("ear_cushion"):
        parts.ear_cushion(layers, body, y)
    if phase.get("straps"):
        _straps(layers, phase, body, y)


def _frame(layers: Layers, y: float, far_bar: tuple) -> None:
    """Bed, legs and risers; ``far_bar`` are the strokes of the footbar that lie behind the body."""
    (x0, x1), (z0, z1), w = FRAME_X, FRAME_Z, FRAME_HALF_WIDTH
    near, far = y - w, y + w
    legs = [((x, far - 0.03, 0), (x, far - 0.03, z0)) for x in (x0 + 0.05, x1 - 0.05)]
    layers.posts(*legs, ((RISER_X, far - 0.04, z1), (RISER_X, far - 0.04, RISER_TOP)), far=True)
    layers.face("bed", layers.faces((x0, x1), (near, far), (z0, z1))[0])
    legs = [((x, near + 0.03, 0), (x, near + 0.03, z0)) for x in (x0 + 0.05, x1 - 0.16)]
    layers.posts(*legs, ((RISER_X, near + 0.02, z1 - 0.01), (RISER_X, near + 0.02, RISER_TOP)), *far_bar)


def _carriage(layers: Layers, middle: float, y: float, rise: float, *, rest_in_front: bool) -> None:
    """Head rest; carriage, far shoulder rest and the frame's faces as one; near rest, before the body."""
    x, w = (middle + CARRIAGE_X[0], middle + CARRIAGE_X[1]), CARRIAGE_HALF_WIDTH
    rest = (middle + REST_FROM_MIDDLE - 0.055, middle + REST_FROM_MIDDLE)
    bed = layers.faces(x, (y - w, y + w), (CARRIAGE_BOTTOM, BED))
    far = layers.faces(rest, (y + 0.11, y + 0.20), (BED, BED + 0.12))
    frame = layers.faces(FRAME_X, (y - FRAME_HALF_WIDTH, y + FRAME_HALF_WIDTH), FRAME_Z)
    _headrest(layers, x[0], y, rise)
    layers.face("top", bed[0], far[0])
    layers.face("appfill", frame[1], bed[1], far[1])
    layers.face("side", frame[2], bed[2], far[2])
    layers.slab(rest, (y - 0.20, y - 0.11), (BED, BED + 0.12), front=rest_in_front)


def _headrest(layers: Layers, x: float, y: float, rise: float) -> None:
    """The head rest, hinged to the carriage at ``x``; the carriage hides its end."""
    free, w, thick = x - HEADREST_LENGTH, HEADREST_HALF_WIDTH, HEADREST_THICK
    near, far, top = y - w, y + w, BED + rise
    layers.face("top", ((free, near, top), (x, near, BED), (x, far, BED), (free, far, top)))
    under = ((free, near, top - thick), (x, near, BED - thick))
    layers.face("appfill", (*under, (x, near, BED), (free, near, top)))


def _from_the_foot_end(layers: Layers) -> bool:
    """Whether the viewer looks along the frame: legs then come before what the shoulders lie against."""
    towards = layers.camera.towards
    return towards[0] > abs(towards[1])


def _feet_on_bar(phase: dict) -> bool:
    """Whether soles press on the footbar: the viewer sees them through it."""
    on_bar = [touch["point"] for touch in phase["touch"] if touch.get("on") == "footbar"]
    return any(str(point).endswith(("ball", "arch", "heel")) for point in on_bar)


def _footbar(layers: Layers, bar: tuple[float, float], y: float, *, before_feet: bool) -> tuple:
    """Draw the footbar's part before the body; returns the strokes of the part behind it."""
    x, z = bar
    foot, w = (x + 0.05 if z > 0.5 else x - 0.02), 0.27
    near, far = y - w, y + w
    near_post = ((foot, near, FRAME_Z[1] - 0.02), (x, near, z))
    across = ((x, far, z), (foot, far, FRAME_Z[1]))
    if before_feet:
        layers.posts((*near_post, *across), front=True)
        return ()
    layers.posts(near_post, front=True)
    return (((x, near, z), *across),)


def _short_box(layers: Layers, middle: float, y: float) -> None:
    x, w = (middle + SHORT_BOX_X[0], middle + SHORT_BOX_X[1]), SHORT_BOX_HALF_WIDTH
    layers.slab(x, (y - w, y + w), (BED, BED + BOX_HEIGHT))


def _straps(layers: Layers, phase: dict, body: Skeleton, y: float) -> None:
    on_feet, w = phase["straps"] == "feet", FRAME_HALF_WIDTH - 0.03
    for side in phase.get("strap_side", "lr"):
        held = locate(body, f"{side}.instep" if on_feet else f"{side}.palm")
        near = held[1] < locate(body, "hips")[1]
        if "strap_side" in phase:
            near = phase.get("rope") != "far"
        top = np.array((RISER_X, y - w if near else y + w, RISER_TOP - 0.02))
        if on_feet:
            layers.line("rope", (top, held), front=near)
            parts.foot_loop(layers, body, side, front=near or "strap_side" in phase)
        else:  # ropes run past the outside of the arms, and would hide them
            rope = Piece("rope", (layers.camera.flat((top, held)),))
            (layers.between_arms if near else layers.behind).append(rope)
            parts.hand_loop(layers, body, side, front=near)
