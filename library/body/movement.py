"""The way between a pose's two ends, for the arrow of the tracked point."""

from collections.abc import Iterable, Iterator

import numpy as np

from library.body.points import locate
from library.body.skeleton import Skeleton, angles_of, stand

SAMPLES = 9
_STILL = 0.01  # metres: what moves less than this from start to end keeps its place


def between(pose: dict, shares: Iterable[float]) -> Iterator[Skeleton]:
    """The body at each share (0 start, 1 end) of the movement.

    Solved angles go in a straight line from end to end. So do the hips, but where everything that touches
    at the end has touched in the same place from the start, it is held there: who stands up stays on the
    floor.
    """
    start, end = pose["start"], pose["end"]
    first, last = angles_of(start), angles_of(end)
    names = sorted(first.keys() | last.keys())
    hips = np.array((start["solved_hips"], end["solved_hips"]))
    held = _held(pose, stand(first, tuple(hips[0])), stand(last, tuple(hips[1])))
    for share in shares:
        angles = {n: (1 - share) * first.get(n, 0.0) + share * last.get(n, 0.0) for n in names}
        place = (1 - share) * hips[0] + share * hips[1]
        body = stand(angles, tuple(place))
        if held:
            slips = [(1 - share) * a + share * b - locate(body, name) for name, (a, b) in held.items()]
            x, _, z = np.mean(slips, axis=0)
            body = body.moved((x, 0, z))
        yield body


def _held(pose: dict, start: Skeleton, end: Skeleton) -> dict[str, tuple[np.ndarray, np.ndarray]]:
    """The points that touch at the end with their places at both ends, if all of them keep their place."""
    begun = [touch["point"] for touch in pose["start"]["touch"]]
    names = [touch["point"] for touch in pose["end"]["touch"]]
    if not all(isinstance(name, str) and name in begun for name in names):
        return {}
    places = {name: (locate(start, name), locate(end, name)) for name in names}
    return places if all(np.linalg.norm(a - b) < _STILL for a, b in places.values()) else {}


def track(pose: dict) -> np.ndarray:
    """Positions (SAMPLES, 3) in metres of the point the movement arrow follows, never below the floor.

    A foot that stands on its ball has rigid toes under the floor; they are drawn flat, and so is their path.
    """
    places = np.array([locate(body, pose["track"]) for body in between(pose, np.linspace(0, 1, SAMPLES))])
    places[:, 2] = np.maximum(places[:, 2], 0.0)
    return places
