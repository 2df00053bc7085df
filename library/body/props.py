"""Small things: what a body holds, lies on or steps on besides its apparatus.

How a pose names them. ``scene["things"]`` is a list of things that are the same in both pictures;
``phase["hold"]`` is one thing or a list of things of one picture. Every thing says ``what`` it is:

    ring     between: "hands", "thighs", "knees", "ankles"; axis: direction [x, y, z] of the free diameter (up)
    ball     between: as for a ring; or at: a point's name, or [x, y, z] of the middle.
             r: radius (otherwise half the gap between the limbs)
    roller   along: [x0, x1], a roller lying lengthwise under the back (surface "roller_along");
             or x: place of one lying across (touch: {"on": "roller", "roller": x}), half: half its length
    weights  one in each hand; hand: "l" or "r" for a single one
    towel    x: [x0, x1], y: [y0, y1]; folds: how many folds lie at x0
    step     x: [x0, x1], y: [y0, y1]: a firm block; its top is the surface "step"

A thing may name its ``layer``: "behind" the body, "between_arms" or "between_legs" (behind the near limb,
before the far one), "front". What is held between limbs, and a ball, needs none.

``phase["band"]`` is a stretchy band: "feet" from both feet to both hands, "l.foot" or "r.foot" from one
foot to both hands, "hands" from hand to hand, "thighs" a loop round both thighs above the knees, "ribs"
round the lowest ribs with crossed ends in the hands.

``phase["grip"]`` names the hands, "l" and "r", that close round something that is no thing: the own shin,
ankle or foot, the other hand. ``phase["domed"]`` names the feet whose arch is drawn up.

Sizes: common practice, no source. What is firm stands in ``solids.py``.
"""

from math import cos, pi, sin, sqrt

import numpy as np
import shapely

from library.body.points import locate
from library.body.scene import Layers, Piece
from library.body.skeleton import SIDES, Skeleton
from library.body.surfaces import PALM_SKIN, ROLLER_RADIUS, STEP_HEIGHT

RING_RADIUS = 0.16
PAD_HALF = 0.04
ROLLER_HALF = 0.30
WEIGHT_HALF, WEIGHT_HEAD = 0.075, 0.035
TOWEL_THICKNESS, FOLD_HEIGHT, FOLD_LENGTH = 0.004, 0.040, 0.060
# upper joint, lower joint, share of the way, distance of the inner skin (share of stature)
_INNER = {
    "thighs": ("hip", "knee", 0.74, 0.040),
    "knees": ("hip", "knee", 0.96, 0.034),
    "ankles": ("knee", "ankle", 0.9, 0.019),
}
_LOOP_SHARES = (0.70, 0.80)
_LOOP_RADIUS = 0.0405  # share of stature: the thigh there and a little more
_RIB_EDGES, _RIB_HALF_WIDTH, _RIB_HALF_DEPTH = (0.010, 0.045), 0.080, 0.058  # shares of stature
_turns = np.linspace(0, 2 * pi, 21)


def draw(layers: Layers, scene: dict, phase: dict, body: Skeleton) -> None:
    """All small things of a phase. Raises KeyError for a thing, band or layer nobody knows."""
    held = phase.get("hold", [])
    for thing in (*scene.get("things", ()), *([held] if isinstance(held, dict) else held)):
        _THINGS[thing["what"]](layers, thing, body)
    if phase.get("band"):
        _BANDS[phase["band"]](layers, body)


def _add(layers: Layers, thing: dict, role: str, *strokes, closed: bool = False) -> None:
    """Strokes of world points (n, 3) as one piece on the layer the thing asks for."""
    pieces = getattr(layers, thing.get("layer", _layer(thing)))
    pieces.append(Piece(role, tuple(layers.camera.flat(stroke) for stroke in strokes), closed=closed))


def _layer(thing: dict) -> str:
    return "between_arms" if thing.get("between", "hands") == "hands" else "between_legs"


def _tube(layers: Layers, thing: dict, *strokes) -> None:
    _add(layers, thing, "post", *strokes)
    _add(layers, thing, "post-core", *strokes)


