"""Outlines of the parts of a body: limbs, trunk, head and hair, each worked out once for both phases of a pose.

A limb that does not move, a trunk that rides on a carriage, a limb that does what the other does: seen from where
everything is seen, they are the same outline in another place.
"""

import numpy as np
import shapely

from library.body.flesh import Hair, Rings
from library.body.outline import CLOSE_BODY, CLOSE_HEAD, convex_hull, merge, shapes
from library.body.silhouette import closed_lines

_ALIKE = 4  # decimals of a page unit in which outlines are the same

# What is known of a pose: by its look, where a part was drawn and the outlines of it and of what belongs to it.
Known = dict[tuple, tuple[np.ndarray, dict[str, shapely.Polygon]]]


def outlines(rings: dict[str, Rings], hair: Hair, known: Known) -> dict[str, shapely.Polygon]:
    """One polygon for each part of a body, with ``hair`` and, where it stands before the head, the ``bun``.

    ``known`` is what earlier calls for the same pose found; it is added to.
    """
    points = {name: part.outlines.reshape(-1, 2) for name, part in rings.items()}
    points["head"] = np.concatenate((points["head"], hair.cap, hair.bun))
    looks = {name: _look(places, rings[name]) for name, places in points.items()}
    new = {look: name for name, look in reversed(looks.items()) if look not in known}
    if new:
        drawn = _drawn({name: rings[name] for name in new.values()}, hair)
        for look, name in new.items():
            own = ("head", "hair", "bun") if name == "head" else (name,)
            known[look] = (
                points[name][0],
                {"" if one == name else one: drawn[one] for one in own if one in drawn},
            )
    found = {}
    for name, look in looks.items():
        origin, polygons = known[look]
        by = points[name][0] - origin
        for own, polygon in polygons.items():
            found[own or name] = _moved(polygon, by)
    return found


def _look(points: np.ndarray, part: Rings) -> tuple:
    """What a part looks like, wherever it is."""
    return ((points - points[0]).round(_ALIKE) + 0.0).tobytes(), (part.pairs.tobytes(), part.filled)


def _moved(polygon: shapely.Polygon, by: np.ndarray) -> shapely.Polygon:
    if not by.any():
        return polygon
    return shapely.transform(polygon, lambda places: places + by)


def _drawn(rings: dict[str, Rings], hair: Hair) -> dict[str, shapely.Polygon]:
    """The outlines of these parts, with hair and bun where the head is one of them."""
    lines = dict(zip(rings, closed_lines(list(rings.values())), strict=True))
    if "head" in lines:
        cap = convex_hull(hair.cap)
        beyond = [] if hair.bun_in_front else _outside(hair.bun, lines["head"])
        lines |= {"hair": [cap, *beyond], "head": [*lines["head"], cap, hair.bun]}
    close = [CLOSE_HEAD if name in ("head", "hair") else CLOSE_BODY for name in lines]
    found = dict(zip(lines, merge(list(lines.values()), close), strict=True))
    if "head" in lines and hair.bun_in_front:  # seen from behind it has an edge of its own
        found["bun"] = shapely.polygons(hair.bun)
    return found


def _outside(ring: np.ndarray, lines: list[np.ndarray]) -> list[np.ndarray]:
    """What of a ring lies outside of what some closed lines cover, as closed lines."""
    rest = shapely.difference(shapely.polygons(ring), shapely.buffer(shapes([lines])[0], 0))
    return [shapely.get_coordinates(part.exterior)[:-1] for part in shapely.get_parts(rest) if part]
