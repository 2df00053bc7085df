"""How much of a drawn body lies near a place on the page."""

import numpy as np

from library.body.flesh import Rings


def covered(spots: np.ndarray, part: Rings, reach: float) -> np.ndarray:
    """How many pieces of a part of the body come within ``reach`` of each spot (n, 2), page units.

    A piece is taken as a stroke from round to round with their larger radius: never less than what is drawn.
    """
    middles = part.outlines.mean(axis=1)
    radii = np.hypot(*np.moveaxis(part.outlines - middles[:, None], -1, 0)).max(axis=1)
    start, stop = middles[part.pairs[:, 0]], middles[part.pairs[:, 1]]
    along = stop - start
    length = np.maximum((along**2).sum(axis=1), 1e-9)
    beside = spots[:, None] - start
    share = np.clip((beside * along).sum(axis=2) / length, 0, 1)
    away = np.hypot(*np.moveaxis(beside - share[..., None] * along, -1, 0))
    thick = (1 - share) * radii[part.pairs[:, 0]] + share * radii[part.pairs[:, 1]]
    return (away < thick + reach).sum(axis=1)
