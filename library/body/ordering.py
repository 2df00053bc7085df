"""Which part of a body is drawn before which: from far to near, decided where two limbs cross on the page."""

from functools import cmp_to_key

import numpy as np

from library.body.camera import UNITS_PER_METRE, Camera
from library.body.points import locate
from library.body.skeleton import LIMBS, SIDES, Skeleton

ALONGSIDE = 0.12  # metres of depth within which a far limb is drawn before the trunk, a near one after it
HEAD_REACH = 0.17  # metres from the middle of the head to a knuckle of a hand that holds it
_CROSSING = 0.13 * UNITS_PER_METRE  # page units between two middle lines that still overlap
_JOINTS = {"leg": ("hip", "knee", "ankle"), "arm": ("shoulder", "elbow", "wrist")}
_SHARES = np.linspace(0, 1, 6)


def near_limbs(body: Skeleton, camera: Camera) -> set[str]:
    """Limbs that hang from the side nearer the viewer."""
    near = set()
    for limb, (joint, *_rest) in _JOINTS.items():
        nearer = max("lr", key=lambda side, joint=joint: camera.depth(body.origins[f"{side}.{joint}"]))
        near.add(f"{nearer}.{limb}")
    return near


def back_to_front(body: Skeleton, camera: Camera, near: set[str]) -> list[str]:
    """Limbs, ``trunk``, ``head`` and ``hair`` in drawing order; ``near`` as from ``near_limbs`` at the start."""
    lines = _lines(body, camera)
    trunk = float(camera.depth([body.origins[joint] for joint in ("hips", "upper_joint", "c7")]).mean())
    depths = {limb: float(deep.mean()) - trunk for limb, (_flat, deep) in lines.items()}

    def before(limb: str) -> bool:
        return depths[limb] < -ALONGSIDE or (depths[limb] <= ALONGSIDE and limb not in near)

    def compare(one: str, other: str) -> float:
        crossing = _depths_where_they_cross(*lines[one], *lines[other])
        here, there = crossing or (depths[one], depths[other])
        return here - there

    far_to_near = sorted(sorted(LIMBS, key=lambda limb: depths[limb]), key=cmp_to_key(compare))
    early = [limb for limb in far_to_near if before(limb)]
    behind = [limb for limb in far_to_near if limb not in early and _hand_behind_head(body, camera, limb)]
    late = [limb for limb in far_to_near if limb not in early + behind]
    return [*early, "trunk", *behind, "head", "hair", *late]


def _hand_behind_head(body: Skeleton, camera: Camera, limb: str) -> bool:
    """Whether a hand lies on the side of the head that the viewer does not see."""
    if not limb.endswith("arm"):
        return False
    head = 0.5 * (locate(body, "head.back") + locate(body, "head.front"))
    to_hand = locate(body, f"{limb[0]}.knuckle") - head
    return bool(np.linalg.norm(to_hand) < HEAD_REACH and to_hand @ camera.towards < 0)


def _lines(body: Skeleton, camera: Camera) -> dict[str, tuple[np.ndarray, np.ndarray]]:
    """Places along the middle line of each limb: on the page (n, 2), and how near to the viewer (n,)."""
    chains = {limb: [body.origins[f"{limb[0]}.{joint}"] for joint in _JOINTS[limb[2:]]] for limb in LIMBS}
    for side in SIDES:
        tip = body.at(f"{side}.wrist", f"{side}.hand", (0, 0, -body.table.wrist_to_fingertip))
        chains[f"{side}.arm"].append(tip)
    starts = np.array([joint for joints in chains.values() for joint in joints[:-1]])
    stops = np.array([joint for joints in chains.values() for joint in joints[1:]])
    places = starts[:, None] + _SHARES[:, None] * (stops - starts)[:, None]
    flat, deep = camera.flat(places), camera.depth(places)
    lines, begin = {}, 0
    for limb, joints in chains.items():
        end = begin + len(joints) - 1
        lines[limb] = flat[begin:end].reshape(-1, 2), deep[begin:end].ravel()
        begin = end
    return lines


def _depths_where_they_cross(one, deep, other, deep_other) -> tuple[float, float] | None:
    """Depths of two lines where they come nearest to each other on the page, if they overlap there."""
    apart = one[:, None] - other
    gaps = np.einsum("ijk,ijk->ij", apart, apart)
    i, j = divmod(int(gaps.argmin()), len(other))
    return (float(deep[i]), float(deep_other[j])) if gaps[i, j] <= _CROSSING**2 else None
