"""The firm parts of each apparatus, where nobody's limb can be."""

from math import copysign

from library.body import apparatus_barrel
from library.body.apparatus_chair import SEAT_HALF_LENGTH, SEAT_HALF_WIDTH, SEAT_THICKNESS, placed
from library.body.apparatus_floor import ARC_HALF_WIDTH, STOOL_HALF, STOOL_THICKNESS
from library.body.apparatus_frame import TABLE_BOTTOM, TABLE_HALF_WIDTH, TABLE_X
from library.body.apparatus_reformer import (
    CARRIAGE_BOTTOM,
    CARRIAGE_HALF_WIDTH,
    CARRIAGE_X,
    FRAME_HALF_WIDTH,
    FRAME_X,
    FRAME_Z,
    SHORT_BOX_HALF_WIDTH,
    SHORT_BOX_X,
    carriage_middle,
)
from library.body.clearance import Block, Drum
from library.body.reformer_parts import (
    BOARD_HALF_WIDTH,
    BOARD_THICK,
    BOARD_Z,
    LONG_BOX_HALF_WIDTH,
    LONG_BOX_X,
    PLATFORM_HALF_WIDTH,
    PLATFORM_THICK,
    PLATFORM_X,
)
from library.body.skeleton import Skeleton
from library.body.surfaces import (
    ARC_AXIS,
    ARC_RADIUS,
    BARREL_AXIS,
    BARREL_RADIUS,
    BED,
    BOARD_X,
    BOX_HEIGHT,
    CHAIR_SEAT,
    ROLLER_RADIUS,
    STEP_HEIGHT,
    STOOL_SEAT,
    TABLE_BED,
)

WALL_DEPTH = 0.5
ALL = (-9.0, 9.0)  # metres: a wall has no other end


def solids(scene: dict, body: Skeleton) -> list[Block | Drum]:
    """The firm parts of a scene with this body on it; the floor (height 0) is not among them."""
    return _OF_KIND[scene["kind"]](scene, body) + _things(scene)


def _mat(_scene: dict, _body: Skeleton) -> list:
    return []


def _floor(scene: dict, _body: Skeleton) -> list:
    parts = _walls(scene)
    if "stool" in scene:
        x, _facing, y = scene["stool"]
        seat, half = (STOOL_SEAT - STOOL_THICKNESS, STOOL_SEAT), STOOL_HALF
        parts.append(Block("seat", (x - half, x + half), (y - half, y + half), seat))
    return parts


def _walls(scene: dict) -> list[Block]:
    places = {}
    if "wall" in scene:
        places["wall"] = ((scene["wall"], scene["wall"] + WALL_DEPTH), ALL, ALL)
    if "rear_wall" in scene:
        places["rear wall"] = ((scene["rear_wall"] - WALL_DEPTH, scene["rear_wall"]), ALL, ALL)
    if "back_wall" in scene:
        face = scene["back_wall"]
        behind = face + copysign(WALL_DEPTH, face)  # of a mirrored pose it stands at the near side
        places["back wall"] = (ALL, (min(face, behind), max(face, behind)), ALL)
    return [Block(name, *sides) for name, sides in places.items()]


def _things(scene: dict) -> list[Block | Drum]:
    """Steps and lengthwise rollers; one lying across moves with the feet or arms and is left out."""
    parts = []
    for thing in scene.get("things", ()):
        if thing["what"] == "step":
            parts.append(Block("step", tuple(thing["x"]), tuple(thing["y"]), (0.0, STEP_HEIGHT)))
        if "along" in thing:
            r = ROLLER_RADIUS
            parts.append(Block("roller", tuple(thing["along"]), (-r, r), (0.0, 2 * r)))
    return parts


def _reformer(scene: dict, body: Skeleton) -> list:
    y, middle = scene.get("y", 0.0), carriage_middle(scene, body)
    w, carriage = CARRIAGE_HALF_WIDTH, (middle + CARRIAGE_X[0], middle + CARRIAGE_X[1])
    parts = [
        Block("carriage", carriage, (y - w, y + w), (CARRIAGE_BOTTOM, BED)),
        Block("frame", FRAME_X, (y - FRAME_HALF_WIDTH, y + FRAME_HALF_WIDTH), FRAME_Z),
    ]
    if scene.get("box") == "short":
        box, w = (middle + SHORT_BOX_X[0], middle + SHORT_BOX_X[1]), SHORT_BOX_HALF_WIDTH
        parts.append(Block("box", box, (y - w, y + w), (BED, BED + BOX_HEIGHT)))
    return parts + _on_reformer(scene, y, middle)


def _on_reformer(scene: dict, y: float, middle: float) -> list[Block]:
    found = []
    if scene.get("box") == "long":
        x, w = (middle + LONG_BOX_X[0], middle + LONG_BOX_X[1]), LONG_BOX_HALF_WIDTH
        found.append(Block("box", x, (y - w, y + w), (BED, BED + BOX_HEIGHT)))
    if scene.get("board"):
        w = BOARD_HALF_WIDTH
        found.append(Block("board", (BOARD_X, BOARD_X + BOARD_THICK), (y - w, y + w), BOARD_Z))
    if scene.get("platform"):
        w = PLATFORM_HALF_WIDTH
        found.append(Block("platform", PLATFORM_X, (y - w, y + w), (BED - PLATFORM_THICK, BED)))
    return found


def _table(_scene: dict, _body: Skeleton) -> list:
    w = TABLE_HALF_WIDTH
    return [Block("table", TABLE_X, (-w, w), (TABLE_BOTTOM, TABLE_BED))]


def _chair(scene: dict, _body: Skeleton) -> list:
    place, (x, y) = placed(scene), (SEAT_HALF_LENGTH, SEAT_HALF_WIDTH)
    (x0, y0, _), (x1, y1, _) = place(-x, -y, 0), place(x, y, 0)
    under = CHAIR_SEAT - SEAT_THICKNESS
    parts = [Block("seat", tuple(sorted((x0, x1))), tuple(sorted((y0, y1))), (under, CHAIR_SEAT))]
    return parts + _block(scene)


def _block(scene: dict) -> list:
    if "block" not in scene:
        return []
    x, y, height = scene["block"]
    return [Block("block", tuple(x), tuple(y), (0, height))]


def _barrel(scene: dict, _body: Skeleton) -> list:
    w = apparatus_barrel.HALF_WIDTH
    return [Drum("barrel", BARREL_AXIS, BARREL_RADIUS, (-w, w), BARREL_AXIS[1]), *_block(scene)]


def _arc(_scene: dict, _body: Skeleton) -> list:
    return [Drum("arc", ARC_AXIS, ARC_RADIUS, (-ARC_HALF_WIDTH, ARC_HALF_WIDTH), 0.0)]


_OF_KIND = {
    "mat": _mat,
    "floor": _floor,
    "reformer": _reformer,
    "table": _table,
    "chair": _chair,
    "barrel": _barrel,
    "arc": _arc,
}
