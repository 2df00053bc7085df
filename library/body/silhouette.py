"""Round pieces joined pair by pair, as shapes on the page: what each part of the body covers.

The hull of every pair is covered. Neighbouring pairs share a piece, so a whole chain of pieces is walked as one
line: out along one side of it and back along the other. Where a chain bends, the line crosses itself on the
inner side and runs twice round what it covers twice; it never runs the other way round. That is all an offset
needs, which counts how often a place is gone round: no union has to be made first, the costliest step of all.
"""

import numpy as np

from library.body.outline import convex_hull

_TOUCH = 1e-9  # page units: what is as near as this lies on the same line

Run = tuple[int, int]  # the edges of a piece that lie on a hull: the first one and how many


def closed_lines(parts: list) -> list[list[np.ndarray]]:
    """For each part (``flesh.Rings``) closed lines of page points (k, 2) that together cover its hulls.

    But for the tip of a piece that comes out of another with less than one edge: no page unit is lost by that.
    """
    firsts = np.cumsum([0, *(len(part.outlines) for part in parts[:-1])])
    outlines = np.concatenate([part.outlines for part in parts])
    pairs = np.concatenate([part.pairs + first for part, first in zip(parts, firsts, strict=True)])
    steps, begin, found = _steps(outlines, pairs), 0, []
    for part, first in zip(parts, firsts.tolist(), strict=True):
        end = begin + len(part.pairs)
        lines = _lines(
            outlines, pairs[begin:end].tolist(), steps[begin:end], {first + row for row in part.filled}
        )
        if part.filled:
            lines.append(convex_hull(part.outlines[[*part.filled]].reshape(-1, 2)))
        found.append(lines)
        begin = end
    return found


def _lines(outlines: np.ndarray, pairs: list, steps: list, filled: set[int]) -> list[np.ndarray]:
    """The closed lines round the pairs of one part, but for those between ``filled`` pieces."""
    size, points = outlines.shape[1], outlines.reshape(-1, 2)
    chains: list[_Chain] = []
    crossing, covering, same = [], set(), {}
    for (one, other), (here, there) in zip(pairs, steps, strict=True):
        if one in filled and other in filled:
            continue
        one, other = same.get(one, one), same.get(other, other)
        if here[1] == there[1] == size:  # where one bone ends and the next begins: one piece, said twice
            same[other] = one
            covering.add(one)
        elif here[1] == size or there[1] == size:
            covering.add(one if here[1] == size else other)
        elif not here[1] or not there[1]:
            crossing.append((one, other))
        elif not (chains and chains[-1].extend(one, other, here, there)):
            chains.append(_Chain([one, other], [(here, there)]))
    lines = [points[chain.walk(size)] for chain in chains]
    lines += [convex_hull(outlines[[*pair]].reshape(-1, 2)) for pair in crossing]
    in_lines = {piece for chain in chains for piece in chain.pieces}.union(*crossing)
    return lines + [outlines[piece] for piece in sorted(covering - in_lines)]


def _steps(outlines: np.ndarray, pairs: np.ndarray) -> list[tuple[Run, Run]]:
    """For each pair the runs of the one and of the other that lie on the hull of both."""
    edges = np.concatenate((outlines[:, 1:], outlines[:, :1]), axis=1) - outlines
    outwards = np.stack((edges[..., 1], -edges[..., 0]), axis=2)
    own = (outlines * outwards).sum(axis=2) + _TOUCH
    one, other = pairs.T
    across = outlines.swapaxes(1, 2)
    here = own[one] >= (outwards[one] @ across[other]).max(axis=2)
    there = own[other] >= (outwards[other] @ across[one]).max(axis=2)
    return list(zip(_runs(here), _runs(there), strict=True))


def _runs(on_hull: np.ndarray) -> list[Run]:
    """The edges on a hull (n, m) as runs; all of a piece that covers the other is a run, 0 long is no run.

    There is none where outlines cross more than twice, so that the edges follow each other with a gap.
    """
    begins = on_hull & ~np.concatenate((on_hull[:, -1:], on_hull[:, :-1]), axis=1)
    counts = np.where(begins.sum(axis=1) > 1, 0, on_hull.sum(axis=1))
    return list(zip(begins.argmax(axis=1).tolist(), counts.tolist(), strict=True))


class _Chain:
    """Pieces one after another, and for each step the runs of the piece before and after it."""

    def __init__(self, pieces: list[int], steps: list[tuple[Run, Run]]):
        self.pieces, self.steps = pieces, steps

    def extend(self, one: int, other: int, here: Run, there: Run) -> bool:
        """Add a pair at either end, if it shares the piece there and does not close the chain to a ring."""
        if (one in self.pieces) == (other in self.pieces):
            return False
        if other in self.pieces:
            one, other, here, there = other, one, there, here
        if self.pieces[-1] == one:
            self.pieces.append(other)
            self.steps.append((here, there))
        elif self.pieces[0] == one:
            self.pieces.insert(0, other)
            self.steps.insert(0, (there, here))
        return other in (self.pieces[0], self.pieces[-1])

    def walk(self, size: int) -> list[int]:
        """Row numbers of the points on the way round, ``size`` to each piece."""
        rows = [[*range(piece * size, (piece + 1) * size)] * 2 for piece in self.pieces]
        (first, count), (begin, rest) = self.steps[0][0], self.steps[-1][1]
        turns = list(zip(rows[1:-1], self.steps[:-1], self.steps[1:], strict=True))
        way = rows[0][first : first + count + 1]
        for own, (_, before), (after, _) in turns:
            way += _round(own, before, after)
        way += rows[-1][begin : begin + rest + 1]
        for own, (_, before), (after, _) in reversed(turns):
            way += _round(own, after, before)
        return way


def _round(rows: list[int], arrive: Run, leave: Run) -> list[int]:
    """Points of a piece from where one run begins to where the other ends: on along it, or back if it bends in.

    rows: those of the piece, twice over.
    """
    size = len(rows) // 2
    start, (first, count) = arrive[0], leave
    if (start - first) % size < count:
        return rows[start : start + (first + count - start) % size + 1]
    back = (start - first - count) % size
    return rows[start + size - back : start + size + 1][::-1]
