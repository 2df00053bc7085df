"""What the skeleton wears: thickness of limbs, trunk and head, as round pieces on the page.

Radii are shares of stature. Drawing sizes: common practice, no source; the contact points of
``points.py`` lie on these surfaces.
"""

from dataclasses import dataclass

import numpy as np

from library.body.camera import Camera
from library.body.outline import ellipses
from library.body.skeleton import Skeleton
from library.body.tables import ANKLE_FROM_HEEL, ANKLE_HEIGHT, BALL_FROM_HEEL

# share of the way along the bone, how far behind it (share of stature), radius
THIGH = ((0.0, 0.0, 0.056), (0.35, 0.0, 0.051), (0.75, 0.0, 0.039), (1.0, 0.0, 0.0335))
SHANK = ((0.0, 0.0, 0.033), (0.27, 0.007, 0.0345), (0.62, 0.004, 0.0245), (1.0, 0.0, 0.0185))
UPPER_ARM = ((0.0, 0.0, 0.0335), (0.45, 0.0, 0.027), (1.0, 0.0, 0.0215))
FOREARM = ((0.0, 0.0, 0.0215), (0.3, 0.0, 0.0225), (1.0, 0.0, 0.014))
# along the hand as a share of wrist to fingertip, radius
HAND = ((0.0, 0.0130), (0.32, 0.0175), (0.56, 0.0158), (1.0, 0.0072))
FIST_RADIUS = 0.021
DOME_SHORTER = 0.012
ARCH = (0.46, 0.0335, 0.013)  # along the foot from the heel as a share of it, height above the sole, radius
FOOT_RADII = {"heel": 0.016, "ankle": 0.0195, "ball": 0.0135, "toe": 0.009}

