"""The dotted arrows of the tracked points: one calm curve each, beside the body that it would cover.

An arrow shows which way to go, not each place that is passed: the way of its point becomes the one arc of a circle
that encloses as much area with its chord. What is drawn by hand may go round a whole circle; that is kept.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from library.body.paths import cubic_path, curve_path
from library.body.room import Strokes

HEAD = 6.0
# On paper a head is as long as this in mm, but no longer in units than the margin of a drawing has room for.
_HEAD_MM, _LARGEST_HEAD = 1.7, 11.0
# Page units that stay free between the arrow and the body, and beside its head; springs and posts; other arrows.
_GAP, _HEAD_GAP, _GAP_TO_LINES, _APART = 6.0, 9.0, 3.5, 12.0
_STEPS = np.arange(0.0, 81.0, 8.0)
_TURNS = np.linspace(0, 2 * np.pi, 12, endpoint=False)
_WAYS = np.stack((np.cos(_TURNS), np.sin(_TURNS)), axis=-1)
# One more sample on the body is worth so many page units of moving away, as the head there is, one more on a line
# of the apparatus, and standing nearer to what does not move.
_COVERS, _HEAD_COVERS, _CROSSES, _STRANGE = 14.0, 28.0, 6.0, 40.0
_SAMPLES = 13
# From which sample to which an arrow may be kept where there is no room for the whole; its share lost costs as much
# as moving so far, and it never gets shorter than this.
_KEPT = np.array(((0, 12), (1, 12), (2, 12), (3, 12), (4, 12), (0, 11), (1, 11), (2, 11), (3, 11), (2, 10)))
_LOSS, _SHORTEST = 60.0, 24.0
# A way that comes back as near to where it began, as a share of its length, is no arc.
_LOOP = 0.3
_ONE_CUBIC = 0.9 * np.pi  # what turns more than this is written as two curves
_WIDEST = 0.72 * np.pi  # half of what an arc turns at most
_HALF_TURNS = np.linspace(1e-3, _WIDEST, 120)
_AREAS = (2 * _HALF_TURNS - np.sin(2 * _HALF_TURNS)) / (8 * np.sin(_HALF_TURNS) ** 2)


@dataclass(frozen=True)
class Arrow:
    """A line through page points (n, 2), and how much it turns from end to end where it is an arc.

    points: many for an arc, those that were given for a line drawn by hand.
    """

    points: np.ndarray
    turn: float | None = None

    @property
    def path(self) -> str:
        """The path text."""
        if self.turn is None:
            return curve_path(self.points)
        parts = 1 if abs(self.turn) < _ONE_CUBIC else 2
        ends = np.linspace(0, len(self.points) - 1, parts + 1).astype(int)
        spans = []
        for begin, end in pairwise(ends):
            first, last = self.points[begin], self.points[end]
            half = self.turn / 2 * (end - begin) / (len(self.points) - 1)
            long = 2 / 3 * np.tan(half / 2) / np.sin(half)
            spans.append(
                (first + _turned(last - first, half) * long, last - _turned(last - first, -half) * long, last)
            )
        return cubic_path(self.points[0], np.array(spans))

    def head(self, length: float) -> np.ndarray:
        """The three points of a head so long."""
        tip, back = self.points[-1], np.hypot(*(self.points - self.points[-1]).T)
        before = self.points[max(np.flatnonzero(back > 0.7 * length), default=0)]
        along = (tip - before) / max(float(np.hypot(*(tip - before))), 0.1)
        across = np.array((-along[1], along[0]))
        barbs = [tip - length * (0.85 * along + sign * 0.55 * across) for sign in (1, -1)]
        return np.array((barbs[0], tip, barbs[1]))


@dataclass(frozen=True)
class Surroundings:
    """What an arrow keeps off: the body, of which some strokes are ``own``, as they move with it, and the apparatus."""

    body: Strokes
    own: np.ndarray
    lines: Strokes


def calm(way: np.ndarray) -> Arrow:
    """The arc from the first to the last of page points (n, 2) that goes as they do; a loop as it is."""
    chord = way[-1] - way[0]
    length = float(np.hypot(*chord))
    if length <= _LOOP * np.hypot(*np.diff(way, axis=0).T).sum():
        return Arrow(way)
    if length < _SHORTEST:  # too short to be seen: it begins earlier
        way = way[-1] + _SHORTEST / length * (way - way[-1])
        chord, length = way[-1] - way[0], _SHORTEST
    x, y = (way - way[0]).T
    area = float((x[:-1] * y[1:] - x[1:] * y[:-1]).sum()) / 2
    half = float(np.interp(abs(area) / length**2, _AREAS, _HALF_TURNS))
    angles = np.linspace(-half, half, _SAMPLES)
    along = (np.sin(angles) + np.sin(half)) / (2 * np.sin(half))
    across = (np.cos(angles) - np.cos(half)) / (2 * np.sin(half)) * np.sign(area)
    left = np.array((chord[1], -chord[0]))
    return Arrow(
        way[0] + along[:, None] * chord + across[:, None] * left, 2 * half * float(np.sign(area) or 1)
    )


def beside(arrow: Arrow, around: Surroundings, others: list[Arrow]) -> Arrow:
    """The arrow moved as a whole, as little as serves, so that it covers little; an arc may get shorter as well.

    It keeps off the body, other arrows and the lines of the apparatus, and stands nearer to what moves with it than
    to the rest of the body.
    """
    best, least = arrow, np.inf
    for step in _STEPS:
        if least <= step:  # to go farther costs more than what has been found
            break
        tried, moved = _moved(arrow, step)
        kept = _kept(arrow)
        costs = _costs(tried, kept, around, others) + moved[:, None]
        costs += _LOSS * (1 - (kept[:, 1] - kept[:, 0]) / (len(arrow.points) - 1))
        cheapest = np.unravel_index(np.argmin(costs), costs.shape)
        if costs[cheapest] < least:
            least, (first, last) = costs[cheapest], kept[cheapest[1]]
            share = (last - first) / (len(arrow.points) - 1)
            best = Arrow(tried[cheapest[0], first : last + 1], arrow.turn and arrow.turn * share)
    return best


def head(unit: float = 0.0) -> float:
    """How long the arrow's head is, in units, where a unit is so many mm on paper; 0 where that is not known."""
    return HEAD if not unit else round(min(max(HEAD, _HEAD_MM / unit), _LARGEST_HEAD), 1)


