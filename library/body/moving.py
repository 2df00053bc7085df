"""Which parts of a body go with the point that an arrow follows."""

import numpy as np

from library.body.flesh import Rings
from library.body.points import limbs_of

_TRUNK = ("trunk", "head")
# What moves at least so much of what moves farthest goes with a point of the trunk; a limb that differs from the
# other by no more than this share of its way does the same.
_MOST, _ALIKE = 0.5, 0.6

Parts = dict[str, Rings]


def going_with(track: str, start: Parts, end: Parts) -> set[str]:
    """The parts that move with a point: its own limb, and the other one that does the same; or what moves most."""
    ways = {
        name: (end[name].outlines - start[name].outlines).mean(axis=1)
        for name in start
        if start[name].outlines.shape == end[name].outlines.shape
    }
    limbs = (
        limbs_of([track])
        if track[:2] in ("l.", "r.") and not track.endswith((".hip", ".shoulder"))
        else set()
    )
    if limbs:
        return limbs | {other for limb in limbs if _does_the_same(ways, limb, other := _other(limb))}
    if track.startswith("mid.") and not track.endswith((".hip", ".shoulder")):
        return limbs_of([track])
    farthest = {name: float(np.hypot(*way.T).max()) for name, way in ways.items()}
    most = max(farthest.values(), default=0.0)
    return {*_TRUNK} | {name for name, far in farthest.items() if far > _MOST * most}


def own_strokes(parts: Parts, names: set[str]) -> np.ndarray:
    """Which of the strokes of ``Strokes.of`` these parts and the bun, that comes last, are of those named."""
    counts = [*(len(part.pairs) for part in parts.values()), 1]
    return np.repeat([*(name in names for name in parts), "head" in names], counts)


def _other(limb: str) -> str:
    return {"l": "r", "r": "l"}[limb[0]] + limb[1:]


def _does_the_same(ways: dict[str, np.ndarray], limb: str, other: str) -> bool:
    if limb not in ways or other not in ways or ways[limb].shape != ways[other].shape:
        return False
    apart = np.hypot(*(ways[limb] - ways[other]).T).max()
    return bool(apart < _ALIKE * np.hypot(*ways[limb].T).max())
