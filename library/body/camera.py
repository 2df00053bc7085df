"""Orthographic camera: metres to page units, and which side of a thing faces the viewer."""

from dataclasses import dataclass
from math import cos, radians, sin

import numpy as np

from library.body.outline import circles

UNITS_PER_METRE = 200.0  # one scale for every figure, so that figures side by side can be compared
DEFAULT_TURN, DEFAULT_HEIGHT = 14, 12
_THIN = 0.01  # page units


@dataclass(frozen=True)
class Camera:
    """View turned by ``turn`` degrees about the vertical and raised by ``height`` degrees."""

    across: np.ndarray  # page x
    down: np.ndarray  # page y
    towards: np.ndarray  # from the scene to the viewer, length 1
    page: np.ndarray  # across and down as columns

    @classmethod
    def of(cls, pose: dict) -> "Camera":
        """The camera of a pose (its ``camera`` entry, or the usual view)."""
        view = pose.get("camera", {})
        a = radians(view.get("turn", DEFAULT_TURN))
        e = radians(view.get("height", DEFAULT_HEIGHT))
        across = np.array((cos(a), sin(a), 0.0))
        towards = np.array((sin(a) * cos(e), -cos(a) * cos(e), sin(e)))
        up = np.cross(towards, across)
        across, down = across * UNITS_PER_METRE, -up * UNITS_PER_METRE
        return cls(across, down, towards, np.column_stack((across, down)))

    def flat(self, points) -> np.ndarray:
        """Page coordinates (…, 2), y downwards, of world points (…, 3) in metres."""
        return np.asarray(points, dtype=float) @ self.page

    def discs(self, centres, radii) -> np.ndarray:
        """Outlines (n, m, 2) on the page of balls with world centres (n, 3) and radii (n,) in metres."""
        return circles(self.flat(centres), np.asarray(radii) * UNITS_PER_METRE)

    def depth(self, points) -> np.ndarray:
        """How far towards the viewer each point lies, in metres."""
        return np.asarray(points, dtype=float) @ self.towards

    def spreads(self, frames: np.ndarray, radii) -> np.ndarray:
        """Matrices (n, 2, 2) that map the unit circle to the outlines of ellipsoids on the page.

        ``frames`` (n, 3, 3) or (3, 3) hold the ellipsoids' axes as columns, ``radii`` (n, 3) their half
        lengths in metres.
        """
        flat_axes = self.page.T @ (frames * np.asarray(radii)[:, None, :])
        square = flat_axes @ flat_axes.swapaxes(1, 2)
        spreads = np.zeros_like(
            square
        )  # the Cholesky factor, written out; what is seen edge on keeps a little width
        spreads[:, 0, 0] = np.sqrt(np.maximum(square[:, 0, 0], _THIN**2))
        spreads[:, 1, 0] = square[:, 1, 0] / spreads[:, 0, 0]
        spreads[:, 1, 1] = np.sqrt(np.maximum(square[:, 1, 1] - spreads[:, 1, 0] ** 2, _THIN**2))
        return spreads
