"""What hands and feet hold on the trapeze table: bars, springs, handles, foot straps, slings.

Sizes and fixing places in metres: common practice, no source.
"""

import numpy as np

from library.body.points import locate
from library.body.scene import Layers
from library.body.skeleton import Skeleton
from library.body.surfaces import (
    FOOT_POST,
    PUSH_BAR_PIVOT,
    TABLE_BED,
    TABLE_MIDDLE,
    push_bar_end,
)

FRAME_TOP, FRAME_HALF_WIDTH = 2.00, 0.33
POST_X = (-1.83, 0.26)
BAR_EYE = (FOOT_POST + 0.02, 1.52)
EYE_HALF_GAP = 0.16
PUSH_BAR_HALF_WIDTH = 0.25
ROLL_BAR_HALF_LENGTH, ROLL_BAR_EYE = 0.30, 0.20
FIST = 0.035
SLING_DROP, SLING_HALF_LENGTH, SLING_HALF_WIDTH = 0.42, 0.07, 0.16
_HELD_BY = {"hands": ("l.palm", "r.palm"), "feet": ("l.instep", "r.instep")}


def cross_tubes(scene: dict, phase: dict) -> list[tuple]:
    """Tubes (two points each) across the frame on which the springs, the sling or the ankle slings hang.

    A hook up on the frame's top needs none of its own.
    """
    w = FRAME_HALF_WIDTH
    places = []
    if phase.get("springs") or phase.get("bar"):
        x, z = scene.get("eye", BAR_EYE)
        if z < FRAME_TOP - 0.05:
            places.append((min(POST_X, key=lambda post: abs(post - x)), z))
    if "trapeze" in scene:
        places.append((scene["trapeze"], FRAME_TOP))
    return [((x, -w, z), (x, w, z)) for x, z in places]


def push_bar(layers: Layers, scene: dict, degrees: float) -> None:
    """The bar with its two springs, hung from the top of the frame or held from the bed."""
    pivot, grip, w = PUSH_BAR_PIVOT, push_bar_end(degrees, scene), PUSH_BAR_HALF_WIDTH
    post = FOOT_POST
    if scene.get("bar_end") == "left":
        pivot, post = (2 * TABLE_MIDDLE - pivot[0], pivot[1]), 2 * TABLE_MIDDLE - post
    spring_z = TABLE_BED + 0.06 if scene.get("bar_springs") == "low" else FRAME_TOP - 0.02
    for y, front in ((w, False), (-w, True)):
        knot = np.array((pivot[0], y, pivot[1])) * 0.55 + np.array((grip[0], y, grip[1])) * 0.45
        layers.springs((knot, (post, y, spring_z)), front=front, turns=9)
    layers.posts(((pivot[0], w, pivot[1]), (grip[0], w, grip[1]), (grip[0], -w, grip[1])), far=True)
    layers.posts(((pivot[0], -w, pivot[1]), (grip[0], -w, grip[1])), front=True)


def roll_bar(layers: Layers, scene: dict, body: Skeleton) -> None:
    """A loose bar through both hands on two springs; all but its far end lies before the body."""
    x, z = scene.get("eye", BAR_EYE)
    left, right = locate(body, "l.palm"), locate(body, "r.palm")
    middle, along = (left + right) / 2, (left - right) / np.linalg.norm(left - right)
    for sign, front in ((1, False), (-1, True)):
        hook = middle + sign * ROLL_BAR_EYE * along
        layers.springs((hook, (x, sign * ROLL_BAR_EYE, z)), front=front, turns=9)
    far, near = (middle + sign * ROLL_BAR_HALF_LENGTH * along for sign in (1, -1))
    grip = FIST * along
    layers.posts((left, far))
    layers.posts((left - grip, right + grip), (right - grip, near), front=True)


def limb_springs(layers: Layers, scene: dict, held: str | list[str], body: Skeleton) -> None:
    """Springs from the eye to hands (with a handle) or feet (with a strap).

    ``held`` is ``hands``, ``feet`` or a list of points such as ``["r.instep"]``.
    """
    x, z = scene["eye"]
    gap = scene.get("eye_y", EYE_HALF_GAP)
    points = _HELD_BY[held] if isinstance(held, str) else held
    for name in points:
        y, front = (gap, False) if name.startswith("l.") else (-gap, True)
        eye, end = np.array((x, y, z)), locate(body, name)
        if name.endswith("palm"):
            end = _handle(layers, body, name, eye, front=front)
        else:
            strap = [end, locate(body, f"{name[0]}.arch")]
            layers.line("rope", strap, front=front)
        layers.springs((eye, end), front=front, turns=12, width=3.2)


def _handle(layers: Layers, body: Skeleton, name: str, eye: np.ndarray, *, front: bool) -> np.ndarray:
    """A grip across the fist on a loop; returns where the loop meets the spring."""
    palm, across = locate(body, name), body.frames[f"{name[0]}.hand"][:, 1] * 0.05
    tip = palm + (eye - palm) / np.linalg.norm(eye - palm) * 0.11
    layers.line("rope", (tip, palm + across, palm - across, tip), front=front)
    return tip


def sling(layers: Layers, scene: dict, point: str, body: Skeleton) -> None:
    """A broad sling under both legs at ``point`` (such as ``mid.calf``), hung from a tube of the frame's top.

    ``scene["trapeze"]`` is the tube's x; ``scene["sling_on"]`` is ``springs`` (default) or ``ropes``.
    """
    x = scene["trapeze"]
    low, w, half = locate(body, point), SLING_HALF_WIDTH, SLING_HALF_LENGTH
    bed = [(low[0] + dx, y, low[2]) for dx, y in ((-half, -w), (half, -w), (half, w), (-half, w))]
    layers.face("side", bed)
    share = SLING_DROP / (FRAME_TOP - low[2])
    for y, front in ((w, False), (-w, True)):
        tip = np.array((low[0] + (x - low[0]) * share, y, low[2] + SLING_DROP))
        layers.line("rope", *(((low[0] + dx, y, low[2]), tip) for dx in (-half, half)), front=front)
        if scene.get("sling_on", "springs") == "springs":
            layers.springs(((x, y, FRAME_TOP), tip), front=front, turns=9)
        else:
            layers.line("rope", ((x, y, FRAME_TOP), tip), front=front)


def ankle_slings(layers: Layers, scene: dict, body: Skeleton) -> None:
    """A loop round each ankle, hung from a tube of the frame's top at ``scene["trapeze"]``."""
    x = scene["trapeze"]
    for side, y, front in (("l", 0.10, False), ("r", -0.10, True)):
        ankle, along = body.origins[f"{side}.ankle"], body.frames[f"{side}.shank"][:, 2]
        loop = [ankle + share * along for share in (0.02, 0.09)]
        layers.line("rope", (loop[0], (x, y, FRAME_TOP), loop[1]), front=front)
        under = [place - 0.05 * body.frames[f"{side}.shank"][:, 0] for place in loop]
        over = [place + 0.04 * body.frames[f"{side}.shank"][:, 0] for place in loop]
        layers.face("side", (*under, *reversed(over)), front=True)
