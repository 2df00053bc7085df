"""What parts of the body cover to one smooth outline each: round pieces, hulls, offsets."""

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


def convex_hull(points: np.ndarray) -> np.ndarray:
    """Corners (k, 2) of the convex hull of page points (n, 2)."""
    return shapely.get_coordinates(shapely.convex_hull(shapely.linestrings(points)))[:-1]


def merge(lines: list[list[np.ndarray]], close: list[float]) -> np.ndarray:
    """One polygon for each list of closed lines, grown by the edge; notches narrower than ``close`` are filled.

    Lines may overlap, and cross themselves, as those of ``silhouette.closed_lines``.
    """
    closing = np.asarray(close)
    grown = shapely.buffer(shapes(lines), closing + EDGE, quad_segs=4)
    merged = shapely.simplify(shapely.buffer(grown, -closing, quad_segs=4), SIMPLIFY, preserve_topology=False)
    for i in np.flatnonzero(shapely.get_num_geometries(merged) > 1):
        merged[i] = max(
            shapely.get_parts(merged[i]), key=shapely.area
        )  # without the crumbs an offset may leave
    return merged


def shapes(lines: list[list[np.ndarray]]) -> np.ndarray:
    """One multipolygon for each list of closed lines (k, 2), valid only after a ``shapely.buffer``."""
    every = [line for group in lines for line in group]
    rows = np.repeat(np.arange(len(every)), [len(line) for line in every])
    polygons = shapely.polygons(shapely.linearrings(np.concatenate(every), indices=rows))
    return shapely.multipolygons(
        polygons, indices=np.repeat(np.arange(len(lines)), [len(group) for group in lines])
    )
