"""The dotted arrows of the tracked points, moved beside the body that they would cover."""

from collections.abc import Sequence

import numpy as np

from library.body.room import Strokes
from library.body.scene import Piece

HEAD = 6.0
# On paper a head is as long as this in mm, but no longer in units than the margin of a drawing has room for.
_HEAD_MM, _LARGEST_HEAD = 1.7, 11.0
_GAP = 5.0  # page units that stay free between the arrow and the body
_APART = 9.0  # the same between one arrow and another
_STEPS = np.arange(0.0, 41.0, 8.0)
_TURNS = np.linspace(0, 2 * np.pi, 12, endpoint=False)
_WAYS = np.stack((np.cos(_TURNS), np.sin(_TURNS)), axis=-1)
_COVERS = 12.0  # one more sample on the body is worth so many page units of moving away


def beside(points: np.ndarray, body: Strokes, others: list[np.ndarray]) -> np.ndarray:
    """The path (n, 2) moved as a whole, and as little as serves, so that it covers little of body and other arrows."""
    best, least = points, np.inf
    for step in _STEPS:
        if least <= step:  # to go farther costs more than what has been found
            break
        moves = step * (_WAYS if step else _WAYS[:1])
        tried = points + moves[:, None]
        spots = tried.reshape(-1, 2)
        hits = body.near(spots, _GAP) > 0
        for other in others:
            hits |= (np.hypot(*(spots[:, None] - other).T) < _APART).any(axis=0)
        cost = _COVERS * hits.reshape(len(tried), -1).sum(axis=1) + np.hypot(*moves.T)
        cheapest = int(np.argmin(cost))
        if cost[cheapest] < least:
            best, least = tried[cheapest], cost[cheapest]
    return best


def head(unit: float = 0.0) -> float:
    """How long the arrow's head is, in units, where a unit is so many mm on paper; 0 where that is not known."""
    return HEAD if not unit else round(min(max(HEAD, _HEAD_MM / unit), _LARGEST_HEAD), 1)


def pieces(paths: Sequence[np.ndarray], length: float = HEAD) -> tuple[Piece, Piece]:
    """The lines of arrows, each through page points (n, 2), and their heads, so long."""
    heads = tuple(_head(points, length) for points in paths)
    return Piece("arrow", tuple(paths), curved=True), Piece("arrow-head", heads)


def _head(points: np.ndarray, length: float) -> np.ndarray:
    tip, before = points[-1], points[-3]
    along = (tip - before) / max(float(np.hypot(*(tip - before))), 0.1)
    across = np.array((-along[1], along[0]))
    barbs = [tip - length * (0.85 * along + sign * 0.55 * across) for sign in (1, -1)]
    return np.array((barbs[0], tip, barbs[1]))
