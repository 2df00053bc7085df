"""The half-disc with L or R that names the working side: round on the side it names."""

import numpy as np
import shapely

from library.body.flesh import Rings
from library.body.paths import number
from library.body.room import Strokes

_STEP = 11.0
_GAP, _GAP_TO_LINES = 5.0, 2.0  # page units kept free between the letter and the body, or the apparatus
_COVERS = 1000.0  # for each piece of the body that the letter would touch: the last of all choices
_ON_A_LINE = 140.0  # a spot on a line of the apparatus must be this much nearer to be taken
_CALM = 30.0  # how much farther off each phase's letter may stand to keep one place in both
_SMALLEST, _LARGEST = 18.6, 26.0  # readable even in the thumbnail of a long flat drawing
# On paper the letter is set in twelve points, as the word over the panel is, where the drawing has room for it.
_ON_PAPER_MM, _LARGEST_ON_PAPER = 3.0, 40.0


def letter_radius(box: tuple[float, float, float, float], unit: float = 0.0) -> float:
    """Radius that stays readable when a drawing of this size is scaled to a panel.

    unit: how many mm a unit is on paper, where that is known; a small drawing has a larger letter then.
    """
    _, _, width, height = box
    radius = float(np.clip(0.042 * max(width, 1.7 * height), _SMALLEST, _LARGEST))
    return radius if not unit else max(radius, round(min(_ON_PAPER_MM / unit, _LARGEST_ON_PAPER)))


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
        f' font-size="{number(1.4 * r)}">{word}</text>'
    )


def letter_spots(
    bounds: tuple[float, float, float, float],
    bodies: dict[str, list[Rings]],
    lines: dict[str, list[np.ndarray]],
    anchors: dict[str, np.ndarray],
    arrows: list[np.ndarray],
    radius: float,
) -> tuple[dict[str, tuple[float, float]], bool]:
    """Where inside ``bounds`` a letter of this ``radius`` stands in each phase, and whether there is room for it.

    It stands clear of body and arrows, near the working part.

    ``lines`` are the apparatus' strokes (n, 2) of each phase: the letter keeps off them unless every free
    spot lies far away. Both phases share one spot when that costs little. When the body leaves no room the
    letter stands where it covers least of it.
    """
    left, top, right, bottom = bounds
    inset = radius + 2
    xs = np.arange(left + inset, right - inset + 0.1, _STEP)
    ys = np.arange(top + inset, bottom - inset + 0.1, _STEP)
    grid = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    costs, taken = {}, {}
    for phase, rings in bodies.items():
        covered = Strokes.of(rings).near(grid, radius + _GAP)
        if phase == "end":
            covered += _touched(grid, [shapely.linestrings(path) for path in arrows], radius + _GAP)
        free = covered == covered.min()  # only there a line of the apparatus can still decide
        on_a_line = np.zeros(len(grid))
        strokes = [shapely.linestrings(stroke) for stroke in lines[phase]]
        on_a_line[free] = _touched(grid[free], strokes, radius + _GAP_TO_LINES) > 0
        taken[phase] = covered + on_a_line
        costs[phase] = np.hypot(*(grid - anchors[phase]).T) + _COVERS * covered + _ON_A_LINE * on_a_line
    best = {phase: int(np.argmin(cost)) for phase, cost in costs.items()}
    shared = int(np.argmin(sum(costs.values())))
    if all(cost[shared] <= cost[best[phase]] + _CALM for phase, cost in costs.items()):
        best = dict.fromkeys(best, shared)
    spots = {phase: (round(float(grid[i][0]), 1), round(float(grid[i][1]), 1)) for phase, i in best.items()}
    return spots, not any(taken[phase][i] for phase, i in best.items())


def _touched(grid: np.ndarray, shapes: list, reach: float) -> np.ndarray:
    """How many of the shapes come within ``reach`` of each spot of the grid."""
    spots, _ = shapely.STRtree(shapes).query(shapely.points(grid), predicate="dwithin", distance=reach)
    return np.bincount(spots, minlength=len(grid))
