"""What hands and feet hold on the trapeze table: bars, springs, handles, foot straps, slings.

Sizes and fixing places in metres: common practice, no source.
"""

import numpy as np
import shapely

from library.body.points import locate
from library.body.scene import Layers, Piece
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
PUSH_BAR_HALF_WIDTH = 0.30
ROLL_BAR_HALF_LENGTH, ROLL_BAR_EYE = 0.32, 0.27
FIST = 0.035
HANDLE_HALF_LENGTH, LOOP_LENGTH = 0.07, 0.12
STRAP_HALF_LENGTH, STRAP_HALF_WIDTH = 0.02, 0.045
SLING_DROP, SLING_HALF_LENGTH, SLING_HALF_WIDTH = 0.42, 0.09, 0.16
SLING_DEPTH = 0.045
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


def push_bar(layers: Layers, scene: dict, phase: dict, degrees: float) -> None:
    """The bar with its two springs, hung from the top of the frame or held from the bed.

    Its sides turn on the uprights. What lies across is drawn before the nearer of the limbs that hold it.
    """
    pivot, grip, w = PUSH_BAR_PIVOT, push_bar_end(degrees, scene), PUSH_BAR_HALF_WIDTH
    post = FOOT_POST
    if scene.get("bar_end") == "left":
        pivot, post = (2 * TABLE_MIDDLE - pivot[0], pivot[1]), 2 * TABLE_MIDDLE - post
    spring_z = TABLE_BED + 0.06 if scene.get("bar_springs") == "low" else FRAME_TOP - 0.02
    for y, front in ((w, False), (-w, True)):
        knot = np.array((pivot[0], y, pivot[1])) * 0.55 + np.array((grip[0], y, grip[1])) * 0.45
        layers.springs((knot, (post, y, spring_z)), front=front, turns=9)
    far, near = (
        [(pivot[0], sign * y, pivot[1]) for y in (FRAME_HALF_WIDTH, w)] + [(grip[0], sign * w, grip[1])]
        for sign in (1, -1)
    )
    layers.posts(far, far=True)
    if any("pushbar" in touch and "palm" in touch["point"] for touch in phase["touch"]):
        sheet(layers, "between_arms").posts((far[-1], near[-1]))
        layers.posts(near, front=True)
    else:  # on the feet: in front its side would cover the sole
        sheet(layers, "between_legs").posts((far[-1], *reversed(near)))


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
        near = not name.startswith("l.")
        eye = np.array((x, -gap if near else gap, z))
        if name.endswith("palm"):
            end = _handle(sheet(layers, "front" if near else "behind"), body, name, eye)
            on = "between_arms"
        else:
            on = "front" if near else "between_legs"
            end = _foot_strap(sheet(layers, on), body, name[0], eye)
        sheet(layers, on if near else "behind").springs((eye, end), turns=11, width=3.2)


def sheet(layers: Layers, name: str) -> Layers:
    """The same drawing with one of its sheets (``front``, ``between_arms``…) as the one drawn on."""
    return Layers(layers.camera, behind=getattr(layers, name))


def _handle(layers: Layers, body: Skeleton, name: str, eye: np.ndarray) -> np.ndarray:
    """A grip across the fist on a loop; returns where the loop meets the spring."""
    palm, across = locate(body, name), body.frames[f"{name[0]}.hand"][:, 1] * HANDLE_HALF_LENGTH
    tip = palm + (eye - palm) / np.linalg.norm(eye - palm) * LOOP_LENGTH
    layers.line("rope", (palm + across, tip, palm - across))
    layers.posts((palm + across, palm - across))
    return tip


def _foot_strap(layers: Layers, body: Skeleton, side: str, eye: np.ndarray) -> np.ndarray:
    """A band round the middle of the foot on a loop; returns where the loop meets the spring."""
    sole, instep = locate(body, f"{side}.arch"), locate(body, f"{side}.instep")
    along, across, up = body.frames[f"{side}.foot"].T
    rim = [
        place + way * STRAP_HALF_LENGTH * along + edge * STRAP_HALF_WIDTH * across
        for place in (sole - 0.008 * up, instep + 0.004 * up)
        for way in (-1, 1)
        for edge in (-1, 1)
    ]
    hull = shapely.convex_hull(shapely.multipoints(layers.camera.flat(rim)))
    tip = instep + (eye - instep) / np.linalg.norm(eye - instep) * LOOP_LENGTH
    edges = (sole + sign * STRAP_HALF_WIDTH * across for sign in (-1, 1))
    layers.line("rope", *((edge, tip) for edge in edges))
    layers.behind.append(Piece("side", (shapely.get_coordinates(hull)[:-1],), closed=True))
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
        corners = [(low[0] + dx, y, low[2] + SLING_DEPTH) for dx in (-half, half)]
        under = [(place, y, low[2] - 0.01) for place in (low[0] + half, low[0] - half)]
        layers.line("rope", *((corner, tip) for corner in corners), front=front)
        layers.face("side", [*corners, *under], front=front)
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
