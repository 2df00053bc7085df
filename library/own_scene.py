"""The apparatus of a figure in numbers: what of a scene may be typed, read from it and written back.

Plain computation. A scene is that of a pose (`library.body`), in metres; on the page everything is in centimetres.
A part ("bar", "cushion", "ground") holds the numbers that stand in one row; a number is named by its way into the
scene: "bar-1" is the second of `scene["bar"]`.
"""

import copy
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from library.body.surfaces import FOOTBAR

# What may be there or not, or be in one of two places; '' is not there, or as it lies.
CHOICES = {"reformer": {"box": ("", "short", "long"), "headrest": ("", "up")}}
# Entries of a scene that are no place: which way something points.
_NO_PLACES = {("dir",), ("stool", 1)}
# Entries that stand in the row of another: where the ground is, and where the seat of a chair is.
_ROWS = {
    "mat": dict.fromkeys(("x0", "x1", "mat_y"), "ground"),
    "floor": dict.fromkeys(("x0", "x1", "y0", "y1"), "ground"),
    "chair": {"x": "chair", "y": "chair"},
}
# What each number says, by the entry and the way into it; `*` is any place in a list.
_SAYS = {
    "bar": {"0": "along", "1": "height"},
    "carriage": {"": "along", "dx": "apart"},
    "y": {"": "across"},
    "x": {"": "along"},
    "handles": {"0": "apart", "1": "height"},
    "ladder": {"": "along"},
    "eye": {"0": "along", "1": "height"},
    "eye_y": {"": "half"},
    "trapeze": {"": "along"},
    "wall": {"": "along"},
    "rear_wall": {"": "along"},
    "back_wall": {"": "across"},
    "stool": {"0": "along", "2": "across"},
    "cushion": {"0": "from", "1": "to", "2": "height"},
    "pads": {"*-0": "from", "*-1": "to", "*-2": "height", "*-3": "across_from", "*-4": "across_to"},
    "block": {"0-0": "from", "0-1": "to", "1-0": "across_from", "1-1": "across_to", "2": "height"},
    "things": {
        "*-x": "along", "*-x-0": "from", "*-x-1": "to", "*-along-0": "from", "*-along-1": "to",
        "*-y-0": "across_from", "*-y-1": "across_to", "*-half": "half", "*-r": "half",
    },
    "mat": {"0": "from", "1": "to"},
    "floor": {"0-0": "from", "0-1": "to", "1-0": "across_from", "1-1": "across_to"},
    "mat_y": {"": "across"},
    "x0": {"": "from"},
    "x1": {"": "to"},
    "y0": {"": "across_from"},
    "y1": {"": "across_to"},
}  # fmt: skip
# Least and most of each, in centimetres; a foot bar is reached from the carriage (common practice, no source).
_BOUNDS = {"height": (0, 250), "half": (1, 100)}
_PLACE = (-500, 500)
_BAR_HEIGHT = (30, 110)
_PAIRS = {"to": "from", "across_to": "across_from"}
# Surfaces and firm parts -> the part whose numbers say where they are.
_PART_OF = {
    "footbar": "bar", "box": "box", "headrest": "headrest", "carriage": "carriage", "seat": "chair",
    "pedal": "chair", "chair": "chair", "handle": "handles", "ladder": "ladder", "rung": "ladder", "wall": "wall",
    "rear_wall": "rear_wall", "rear wall": "rear_wall", "back wall": "back_wall", "stool": "stool",
    "backrest": "stool", "cushion": "cushion", "block": "block", "roller": "things", "roller_along": "things",
    "step": "things",
}  # fmt: skip


class Number(NamedTuple):
    """One number of a scene. says: what it counts ('along', 'height', 'from', …); least, most in centimetres."""

    name: str
    part: str
    path: tuple
    says: str
    least: float
    most: float


