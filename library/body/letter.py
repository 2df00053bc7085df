"""The half-disc with L or R that names the working side: round on the side it names."""

import numpy as np
import shapely

from library.body.flesh import Rings
from library.body.outline import number

_STEP = 9.0
_ON_A_LINE = 45.0  # a spot on a line of the apparatus must be this much nearer to be taken
_SMALLEST, _LARGEST = 11.0, 26.0


def letter_radius(box: tuple[float, float, float, float]) -> float:
    """Radius that stays readable when a drawing of this size is scaled to a panel."""
    _, _, width, height = box
    return float(np.clip(0.042 * max(width, 1.7 * height), _SMALLEST, _LARGEST))


def letter_tag(x: float, y: float, radius: float, side: str, attributes: dict[str, str]) -> str:
    """The half-disc centred on ``x``, ``y`` with its letter upright."""
    r, way = radius, -1 if side == "left" else 1
    flat = x - way * 0.55 * r
    sweep = 0 if side == "left" else 1
    path = (
        f"M{number(flat)} {number(y - r)}h{number(way * 0.45 * r)}"
        f"a{number(r)} {number(r)} 0 0 {sweep} 0 {number(2 * r)}h{number(-way * 0.45 * r)}z"
    )
    word = "L" if side == "left" else "R"
    return (
        f'<path {attributes[f"letter-{side}"]} d="{path}"/>'
        f'<text {attributes["letter"]} x="{number(x + way * 0.12 * r)}" y="{number(y)}" dy="0.36em"'
        f' font-size="{number(1.3 * r)}">{word}</text>'
    )


def letter_spots(
    bounds: tuple[float, float, float, float],
    bodies: dict[str, list[Rings]],
    lines: dict[str, np.ndarray],
    anchors: dict[str, np.ndarray],
    arrow: np.ndarray,
) -> dict[str, tuple[float, float]]:
    """The free spot nearest each phase's working part: clear of body and arrow, off ``lines`` if it can be.

    ``lines`` are points along the apparatus of each phase. When nothing inside ``bounds`` is free the
    letter stands above the drawing.
    """
    left, top, right, bottom = bounds
    radius = letter_radius((left, top, right - left, bottom - top))
    inset = radius + 2
    xs = np.arange(left + inset, right - inset + 0.1, _STEP)
    ys = np.arange(top + inset, bottom - inset + 0.1, _STEP)
    grid = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    spots = {}
    for phase, rings in bodies.items():
        taken = np.concatenate([_covered(part) for part in rings] + ([arrow] if phase == "end" else []))
        free = grid[_room(grid, taken) > radius + 5]
        if not len(free):
            free = np.array(((anchors[phase][0], top - inset),))
        cost = np.hypot(*(free - anchors[phase]).T)
        if len(lines[phase]):
            cost = cost + _ON_A_LINE * (_room(free, lines[phase]) < radius)
        best = free[np.argmin(cost)]
        spots[phase] = (round(float(best[0]), 1), round(float(best[1]), 1))
    return spots


def _covered(part: Rings) -> np.ndarray:
    """Points spread over a body part: its outlines and the middles between joined ones."""
    rims = part.outlines[:, ::3]
    first, second = rims[part.pairs[:, 0]], rims[part.pairs[:, 1]]
    between = np.concatenate([first + (second - first) * share for share in (0.25, 0.5, 0.75)])
    return np.concatenate((rims, between)).reshape(-1, 2)


def _room(grid: np.ndarray, taken: np.ndarray) -> np.ndarray:
    """Distance from each spot of the grid to the nearest taken point."""
    places = shapely.STRtree(shapely.points(taken))
    _, distances = places.query_nearest(shapely.points(grid), return_distance=True, all_matches=False)
    return distances
