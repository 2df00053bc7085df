"""A posed body on its apparatus as one SVG drawing."""

import json
from functools import lru_cache
from html import escape

import numpy as np

from library.body import apparatus, arrow, flesh
from library.body.camera import Camera
from library.body.contacts import touching_sides
from library.body.letter import Around, letter_radius, letter_spots, letter_tag
from library.body.movement import arrows, tracks
from library.body.moving import going_with, own_strokes
from library.body.ordering import back_to_front, near_limbs
from library.body.outline import CLOSE_BODY, merge
from library.body.paint import PAINTS, paper
from library.body.parts import outlines
from library.body.paths import edge_path, line_paths, number, smooth_paths
from library.body.room import Strokes
from library.body.silhouette import closed_lines
from library.body.skeleton import LIMBS, Skeleton, angles_of, stand

PHASES = ("start", "end")
MARGIN = 5.0
# On paper so many sizes of the letter are tried, each with so much room: a body is drawn fuller than its pieces.
_SIZES, _AIR = 8, 1.15
# Of every figure the path texts are kept, a few kilobytes each: the library with both sides, and as many
# again cut at clients' limits. What they are made from is large and needed once.
KEPT, GEOMETRY_KEPT = 2048, 64
_LINES = {"spring", "rope", "post", "post-far", "app"}  # of the apparatus, what an arrow would be lost on
_GRIPPED = {"footbar", "handle", "pushbar", "backrest", "rung", "post"}
_RIGHT_LIMBS = ("r.arm", "r.leg")  # what a letter names where the pose colours no limb


def figure(
    pose: dict,
    *,
    phase: str,
    side: str | None = None,
    paint: str = "screen",
    title: str,
    description: str = "",
    prefix: str = "",
    arrow: bool | None = None,
    letter: bool = True,
    unit: float = 0.0,
) -> str:
    """One ``<svg>`` of a pose at its ``start`` or ``end``.

    pose    an entry of ``poses.all_poses()`` or of the same shape
    side    ``left`` or ``right`` for one-sided work: the working limb takes its side's colour and a letter
            names the side; the left is the drawing reversed. None, or a pose without sides: plain.
    paint   ``screen`` (classes ``fg-…``) or ``paper`` (literal greys)
    title   text alternative, escaped here; on a sheet it is all that the PDF keeps of the words
    description  what the body does, for whoever reads on after the title; escaped here
    prefix  put before every id in the drawing; without it the drawing has no ids
    arrow   the dotted path of the tracked point, or of both; by default at the end only
    letter  whether one-sided work carries its letter
    unit    how many mm a unit of the drawing is on paper, where that is known: no line is too thin to print then

    Both phases of a pose share one view box, so panels side by side share scale and ground line.
    Raises ValueError for an unknown phase, side or paint.
    """
    if phase not in PHASES or side not in (None, "left", "right") or paint not in PAINTS:
        raise ValueError(f"unknown phase, side or paint: {phase}, {side}, {paint}")
    with_arrow = phase == "end" if arrow is None else arrow
    side, words = side if "side" in pose else None, (title, description)
    return _figure(_key(pose), phase, side, paint, words, prefix, with_arrow, letter, round(unit, 3))


def prepare(pose: dict, *, phase: str, side: str | None = None) -> None:
    """Do what is costly about a figure ahead, so that ``figure`` finds it done whatever its title and paint."""
    key = _key(pose)
    _view(key)
    _panel(key, phase, side)
    _arrow_paths(key, arrow.HEAD)
    if side and "side" in pose:
        _letter(key, 0.0)


def view_box(pose: dict, side: str | None = None) -> tuple[float, float, float, float]:
    """x, y, width, height of the drawing's view box; 200 units are one metre in every figure."""
    return _box(_key(pose), side if "side" in pose else None)


def _box(key: str, side: str | None) -> tuple[float, float, float, float]:
    x, y, width, height = _view(key)
    return (-x - width if side == "left" else x, y, width, height)


def _key(pose: dict) -> str:
    return json.dumps(pose, sort_keys=True)


@lru_cache(maxsize=KEPT)
def _figure(key, phase, side, paint, words, prefix, with_arrow, letter, unit) -> str:
    title, description = words
    attributes = paper(unit) if paint == "paper" else PAINTS[paint]
    drawn = "".join(_element(role, path, attributes) for role, path in _panel(key, phase, side))
    if with_arrow:
        dotted = _arrow_paths(key, arrow.head(unit))
        drawn += "".join(_element(role, path, attributes) for role, path in dotted)
    if side == "left":
        drawn = f'<g transform="scale(-1 1)">{drawn}</g>'
    if side and letter:
        radius, spots = _letter(key, unit)
        x, y = spots[phase]
        drawn += letter_tag(-x if side == "left" else x, y, radius, side, attributes)
    box = " ".join(number(value) for value in _box(key, side))
    name, label = (
        (f' id="{escape(prefix)}title"', f' aria-labelledby="{escape(prefix)}title"') if prefix else ("", "")
    )
    about = f"<desc>{escape(description)}</desc>" if description else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="fg" viewBox="{box}" role="img"{label}>'
        f"<title{name}>{escape(title)}</title>{about}{drawn}</svg>"
    )