def _gap(thing: dict, body: Skeleton) -> tuple[np.ndarray, np.ndarray]:
    """The two places, left and right, between which a ring or ball is held."""
    if thing["between"] == "hands":
        palms = [locate(body, f"{side}.palm") for side in SIDES]
        inwards = (palms[1] - palms[0]) / max(float(np.linalg.norm(palms[1] - palms[0])), 0.01)
        return palms[0] + PALM_SKIN * inwards, palms[1] - PALM_SKIN * inwards
    upper, lower, share, skin = _INNER[thing["between"]]
    places = []
    for side, sign in SIDES.items():
        start, stop = body.origins[f"{side}.{upper}"], body.origins[f"{side}.{lower}"]
        inner = -sign * body.frames["pelvis"][:, 1]
        places.append(start + share * (stop - start) + inner * skin * body.stature_m)
    return places[0], places[1]


def _ring(layers: Layers, thing: dict, body: Skeleton) -> None:
    """A springy hoop; pressed together it gets longer the other way."""
    left, right = _gap(thing, body)
    middle, half = 0.5 * (left + right), 0.5 * (right - left)
    a = float(np.linalg.norm(half))
    b = sqrt(max(2 * RING_RADIUS**2 - a**2, 0.01))
    other = np.asarray(thing.get("axis", (0, 0, 1)), dtype=float)
    other = other - half * float(other @ half) / a**2
    other = other / float(np.linalg.norm(other))
    hoop = [middle + half * cos(t) + other * (b * sin(t)) for t in _turns]
    pads = [(end - PAD_HALF * other, end + PAD_HALF * other) for end in (left, right)]
    _tube(layers, thing, hoop)
    _tube(layers, thing, *pads)


def _ball(layers: Layers, thing: dict, body: Skeleton) -> None:
    if "between" in thing:
        left, right = _gap(thing, body)
        middle, radius = 0.5 * (left + right), float(np.linalg.norm(right - left)) / 2
    else:
        at = thing["at"]
        middle, radius = (locate(body, at) if isinstance(at, str) else np.asarray(at, dtype=float)), 0.0
    _sphere(layers, thing, middle, thing.get("r", radius))


def _sphere(layers: Layers, thing: dict, middle: np.ndarray, radius: float) -> None:
    pieces = getattr(layers, thing.get("layer", _layer(thing)))
    disc = layers.camera.discs([middle], [radius])[0]
    pieces.append(Piece("bed", (disc,), closed=True))
    shine = disc.mean(axis=0) + 0.62 * (disc[12:18] - disc.mean(axis=0))
    if radius > 0.05:
        pieces.append(Piece("app", (shine,), curved=True))


def _roller(layers: Layers, thing: dict, _body: Skeleton) -> None:
    """A long foam roller, lengthwise or across; always behind the body, which lies or leans on it."""
    r = ROLLER_RADIUS
    if "along" not in thing:
        x, half = thing["x"], thing.get("half", ROLLER_HALF)
        layers.extruded([(x + r * cos(t), r + r * sin(t)) for t in _turns[:-1]], (-half, half))
        return
    ends = [[(x, r * cos(t), r + r * sin(t)) for t in _turns[:-1]] for x in thing["along"]]
    shell = shapely.convex_hull(shapely.multipoints(layers.camera.flat(ends).reshape(-1, 2)))
    layers.behind.append(Piece("top", (shapely.get_coordinates(shell)[:-1],), closed=True))
    layers.face("appfill", ends[1 if layers.camera.towards[0] > 0 else 0])


def _weights(layers: Layers, thing: dict, body: Skeleton) -> None:
    for side in thing.get("hand", "lr"):
        palm, across = locate(body, f"{side}.palm"), body.frames[f"{side}.hand"][:, 1]
        ends = [palm - WEIGHT_HALF * across, palm + WEIGHT_HALF * across]
        layer = {"layer": thing.get("layer", "behind" if side == "l" else "front")}
        for end in sorted(ends, key=layers.camera.depth):
            _sphere(layers, layer, end, WEIGHT_HEAD)
        _tube(layers, layer, ends)


def _towel(layers: Layers, thing: dict, _body: Skeleton) -> None:
    """A thin cloth on the floor, its folds heaped at the first end."""
    (x0, x1), (y0, y1) = thing["x"], thing["y"]
    waves = thing.get("folds", 0)
    steps = np.linspace(0, waves * pi, 4 * waves + 1)
    profile = [(x0 + FOLD_LENGTH * t / pi, TOWEL_THICKNESS + FOLD_HEIGHT * abs(sin(t))) for t in steps]
    profile.append((x1, TOWEL_THICKNESS))
    near, far = ([(x, y, z) for x, z in profile] for y in (y0, y1))
    layers.face("side", [*near, *far[::-1]])
    crests = [x0 + FOLD_LENGTH * (n + 0.5) for n in range(waves)]
    top = TOWEL_THICKNESS + FOLD_HEIGHT
    layers.line("app", *([(x, y0, top), (x, y1, top)] for x in crests))
    layers.line(
        "app", *([(x, y0, TOWEL_THICKNESS), (x, y1, TOWEL_THICKNESS)] for x in (x1 - 0.03, x1 - 0.05))
    )


