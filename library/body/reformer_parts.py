"""What is put on a reformer or in its footbar's place: long box, jump board, standing platform, foot strap.

A scene asks for them: ``"box": "long"`` (lengthwise on the carriage, against its shoulder rests),
``"board": true`` (instead of the footbar), ``"platform": true`` (at the foot end, level with the carriage;
the footbar lies down under it). With ``"box": "short"`` the feet are held by the foot strap; a phase's
``"strapped"`` (``"l"`` or ``"r"``) leaves it to one foot. ``"ear_cushion": true`` fills the gap between the
head rest and the head of somebody who lies on one side. ``"floor"`` (``[[x0, x1], [y0, y1]]``) is a mat that shows
where the floor is, for those who stand beside the frame.
Sizes in metres: common practice, no source.
"""

from itertools import pairwise

import numpy as np

from library.body.outline import convex_hull
from library.body.points import locate
from library.body.scene import Layers, Piece
from library.body.skeleton import Skeleton
from library.body.surfaces import BED, BOARD_X, BOX_HEIGHT

LONG_BOX_X, LONG_BOX_HALF_WIDTH = (-0.29, 0.57), 0.20  # from the carriage's middle
BOARD_THICK, BOARD_HALF_WIDTH, BOARD_Z = 0.035, 0.27, (0.36, 1.0)
PLATFORM_X, PLATFORM_HALF_WIDTH, PLATFORM_THICK = (-0.36, 0.09), 0.31, 0.03
_STRAP_END, _FRAME_TOP = 0.07, 0.30
STRAP_HALF_WIDTH, _STRAP_Y, _FOOT_HALF_WIDTH, _STRAP_SKIN = 0.022, 0.15, 0.045, 0.012
_LOOP_HALF_WIDTH, _FIST_HALF_WIDTH, _FLOOR_THICK = 0.018, 0.036, 0.010
_BAND_HALF_WIDTH, _SOLE_HALF_WIDTH = 0.014, 0.034


def long_box(layers: Layers, middle: float, y: float) -> None:
    """The box lengthwise on the carriage whose middle is at ``middle``."""
    w = LONG_BOX_HALF_WIDTH
    x = (middle + LONG_BOX_X[0], middle + LONG_BOX_X[1])
    layers.slab(x, (y - w, y + w), (BED, BED + BOX_HEIGHT))


def jump_board(layers: Layers, y: float) -> None:
    """An upright padded plate on two short posts."""
    w, back = BOARD_HALF_WIDTH, BOARD_X + BOARD_THICK
    layers.posts(*(((back, y + dy, _FRAME_TOP), (back, y + dy, BOARD_Z[0] + 0.03)) for dy in (0.2, -0.2)))
    layers.slab((BOARD_X, back), (y - w, y + w), BOARD_Z)


def platform(layers: Layers, y: float) -> None:
    """A firm board across the foot end of the frame, on two bearers."""
    (x0, x1), w = PLATFORM_X, PLATFORM_HALF_WIDTH
    layers.posts(
        *(((x, y - w, _FRAME_TOP), (x, y - w, BED - PLATFORM_THICK)) for x in (x0 + 0.05, x1 - 0.05))
    )
    layers.slab((x0, x1), (y - w, y + w), (BED - PLATFORM_THICK, BED))


def foot_strap(layers: Layers, phase: dict, body: Skeleton, y: float) -> None:
    """A flat strap from the frame over the insteps and back to the frame."""
    insteps = [locate(body, f"{side}.instep") for side in phase.get("strapped", "rl")]
    across, above = np.array((0, _FOOT_HALF_WIDTH, 0)), np.array((-_STRAP_SKIN, 0, _STRAP_SKIN))
    over = [insteps[0] - across + above, insteps[-1] + across + above]
    ends = [np.array((_STRAP_END, y + dy, _FRAME_TOP)) for dy in (-_STRAP_Y, _STRAP_Y)]
    along = np.array((STRAP_HALF_WIDTH, 0, 0))
    line = (ends[0], *over, ends[1])
    layers.face("top", *((a - along, a + along, b + along, b - along) for a, b in pairwise(line)), front=True)


def foot_loop(layers: Layers, body: Skeleton, side: str, *, front: bool) -> None:
    """The loop of a strap round one foot: its outline; the far one comes before the near leg."""
    along, across, _up = body.frames[f"{side}.foot"].T
    rim = [
        locate(body, f"{side}.{point}") + way * _BAND_HALF_WIDTH * along + edge * _SOLE_HALF_WIDTH * across
        for point in ("instep", "arch")
        for way in (-1, 1)
        for edge in (-1, 1)
    ]
    loop = convex_hull(layers.camera.flat(rim))
    (layers.front if front else layers.between_legs).append(Piece("top", (loop,), closed=True))


def hand_loop(layers: Layers, body: Skeleton, side: str, *, front: bool) -> None:
    """The loop of a strap across a fist: what of it faces the viewer."""
    palm, along = locate(body, f"{side}.palm"), body.frames[f"{side}.hand"][:, 2]
    across = np.cross(along, layers.camera.towards)
    across *= _FIST_HALF_WIDTH / max(float(np.linalg.norm(across)), 0.2)
    along = along * _LOOP_HALF_WIDTH
    loop = [palm - along - across, palm + along - across, palm + along + across, palm - along + across]
    (layers.front if front else layers.between_legs).append(
        Piece("top", (layers.camera.flat(loop),), closed=True)
    )


def floor(layers: Layers, reach: list) -> None:
    """A thin mat beside and under the frame."""
    (x0, x1), (y0, y1) = reach
    corners = layers.faces((x0, x1), (y0, y1), (-_FLOOR_THICK, 0))
    layers.ground.extend(
        Piece(role, (layers.camera.flat(face),), closed=True)
        for role, face in zip(("top", "appfill", "side"), corners, strict=True)
    )


def ear_cushion(layers: Layers, body: Skeleton, y: float) -> None:
    """A cushion as high as the lower ear."""
    ear = min((locate(body, f"head.{side}") for side in ("left", "right")), key=lambda place: place[2])
    layers.slab((ear[0] - 0.13, ear[0] + 0.11), (y - 0.14, y + 0.14), (BED, ear[2]))