def _element(role: str, path: str, attributes: dict[str, str]) -> str:
    edge = attributes.get(f"{role}-edge")
    under = f'<path {edge} d="{path}"/>' if edge else ""
    return f'{under}<path {attributes[role]} d="{path}"/>'


@lru_cache(maxsize=GEOMETRY_KEPT)
def _geometry(key: str) -> dict:
    """Bodies, round pieces and apparatus of both phases, before anything is merged."""
    pose = json.loads(key)
    camera = Camera.of(pose)
    bodies = {phase: stand(angles_of(pose[phase]), pose[phase]["solved_hips"]) for phase in PHASES}
    return {
        "pose": pose,
        "camera": camera,
        "bodies": bodies,
        "rings": {phase: _rings(pose[phase], bodies[phase], camera) for phase in PHASES},
        "hair": {phase: flesh.hair(bodies[phase], camera) for phase in PHASES},
        "layers": apparatus.build(pose, bodies, camera),
        "outlines": {},
        # taken from the start, so that tones never swap
        "near": near_limbs(bodies["start"], camera),
    }


def _rings(phase: dict, body: Skeleton, camera: Camera) -> dict[str, flesh.Rings]:
    domed, breath = phase.get("domed", ()), phase.get("ribs", 0.0)
    return flesh.rings(body, camera, fists=_fists(phase), domed=domed, breath=breath)


def _fists(phase: dict) -> set[str]:
    """Hands closed round something: a bar, a band, or what ``grip`` says, as the own ankle."""
    if phase.get("bar") or phase.get("band") not in (None, "thighs") or phase.get("straps") == "hands":
        return {"l", "r"}
    return touching_sides(phase, "palm", _GRIPPED) | set(phase.get("grip", ()))


@lru_cache(maxsize=KEPT)
def _panel(key: str, phase: str, side: str | None) -> tuple[tuple[str, str], ...]:
    """Roles and path texts of one phase in drawing order."""
    order, near, early, work, apart, paths = _written(key, phase)
    work = work if side else ()
    drawn = [*apart["ground"]]
    for part in [limb for limb in order if limb in early]:
        drawn += _part(part, paths, near, work, side)
    drawn += apart["behind"]
    held = {"arm": apart["between_arms"], "leg": apart["between_legs"]}
    if "ghost" in paths:
        drawn.append(("ghost", paths["ghost"]))
    for part in [limb for limb in order if limb not in early]:
        if part in near:
            drawn += held.pop(part[2:], [])
        drawn += _part(part, paths, near, work, side)
    for pieces in held.values():
        drawn += pieces
    return (*drawn, *apart["front"])


@lru_cache(maxsize=KEPT)
def _written(key: str, phase: str) -> tuple:
    """What the panels of one phase are made of, whichever side works."""
    scene = _geometry(key)
    order = back_to_front(scene["bodies"][phase], scene["camera"], scene["near"])
    early, work = (scene["pose"].get(name, ()) for name in ("behind", "work"))
    return order, scene["near"], early, work, scene["layers"][phase].written(), _body_paths(key, phase)


def _part(part: str, paths: dict, near: set[str], work: set[str], side: str | None) -> list[tuple[str, str]]:
    if part in work:
        return [("halo", paths[f"{part}.edge"]), (f"work-{side}", paths[part])]
    if part in LIMBS:
        return [("near" if part in near else "far", paths[part])]
    if part == "hair":
        return [("hair", paths["hair"]), *([("bun", paths["bun"])] if "bun" in paths else [])]
    return [("mid", paths[part])]


def _ghost_path(key: str) -> str:
    """Outline of where some parts were at the start, for a movement that is too small to be seen otherwise."""
    scene = _geometry(key)
    parts = closed_lines([scene["rings"]["start"][part] for part in scene["pose"]["ghost"]])
    return smooth_paths(merge([[line for lines in parts for line in lines]], [CLOSE_BODY]))[0]


@lru_cache(maxsize=KEPT)
def _body_paths(key: str, phase: str) -> dict[str, str]:
    scene = _geometry(key)
    shapes = outlines(scene["rings"][phase], scene["hair"][phase], scene["outlines"])
    paths = dict(zip(shapes, smooth_paths(np.array(list(shapes.values()))), strict=True))
    # The edge round the working limb is wide and pale: straight lines do, in half the letters.
    paths |= {f"{limb}.edge": edge_path(shapes[limb]) for limb in scene["pose"].get("work", ())}
    if phase == "end" and "ghost" in scene["pose"]:
        paths["ghost"] = _ghost_path(key)
    return paths


