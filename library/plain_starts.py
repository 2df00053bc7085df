"""Plain positions to begin a figure from: eight ways of lying, sitting, kneeling and standing, by apparatus.

Angles in degrees for the right side nearest the viewer; the solver finishes them. Where an apparatus has no
bed to lie on, the body is beside it, on the floor or on a mat. Starting angles: common practice, no source.
"""

from collections.abc import Callable

from library.body.surfaces import LEVELS

# What an apparatus is drawn as, the level surface of the body, and where the body is along it, metres.
_SCENES = {
    "mat": ({"kind": "mat"}, "mat", 0.0),
    "small_prop": ({"kind": "mat"}, "mat", 0.0),
    "standing": ({"kind": "floor"}, "floor", 0.0),
    "reformer": ({"kind": "reformer"}, "carriage", -0.8),
    "trapeze_table": ({"kind": "table", "eye": [0.28, 1.3]}, "table", -0.8),
    "chair": ({"kind": "chair", "dir": -1, "x": 1.35}, "floor", 0.0),
    "ladder_barrel": ({"kind": "barrel", "ladder": 0.72}, "floor", -1.5),
    "arc": ({"kind": "arc"}, "mat", -1.5),
}
# Farther from an apparatus that one faces with the whole length of the body, and farther back on the table.
_FARTHER = {"plank": -0.6, "face_down": -0.4}
_LONG_ENOUGH = ("chair", "barrel", "arc", "table")
KEYS = ("on_back", "face_down", "on_side", "long_sitting", "four_point", "tall_kneeling", "plank", "standing")


def keys_of(apparatus: str) -> tuple[str, ...]:
    """Return the plain starts that an apparatus has: a carriage is too short for a plank."""
    if apparatus not in _SCENES:
        return ()
    return tuple(key for key in KEYS if (key, apparatus) != ("plank", "reformer"))


def plain_start(key: str, apparatus: str) -> dict:
    """Return a pose that starts and ends in a plain position, nothing solved yet.

    Raises KeyError for an unknown start or apparatus.
    """
    scene, surface, x = _SCENES[apparatus]
    if scene["kind"] in _LONG_ENOUGH:
        x += _FARTHER.get(key, 0.0)
    phase = _STARTS[key](surface, x)
    scene = dict(scene)
    if scene["kind"] == "reformer":
        scene["carriage"] = round(x + _CARRIAGE_FROM_BODY[key], 3)
    side_view = {"turn": 8, "height": 38} if key == "on_side" else {"turn": 14, "height": 12}
    return {
        "key": "",
        "scene": scene,
        "camera": side_view,
        "driver": "",
        "track": _TRACKS[key],
        "arrow_off": [0, -20],
        "start": phase,
        "end": {**phase},
    }


# The carriage's middle from where the body's fixed point is.
_CARRIAGE_FROM_BODY = {
    "on_back": 0.0, "face_down": 0.0, "on_side": 0.0, "long_sitting": 0.1, "four_point": 0.1,
    "tall_kneeling": 0.1, "plank": 0.0, "standing": 0.0,
}  # fmt: skip
_TRACKS = {
    "on_back": "mid.hip", "face_down": "head.front", "on_side": "r.heel", "long_sitting": "vertex",
    "four_point": "mid.hip", "tall_kneeling": "vertex", "plank": "mid.hip", "standing": "vertex",
}  # fmt: skip


def _phase(body: dict, both: dict, touch: list, free: list, **sides) -> dict:
    return {"body": body, "both": both, **sides, "touch": touch, "free": free, "props": [], "rest": []}


def _on_back(on: str, x: float) -> dict:
    touch = [_touch("pelvis.back", on, x), _touch("mid.heel", on), _touch("mid.ball", on)]
    both = {"hip": 50, "knee": 103, "ankle": -35, "shoulder": -7, "shoulder_out": 10}
    return _phase({"lean": 90, "nod": -8}, both, touch, ["both.hip", "both.ankle"])


def _face_down(on: str, x: float) -> dict:
    body = {"lean": -90, "up_curl": -3, "nod": -20}
    both = {"ankle": -50, "shoulder": -8, "shoulder_out": 8}
    return _phase(body, both, [_touch("pelvis.front", on, x)], [])


def _on_side(on: str, x: float) -> dict:
    body = {"lean": -90, "roll": -90, "side": -12, "neck_side": 16}
    sides = {"right": {"hip_out": -8}, "left": {"shoulder": 172}}
    return _phase(body, {}, [_touch("pelvis.left", on, x)], [], **sides)


def _long_sitting(on: str, x: float) -> dict:
    touch = [_touch("seat", on, x), _touch("mid.heel", on)]
    return _phase({"lean": 0}, {"hip": 90, "shoulder": 55}, touch, ["both.hip"])


def _four_point(on: str, x: float) -> dict:
    level = LEVELS[on]
    touch = [
        _touch("mid.kneecap", on, x),
        {"point": "mid.toe", "z": round(level + 0.01, 3)},
        {"point": "mid.palm", "z": round(level + 0.016, 3)},
    ]
    both = {"hip": 88, "knee": 104, "ankle": -57, "shoulder": 84, "wrist": 88}
    return _phase({"lean": -80, "nod": -5}, both, touch, ["lean", "both.knee"])


def _tall_kneeling(on: str, x: float) -> dict:
    both = {"hip": 2, "knee": 92, "ankle": -50, "shoulder_out": 5}
    touch = [_touch("mid.kneecap", on, x), _touch("mid.toe", on)]
    return _phase({"lean": 0}, both, touch, ["both.hip", "both.knee"])


def _plank(on: str, x: float) -> dict:
    touch = [_touch("mid.ball", on, x), {"point": "mid.palm", "z": round(LEVELS[on] + 0.016, 3)}]
    both = {"ankle": 12, "shoulder": 74, "wrist": 88}
    return _phase({"lean": -72, "nod": -4}, both, touch, ["lean"])


def _standing(on: str, x: float) -> dict:
    touch = [_touch("mid.heel", on, x), _touch("mid.ball", on)]
    return _phase({"lean": 0}, {"shoulder_out": 5}, touch, ["both.ankle"])


def _touch(point: str, on: str, x: float | None = None) -> dict:
    return {"point": point, "on": on} | ({} if x is None else {"x": x})


_STARTS: dict[str, Callable[[str, float], dict]] = {
    "on_back": _on_back,
    "face_down": _face_down,
    "on_side": _on_side,
    "long_sitting": _long_sitting,
    "four_point": _four_point,
    "tall_kneeling": _tall_kneeling,
    "plank": _plank,
    "standing": _standing,
}
