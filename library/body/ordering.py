"""Which part of a body is drawn before which: from far to near, decided where two limbs cross on the page."""

from functools import cmp_to_key

import numpy as np

from library.body.camera import UNITS_PER_METRE, Camera
from library.body.skeleton import LIMBS, Skeleton

ALONGSIDE = 0.12  # metres of depth within which a far limb is drawn before the trunk, a near one after it
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
    trunk = float(np.mean([camera.depth(body.origins[j]) for j in ("hips", "upper_joint", "c7")]))
    lines = {limb: _line(body, limb, camera) for limb in LIMBS}
    depths = {limb: float(deep.mean()) - trunk for limb, (_flat, deep) in lines.items()}

    def before(limb: str) -> bool:
        return depths[limb] < -ALONGSIDE or (depths[limb] <= ALONGSIDE and limb not in near)

    def compare(one: str, other: str) -> float:
        crossing = _depths_where_they_cross(*lines[one], *lines[other])
        here, there = crossing or (depths[one], depths[other])
        return here - there

    far_to_near = sorted(sorted(LIMBS, key=lambda limb: depths[limb]), key=cmp_to_key(compare))
    return (
        [limb for limb in far_to_near if before(limb)]
        + ["trunk", "head", "hair"]
        + [limb for limb in far_to_near if not before(limb)]
    )


def _line(body: Skeleton, limb: str, camera: Camera) -> tuple[np.ndarray, np.ndarray]:
    """Places along the middle line of a limb: on the page (n, 2), and how near to the viewer (n,)."""
    side, _, kind = limb.partition(".")
    joints = [body.origins[f"{side}.{joint}"] for joint in _JOINTS[kind]]
    if kind == "arm":
        joints.append(body.at(f"{side}.wrist", f"{side}.hand", (0, 0, -body.table.wrist_to_fingertip)))
    places = np.array(joints)
    bones = places[:-1, None] + _SHARES[:, None] * (places[1:] - places[:-1])[:, None]
    line = bones.reshape(-1, 3)
    return camera.flat(line), camera.depth(line)


def _depths_where_they_cross(one, deep, other, deep_other) -> tuple[float, float] | None:
    """Depths of two lines where they come nearest to each other on the page, if they overlap there."""
    apart = one[:, None] - other
    gaps = np.einsum("ijk,ijk->ij", apart, apart)
    i, j = divmod(int(gaps.argmin()), len(other))
    return (float(deep[i]), float(deep_other[j])) if gaps[i, j] <= _CROSSING**2 else None