@lru_cache(maxsize=KEPT)
def _tracks(key: str) -> list[arrow.Arrow]:
    """The arrows as they are drawn."""
    scene, drawn = _geometry(key), []
    start, end = (scene["rings"][phase] for phase in PHASES)
    lines = Strokes.along_lines(_crossed(scene["layers"]["end"]))
    for one, way in zip(arrows(scene["pose"]), tracks(scene["pose"]), strict=True):
        flat = scene["camera"].flat(way) + np.asarray(one.get("arrow_off", (0, 0)))
        if "arrow_path" in one:  # drawn as given: round a circle, or where hardly anything moves
            flat = flat[-1] + np.asarray(one["arrow_path"])
        own = own_strokes(end, going_with(one["track"], start, end))
        around = arrow.Surroundings(_strokes(key, "end"), own, lines)
        drawn.append(arrow.beside(arrow.calm(flat), around, drawn))
    return drawn


@lru_cache(maxsize=KEPT)
def _arrow_paths(key: str, head: float = arrow.HEAD) -> tuple[tuple[str, str], ...]:
    drawn = _tracks(key)
    heads = line_paths([([one.head(head) for one in drawn], False)])[0]
    return ("arrow", "".join(one.path for one in drawn)), ("arrow-head", heads)


@lru_cache(maxsize=KEPT)
def _bounds(key: str) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of both phases with their arrow."""
    scene = _geometry(key)
    points = [places for one in _tracks(key) for places in (one.points, one.head(arrow.HEAD))]
    for phase in PHASES:
        points += [part.outlines.reshape(-1, 2) for part in scene["rings"][phase].values()]
        points += [scene["hair"][phase].bun]
        layers = scene["layers"][phase]
        points += [stroke for piece in layers.pieces for stroke in piece.strokes]
    every = np.concatenate(points)
    (left, top), (right, bottom) = every.min(axis=0) - MARGIN, every.max(axis=0) + MARGIN
    return float(left), float(top), float(right), float(bottom)


def _letter(key: str, unit: float) -> tuple[float, dict[str, tuple[float, float]]]:
    """The letter's radius, as large as is wished and there is room for, and where it stands in each phase."""
    least, wished = letter_radius(_view(key)), letter_radius(_view(key), unit)
    for radius in np.linspace(wished, least, _SIZES).round(1).tolist() if wished > least else ():
        spots, has_room = _spots(key, _AIR * radius)
        if has_room:
            return radius, spots
    return least, _spots(key, least)[0]


@lru_cache(maxsize=KEPT)
def _spots(key: str, radius: float) -> tuple[dict[str, tuple[float, float]], bool]:
    """Where a letter of this size stands in each phase, and whether it has room."""
    return letter_spots(_bounds(key), {phase: _around(key, phase) for phase in PHASES}, radius)


@lru_cache(maxsize=2 * GEOMETRY_KEPT)
def _around(key: str, phase: str) -> Around:
    """What the letter keeps off in one phase."""
    scene = _geometry(key)
    rings = scene["rings"][phase]
    limbs = [rings[limb].outlines.reshape(-1, 2) for limb in scene["pose"].get("work", ())]
    if limbs:
        anchor = np.concatenate(limbs).mean(axis=0)
    else:  # a bend or a turn: beside the shoulder it goes to
        anchor = scene["camera"].flat(scene["bodies"][phase].origins["r.elbow"])
    lines = [[one.points, one.head(arrow.HEAD)] for one in _tracks(key)] if phase == "end" else []
    arrows = [Strokes.along_lines(own) for own in lines]
    lines = Strokes.along_lines(_apparatus_strokes(scene["layers"][phase]))
    named = {*scene["pose"].get("work", _RIGHT_LIMBS)}
    own, others = (own_strokes(rings, limbs) for limbs in (named, {*LIMBS} - {*_RIGHT_LIMBS}))
    return Around(_strokes(key, phase), arrows, lines, anchor, own, others)


@lru_cache(maxsize=2 * GEOMETRY_KEPT)
def _strokes(key: str, phase: str) -> Strokes:
    """The body's round pieces with the bun, which comes last."""
    scene = _geometry(key)
    bun = flesh.Rings(scene["hair"][phase].bun[None], np.array(((0, 0),)))
    return Strokes.of([*scene["rings"][phase].values(), bun])


def _crossed(layers) -> list[np.ndarray]:
    """The lines of the apparatus that an arrow had better not cross; a spring is the line between its ends."""
    pieces = [piece for piece in layers.pieces if piece.role in _LINES]
    return [s[[0, -1]] if piece.role == "spring" else s for piece in pieces for s in piece.strokes]


def _apparatus_strokes(layers) -> list[np.ndarray]:
    """Page points of every line that is drawn of the apparatus."""
    pieces = [piece for piece in layers.pieces if not piece.role.endswith("-core")]
    return [s[[*range(len(s)), 0]] if piece.closed else s for piece in pieces for s in piece.strokes]


@lru_cache(maxsize=KEPT)
def _view(key: str) -> tuple[float, float, float, float]:
    left, top, right, bottom = _bounds(key)
    left, top = round(left, 1), round(top, 1)
    return left, top, round(right - left, 1), round(bottom - top, 1)
