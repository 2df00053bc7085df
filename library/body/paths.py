"""Page points to path text: one decimal, and as short as path data allow (SVG 2, chapter Paths).

All paths of a drawing are written at once: their numbers are worked out together, the words come from one table.
"""

import numpy as np
import shapely

_MOST_WORDS = 1 << 15


class _Words(dict):
    """Whole numbers of tenths as text, with a space where no minus sign parts them: 5 is `` .5``, -10 is ``-1``."""

    def __missing__(self, tenths: int) -> str:
        text = tenth(tenths)
        word = text if text[0] == "-" else " " + text
        if len(self) < _MOST_WORDS:
            self[tenths] = word
        return word


_words = _Words()


def smooth_paths(polygons: np.ndarray) -> list[str]:
    """Path text of each polygon with its holes: curves through the middles of its edges.

    The corners between them pull the curve. They lie on fifths of a unit, so that middles lie on tenths and each
    corner is exactly as far beyond its middle as the corner before: what ``t`` need not say.
    """
    rings, owners = shapely.get_rings(polygons, return_index=True)
    corners, rows = shapely.get_coordinates(rings, return_index=True)
    fifths = np.rint(corners * 5).astype(int)
    middles = fifths[:-1] + fifths[1:]
    words = [_words[step] for step in (middles[1:] - middles[:-1]).ravel().tolist()]
    ends = np.flatnonzero(rows[1:] - rows[:-1]).tolist()
    begins = [0, *(end + 1 for end in ends)]
    pulls, starts, lasts = (2 * fifths)[1:], middles[begins], middles[[*(end - 1 for end in ends), -1]]
    pulls = pulls[begins] - starts
    heads = np.concatenate((starts, pulls, starts - lasts), axis=1).tolist()
    paths = [""] * len(polygons)
    for owner, begin, end, head in zip(owners.tolist(), begins, [*ends, len(rows) - 1], heads, strict=True):
        step = _said(head[2:4]) + "".join(words[2 * begin : 2 * begin + 2])
        way = "".join([*words[2 * begin + 2 : 2 * end - 2], *map(_words.__getitem__, head[4:])])
        paths[owner] += f"M{_said(head[:2])}q{step}t{way.lstrip()}z"
    return _shortened(paths)


def edge_path(polygon) -> str:
    """Path text of a polygon's outer rim in straight lines."""
    return line_paths([((shapely.get_coordinates(polygon.exterior)[:-1],), True)])[0]


def line_paths(lines: list[tuple]) -> list[str]:
    """Path text of straight lines: for each path its strokes of page points (n, 2) and whether they are closed."""
    if not lines:
        return []
    strokes = [stroke for own, _ in lines for stroke in own]
    tenths = np.rint(np.concatenate(strokes) * 10).astype(int)
    steps = np.diff(tenths, axis=0, prepend=0)
    ends = np.cumsum([len(stroke) for stroke in strokes]).tolist()
    begins = [0, *ends[:-1]]
    number = 0
    for (
        own,
        closed,
    ) in lines:  # a path begins where it says; after a stroke it goes on from where that left off
        steps[begins[number]] = tenths[begins[number]]
        if closed:
            for later in range(number + 1, number + len(own)):
                steps[begins[later]] = tenths[begins[later]] - tenths[begins[later - 1]]
        number += len(own)
    words = [_words[step] for step in steps.ravel().tolist()]
    texts = iter(
        "m" + "".join(words[2 * begin : 2 * end]).lstrip() for begin, end in zip(begins, ends, strict=True)
    )
    return _shortened(["".join(next(texts) + ("z" if closed else "") for _ in own) for own, closed in lines])


def curve_path(points: np.ndarray) -> str:
    """Path text of one open smooth curve through page points (n, 2), n at least 3."""
    corners = np.asarray(points)
    # a spline through every point, cut so that each span is a cubic with the neighbours' slope
    slopes = np.gradient(corners, axis=0, edge_order=2) / 3
    controls = np.concatenate((corners[:-1] + slopes[:-1], corners[1:] - slopes[1:], corners[1:]), axis=1)
    return _cubics(corners, controls)


def cubic_path(start: np.ndarray, spans: np.ndarray) -> str:
    """Path text of cubics one after another from a page point: of each its two pulls and its end (n, 3, 2)."""
    return _cubics(np.concatenate((start[None], spans[:, 2])), spans.reshape(-1, 6))


def _cubics(corners: np.ndarray, controls: np.ndarray) -> str:
    tenths = np.rint(corners * 10).astype(int)
    steps = np.rint(controls * 10).astype(int) - np.tile(tenths[:-1], 3)
    return _shortened([f"M{_said(tenths[0].tolist())}c{_said(steps.ravel().tolist())}"])[0]


def _said(tenths: list[int]) -> str:
    """Numbers one after another; a minus sign is separator enough."""
    return "".join([_words[value] for value in tenths]).lstrip()


def _shortened(paths: list[str]) -> list[str]:
    """The same without the space between a decimal and a point: .5.5 are two numbers."""
    text = "\n".join(paths)
    for digit in "123456789":
        text = text.replace(f".{digit} .", f".{digit}.")
    return text.split("\n")


def tenth(value: int) -> str:
    """A whole number of tenths as the shortest text: 5 is .5, -10 is -1."""
    text = f"{int(value) / 10:g}"
    if text.startswith("0."):
        return text[1:]
    return "-" + text[2:] if text.startswith("-0.") else text


def number(value: float) -> str:
    """A number rounded to a tenth as the shortest text."""
    return tenth(round(value * 10))
