"""The half-disc with L or R that names the working side: round on the side it names."""

from dataclasses import dataclass

import numpy as np

from library.body.paths import number
from library.body.room import Strokes

_STEP = 11.0
_AT_ONCE = 64  # so many spots are weighed at a time, the nearest first
_GAP, _GAP_TO_LINES = 5.0, 2.0  # page units kept free between the letter and the body, or the apparatus
_GAP_TO_ARROWS = 10.0
_COVERS = 1000.0  # for each piece of the body that the letter would touch: the last of all choices
_ON_A_LINE = 300.0  # a spot on a line of the apparatus must be this much nearer to be taken
_ASIDE = 200.0  # a spot nearer to a limb of the other side must be this much nearer to be taken
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


@dataclass(frozen=True)
class Around:
    """What a letter keeps off in one phase: body, arrows, lines of the apparatus; and the place it stands near.

    own, others: which strokes of the body are of limbs that the letter names, and of limbs of the other side.
    """

    body: Strokes
    arrows: list[Strokes]
    lines: Strokes
    anchor: np.ndarray
    own: np.ndarray
    others: np.ndarray


def letter_spots(
    bounds: tuple[float, float, float, float], around: dict[str, Around], radius: float
) -> tuple[dict[str, tuple[float, float]], bool]:
    """Where inside ``bounds`` a letter of this ``radius`` stands in each phase, and whether there is room for it.

    It stands clear of body and arrows, near the working part and nearer to it than to the other side, and keeps
    off the lines of the apparatus, unless every such spot lies far away. Both phases share one spot when that
    costs little. When the body leaves no room the letter stands where it covers least of it.
    """
    grid = _grid(bounds, radius + 2)
    if not len(grid):
        return {}, False
    costs = {phase: _Costs(grid, one, radius) for phase, one in around.items()}
    best = {phase: cost.cheapest() for phase, cost in costs.items()}
    shared = _cheapest(
        sum(cost.away for cost in costs.values()), lambda rows: sum(cost.of(rows) for cost in costs.values())
    )
    if all(cost.of(shared) <= cost.of(best[phase]) + _CALM for phase, cost in costs.items()):
        best = dict.fromkeys(best, shared)
    spots = {phase: tuple(grid[rows[0]].round(1).tolist()) for phase, rows in best.items()}
    return spots, all(costs[phase].is_free(rows) for phase, rows in best.items())


def _grid(bounds: tuple[float, float, float, float], inset: float) -> np.ndarray:
    """The spots (n, 2) that are tried."""
    left, top, right, bottom = bounds
    xs = np.arange(left + inset, right - inset + 0.1, _STEP)
    ys = np.arange(top + inset, bottom - inset + 0.1, _STEP)
    return np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)


def _cheapest(least: np.ndarray, cost) -> np.ndarray:
    """Row of the spot that costs least, as an array of one: ``cost`` of rows is asked only while it can be less.

    least: what each spot costs at least.
    """
    order = np.argsort(least, kind="stable")
    best, lowest = order[:1], np.inf
    for begin in range(0, len(order), _AT_ONCE):
        rows = order[begin : begin + _AT_ONCE]
        if least[rows[0]] > lowest:
            break
        costs = cost(rows)
        cheapest = int(np.argmin(costs))
        if costs[cheapest] < lowest:
            best, lowest = rows[cheapest : cheapest + 1], costs[cheapest]
    return best


class _Costs:
    """What it costs to stand at each spot in one phase, worked out for those that are asked for."""

    def __init__(self, grid: np.ndarray, around: Around, radius: float):
        self.grid, self.around, self.radius = grid, around, radius
        self.away = np.hypot(*(grid - around.anchor).T)
        self.known = np.full(len(grid), np.nan)
        self.least_covered = 0

    def of(self, rows: np.ndarray) -> np.ndarray:
        """What it costs at these rows of the grid."""
        new = rows[np.isnan(self.known[rows])]
        if len(new):
            covered = self._covered(new)
            self.known[new] = self.away[new] + _COVERS * covered
            free = new[covered == self.least_covered]  # only there a line or another limb can still decide
            self.known[free] += _ON_A_LINE * self._on_a_line(free) + _ASIDE * self._is_aside(free)
        return self.known[rows]

    def cheapest(self) -> np.ndarray:
        """Row of the cheapest spot, as an array of one."""
        best = _cheapest(self.away, self.of)
        if self._covered(best):
            self.least_covered = int(self._covered(np.arange(len(self.grid))).min())
            self.known[:] = np.nan
            best = _cheapest(self.away, self.of)
        return best

    def is_free(self, rows: np.ndarray) -> bool:
        """Whether nothing is covered there, not even a line."""
        return not self._covered(rows).any() and not self._on_a_line(rows).any()

    def _covered(self, rows: np.ndarray) -> np.ndarray:
        found = self.around.body.near(self.grid[rows], self.radius + _GAP)
        for arrow in self.around.arrows:
            found += arrow.near(self.grid[rows], self.radius + _GAP_TO_ARROWS) > 0
        return found

    def _on_a_line(self, rows: np.ndarray) -> np.ndarray:
        return self.around.lines.near(self.grid[rows], self.radius + _GAP_TO_LINES) > 0

    def _is_aside(self, rows: np.ndarray) -> np.ndarray:
        gaps = self.around.body.gaps(self.grid[rows])
        parts = self.around.own, self.around.others
        own, others = (gaps[:, part].min(axis=1, initial=np.inf) for part in parts)
        return own > others
