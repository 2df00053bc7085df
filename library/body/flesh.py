"""What the skeleton wears: thickness of limbs, trunk and head, as round pieces on the page.

Radii are shares of stature. Drawing sizes: common practice, no source; the contact points of
``points.py`` lie on these surfaces.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from library.body.camera import Camera
from library.body.outline import ellipses
from library.body.skeleton import SIDES, Skeleton
from library.body.tables import ANKLE_FROM_HEEL, ANKLE_HEIGHT, BALL_FROM_HEEL, Table

# share of the way along the bone, how far behind it (share of stature), radius; a bone begins as the one above ends
THIGH = np.array(((0.0, 0.0, 0.056), (0.35, 0.0, 0.051), (0.75, 0.0, 0.039), (1.0, 0.0, 0.0335)))
SHANK = np.array(((0.0, 0.0, 0.0335), (0.27, 0.007, 0.0345), (0.62, 0.004, 0.0245), (1.0, 0.0, 0.0185)))
UPPER_ARM = np.array(((0.0, 0.0, 0.0335), (0.45, 0.0, 0.027), (1.0, 0.0, 0.0215)))
FOREARM = np.array(((0.0, 0.0, 0.0215), (0.3, 0.0, 0.0225), (1.0, 0.0, 0.0135)))
HAND = np.array(((0.0, 0.0, 0.0135), (0.32, 0.0, 0.0175), (0.56, 0.0, 0.0158), (1.0, 0.0, 0.0072)))
# the hand goes from wrist to fingertip
FIST_RADIUS = 0.021
DOME_SHORTER = 0.012
ARCH = (0.46, 0.0335, 0.013)  # along the foot from the heel as a share of it, height above the sole, radius
FOOT_RADII = {"heel": 0.016, "ankle": 0.0195, "ball": 0.0135, "toe": 0.009}

# height above the hip axis in upright standing, half width, half depth, half height of a trunk piece
TRUNK = np.array(
    (
        (0.000, 0.080, 0.057, 0.052),
        (0.035, 0.081, 0.058, 0.040),
        (0.070, 0.076, 0.054, 0.034),
        (0.105, 0.068, 0.049, 0.030),
        (0.140, 0.067, 0.048, 0.030),
        (0.175, 0.074, 0.051, 0.032),
        (0.215, 0.084, 0.055, 0.034),
        (0.250, 0.088, 0.055, 0.034),
        (0.282, 0.078, 0.047, 0.026),
        (0.3305, 0.034, 0.030, 0.020),
    )
)
_RIBS = slice(5, 8)
SHOULDER_CAP = 0.033
NECK = np.array(((-0.004, 0.0, 0.0300), (0.012, 0.052, 0.0270)))  # forward, up from C7, radius
# centre from C7, half depth, width, height
SKULL = (0.007, 0.0, 0.089, 0.049, 0.0455, 0.0505)
JAW = (0.034, 0.0, 0.056, 0.027, 0.029, 0.032)
CHIN = (0.047, 0.0, 0.036, 0.012, 0.013, 0.011)
NOSE_ROOT = (0.050, 0.0, 0.086, 0.008, 0.008, 0.010)
NOSE_TIP = (0.063, 0.0, 0.0735, 0.0075, 0.008, 0.0065)
BUN = ((-0.037, 0.0, 0.131), 0.0185)
HAIR_RADII = (0.0515, 0.0480, 0.0530)
HAIR_ROUND_EDGE = -0.35  # hair is drawn a little beyond the rim of the skull that faces the viewer
HAIR_PLANE = ((-0.60, 0.0, 0.80), 0.08)  # hair grows where a unit direction reaches this far along it


_NECK = np.insert(NECK[:, :2], 1, 0.0, axis=1)
_EGGS = np.array((SKULL, JAW, CHIN, NOSE_ROOT, NOSE_TIP))


def _steps(count: int) -> list[tuple[int, int]]:
    return [(i, i + 1) for i in range(count - 1)]


_N = len(THIGH) + len(SHANK)  # then heel, ankle, ball, toe, or with the arch before the ball
_FOOT_PAIRS = [*_steps(_N), (_N, _N + 1), (_N + 1, _N + 2), (_N + 2, _N + 3)]
_LEG_PAIRS, _DOMED_LEG_PAIRS = (np.array([*_FOOT_PAIRS, last]) for last in ((_N, _N + 2), (_N + 3, _N + 4)))
_FOOT = (_N, _N + 1, _N + 2)
_ARM_PAIRS = np.array(_steps(len(UPPER_ARM) + len(FOREARM) + len(HAND)))
_N = len(TRUNK)
# each cap with the ribs below and the neck above it
_TRUNK_PAIRS = np.array([*_steps(_N), (_N - 3, _N), (_N - 3, _N + 1), (_N - 1, _N), (_N - 1, _N + 1)])
# neck base, neck top, skull, jaw, chin, nose root, nose tip: the nose tells face up from face down
_HEAD_PAIRS = np.array(((0, 1), (1, 2), (2, 3), (3, 4), (5, 6), (2, 2)))


@dataclass(frozen=True)
class Rings:
    """Outlines of round pieces (n, m, 2) and which pairs of them are joined by a hull.

    filled: pieces among which there is no gap, whatever their pairs: one hull covers all of them.
    """

    outlines: np.ndarray
    pairs: np.ndarray
    filled: tuple[int, ...] = ()


@dataclass(frozen=True)
class Hair:
    """Page points of the hair cap, outline of the bun, and whether the bun lies in front of the head."""

    cap: np.ndarray
    bun: np.ndarray
    bun_in_front: bool


@dataclass(frozen=True)
class _Balls:
    """Balls in the room: centres (n, 3) and radii (n,) in metres, and which pieces of their part are joined."""

    centres: np.ndarray
    radii: np.ndarray
    pairs: np.ndarray
    filled: tuple[int, ...] = ()


def rings(body: Skeleton, camera: Camera, *, fists=(), domed=(), breath: float = 0.0) -> dict[str, Rings]:
    """Every part of a body: ``l.leg``, ``r.leg``, ``l.arm``, ``r.arm``, ``trunk`` and ``head``.

    fists: sides whose hand is closed round a bar; domed: sides whose arch stands clear of the ground; breath: the
    share by which the ribs are wider and deeper than at rest.
    """
    h, origins = body.stature_m, body.origins
    balls = {f"{side}.leg": _leg(body, side, side in domed) for side in SIDES}
    balls |= {f"{side}.arm": _arm(body, side, side in fists) for side in SIDES}
    caps = np.array((origins["l.shoulder"], origins["r.shoulder"]))
    balls["trunk"] = _Balls(caps, np.full(2, SHOULDER_CAP * h), _TRUNK_PAIRS)
    balls["head"] = _Balls(_on_head(body, _NECK), NECK[:, 2] * h, _HEAD_PAIRS)
    outlines = dict(zip(balls, _discs(list(balls.values()), camera), strict=True))
    trunk, head = _eggs(body, camera, breath)
    outlines |= {
        "trunk": np.concatenate((trunk, outlines["trunk"])),
        "head": np.concatenate((outlines["head"], head)),
    }
    return {name: Rings(outlines[name], own.pairs, own.filled) for name, own in balls.items()}


def _discs(balls: list[_Balls], camera: Camera) -> list[np.ndarray]:
    """Outlines of each one's balls, all in one go."""
    outlines = camera.discs(
        np.concatenate([own.centres for own in balls]), np.concatenate([own.radii for own in balls])
    )
    return np.split(outlines, np.cumsum([len(own.radii) for own in balls[:-1]]))


