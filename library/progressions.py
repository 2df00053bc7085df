"""The graph of easier and harder exercises, over the facts of the library.

An arrow leads down from an exercise to each it grows from (`progression_of`) and to each one goes to when it
does not work today (`regression_to`). Everything here takes `facts`: exercise id -> its facts. Ids that are
not among them are passed over.
"""

from collections import deque
from collections.abc import Collection, Iterator, Mapping

FOUNDATION = "foundation"
# From easy to hard.
LEVELS = (FOUNDATION, "building", "advanced")


def easier(exercise: str, facts: Mapping[str, Mapping]) -> tuple[str, ...]:
    """Return the exercises one step down, those it grows from first, each once."""
    one = facts[exercise]
    below = dict.fromkeys([*one["progression_of"], *one["regression_to"]])
    return tuple(other for other in below if other in facts)


def harder(exercise: str, facts: Mapping[str, Mapping]) -> tuple[str, ...]:
    """Return the exercises that grow from this one, in the order of `facts`.

    An exercise that only falls back on this one is no step up from it: it may train something else.
    """
    return tuple(key for key, one in facts.items() if exercise in one["progression_of"])


def circles(facts: Mapping[str, Mapping]) -> list[tuple[str, ...]]:
    """Return ways that lead from an exercise back to itself, each with its first exercise once.

    Every exercise that lies on a circle is on one of them; an exercise on none is on none of them. Nothing
    where the graph is as it should be.
    """
    arrows = _without_ends({key: easier(key, facts) for key in facts})
    found: dict[frozenset[str], tuple[str, ...]] = {}
    for key in arrows:
        if not any(key in members for members in found):
            way = _way_back(key, arrows)
            if way:
                found[frozenset(way)] = way
    return list(found.values())


def _without_ends(arrows: dict[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
    """Take away, again and again, what leads nowhere: nothing of it lies on a circle."""
    left = {key: set(below) for key, below in arrows.items()}
    above: dict[str, list[str]] = {key: [] for key in arrows}
    for key, below in arrows.items():
        for other in below:
            above[other].append(key)
    ends = [key for key, below in left.items() if not below]
    while ends:
        end = ends.pop()
        del left[end]
        for key in above[end]:
            left[key].discard(end)
            if not left[key]:
                ends.append(key)
    return {key: tuple(other for other in arrows[key] if other in left) for key in arrows if key in left}


def _way_back(start: str, arrows: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """Return a shortest way from `start` back to it, or nothing."""
    came_from: dict[str, str] = {}
    waiting = deque([start])
    while waiting:
        key = waiting.popleft()
        for other in arrows[key]:
            if other == start:
                return tuple(reversed(list(_steps(key, came_from))))
            if other not in came_from:
                came_from[other] = key
                waiting.append(other)
    return ()


def _steps(key: str, came_from: Mapping[str, str]) -> Iterator[str]:
    while True:
        yield key
        if key not in came_from:
            return
        key = came_from[key]


def ways_down(facts: Mapping[str, Mapping], studio_apparatus: Collection[str]) -> dict[str, tuple[str, ...]]:
    """Return for each exercise a shortest way down to a foundation exercise without studio apparatus.

    A way begins with the exercise itself and ends with the foundation one; an exercise that has no way is
    left out. studio_apparatus: ids of the apparatus that only a studio has.
    """
    above: dict[str, list[str]] = {key: [] for key in facts}
    for key in facts:
        for other in easier(key, facts):
            above[other].append(key)
    ways = {
        key: (key,)
        for key, one in facts.items()
        if one["level"] == FOUNDATION and one["apparatus"] not in studio_apparatus
    }
    waiting = deque(ways)
    while waiting:
        below = waiting.popleft()
        for key in above[below]:
            if key not in ways:
                ways[key] = (key, *ways[below])
                waiting.append(key)
    return ways
