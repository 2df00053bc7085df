"""Round pieces to one smooth outline, and outlines to path text."""

from functools import lru_cache
from math import pi

import numpy as np
import shapely

CIRCLE_POINTS = 20
CLOSE_BODY, CLOSE_HEAD = 3.0, 1.0  # page units: an outline is pushed out and back in to fill notches
EDGE = 0.9  # page units added all round: half the paper-coloured edge that is drawn over the outline
SIMPLIFY = 0.45

_turns = np.linspace(0, 2 * pi, CIRCLE_POINTS, endpoint=False)
UNIT_CIRCLE = np.stack((np.cos(_turns), np.sin(_turns)), axis=-1)


def circles(centres: np.ndarray, radii: np.ndarray) -> np.ndarray:
    """Outlines (n, CIRCLE_POINTS, 2) of circles with page centres (n, 2) and radii (n,)."""
    return centres[:, None, :] + UNIT_CIRCLE[None] * np.asarray(radii)[:, None, None]


def ellipses(centres: np.ndarray, spreads: np.ndarray) -> np.ndarray:
    """Outlines (n, CIRCLE_POINTS, 2) of ellipses given by ``Camera.spreads``."""
    return centres[:, None, :] + UNIT_CIRCLE @ spreads.swapaxes(1, 2)


def hulls(rings: np.ndarray, pairs: np.ndarray) -> np.ndarray:
    """Convex hulls of pairs of outlines: ``rings`` (n, m, 2), ``pairs`` (k, 2) of row numbers."""
    points = rings[pairs].reshape(len(pairs), -1, 2)
    return shapely.convex_hull(shapely.linestrings(points))


def merge(pieces: list, close: list[float]) -> list:
    """One polygon per list of pieces, grown by the edge; notches narrower than ``close`` are filled."""
    joined = np.array([shapely.union_all(group) for group in pieces])
    closing = np.asarray(close)
    grown = shapely.buffer(joined, closing + EDGE, quad_segs=4)
    shapes = shapely.simplify(shapely.buffer(grown, -closing, quad_segs=4), SIMPLIFY, preserve_topology=False)
    return [largest(shape) for shape in shapes]


def largest(shape):
    """The biggest polygon of a shape, without the crumbs an offset may leave."""
    parts = shapely.get_parts(shape)
    return max(parts, key=lambda part: part.area) if len(parts) > 1 else shape


def smooth_path(shape) -> str:
    """Path text of a polygon and its holes: curves through the middles of its edges."""
    rings = [shape.exterior, *shape.interiors]
    return "".join(_smooth_ring(shapely.get_coordinates(ring)[:-1]) for ring in rings)


def edge_path(shape) -> str:
    """Path text of a polygon's outer rim in straight lines."""
    return line_path(shapely.get_coordinates(shape.exterior)[:-1], closed=True)


def _smooth_ring(corners: np.ndarray) -> str:
    middles = 0.5 * (corners + np.roll(corners, -1, axis=0))
    corner_tenths = np.rint(np.roll(corners, -1, axis=0) * 10).astype(int)
    middle_tenths = np.rint(middles * 10).astype(int)
    following = np.roll(middle_tenths, -1, axis=0)
    steps = np.concatenate((corner_tenths - middle_tenths, following - middle_tenths), axis=1)
    x, y = middle_tenths[0]
    return f"M{tenth(x)} {tenth(y)}q{_join(steps.ravel())}z"


def curve_path(points: np.ndarray) -> str:
    """Path text of one open smooth curve through page points (n, 2), n at least 3."""
    corners = np.asarray(points)
    # a spline through every point, cut so that each span is a cubic with the neighbours' slope
    slopes = np.gradient(corners, axis=0) / 3
    controls = np.concatenate((corners[:-1] + slopes[:-1], corners[1:] - slopes[1:], corners[1:]), axis=1)
    tenths = np.rint(corners * 10).astype(int)
    steps = np.rint(controls * 10).astype(int) - np.tile(tenths[:-1], 3)
    x, y = tenths[0]
    return f"M{tenth(x)} {tenth(y)}c{_join(steps.ravel())}"


def line_path(points: np.ndarray, closed: bool = False) -> str:
    """Path text of straight lines through page points (n, 2)."""
    tenths = np.rint(np.asarray(points) * 10).astype(int)
    x, y = tenths[0]
    rest = _join(np.diff(tenths, axis=0).ravel())
    return f"M{tenth(x)} {tenth(y)}l{rest}{'z' if closed else ''}"


def _join(tenths: np.ndarray) -> str:
    """Numbers one after another; a minus sign is separator enough."""
    words = [tenth(value) for value in tenths.tolist()]
    text = words[0]
    for word in words[1:]:
        text += word if word[0] == "-" else " " + word
    return text


@lru_cache(maxsize=1 << 15)
def tenth(value: int) -> str:
    """A whole number of tenths as the shortest text: 5 is .5, -10 is -1."""
    text = f"{int(value) / 10:g}"
    if text.startswith("0."):
        return text[1:]
    return "-" + text[2:] if text.startswith("-0.") else text


def number(value: float) -> str:
    """A number rounded to a tenth as the shortest text."""
    return tenth(round(value * 10))