def _moved(arrow: Arrow, step: float) -> tuple[np.ndarray, np.ndarray]:
    """The arrow (m, n, 2) so far away in every direction, and an arc on both sides round the same middle too."""
    moves = step * (_WAYS if step else _WAYS[:1])
    tried = arrow.points + moves[:, None]
    if step and arrow.turn is not None:
        slopes = np.gradient(arrow.points, axis=0, edge_order=2)
        across = np.stack((slopes[:, 1], -slopes[:, 0]), axis=1) / np.hypot(*slopes.T)[:, None]
        outwards = arrow.points + step * across * np.sign(arrow.turn)
        tried = np.concatenate((tried, outwards[None]))
    return tried, np.full(len(tried), step)


def _kept(arrow: Arrow) -> np.ndarray:
    whole = len(arrow.points) - 1
    if arrow.turn is None:
        return np.array(((0, whole),))
    length = np.hypot(*np.diff(arrow.points, axis=0).T).sum()
    long = (_KEPT[:, 1] - _KEPT[:, 0]) / whole * length >= _SHORTEST
    long[0] = True
    return _KEPT[long]


def _costs(tried: np.ndarray, kept: np.ndarray, around: Surroundings, others: list[Arrow]) -> np.ndarray:
    """What each arrow (m, n, 2) costs that is kept from one sample to another (k, 2)."""
    count, size = tried.shape[:2]
    spots = tried.reshape(-1, 2)
    gaps = around.body.gaps(spots)
    nearest = gaps.min(axis=1)
    covers = _COVERS * (nearest < _GAP)
    for other in others:
        covers += _COVERS * (np.hypot(*(spots[:, None] - other.points).T) < _APART).any(axis=0)
    if len(around.lines.start):
        covers += _CROSSES * (around.lines.gaps(spots).min(axis=1) < _GAP_TO_LINES)
    summed = np.zeros((count, size + 1))
    np.cumsum(covers.reshape(count, size), axis=1, out=summed[:, 1:])
    first, last = kept.T
    heads = _HEAD_COVERS * (nearest < _HEAD_GAP).reshape(count, size)[:, last]
    strange = _STRANGE * (gaps[:, around.own].min(axis=1, initial=np.inf) > nearest).reshape(count, size)
    return summed[:, last + 1] - summed[:, first] + heads + strange[:, (first + last) // 2]


def _turned(step: np.ndarray, by: float) -> np.ndarray:
    """A step on the page turned by an angle in radians, against the clock for positive ones as it is seen."""
    cos, sin = np.cos(by), np.sin(by)
    return np.array((cos * step[0] + sin * step[1], cos * step[1] - sin * step[0]))
