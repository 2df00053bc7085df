"""The way between a pose's two ends, for the arrow of the tracked point and for a client's own end.

A pose has a start and an end, and a ``middle`` where the straight way would lead through the floor or the
apparatus; ``at`` in the middle says at which share of the way it stands (a half when it says nothing).
"""

from collections.abc import Iterable, Iterator
from itertools import pairwise

import numpy as np

from library.body.points import limbs_of, locate
from library.body.skeleton import LIMBS, Skeleton, angles_of, stand

SAMPLES = 9
HALF_WAY = 0.5
_STILL = 0.01  # metres: what moves less than this from start to end keeps its place


def keyframes(pose: dict) -> list[tuple[float, dict]]:
    """Shares and phases in the order of the movement: start 0, the middle if there is one, end 1."""
    middle = pose.get("middle")
    between_ends = [] if middle is None else [(middle.get("at", HALF_WAY), middle)]
    return [(0.0, pose["start"]), *between_ends, (1.0, pose["end"])]


def span(pose: dict, share: float) -> tuple[dict, dict, float]:
    """The two neighbouring keyframes around a share of the way, and the share between those two."""
    frames = keyframes(pose)
    (low, first), (high, last) = next(
        pair for pair in pairwise(frames) if share <= pair[1][0] or pair[1] is frames[-1]
    )
    return first, last, (share - low) / (high - low)


def mixed_angles(first: dict, last: dict, part: float) -> dict[str, float]:
    """Solved angles a ``part`` of the way from one keyframe to the next, in a straight line."""
    return {n: (1 - part) * here + part * there for n, here, there in _angles_of_both(first, last)}


def _angles_of_both(first: dict, last: dict) -> list[tuple[str, float, float]]:
    here, there = angles_of(first), angles_of(last)
    return [(n, here.get(n, 0.0), there.get(n, 0.0)) for n in sorted(here.keys() | there.keys())]


def between(pose: dict, shares: Iterable[float], points: Iterable[str] | None = None) -> Iterator[Skeleton]:
    """The body at each share (0 start, 1 end) of the movement.

    Solved angles go in a straight line from keyframe to keyframe. So do the hips, but where everything
    that touches at the later one has touched in the same place from the earlier one, it is held there: who
    stands up stays on the floor. Where ``points`` are named, the limbs they are not on may be missing.
    """
    ways: dict[int, _Way] = {}
    for share in shares:
        first, last, part = span(pose, share)
        if id(first) not in ways:
            ways[id(first)] = _Way(first, last, points)
        yield ways[id(first)].body(part)


class _Way:
    """The way from one keyframe to the next."""

    def __init__(self, first: dict, last: dict, points: Iterable[str] | None):
        self.angles = _angles_of_both(first, last)
        self.hips = list(zip(first["solved_hips"], last["solved_hips"], strict=True))
        self.held = _held(first, last)
        self.limbs = LIMBS if points is None else sorted(limbs_of([*points, *self.held]))

    def body(self, part: float) -> Skeleton:
        """The body a ``part`` of this way on."""
        angles = {name: (1 - part) * here + part * there for name, here, there in self.angles}
        hips = [(1 - part) * here + part * there for here, there in self.hips]
        body = stand(angles, hips, limbs=self.limbs)
        if not self.held:
            return body
        slips = [(1 - part) * a + part * b - locate(body, name) for name, (a, b) in self.held.items()]
        x, _, z = np.mean(slips, axis=0)
        return body.moved((x, 0, z))


def _held(first: dict, last: dict) -> dict[str, tuple[np.ndarray, np.ndarray]]:
    """The points that touch at the later keyframe with their places at both, if all of them keep theirs."""
    begun = [touch["point"] for touch in first["touch"]]
    names = [touch["point"] for touch in last["touch"]]
    if not all(isinstance(name, str) and name in begun for name in names):
        return {}
    limbs = limbs_of(names)
    here, there = (stand(angles_of(frame), frame["solved_hips"], limbs=limbs) for frame in (first, last))
    places = {name: (locate(here, name), locate(there, name)) for name in names}
    return places if all(np.linalg.norm(a - b) < _STILL for a, b in places.values()) else {}


def tracks(pose: dict) -> list[np.ndarray]:
    """Positions (n, 3) in metres of the points that the movement's arrows follow: one, or two.

    SAMPLES of them along the way; of arrows that are all drawn as given only the end, where they are put.
    """
    names = [one["track"] for one in arrows(pose)]
    given = all("arrow_path" in one for one in arrows(pose))
    bodies = list(between(pose, [1.0] if given else np.linspace(0, 1, SAMPLES).tolist(), names))
    return [np.array([locate(body, name) for body in bodies]) for name in names]


def arrows(pose: dict) -> list[dict]:
    """What a pose says of each of its arrows: ``track``, and ``arrow_off`` or ``arrow_path`` where it has them."""
    return [pose, pose["second_arrow"]] if "second_arrow" in pose else [pose]