def _eggs(body: Skeleton, camera: Camera, breath: float) -> list[np.ndarray]:
    """Outlines of what is no ball, of trunk and head."""
    along, frames = _spine_curve(body)
    radii = np.concatenate((TRUNK[:, [2, 1, 3]], _EGGS[:, 3:])) * body.stature_m
    radii[_RIBS, :2] *= 1 + breath
    centres = np.concatenate((along, _on_head(body, _EGGS[:, :3])))
    turned = np.concatenate((frames, np.broadcast_to(body.frames["head"], (len(_EGGS), 3, 3))))
    return np.split(ellipses(camera.flat(centres), camera.spreads(turned, radii)), [len(TRUNK)])


def _on_head(body: Skeleton, places: np.ndarray) -> np.ndarray:
    """Places (n, 3) in shares of stature from C7, in the frame of the head, in the room."""
    return body.origins["c7"] + (places * body.stature_m) @ body.frames["head"].T


def _along(start: np.ndarray, stop: np.ndarray, back: np.ndarray, profile: np.ndarray, stature: float):
    """Centres of the balls along a bone."""
    return start + profile[:, :1] * (stop - start) - profile[:, 1:2] * (back * stature)


def _leg(body: Skeleton, side: str, domed: bool) -> _Balls:
    """Thigh, shank and foot; under a ``domed`` foot the arch stands clear of the ground."""
    o, f, h = body.origins, body.frames, body.stature_m
    hip, knee, ankle = o[f"{side}.hip"], o[f"{side}.knee"], o[f"{side}.ankle"]
    thigh = _along(hip, knee, f[f"{side}.thigh"][:, 0], THIGH, h)
    shank = _along(knee, ankle, f[f"{side}.shank"][:, 0], SHANK, h)
    foot, foot_radii = _foot(body, side)
    if domed:
        _dome(body, side, foot, foot_radii)
    radii = np.concatenate((THIGH[:, 2] * h, SHANK[:, 2] * h, foot_radii))
    centres = np.concatenate((thigh, shank, foot))
    return _Balls(centres, radii, _DOMED_LEG_PAIRS) if domed else _Balls(centres, radii, _LEG_PAIRS, _FOOT)


