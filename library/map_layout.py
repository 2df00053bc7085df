"""Where the boxes and lines of a map of exercises go: easier below, harder above. Plain computation.

A layered drawing after Sugiyama, Tagawa and Toda (1981): layers by longest path, order within a layer by
barycentre, then places along the layer by isotonic regression. Lines run only in the channels between rows and,
where they pass a row, in a place kept free for them, so that no line can cross a label. Lengths are units of the
drawing, x to the right, y downward, rounded to a tenth.
"""

from collections import deque
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

MOST_SHOWN = 24
# Boxes in a row, and sizes. A letter is measured on the wide side, so that a line of words fits its box.
MOST_IN_ROW = 4
BOX, TRUNK, GAP, CHANNEL, EDGE = 168.0, 8.0, 14.0, 46.0, 8.0
LINE, FOOT_LINE, PAD = 19.0, 18.0, 9.0
LEAST_HEIGHT = 66.0
LETTERS = 18
LEAST_WIDTH = 736.0
_SWEEPS = 10

Arrow = tuple[str, str]  # (the easier, the harder)


@dataclass(frozen=True)
class Box:
    """One exercise: its upper left corner, its size and its name in lines."""

    id: str
    row: int
    x: float
    y: float
    width: float
    height: float
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Line:
    """The way from the top of the easier box to the foot of the harder one.

    points: each channel is passed from an even place to the odd one after it, each row straight up.
    """

    below: str
    above: str
    soft: bool
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Layout:
    width: float
    height: float
    boxes: tuple[Box, ...]
    lines: tuple[Line, ...]


def around(focus: str, arrows: Iterable[Arrow], most: int = MOST_SHOWN) -> tuple[list[str], int]:
    """Return the exercises to show around one, nearest first and itself before all, and how many are left out.

    What leads to it from below and what grows from it; not what merely shares a neighbour with it.
    """
    below, above = _both_ways(arrows)
    steps = {focus: 0}
    for next_to in (below, above):
        _reach(focus, next_to, steps)
    ranked = sorted(steps, key=steps.__getitem__)
    return ranked[:most], max(0, len(ranked) - most)


def _reach(focus, next_to, steps) -> None:
    waiting = deque([(focus, 0)])
    seen = {focus}
    while waiting:
        here, far = waiting.popleft()
        for other in next_to.get(here, ()):
            if other not in seen:
                seen.add(other)
                steps.setdefault(other, far + 1)
                waiting.append((other, far + 1))


def among(
    wanted: Sequence[str], arrows: Iterable[Arrow], most: int = MOST_SHOWN, first: Collection[str] = ()
) -> tuple[list[str], int]:
    """Return which of some exercises to show together, and how many are left out.

    Those in `first` come first, then those with the most lines to the others, then the order given.
    """
    inside = set(wanted)
    ties = dict.fromkeys(wanted, 0)
    for low, high in arrows:
        if low in inside and high in inside:
            ties[low] += 1
            ties[high] += 1
    ranked = sorted(wanted, key=lambda key: (key not in first, -ties[key]))
    return ranked[:most], max(0, len(ranked) - most)


def laid(
    names: Mapping[str, str], arrows: Iterable[Arrow], soft: Collection[Arrow] = (), foot_lines: int = 1
) -> Layout:
    """Return the layout of some exercises.

    names: id -> the words in its box. arrows: (easier, harder); those to others are passed over, and together
    they must form no circle. soft: those of them that are drawn apart, in another stroke. foot_lines: lines of
    small words under each name.
    """
    arrows = sorted({(low, high) for low, high in arrows if low in names and high in names})
    rows_of = layers(list(names), arrows)
    ways = _ways(arrows, rows_of, soft)
    rows = _rows(names, rows_of, ways)
    next_to = _next_to(ways)
    _untangle(rows, next_to)
    width = max([LEAST_WIDTH, *(_needed(row) + 2 * EDGE for row in rows)])
    across = _across(rows, next_to, width)
    return _built(names, rows, across, ways, soft, width, foot_lines)


