"""Flat pieces of a drawing, and the helpers that turn slabs, posts and springs into them."""

from dataclasses import dataclass, field

import numpy as np
import shapely

from library.body.camera import Camera
from library.body.paths import curve_path, line_paths

SHEETS = ("ground", "behind", "between_arms", "between_legs", "front")


@dataclass(frozen=True)
class Piece:
    """One painted path: its role in the paint and its strokes, each a row of page points (n, 2)."""

    role: str
    strokes: tuple[np.ndarray, ...]
    closed: bool = False
    curved: bool = False

    @property
    def path(self) -> str:
        """The path text; written only when it is asked for, as bounds need the points alone."""
        return paths_of([self])[0]


def paths_of(pieces: list[Piece]) -> list[str]:
    """The path text of each piece."""
    straight = iter(line_paths([(piece.strokes, piece.closed) for piece in pieces if not piece.curved]))
    return [
        "".join(curve_path(stroke) for stroke in piece.strokes) if piece.curved else next(straight)
        for piece in pieces
    ]


@dataclass
class Layers:
    """What is not the body, in drawing order.

    The ground under everything; behind the body, before its near arm, before its near leg, in front.
    """

    camera: Camera
    ground: list[Piece] = field(default_factory=list)
    behind: list[Piece] = field(default_factory=list)
    between_arms: list[Piece] = field(default_factory=list)
    between_legs: list[Piece] = field(default_factory=list)
    front: list[Piece] = field(default_factory=list)

    @property
    def pieces(self) -> list[Piece]:
        """Everything, from back to front."""
        return [piece for sheet in SHEETS for piece in getattr(self, sheet)]

    def written(self) -> dict[str, list[tuple[str, str]]]:
        """Roles and path texts of the pieces of each sheet."""
        texts = iter(paths_of(self.pieces))
        return {sheet: [(piece.role, next(texts)) for piece in getattr(self, sheet)] for sheet in SHEETS}

    def slab(self, x, y, z, *, front: bool = False, roles=("top", "appfill", "side")) -> None:
        """A box from ``x[0]`` to ``x[1]`` and so on: the three faces that turn to the viewer."""
        for role, corners in zip(roles, self.faces(x, y, z), strict=True):
            self.face(role, corners, front=front)

    def faces(self, x, y, z) -> tuple[tuple, tuple, tuple]:
        """Corners of the top, the near and the end face of a box that turn to the viewer."""
        (x0, x1), (y0, y1), (z0, z1) = sorted(x), sorted(y), sorted(z)
        end = x1 if self.camera.towards[0] > 0 else x0
        return (
            ((x0, y0, z1), (x1, y0, z1), (x1, y1, z1), (x0, y1, z1)),
            ((x0, y0, z0), (x1, y0, z0), (x1, y0, z1), (x0, y0, z1)),
            ((end, y0, z0), (end, y1, z0), (end, y1, z1), (end, y0, z1)),
        )

    def face(self, role: str, *patches, front: bool = False) -> None:
        """Flat patches, each with corners (n, 3) in metres, as one path."""
        flat = tuple(self.camera.flat(corners) for corners in patches)
        self._layer(front).append(Piece(role, flat, closed=True))

    def line(self, role: str, *strokes, front: bool = False) -> None:
        """Open lines, each a row of points in metres, as one path."""
        if strokes:
            self._layer(front).append(Piece(role, tuple(self.camera.flat(stroke) for stroke in strokes)))

    def posts(self, *strokes, front: bool = False, far: bool = False) -> None:
        """Round tubes: a dark line with a light core."""
        role = "post-far" if far else "post"
        self.line(role, *strokes, front=front)
        self.line(f"{role}-core", *strokes, front=front)

    def springs(self, *pairs, front: bool = False, turns: int = 11, width: float = 2.6) -> None:
        """Coil springs between pairs of points, drawn as zigzags of ``width`` page units."""
        coils = tuple(zigzag(*self.camera.flat(pair), turns, width) for pair in pairs)
        self._layer(front).append(Piece("spring", coils))

    def extruded(self, profile, y) -> None:
        """A bulging ``profile`` of (x, z) drawn out from ``y[0]`` to ``y[1]``: its shell and its near face."""
        near, far = (self.camera.flat([(x, side, z) for x, z in profile]) for side in y)
        shell = shapely.convex_hull(shapely.multipoints(np.concatenate((near, far))))
        self.behind.append(Piece("top", (shapely.get_coordinates(shell)[:-1],), closed=True))
        self.behind.append(Piece("appfill", (near,), closed=True))

    def _layer(self, front: bool) -> list[Piece]:
        return self.front if front else self.behind


def zigzag(start: np.ndarray, stop: np.ndarray, turns: int, width: float) -> np.ndarray:
    """Page points of a spring with straight hooks at both ends."""
    along = stop - start
    length = max(float(np.hypot(*along)), 0.1)
    across = np.array((-along[1], along[0])) / length * width
    shares = np.linspace(0.08, 0.92, 2 * turns)
    signs = np.where(np.arange(2 * turns) % 2, 1.0, -1.0)
    coil = start + shares[:, None] * along + signs[:, None] * across
    hooks = (start, start + 0.05 * along), (start + 0.95 * along, stop)
    return np.concatenate((hooks[0], coil, hooks[1]))


def angle_in(phase: dict, name: str) -> float | None:
    """The bar or pedal angle that the contacts of a phase name."""
    return next((touch[name] for touch in phase["touch"] if name in touch), None)