def _foot(body: Skeleton, side: str):
    """Heel, ankle, ball, toe. The ball rides on the skin of foot and toes, however the toes are bent."""
    length, joint, frame, h = body.table.foot.length, f"{side}.ankle", f"{side}.foot", body.stature_m
    r, toes = FOOT_RADII, body.frames[f"{side}.toes"]
    heel = body.at(joint, frame, (r["heel"] * 0.9 - ANKLE_FROM_HEEL * length, 0, r["heel"] - ANKLE_HEIGHT))
    sole = body.at(joint, frame, ((BALL_FROM_HEEL - ANKLE_FROM_HEEL) * length, 0, -ANKLE_HEIGHT))
    up = body.frames[frame][:, 2] + toes[:, 2]
    ball = sole + up * (r["ball"] * h / np.sqrt(up @ up))
    toe = sole + toes @ np.array((((1 - BALL_FROM_HEEL) * length - r["toe"]) * h, 0, r["toe"] * h))
    points = [heel, body.origins[joint], ball, toe]
    return points, [r[name] * h for name in ("heel", "ankle", "ball", "toe")]


def _dome(body: Skeleton, side: str, points: list, radii: list) -> None:
    """Shorten a foot that stands on heel and ball and raise its arch; more than feet do, or nobody would see it."""
    forward, h = body.frames[f"{side}.foot"][:, 0], body.stature_m
    points[2:] = [point - forward * (DOME_SHORTER * h) for point in points[2:]]
    along, height, radius = ARCH
    raised = ((along - ANKLE_FROM_HEEL) * body.table.foot.length, 0, height - ANKLE_HEIGHT)
    points.insert(2, body.at(f"{side}.ankle", f"{side}.foot", raised))
    radii.insert(2, radius * h)