def layers(ids: Sequence[str], arrows: Collection[Arrow], most: int = MOST_IN_ROW) -> dict[str, int]:
    """Return the row of each exercise, 0 lowest: above all that is easier, at most `most` in a row.

    ValueError where the arrows form a circle.
    """
    below, above = _both_ways(arrows)
    depth = _longest(ids, below)
    row: dict[str, int] = {}
    filled: dict[int, int] = {}

    def free(place: int, step: int) -> int:
        while filled.get(place, 0) >= most:
            place += step
        return place

    for key in sorted(ids, key=depth.__getitem__):
        lowest = max((row[low] + 1 for low in below.get(key, ())), default=0)
        row[key] = free(lowest, 1)
        filled[row[key]] = filled.get(row[key], 0) + 1
    for key in ids:  # what rests on nothing here stands as near as it can to what grows from it
        if key not in below and key in above:
            place = free(min(row[high] for high in above[key]) - 1, -1)
            if place > row[key]:
                filled[row[key]] -= 1
                filled[place] = filled.get(place, 0) + 1
                row[key] = place
    used = {place: number for number, place in enumerate(sorted(set(row.values())))}
    return {key: used[place] for key, place in row.items()}


def _longest(ids, below) -> dict[str, int]:
    depth: dict[str, int] = {}
    waiting = list(ids)
    while waiting:
        ready = [key for key in waiting if all(low in depth for low in below.get(key, ()))]
        if not ready:
            raise ValueError(f"These exercises lead back to themselves: {', '.join(waiting)}.")
        for key in ready:
            depth[key] = max((depth[low] + 1 for low in below.get(key, ())), default=0)
        waiting = [key for key in waiting if key not in depth]
    return depth


def _both_ways(arrows) -> tuple[dict[str, list[str]], dict[str, list[str]]]:
    below: dict[str, list[str]] = {}
    above: dict[str, list[str]] = {}
    for low, high in arrows:
        below.setdefault(high, []).append(low)
        above.setdefault(low, []).append(high)
    return below, above


def _ways(arrows, rows_of, soft) -> dict[Arrow, list]:
    """Return what each arrow passes, row by row: a box, places kept free, a box.

    All arrows of one kind from one box share their places, as a stem with branches.
    """
    return {
        (low, high): [
            low,
            *((low, row, (low, high) in soft) for row in range(rows_of[low] + 1, rows_of[high])),
            high,
        ]
        for low, high in arrows
    }


def _rows(names, rows_of, ways) -> list[list]:
    rows: list[list] = [[] for _row in range(max(rows_of.values(), default=-1) + 1)]
    for key in names:
        rows[rows_of[key]].append(key)
    for place in dict.fromkeys(one for way in ways.values() for one in way[1:-1]):
        rows[place[1]].append(place)
    return rows


def _next_to(ways) -> dict[object, dict[str, list]]:
    found: dict = {}
    for low, high in dict.fromkeys(pair for way in ways.values() for pair in zip(way, way[1:], strict=False)):
        found.setdefault(low, {"up": [], "down": []})["up"].append(high)
        found.setdefault(high, {"up": [], "down": []})["down"].append(low)
    return found


def _untangle(rows, next_to) -> None:
    """Order each row by where its neighbours stand in the row before, up and down again, and keep the best."""
    best, fewest = [list(row) for row in rows], _crossings(rows, next_to)
    for sweep in range(_SWEEPS):
        way = "down" if sweep % 2 == 0 else "up"
        order = rows[1:] if way == "down" else rows[-2::-1]
        for row in order:
            _by_barycentre(row, rows, next_to, way)
        crossed = _crossings(rows, next_to)
        if crossed < fewest:
            best, fewest = [list(row) for row in rows], crossed
    for row, kept in zip(rows, best, strict=True):
        row[:] = kept


def _by_barycentre(row, rows, next_to, way) -> None:
    place = {one: (number + 0.5) / len(other) for other in rows for number, one in enumerate(other)}

    def wanted(one) -> float:
        others = next_to.get(one, {}).get(way, ())
        return sum(place[other] for other in others) / len(others) if others else place[one]

    row.sort(key=wanted)


def _crossings(rows, next_to) -> int:
    place = {one: number for row in rows for number, one in enumerate(row)}
    found = 0
    for row in rows:
        pairs = [(place[one], place[up]) for one in row for up in next_to.get(one, {}).get("up", ())]
        found += sum((a - c) * (b - d) < 0 for n, (a, b) in enumerate(pairs) for c, d in pairs[:n])
    return found


