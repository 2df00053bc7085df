"""Left and right exchanged: the pose of the other side."""

import re

from library.body.skeleton import HANDED_ANGLES

_SIDED_NAME = re.compile(r"^([lr])\.")
_SWAPPED = {"l": "r", "r": "l", "left": "right", "right": "left"}
_SWAPPED_POINTS = {"pelvis.left": "pelvis.right", "ribs.left": "ribs.right", "head.left": "head.right"}
_SWAPPED_POINTS |= {there: here for here, there in _SWAPPED_POINTS.items()}


def mirror(pose: dict) -> dict:
    """The same exercise worked on the other side: sides swapped, handed angles and y reversed.

    Works on a whole pose and on one of its phases; mirroring twice gives the pose back.
    """
    return {_name(key): _value(key, value) for key, value in pose.items()}


def _name(key: str) -> str:
    if key in ("left", "right"):
        return _SWAPPED[key]
    return _SIDED_NAME.sub(lambda found: _SWAPPED[found[1]] + ".", key)


def _value(key: str, value):
    # "side" is both an angle and, on a whole pose, the word for what its sides mean
    if key in HANDED_ANGLES and not isinstance(value, str):
        return -value if value else value
    if key in ("key", "side", "camera"):
        return value
    if key == "scene":
        return _moved_scene(value)
    if key == "solved_hips":
        return [value[0], -value[1] if value[1] else value[1], value[2]]
    return _swapped(value)


def _moved_scene(scene: dict) -> dict:
    """The scene with its parts on the other side; what only hides or shows a far part stays as it is."""
    moved = {name: _swapped(value) if name == "carriage" else value for name, value in scene.items()}
    for name in ("y", "mat_y", "back_wall"):
        if moved.get(name):
            moved[name] = -moved[name]
    if "stool" in moved:
        x, facing, y = moved["stool"]
        moved["stool"] = [x, facing, -y if y else y]
    if "pads" in moved:
        moved["pads"] = [[x0, x1, height, -y1, -y0] for x0, x1, height, y0, y1 in moved["pads"]]
    for name in ("block", "floor"):
        if name in moved:
            x, y, *height = moved[name]
            moved[name] = [x, _turned(y), *height]
    if "things" in moved:
        moved["things"] = [
            thing | {"y": _turned(thing["y"])} if "y" in thing else thing for thing in moved["things"]
        ]
    if "y0" in moved or "y1" in moved:
        low, high = moved.pop("y0", None), moved.pop("y1", None)
        moved |= {name: -edge for name, edge in (("y0", high), ("y1", low)) if edge is not None}
    return moved


def _turned(reach: list[float]) -> list[float]:
    """From y to y, seen from the other side."""
    low, high = reach
    return [-high, -low]


def _swapped(value):
    if isinstance(value, dict):
        return mirror(value)
    if isinstance(value, list):
        return [_swapped(item) for item in value]
    if value in ("l", "r"):
        return _SWAPPED[value]
    if isinstance(value, str):
        return _SWAPPED_POINTS.get(value) or _SIDED_NAME.sub(lambda found: _SWAPPED[found[1]] + ".", value)
    return value
