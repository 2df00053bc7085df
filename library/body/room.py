"""How much of a drawing lies near a place on the page."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from library.body.flesh import Rings


@dataclass(frozen=True)
class Strokes:
    """Strokes from round to round: ends (n, 2) and radii (n,) there, page units."""

    start: np.ndarray
    along: np.ndarray
    radius: np.ndarray
    growth: np.ndarray

    @classmethod
    def of(cls, parts: Iterable[Rings]) -> "Strokes":
        """The pieces of some parts of a body, each round with its larger radius: never less than is drawn."""
        starts, stops, radii = [], [], []
        for part in parts:
            middles = part.outlines.mean(axis=1)
            arms = part.outlines - middles[:, None]
            reach = np.sqrt(np.einsum("nmx,nmx->nm", arms, arms).max(axis=1))
            first, last = part.pairs.T
            starts.append(middles[first])
            stops.append(middles[last])
            radii.append((reach[first], reach[last]))
        start, stop, radius = np.concatenate(starts), np.concatenate(stops), np.concatenate(radii, axis=1)
        return cls(start, stop - start, radius[0], radius[1] - radius[0])

    @classmethod
    def along_lines(cls, lines: Iterable[np.ndarray]) -> "Strokes":
        """The straight pieces of lines, each through page points (n, 2), without any width."""
        starts, steps = [np.empty((0, 2))], [np.empty((0, 2))]
        for line in lines:
            starts.append(line[:-1])
            steps.append(line[1:] - line[:-1])
        start = np.concatenate(starts)
        return cls(start, np.concatenate(steps), np.zeros(len(start)), np.zeros(len(start)))

    def gaps(self, spots: np.ndarray) -> np.ndarray:
        """How far each spot (n, 2) is from the rim of each stroke (m,), less than nothing inside: (n, m)."""
        share, apart = self._apart(spots)
        share *= self.growth
        share += self.radius
        return np.sqrt(apart, out=apart) - share

    def near(self, spots: np.ndarray, reach: float) -> np.ndarray:
        """How many strokes come within ``reach`` of each spot (n, 2)."""
        share, apart = self._apart(spots)
        share *= self.growth
        share += self.radius + reach
        share *= share
        return np.count_nonzero(apart < share, axis=1)

    def _apart(self, spots: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """How far along each stroke each spot lies, as a share, and the square of how far it is from there."""
        length = np.maximum((self.along * self.along).sum(axis=1), 1e-9)
        # squares written out
        share = spots @ (self.along / length[:, None]).T
        share -= (self.start * self.along).sum(axis=1) / length
        np.clip(share, 0, 1, out=share)
        dx = spots[:, :1] - self.start[:, 0]
        dx -= share * self.along[:, 0]
        dy = spots[:, 1:] - self.start[:, 1]
        dy -= share * self.along[:, 1]
        dx *= dx
        dy *= dy
        dx += dy
        return share, dx