# height above the hip axis in upright standing, half width, half depth, half height of a trunk piece
TRUNK = (
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
_RIBS = slice(5, 8)
SHOULDER_CAP = 0.033
NECK = ((-0.004, 0.0, 0.0300), (0.012, 0.052, 0.0270))  # forward, up from C7, radius
SKULL = ((0.007, 0.0, 0.089), (0.049, 0.0455, 0.0505))  # centre from C7, half depth, width, height
JAW = ((0.034, 0.0, 0.056), (0.027, 0.029, 0.032))
CHIN = ((0.047, 0.0, 0.036), (0.012, 0.013, 0.011))
NOSE_ROOT = ((0.050, 0.0, 0.086), (0.008, 0.008, 0.010))
NOSE_TIP = ((0.063, 0.0, 0.0735), (0.0075, 0.008, 0.0065))
BUN = ((-0.037, 0.0, 0.131), 0.0185)
HAIR_RADII = (0.0515, 0.0480, 0.0530)
HAIR_ROUND_EDGE = -0.35  # hair is drawn a little beyond the rim of the skull that faces the viewer
HAIR_PLANE = ((-0.60, 0.0, 0.80), 0.08)  # hair grows where a unit direction reaches this far along it


@dataclass(frozen=True)
class Rings:
    """Outlines of round pieces (n, m, 2) and which pairs of them are joined by a hull."""

    outlines: np.ndarray
    pairs: np.ndarray


@dataclass(frozen=True)
class Hair:
    """Page points of the hair cap, outline of the bun, and whether the bun lies in front of the head."""

    cap: np.ndarray
    bun: np.ndarray
    bun_in_front: bool


def _chain(outlines: np.ndarray, *extra: tuple[int, int]) -> Rings:
    steps = [(i, i + 1) for i in range(len(outlines) - 1)]
    return Rings(outlines, np.array(steps + list(extra)))


def _along(start: np.ndarray, stop: np.ndarray, back: np.ndarray, profile, stature: float):
    centres = [start + (stop - start) * share - back * (behind * stature) for share, behind, _ in profile]
    return centres, [radius * stature for _, _, radius in profile]


def leg(body: Skeleton, side: str, camera: Camera, *, domed: bool = False) -> Rings:
    """Thigh, shank and foot of side ``l`` or ``r``; under a ``domed`` foot the arch stands clear of the ground."""
    o, f, h = body.origins, body.frames, body.stature_m
    hip, knee, ankle = o[f"{side}.hip"], o[f"{side}.knee"], o[f"{side}.ankle"]
    points, radii = _along(hip, knee, f[f"{side}.thigh"][:, 0], THIGH, h)
    shank_points, shank_radii = _along(knee, ankle, f[f"{side}.shank"][:, 0], SHANK, h)
    foot_points, foot_radii = _foot(body, side)
    n = len(points) + len(shank_points)  # then heel, ankle, ball, toe, or with the arch before the ball
    pairs = [(i, i + 1) for i in range(n - 1)] + [(n, n + 1), (n + 1, n + 2), (n + 2, n + 3)]
    if domed:
        _dome(body, side, foot_points, foot_radii)
        pairs.append((n + 3, n + 4))
    else:
        pairs.append((n, n + 2))
    points, radii = points + shank_points + foot_points, radii + shank_radii + foot_radii
    return Rings(camera.discs(points, radii), np.array(pairs))


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


def arm(body: Skeleton, side: str, camera: Camera, *, fist: bool = False) -> Rings:
    """Upper arm, forearm and hand of side ``l`` or ``r``; a hand round a bar is drawn as a fist."""
    o, f, h = body.origins, body.frames, body.stature_m
    shoulder, elbow, wrist = o[f"{side}.shoulder"], o[f"{side}.elbow"], o[f"{side}.wrist"]
    points, radii = _along(shoulder, elbow, f[f"{side}.upper_arm"][:, 0], UPPER_ARM, h)
    forearm_points, forearm_radii = _along(elbow, wrist, f[f"{side}.forearm"][:, 0], FOREARM, h)
    points, radii = points + forearm_points, radii + forearm_radii
    down = -f[f"{side}.hand"][:, 2]
    if fist:
        points += [wrist + down * (body.table.hand.length * 0.75 * h)]
        radii += [FIST_RADIUS * h]
    else:
        reach = body.table.wrist_to_fingertip * h
        points += [wrist + down * (share * reach) for share, _ in HAND]
        radii += [radius * h for _, radius in HAND]
    return _chain(camera.discs(points, radii))


def trunk(body: Skeleton, camera: Camera, breath: float = 0.0) -> Rings:
    """Pelvis to neck along a smooth curve through the spinal joints, and the two shoulder caps.

    ``breath`` is the share by which the ribs are wider and deeper than at rest.
    """
    h = body.stature_m
    heights = np.array([row[0] for row in TRUNK]) * h
    centres, frames = _spine_curve(body, heights)
    radii = np.array([(depth, width, height) for _, width, depth, height in TRUNK]) * h
    radii[_RIBS, :2] *= 1 + breath
    rounds = ellipses(camera.flat(centres), camera.spreads(frames, radii))
    caps = camera.discs(
        (body.origins["l.shoulder"], body.origins["r.shoulder"]), np.full(2, SHOULDER_CAP * h)
    )
    n = len(TRUNK)
    pairs = [(i, i + 1) for i in range(n - 1)]
    pairs += [(n - 3, n), (n - 3, n + 1), (n - 2, n), (n - 2, n + 1), (n - 1, n), (n - 1, n + 1)]
    return Rings(np.concatenate((rounds, caps)), np.array(pairs))


def _spine_curve(body: Skeleton, heights: np.ndarray):
    """Points and frames on a Hermite curve through hips, L5/S1, upper joint and C7."""
    table, h, o, f = body.table, body.stature_m, body.origins, body.frames
    knots = np.array((0, table.lumbosacral, table.upper_joint, table.c7)) * h
    places = np.array((o["hips"], o["lumbosacral"], o["upper_joint"], o["c7"]))
    pelvis, abdomen, thorax = f["pelvis"], f["abdomen"], f["thorax"]
    knot_frames = np.array((pelvis, 0.5 * (pelvis + abdomen), 0.5 * (abdomen + thorax), thorax))
    segment = np.clip(np.searchsorted(knots, heights, side="right") - 1, 0, 2)
    span = knots[segment + 1] - knots[segment]
    t = ((heights - knots[segment]) / span)[:, None]
    tangents = knot_frames[:, :, 2]
    start, stop = places[segment], places[segment + 1]
    leave, arrive = tangents[segment] * span[:, None], tangents[segment + 1] * span[:, None]
    centres = (
        (2 * t**3 - 3 * t**2 + 1) * start
        + (t**3 - 2 * t**2 + t) * leave
        + (3 * t**2 - 2 * t**3) * stop
        + (t**3 - t**2) * arrive
    )
    frames = (1 - t[..., None]) * knot_frames[segment] + t[..., None] * knot_frames[segment + 1]
    return centres, frames


def head(body: Skeleton, camera: Camera) -> Rings:
    """Neck, skull, jaw and a small nose: the nose tells face up from face down."""
    h, frame = body.stature_m, body.frames["head"]
    neck = [body.at("c7", "head", (x, 0, z)) for x, z, _ in NECK]
    stem = camera.discs(neck, np.array([r for *_, r in NECK]) * h)
    parts = (SKULL, JAW, CHIN, NOSE_ROOT, NOSE_TIP)
    centres = camera.flat([body.at("c7", "head", centre) for centre, _ in parts])
    rounds = ellipses(centres, camera.spreads(frame, np.array([radii for _, radii in parts]) * h))
    # neck base, neck top, skull, jaw, chin, nose root, nose tip
    return Rings(np.concatenate((stem, rounds)), np.array(((0, 1), (1, 2), (2, 3), (3, 4), (5, 6), (2, 2))))


def hair(body: Skeleton, camera: Camera) -> Hair:
    """The visible cap of hair and the bun."""
    h, frame = body.stature_m, body.frames["head"]
    radii = np.array(HAIR_RADII)
    normals = (_HAIR / radii) @ frame.T
    seen = normals @ camera.towards > HAIR_ROUND_EDGE * np.linalg.norm(normals, axis=1)
    centre = body.at("c7", "head", SKULL[0])
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