def numbers(scene: Mapping) -> list[Number]:
    """Return the numbers of a scene in the order of their rows."""
    whole, rows = {**_usual(scene), **scene}, _ROWS.get(scene["kind"], {})
    found = []
    for entry, ways in _SAYS.items():
        if entry not in whole or entry in CHOICES.get(scene["kind"], {}):
            continue
        for path in _leaves(whole[entry], (entry,)):
            says = ways.get(_way(path))
            if says and path not in _NO_PLACES:
                bounds = _BAR_HEIGHT if path == ("bar", 1) else _BOUNDS.get(says, _PLACE)
                found.append(Number("-".join(map(str, path)), rows.get(entry, entry), path, says, *bounds))
    parts = list(dict.fromkeys(one.part for one in found))
    return sorted(found, key=lambda one: parts.index(one.part))


def choices(scene: Mapping) -> dict[str, tuple[str, ...]]:
    """Return what may be there or not in a scene: name -> its codes."""
    there = CHOICES.get(scene["kind"], {})
    return {name: codes for name, codes in there.items() if scene.get(name, "") in codes}


def parts(scene: Mapping) -> list[str]:
    """Return the rows of a scene, in order."""
    return list(dict.fromkeys([*choices(scene), *(one.part for one in numbers(scene))]))


def part_of(thing: str) -> str:
    """Return the part whose numbers say where a surface or a firm part is; '' where none does."""
    return _PART_OF.get(thing, "")


def initial(scene: Mapping) -> dict:
    """Return the values of a scene by name: centimetres, and the codes of what may be there."""
    whole = {**_usual(scene), **scene}
    values = {one.name: round(100 * _at(whole, one.path), 3) for one in numbers(scene)}
    return values | {name: scene.get(name, "") for name in choices(scene)}


def built(scene: Mapping, values: Mapping) -> dict:
    """Return the scene that these values make of one; what they do not name stays."""
    usual = _usual(scene)
    made = copy.deepcopy({**usual, **scene})
    at_first = initial(scene)
    for one in numbers(scene):
        typed = values.get(one.name)
        if typed is not None and typed != at_first[one.name]:
            _put(made, one.path, round(typed / 100, 5))
    for name in choices(scene):
        made[name] = values.get(name, scene.get(name, ""))
        if not made[name]:
            del made[name]
    return {name: value for name, value in made.items() if name in scene or value != usual.get(name)}


def turned_about(scene: Mapping, values: Mapping) -> list[Number]:
    """Return the far ends that do not lie beyond their near ones."""
    found, near = [], {}
    for one in numbers(scene):
        near[one.part, one.path[:-1], one.says] = one.name
        first = near.get((one.part, one.path[:-1], _PAIRS.get(one.says)))
        if one.part == "ground" and one.says in _PAIRS:
            first = near.get((one.part, (), _PAIRS[one.says]))
        ends = values.get(first), values.get(one.name)
        if None not in ends and ends[1] <= ends[0]:
            found.append(one)
    return found


def apart(theirs: Mapping, mine: Mapping) -> list[tuple[str, Number | None, object, object]]:
    """Return (name, number or None for a choice, theirs, mine) of everything that two scenes have differently."""
    said = {one.name: one for scene in (theirs, mine) for one in numbers(scene)}
    first, last = initial(theirs), initial(mine)
    names = [name for name in dict.fromkeys([*first, *last]) if first.get(name) != last.get(name)]
    return [(name, said.get(name), first.get(name), last.get(name)) for name in names]


def _usual(scene: Mapping) -> dict:
    """Return the places that a scene may leave out."""
    if scene["kind"] == "reformer" and not {"board", "platform"} & scene.keys():
        return {"bar": [*FOOTBAR]}
    return {"x": 0.0, "y": 0.0} if scene["kind"] == "chair" else {}


def _way(path: tuple) -> str:
    """Return the way into an entry as _SAYS names it: which of several cushions or things it is does not matter."""
    several = path[0] in ("pads", "things")
    return "-".join(["*", *map(str, path[2:])] if several else map(str, path[1:]))


def _leaves(value, path: tuple) -> Iterator[tuple]:
    if isinstance(value, Mapping):
        for key, inside in value.items():
            yield from _leaves(inside, (*path, key))
    elif isinstance(value, list | tuple):
        for place, inside in enumerate(value):
            yield from _leaves(inside, (*path, place))
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield path


def _at(value, path: tuple):
    for key in path:
        value = value[key]
    return value


def _put(value, path: tuple, number: float) -> None:
    for key in path[:-1]:
        value = value[key]
    value[path[-1]] = number