def _arm(body: Skeleton, side: str, fist: bool) -> _Balls:
    """Upper arm, forearm and hand; a hand round a bar is drawn as a fist."""
    o, f, h = body.origins, body.frames, body.stature_m
    shoulder, elbow, wrist = o[f"{side}.shoulder"], o[f"{side}.elbow"], o[f"{side}.wrist"]
    upper = _along(shoulder, elbow, f[f"{side}.upper_arm"][:, 0], UPPER_ARM, h)
    forearm = _along(elbow, wrist, f[f"{side}.forearm"][:, 0], FOREARM, h)
    hand = f[f"{side}.hand"]
    if fist:
        held, held_radii = wrist[None] - hand[:, 2] * (body.table.hand.length * 0.75 * h), [FIST_RADIUS]
    else:
        tip = wrist - hand[:, 2] * (body.table.wrist_to_fingertip * h)
        held, held_radii = _along(wrist, tip, hand[:, 0], HAND, h), HAND[:, 2]
    centres = np.concatenate((upper, forearm, held))
    return _Balls(
        centres,
        np.concatenate((UPPER_ARM[:, 2], FOREARM[:, 2], held_radii)) * h,
        _ARM_PAIRS[: len(centres) - 1],
    )


def _spine_curve(body: Skeleton) -> tuple[np.ndarray, np.ndarray]:
    """Points and frames of the trunk's pieces, on a Hermite curve through hips, L5/S1, upper joint and C7."""
    o, f = body.origins, body.frames
    places = np.array((o["hips"], o["lumbosacral"], o["upper_joint"], o["c7"]))
    pelvis, abdomen, thorax = f["pelvis"], f["abdomen"], f["thorax"]
    frames = np.array((pelvis, 0.5 * (pelvis + abdomen), 0.5 * (abdomen + thorax), thorax))
    of_places, of_tangents, of_frames = _spine_shares(body.table)
    centres = of_places @ places + of_tangents @ (frames[:, :, 2] * body.stature_m)
    return centres, np.tensordot(of_frames, frames, 1)


@cache
def _spine_shares(table: Table) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """How much (n, 4) of each joint's place, tangent and frame there is in every piece of the trunk."""
    knots = np.array((0, table.lumbosacral, table.upper_joint, table.c7))
    heights, rows = TRUNK[:, 0], np.arange(len(TRUNK))
    segment = np.clip(np.searchsorted(knots, heights, side="right") - 1, 0, 2)
    span = knots[segment + 1] - knots[segment]
    t = (heights - knots[segment]) / span
    places, tangents, frames = np.zeros((3, len(TRUNK), len(knots)))
    places[rows, segment], places[rows, segment + 1] = 2 * t**3 - 3 * t**2 + 1, 3 * t**2 - 2 * t**3
    tangents[rows, segment], tangents[rows, segment + 1] = (t**3 - 2 * t**2 + t) * span, (t**3 - t**2) * span
    frames[rows, segment], frames[rows, segment + 1] = 1 - t, t
    return places, tangents, frames


def hair(body: Skeleton, camera: Camera) -> Hair:
    """The visible cap of hair and the bun."""
    h, frame = body.stature_m, body.frames["head"]
    radii = np.array(HAIR_RADII)
    normals = (_HAIR / radii) @ frame.T
    seen = normals @ camera.towards > HAIR_ROUND_EDGE * np.linalg.norm(normals, axis=1)
    centre = body.at("c7", "head", SKULL[:3])
    cap = camera.flat(centre + (_HAIR[seen] * radii * h) @ frame.T)
    bun_centre = body.at("c7", "head", BUN[0])
    bun = camera.discs([bun_centre], [BUN[1] * h])[0]
    return Hair(cap, bun, bool(camera.depth(bun_centre) > camera.depth(centre)))


def _hair_directions() -> np.ndarray:
    normal, reach = HAIR_PLANE
    rows = []
    for polar in np.linspace(0, np.pi, 19):
        turns = np.linspace(0, 2 * np.pi, 25)[:-1]
        ring = np.full_like(turns, np.cos(polar))
        rows.append(np.stack((np.sin(polar) * np.cos(turns), np.sin(polar) * np.sin(turns), ring), axis=-1))
    sphere = np.concatenate(rows)
    return sphere[sphere @ np.array(normal) > reach]


_HAIR = _hair_directions()
