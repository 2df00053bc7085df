"""A pose that ends on the way: the same exercise, done as far as a share of its movement.

The end is the body on its way there, grounded once more on the contacts that it keeps from one keyframe to
the next, so that feet stay on the bar and hands on the handle. Everything follows at the same share.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from library.body.contacts import first_point, points_of
from library.body.grounding import LARGEST_GAP_M, Grounded, GroundingError, contact_gaps, ground
from library.body.mirroring import mirror
from library.body.movement import HALF_WAY, between, mixed_angles, span
from library.body.points import locate
from library.body.skeleton import LIMB_ANGLES, Skeleton, angles_of, stand
from library.body.surfaces import target

# What touches only at the later keyframe is held on the way if it was as near as this before, in metres.
NEAR = 0.02
_AUTHORED = ("body", "both", "left", "right", "solved", "solved_hips", "touch", "free")
_SHARE_DIGITS = 3
_OF_THE_ARM = ("palm", "knuckle", "fingertip", "elbow_tip", "forearm_edge", "arm_back", "wrist", "elbow")


class Torn(ValueError):
    """A share of the way at which the contacts cannot all be met."""


def cut(pose: dict, share: float) -> dict:
    """The pose with its end at a share (0 start, 1 end) of its movement; at 1 the pose itself.

    The cut of a mirrored pose is the mirrored cut, exactly. Kept by content; the result is shared: do not change it.
    Raises Torn where a contact would stay more than 3 mm from its surface.
    """
    share = round(min(max(share, 0.0), 1.0), _SHARE_DIGITS)
    if share == 1.0:
        return pose
    return _kept(json.dumps(pose, sort_keys=True), share)


@lru_cache(maxsize=512)
def _kept(key: str, share: float) -> dict:
    pose = json.loads(key)
    turned = mirror(pose)
    # Of a pose and its mirror image always the same one is solved, or rounding would tell them apart.
    if key <= json.dumps(turned, sort_keys=True):
        return _cut(pose, share)
    return mirror(_cut(turned, share))


def _cut(pose: dict, share: float) -> dict:
    end = dict(_phase(pose, share) if share else pose["start"])
    shorter = pose | {"end": end}
    shorter.pop("middle", None)
    if "middle" in pose and pose["middle"].get("at", HALF_WAY) < share:
        shorter["middle"] = pose["middle"] | {"at": pose["middle"].get("at", HALF_WAY) / share}
    if "ribs" in end:
        end["ribs"] = round(share * end["ribs"], 3)
    shorter |= _arrow(pose, share)
    if "second_arrow" in pose:
        shorter["second_arrow"] = pose["second_arrow"] | _arrow(pose["second_arrow"], share)
    return shorter


def _arrow(told: dict, share: float) -> dict:
    """The path of an arrow that was drawn by hand, as far as a share of the way."""
    if "arrow_path" not in told:
        return {}
    return {"arrow_path": (share * np.asarray(told["arrow_path"])).round(2).tolist()}


def _phase(pose: dict, share: float) -> dict:
    """The body at a share of the way as an ordinary phase."""
    first, last, part = span(pose, share)
    contacts = _Contacts.of(pose, first, last, part)
    angles = mixed_angles(first, last, part)
    rest = {name: value for name, value in (pose["end"] | last).items() if name not in _AUTHORED}
    phase = rest | _by_side(angles)
    place = next(iter(between(pose, [share]))).origins["hips"]
    for touches, free in _attempts(contacts, first, last, angles, pose.get("driver", "")):
        tried = phase | {"touch": touches, "free": free}
        solved = _grounded(pose, tried, angles, place)
        if solved is not None:
            return tried | solved
    raise Torn(f"no way to hold the contacts at {share:g} of the way")


def _attempts(contacts: "_Contacts", first: dict, last: dict, angles: dict, driver: str):
    """Contacts and free angles to try, the strictest first.

    A limit stays where it was set, so the driver gives way last; before that a place that itself moves (a
    hand up the wall, a foot with its carriage) may be a little further on, and limbs that touch may bend.
    """
    own = _sided(last.get("free", ()), angles)
    both = _sided([*last.get("free", ()), *first.get("free", ())], angles)
    limbs = _sided([*both, *_limb_angles(contacts.kept + contacts.near)], angles)
    choices = (contacts.kept + contacts.near, contacts.released + contacts.near, contacts.kept)
    for touches in choices:
        for free in (own, both, limbs):
            yield touches, _without(free, driver)
    for free in (both, limbs):
        yield contacts.kept, free


def _sided(free: Iterable[str], angles: dict[str, float]) -> list[str]:
    """The free angles, each once: by sides where one of the sides is free alone or both are bent differently."""
    names = list(dict.fromkeys(free))
    found: list[str] = []
    for name in names:
        part, _, angle = name.rpartition(".")
        sides = [f"l.{angle}", f"r.{angle}"]
        alike = angles.get(sides[0], 0.0) == angles.get(sides[1], 0.0)
        if part == "both" and (not alike or any(side in names for side in sides)):
            found += sides
        else:
            found.append(name)
    return list(dict.fromkeys(found))


def _limb_angles(touches: list[dict]) -> list[str]:
    """The angles by which limbs that touch can still reach where they should."""
    found = []
    for touch in touches:
        part, _, point = first_point(touch).rpartition(".")
        if part and part != "pelvis" and point not in ("left", "right", "back", "front"):
            bend = ("shoulder", "shoulder_out", "elbow") if point in _OF_THE_ARM else ("hip", "knee", "ankle")
            found += [f"{'both' if part == 'mid' else part}.{angle}" for angle in bend]
    return found


def _grounded(pose: dict, phase: dict, angles: dict, place: np.ndarray) -> dict | None:
    """Solved angles and hips of a phase as they are stored, or None where they leave a contact open."""
    start = Grounded(angles_of(pose["start"]), tuple(pose["start"]["solved_hips"]), 0.0)
    asked = [_placed(touch, start.body) for touch in phase["touch"]]
    begin = Grounded(angles, tuple(float(number) for number in place), 0.0)
    if asked:
        try:
            begin = ground(phase | {"touch": asked}, pose["scene"], start=begin)
        except GroundingError:
            return None
    solved = {
        "solved": {name: round(value, 2) for name, value in begin.angles.items() if round(value, 2)},
        "solved_hips": [round(value, 4) for value in begin.hips],
    }
    body = stand(solved["solved"], solved["solved_hips"])
    gaps = [
        gap for touch in asked for gap in contact_gaps(body, touch["point"], target(touch, pose["scene"]))
    ]
    return solved if max(map(abs, gaps), default=0.0) <= LARGEST_GAP_M else None


def _placed(touch: dict, start: Skeleton) -> dict:
    """A contact with ``"x": "same"`` written out as the place of that point in the start position."""
    if touch.get("x") != "same":
        return touch
    return touch | {"x": float(locate(start, first_point(touch))[0])}


@dataclass(frozen=True)
class _Contacts:
    """What touches on the way: contacts of both keyframes with their numbers in between, the same without the
    places that move, and those that only the later one has but that are nearly met already.
    """

    kept: list[dict]
    released: list[dict]
    near: list[dict]

    @classmethod
    def of(cls, pose: dict, first: dict, last: dict, part: float) -> "_Contacts":
        before = stand(angles_of(first), first["solved_hips"])
        start = stand(angles_of(pose["start"]), pose["start"]["solved_hips"])
        kept, released, near = [], [], []
        for touch in last["touch"]:
            earlier = next((one for one in first["touch"] if _alike(one, touch)), None)
            if earlier is not None:
                mixed = _between(earlier, touch, part, before, start)
                kept.append(mixed)
                released += _without_moving(mixed, touch)
                continue
            aim = target(_placed(touch, start), pose["scene"])
            if max(map(abs, contact_gaps(before, touch["point"], aim)), default=0.0) <= NEAR:
                near.append(touch)
        return cls(kept, released, near)


def _without_moving(mixed: dict, touch: dict) -> list[dict]:
    """A contact without the x or z that is another one than at the later keyframe; none where nothing is left."""
    left = {name: value for name, value in mixed.items() if name not in ("x", "z") or value == touch[name]}
    return [left] if left.keys() & {"on", "x", "z"} else []


def _alike(one: dict, other: dict) -> bool:
    """Whether two contacts are one that lasts: who rolls touches with one point after another of a list."""
    return one.get("on") == other.get("on") and not set(points_of(one)).isdisjoint(points_of(other))


def _between(earlier: dict, touch: dict, part: float, before: Skeleton, start: Skeleton) -> dict:
    """A contact of both keyframes a part of the way from one to the other."""
    mixed = dict(touch)
    for name, there in touch.items():
        if name in ("point", "on") or (there == "same" and earlier.get(name) in (None, "same")):
            continue
        here = earlier.get(name)
        if there == "same":
            there = float(locate(start, first_point(touch))[0])
        if not isinstance(here, int | float):
            here = float(locate(before, first_point(touch))["xz".index(name) * 2]) if name in "xz" else there
        mixed[name] = there if here == there else round((1 - part) * here + part * there, 4)
    return mixed


def _by_side(angles: dict[str, float]) -> dict[str, dict[str, float]]:
    """Flat angles in the shape in which poses are authored."""
    authored: dict[str, dict[str, float]] = {"body": {}, "left": {}, "right": {}}
    for name, value in angles.items():
        part, _, angle = name.rpartition(".")
        authored[{"": "body", "l": "left", "r": "right"}[part]][angle] = round(value, 2)
    return authored


def _without(free: list[str], driver: str) -> list[str]:
    """The free angles without those that are the driver: a limit is to stay where it was set."""
    led, own = driver.rpartition(".")[2], driver.rpartition(".")[0]
    if led not in LIMB_ANGLES:
        return [name for name in free if name != driver]
    kept = []
    for name in free:
        part, _, angle = name.rpartition(".")
        if angle != led:
            kept.append(name)
        elif own != "both" and part == "both":
            kept.append(f"{'l' if own == 'r' else 'r'}.{angle}")
        elif own not in ("both", part):
            kept.append(name)
    return kept
