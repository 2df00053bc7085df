"""How much of a drawn body lies near a place on the page."""

from dataclasses import dataclass

import numpy as np

from library.body.flesh import Rings


@dataclass(frozen=True)
class Strokes:
    """Pieces of a body as strokes from round to round: ends (n, 2) and radii (n,) there, page units."""

    start: np.ndarray
    along: np.ndarray
    radius: np.ndarray
    growth: np.ndarray

    @classmethod
    def of(cls, parts: list[Rings]) -> "Strokes":
        """The pieces of some parts of a body, each round with its larger radius: never less than is drawn."""
        starts, alongs, radii, growths = [], [], [], []
        for part in parts:
            middles = part.outlines.mean(axis=1)
            reach = np.sqrt(((part.outlines - middles[:, None]) ** 2).sum(axis=2).max(axis=1))
            first, last = part.pairs[:, 0], part.pairs[:, 1]
            starts.append(middles[first])
            alongs.append(middles[last] - middles[first])
            radii.append(reach[first])
            growths.append(reach[last] - reach[first])
        return cls(*(np.concatenate(one) for one in (starts, alongs, radii, growths)))

    def near(self, spots: np.ndarray, reach: float) -> np.ndarray:
        """How many pieces come within ``reach`` of each spot (n, 2)."""
        dx, dy = (spots[:, axis, None] - self.start[:, axis] for axis in (0, 1))
        along_x, along_y = self.along.T
        length = np.maximum(along_x * along_x + along_y * along_y, 1e-9)
        share = np.clip((dx * along_x + dy * along_y) / length, 0, 1)
        dx -= share * along_x
        dy -= share * along_y
        within = self.radius + share * self.growth + reach
        return np.count_nonzero(dx * dx + dy * dy < within * within, axis=1)
