"""Where the apparatus is: the numbers of each scene, and the surfaces a body can touch.

All metres, apparatus of no particular make; a scene may override what its entry in the pose data names.
Sizes: common practice, no source.
"""

from dataclasses import dataclass
from math import cos, radians, sin

BED = 0.40  # top of a reformer's carriage
HEADREST_UP = BED + 0.024  # where a head lies on the tilted head rest
FOOTBAR = (0.0, 0.66)
BALL_ON_BAR = (-0.020, 0.006)
HEEL_ON_BAR = (-0.020, -0.032)  # the sole's end: the bar is under the pad in front of it
PALM_ON_BAR = (-0.006, 0.020)
BOX_HEIGHT = 0.24
BOARD_X = 0.0  # the face of the jump board in the footbar's place
TABLE_BED = 0.58
FOOT_POST = 0.24
PUSH_BAR_PIVOT = (0.27, 1.22)
PUSH_BAR_ARM = 0.56
TABLE_MIDDLE = -0.79  # x; about it the push-through bar changes ends
CHAIR_SEAT = 0.60
PEDAL_PIVOT = (-0.20, 0.11)
PEDAL_ARM = 0.66
PEDAL_SKIN = 0.02
HANDLE_SKIN = 0.01
BARREL_AXIS, BARREL_RADIUS = (0.0, 0.42), 0.34
RUNG_LOWEST, RUNG_STEP = 0.182, 0.21
ARC_AXIS, ARC_RADIUS = (0.0, -0.12), 0.36
WALL_SKIN = 0.02  # half a hand's thickness
PALM_SKIN = 0.016  # the same of a hand that presses on a round surface
WRIST_SKIN = 0.024  # from the joint to the skin, for a forearm that lies on a roller
STOOL_SEAT = 0.45
ROLLER_RADIUS = 0.075
STEP_HEIGHT = 0.12
STOOL_BACK = (0.19, 0.90)  # behind the seat's middle, height

LEVELS = {
    "mat": 0.0,
    "floor": 0.0,
    "carriage": BED,
    "headrest": HEADREST_UP,
    "table": TABLE_BED,
    "seat": CHAIR_SEAT,
    "box": BED + BOX_HEIGHT,
    "platform": BED,
    "stool": STOOL_SEAT,
    "roller_along": 2 * ROLLER_RADIUS,
    "step": STEP_HEIGHT,
}
ROUND = {"barrel": (BARREL_AXIS, BARREL_RADIUS), "arc": (ARC_AXIS, ARC_RADIUS)}


@dataclass(frozen=True)
class Target:
    """What a contact asks for: a fixed x, a fixed z, or a distance from a round surface's axis."""

    x: float | None = None
    z: float | None = None
    axis: tuple[float, float] | None = None
    radius: float = 0.0


def target(touch: dict, scene: dict, *, same_x: float | None = None) -> Target:
    """The target of one contact of a pose.

    ``same_x`` is where the point was in the start pose, for contacts that say ``"x": "same"``.
    Raises KeyError for an unknown surface.
    """
    x, z = touch.get("x"), touch.get("z")
    if x == "same":
        x = same_x
    surface = touch.get("on")
    if surface is None:
        return Target(x=x, z=z)
    if surface in LEVELS:
        return Target(x=x, z=LEVELS[surface] if z is None else z)
    if surface in ROUND:
        axis, radius = ROUND[surface]
        skin = PALM_SKIN if str(touch["point"]).endswith("palm") else 0.0
        return Target(x=x, z=z, axis=axis, radius=radius + skin)
    if surface == "roller":
        skin = WRIST_SKIN if str(touch["point"]).endswith("wrist") else 0.0
        return Target(x=x, z=z, axis=(touch["roller"], ROLLER_RADIUS), radius=ROLLER_RADIUS + skin)
    if surface == "post":
        return Target(x=FOOT_POST, z=z)
    place = _PLACES[surface](touch, scene)
    return Target(x=place[0], z=place[1])


def _footbar(touch: dict, scene: dict) -> tuple[float, float]:
    x, z = scene.get("bar", FOOTBAR)
    part = touch["point"].rpartition(".")[2]
    dx, dz = {"palm": PALM_ON_BAR, "heel": HEEL_ON_BAR}.get(part, BALL_ON_BAR)
    return x + dx, z + dz


def _jump_board(touch: dict, _scene: dict) -> tuple[float, float | None]:
    return BOARD_X, touch.get("z")


def _push_bar(touch: dict, scene: dict) -> tuple[float, float]:
    return push_bar_end(touch["pushbar"], scene)


def push_bar_end(degrees: float, scene: dict) -> tuple[float, float]:
    """x and z of the push-through bar's hand grip; at the table's left end it is turned about."""
    a = radians(degrees)
    x, z = PUSH_BAR_PIVOT[0] + PUSH_BAR_ARM * cos(a), PUSH_BAR_PIVOT[1] + PUSH_BAR_ARM * sin(a)
    return (2 * TABLE_MIDDLE - x if scene.get("bar_end") == "left" else x), z


def _pedal(touch: dict, scene: dict) -> tuple[float, float]:
    x, z = pedal_end(touch["pedal"], scene)
    return x, z + PEDAL_SKIN


def pedal_end(degrees: float, scene: dict) -> tuple[float, float]:
    """x and z of the chair pedal's bar."""
    a = radians(degrees)
    x, z = PEDAL_PIVOT[0] + PEDAL_ARM * cos(a), PEDAL_PIVOT[1] + PEDAL_ARM * sin(a)
    if scene.get("facing") == "viewer":
        return scene.get("x", 0.0), z
    return scene.get("x", 0.0) + scene.get("dir", 1) * x, z


def _handle(_touch: dict, scene: dict) -> tuple[float, float]:
    dx, z = scene["handles"]
    return scene.get("x", 0.0) + scene.get("dir", 1) * dx, z + HANDLE_SKIN


def _rung(touch: dict, scene: dict) -> tuple[float, float]:
    return scene["ladder"], RUNG_LOWEST + RUNG_STEP * touch["rung"]


def _backrest(_touch: dict, scene: dict) -> tuple[float, float]:
    x, facing, _y = scene["stool"]
    return x - facing * STOOL_BACK[0], STOOL_BACK[1]


def _wall(touch: dict, scene: dict) -> tuple[float, float | None]:
    return scene["wall"] - WALL_SKIN, touch.get("z")


def _rear_wall(touch: dict, scene: dict) -> tuple[float, float | None]:
    return scene["rear_wall"], touch.get("z")


def _cushion(_touch: dict, scene: dict) -> tuple[None, float]:
    _x0, _x1, height = scene["cushion"]
    return None, height


_PLACES = {
    "footbar": _footbar,
    "jumpboard": _jump_board,
    "pushbar": _push_bar,
    "pedal": _pedal,
    "handle": _handle,
    "rung": _rung,
    "backrest": _backrest,
    "wall": _wall,
    "rear_wall": _rear_wall,
    "cushion": _cushion,
}
