"""The way between a pose's two ends, for the arrow of the tracked point."""

import numpy as np

from library.body.points import locate
from library.body.skeleton import Skeleton, angles_of, stand

SAMPLES = 9


def between(pose: dict, share: float) -> Skeleton:
    """The body at ``share`` (0 start, 1 end) of the movement: solved angles and hips in a straight line."""
    start, end = pose["start"], pose["end"]
    first, last = angles_of(start), angles_of(end)
    names = sorted(first.keys() | last.keys())
    angles = {n: (1 - share) * first.get(n, 0.0) + share * last.get(n, 0.0) for n in names}
    hips = (1 - share) * np.asarray(start["solved_hips"]) + share * np.asarray(end["solved_hips"])
    return stand(angles, tuple(hips))


def track(pose: dict) -> np.ndarray:
    """Positions (SAMPLES, 3) in metres of the point the movement arrow follows."""
    shares = np.linspace(0, 1, SAMPLES)
    return np.array([locate(between(pose, float(share)), pose["track"]) for share in shares])