def _step(layers: Layers, thing: dict, _body: Skeleton) -> None:
    layers.slab(thing["x"], thing["y"], (0, STEP_HEIGHT))


_THINGS = {
    "ring": _ring,
    "ball": _ball,
    "roller": _roller,
    "weights": _weights,
    "towel": _towel,
    "step": _step,
}


def _band_to(*feet: str):
    """A band round the named feet, a plain double line to each hand."""

    def band(layers: Layers, body: Skeleton) -> None:
        for side, front in (("l", False), ("r", True)):
            foot = side if len(feet) > 1 else feet[0]
            hand = locate(body, f"{side}.palm")
            edges = [(hand, locate(body, f"{foot}.{place}")) for place in ("instep", "ball")]
            layers.line("rope", *edges, front=front)

    return band


def _band_hands(layers: Layers, body: Skeleton) -> None:
    palms = [locate(body, f"{side}.palm") for side in SIDES]
    _ribbon(layers, {}, palms, np.array((0, 0, 0.022)))


def _ribbon(layers: Layers, thing: dict, middle_line, half_width: np.ndarray) -> None:
    up = [place + half_width for place in middle_line]
    down = [place - half_width for place in middle_line]
    _add(layers, thing, "top", [*up, *down[::-1]], closed=True)


def _band_thighs(layers: Layers, body: Skeleton) -> None:
    loops = {side: [_round_thigh(body, side, share) for share in _LOOP_SHARES] for side in SIDES}
    every = layers.camera.flat(np.concatenate([ring for rings in loops.values() for ring in rings]))
    hull = shapely.convex_hull(shapely.multipoints(every))
    layers.between_legs.append(Piece("top", (shapely.get_coordinates(hull)[:-1],), closed=True))
    near = max(SIDES, key=lambda side: layers.camera.depth(loops[side][0].mean(axis=0)))
    _front_half(layers, "front", loops[near])


def _round_thigh(body: Skeleton, side: str, share: float) -> np.ndarray:
    hip, knee = body.origins[f"{side}.hip"], body.origins[f"{side}.knee"]
    frame, r = body.frames[f"{side}.thigh"], _LOOP_RADIUS * body.stature_m
    return np.array([hip + share * (knee - hip) + frame @ (r * cos(t), r * sin(t), 0) for t in _turns[:-1]])


def _front_half(layers: Layers, layer: str, edges: list[np.ndarray]) -> None:
    """The part of a ribbon round a limb or trunk that faces the viewer; both edges (n, 3)."""
    depths = layers.camera.depth(0.5 * (edges[0] + edges[1]))
    n = len(depths)
    first = int(np.argmax([depths[np.arange(i, i + n // 2 + 1) % n].sum() for i in range(n)]))
    rows = np.arange(first, first + n // 2 + 1) % n
    _add(layers, {"layer": layer}, "top", [*edges[0][rows], *edges[1][rows][::-1]], closed=True)


def _band_ribs(layers: Layers, body: Skeleton) -> None:
    wide, deep = _RIB_HALF_WIDTH, _RIB_HALF_DEPTH
    edges = [
        np.array([body.at("upper_joint", "thorax", (deep * cos(t), wide * sin(t), z)) for t in _turns[:-1]])
        for z in _RIB_EDGES
    ]
    _front_half(layers, "between_arms", edges)
    height = sum(_RIB_EDGES) / 2
    for side, sign in SIDES.items():
        begin = body.at("upper_joint", "thorax", (0.75 * deep, -sign * 0.6 * wide, height))
        half = 0.016 * body.stature_m * body.frames["thorax"][:, 2]
        _ribbon(layers, {}, [begin, locate(body, f"{side}.palm")], half)


_BANDS = {
    "feet": _band_to("l", "r"),
    "l.foot": _band_to("l"),
    "r.foot": _band_to("r"),
    "hands": _band_hands,
    "thighs": _band_thighs,
    "ribs": _band_ribs,
}