def _width(one) -> float:
    return BOX if isinstance(one, str) else TRUNK


def _needed(row) -> float:
    return sum(map(_width, row)) + GAP * max(0, len(row) - 1)


def _across(rows, next_to, width) -> dict[object, float]:
    """Return the middle of every box and of every place kept free, near its neighbours and clear of the next."""
    across: dict = {}
    for row in rows:
        across |= _spread(row, [width / 2] * len(row), width)
    for sweep in range(_SWEEPS):
        for row in rows if sweep % 2 else rows[::-1]:
            wanted = [_mean(across, next_to.get(one), across[one]) for one in row]
            across |= _spread(row, wanted, width)
    return across


def _mean(across, sides, otherwise: float) -> float:
    others = [across[other] for way in (sides or {}).values() for other in way]
    return sum(others) / len(others) if others else otherwise


def _spread(row, wanted, width) -> dict[object, float]:
    """Return places as near as can be to those wanted, in order, a gap apart, within the width.

    Isotonic regression by pooling neighbours that want to change places (Ayer and others, 1955).
    """
    start, starts = EDGE, []
    for one in row:
        starts.append(start + _width(one) / 2)
        start += _width(one) + GAP
    room = width - EDGE - (start - GAP)
    pools: list[list[float]] = []
    for want, first in zip(wanted, starts, strict=True):
        pools.append([want - first, 1])
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (a, m), (b, n) = pools[-2:]
            pools[-2:] = [[(a * m + b * n) / (m + n), m + n]]
    moved = [min(max(shift, 0.0), room) for shift, many in pools for _one in range(int(many))]
    return {one: first + shift for one, first, shift in zip(row, starts, moved, strict=True)}


def _built(names, rows, across, ways, soft, width, foot_lines) -> Layout:
    lines = {key: wrapped(name) for key, name in names.items()}
    heights = [
        max(LEAST_HEIGHT, 2 * PAD + LINE * _most_lines(row, lines) + FOOT_LINE * foot_lines) for row in rows
    ]
    height = 2 * EDGE + sum(heights) + CHANNEL * max(0, len(rows) - 1)
    tops, y = [], height - EDGE
    for tall in heights:
        tops.append(y - tall)
        y -= tall + CHANNEL
    boxes = [
        Box(one, n, _round(across[one] - BOX / 2), _round(tops[n]), BOX, heights[n], lines[one])
        for n, row in enumerate(rows)
        for one in row
        if isinstance(one, str)
    ]
    at = {one: n for n, row in enumerate(rows) for one in row}
    drawn = [
        Line(*arrow, arrow in soft, _points(way, across, at, tops, heights)) for arrow, way in ways.items()
    ]
    return Layout(_round(width), _round(height), tuple(boxes), tuple(drawn))


def _most_lines(row, lines) -> int:
    return max(len(lines[one]) for one in row if isinstance(one, str))


def _points(way, across, at, tops, heights) -> tuple:
    points = []
    for one in way:
        x, row = _round(across[one]), at[one]
        ends = [(x, _round(tops[row] + heights[row])), (x, _round(tops[row]))]
        points += ends[1:] if one == way[0] else ends[:1] if one == way[-1] else ends
    return tuple(points)


def _round(value: float) -> float:
    return round(value, 1)


def wrapped(words: str, letters: int = LETTERS, most: int = 4) -> tuple[str, ...]:
    """Break words into lines of at most so many letters, at most so many lines; what is left over ends in '…'."""
    lines: list[str] = []
    for word in words.split():
        if lines and len(lines[-1]) + 1 + len(word) <= letters:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    if len(lines) > most:
        lines = [*lines[: most - 1], " ".join(lines[most - 1 :])]
    return tuple(_cut(line, letters) for line in lines)


def _cut(line: str, letters: int) -> str:
    return line if len(line) <= letters else f"{line[: letters - 1].rstrip()}…"


def curves(line: Line) -> list[tuple[tuple[float, float], ...]]:
    """Return a line as cubic curves, four points each, one for every channel it passes."""
    pairs = zip(line.points[::2], line.points[1::2], strict=True)
    return [((x1, y1), (x1, (y1 + y2) / 2), (x2, (y1 + y2) / 2), (x2, y2)) for (x1, y1), (x2, y2) in pairs]
