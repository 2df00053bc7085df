"""What a pose has to look like before anything is solved or drawn: entries, names, numbers, lengths of lists.

A pose may come out of a form or out of a file that somebody sent, so nothing is taken for granted here. What
only the apparatus and the small things read (the scene, straps, what is held) is held to be small and plain;
whether it can be drawn shows when it is drawn.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import isfinite

from library.body.filing import PHASES, POSE_KEYS
from library.body.points import locate
from library.body.skeleton import BODY_ANGLES, LIMB_ANGLES, LIMBS, PARTS, stand

KINDS = ("mat", "floor", "reformer", "table", "chair", "barrel", "arc")
TOUCH_KEYS = ("point", "on", "x", "z", "pedal", "pushbar", "rung", "roller")
MOST_CONTACTS, MOST_FREE, MOST_POINTS, MOST_PATH = 10, 14, 6, 40
LARGEST_ANGLE = 360  # degrees: more is a slip of the finger
FARTHEST_M = 10
LARGEST_BREATH = 0.3  # the share by which the ribs are wider than at rest: common practice, no source
_LARGEST, _MOST_ENTRIES, _DEEPEST, _LONGEST_WORD = 1000, 24, 5, 60
_PARTS = {"body": BODY_ANGLES, "both": LIMB_ANGLES, "left": LIMB_ANGLES, "right": LIMB_ANGLES}
FREE_NAMES = frozenset(
    [*BODY_ANGLES, *(f"{part}.{angle}" for part in ("both", "l", "r") for angle in LIMB_ANGLES)]
)
SOLVED_NAMES = frozenset([*BODY_ANGLES, *(f"{side}.{angle}" for side in "lr" for angle in LIMB_ANGLES)])


@dataclass(frozen=True)
class Complaint:
    """One thing about a pose: what kind, where (phase, and a point, angle, surface or entry) and how much.

    Kinds: no_pose, unknown_entry, too_many, unknown_angle, no_number, unknown_point, unknown_surface, no_contact,
    out_of_reach, not_met, no_drawing, out_of_range, inside, still.
    """

    kind: str
    phase: str
    where: str
    value: float = 0.0
    inside: str = ""

    @property
    def stops(self) -> bool:
        """Return whether nothing can be drawn as it is."""
        return self.kind not in ("out_of_range", "inside", "still")


def slips(pose) -> list[Complaint]:
    """Return everything about the shape of a pose that would stop solving or drawing it."""
    if not isinstance(pose, dict) or not all(isinstance(pose.get(name), dict) for name in ("start", "end")):
        return [Complaint("no_pose", "", "")]
    found = [*_whole(pose)]
    for name in PHASES:
        if name in pose:
            phase = pose[name]
            found += _phase(name, phase) if isinstance(phase, dict) else [Complaint("no_pose", name, "")]
    return found


def is_number(value, most: float = _LARGEST) -> bool:
    """Return whether a value is a finite number of at most this size, and not a truth value."""
    return (
        isinstance(value, int | float)
        and not isinstance(value, bool)
        and isfinite(value)
        and abs(value) <= most
    )


def is_point(name) -> bool:
    """Return whether a name is that of a point of the body."""
    try:
        locate(_STANDING, name)
    except (KeyError, AttributeError, TypeError):
        return False
    return True


_STANDING = stand({})


def _whole(pose: dict) -> Iterator[Complaint]:
    for name in pose.keys() - set(POSE_KEYS):
        yield Complaint("unknown_entry", "", str(name)[:_LONGEST_WORD])
    scene = pose.get("scene")
    if not isinstance(scene, dict) or scene.get("kind") not in KINDS:
        yield Complaint("unknown_entry", "", "scene")
    elif not _is_small(scene):
        yield Complaint("too_many", "", "scene")
    camera = pose.get("camera", {})
    if not isinstance(camera, dict) or not all(
        name in ("turn", "height") and is_number(value, LARGEST_ANGLE) for name, value in camera.items()
    ):
        yield Complaint("no_number", "", "camera")
    for name in ("key", "driver", "side"):
        if not isinstance(pose.get(name, ""), str) or len(pose.get(name, "")) > _LONGEST_WORD:
            yield Complaint("unknown_entry", "", name)
    for name, known in (("work", LIMBS), ("behind", LIMBS), ("ghost", PARTS)):
        if not isinstance(pose.get(name, []), list) or not all(one in known for one in pose.get(name, [])):
            yield Complaint("unknown_entry", "", name)
    yield from _arrow(pose)
    second = pose.get("second_arrow", {"track": pose.get("track")})
    if not isinstance(second, dict) or second.keys() - {"track", "arrow_off", "arrow_path"}:
        yield Complaint("unknown_entry", "", "second_arrow")
    else:
        yield from _arrow(second)


def _arrow(pose: dict) -> Iterator[Complaint]:
    if not is_point(pose.get("track")):
        yield Complaint("unknown_point", "", str(pose.get("track"))[:_LONGEST_WORD])
    if not _leads_somewhere(pose.get("arrow_path", [[0, 0], [1, 0]])):
        yield Complaint("no_number", "", "arrow_path")
    if not _is_pair(pose.get("arrow_off", [0, 0])):
        yield Complaint("no_number", "", "arrow_off")


def _leads_somewhere(path) -> bool:
    if not isinstance(path, list) or len(path) > MOST_PATH or not all(map(_is_pair, path)):
        return False
    return any(place != path[0] for place in path)


def _is_pair(value) -> bool:
    return isinstance(value, list) and len(value) == 2 and all(map(is_number, value))


def _phase(name: str, phase: dict) -> Iterator[Complaint]:
    for part, known in _PARTS.items():
        angles = phase.get(part, {})
        if not isinstance(angles, dict):
            yield Complaint("unknown_entry", name, part)
            continue
        for angle, value in angles.items():
            if angle not in known:
                yield Complaint("unknown_angle", name, str(angle)[:_LONGEST_WORD])
            elif not is_number(value, LARGEST_ANGLE):
                yield Complaint("no_number", name, angle)
    yield from _free(name, phase.get("free", []))
    yield from _contacts(name, phase.get("touch"))
    yield from _solved(name, phase)
    at = phase.get("at", 0.5)
    if not is_number(at) or not 0 < at < 1:
        yield Complaint("no_number", name, "at")
    if not is_number(phase.get("ribs", 0), LARGEST_BREATH):
        yield Complaint("no_number", name, "ribs")
    besides = {
        key: value for key, value in phase.items() if key not in (*_PARTS, "touch", "free", "solved", "rest")
    }
    if not _is_small(besides) or not _is_small(phase.get("rest", [])):
        yield Complaint("too_many", name, "")


def _free(name: str, free) -> Iterator[Complaint]:
    if not isinstance(free, list):
        yield Complaint("unknown_entry", name, "free")
        return
    if len(free) > MOST_FREE:
        yield Complaint("too_many", name, "free", MOST_FREE)
    for one in free:
        if not isinstance(one, str) or one not in FREE_NAMES:
            yield Complaint("unknown_angle", name, str(one)[:_LONGEST_WORD])


def _contacts(name: str, touches) -> Iterator[Complaint]:
    if not isinstance(touches, list) or not touches:
        yield Complaint("no_contact", name, "")
        return
    if len(touches) > MOST_CONTACTS:
        yield Complaint("too_many", name, "touch", MOST_CONTACTS)
    for touch in touches:
        if not isinstance(touch, dict) or touch.keys() - set(TOUCH_KEYS) or "point" not in touch:
            yield Complaint("unknown_entry", name, "touch")
            continue
        yield from _contact(name, touch)


def _contact(name: str, touch: dict) -> Iterator[Complaint]:
    points = touch["point"] if isinstance(touch["point"], list) else [touch["point"]]
    if not 1 <= len(points) <= MOST_POINTS:
        yield Complaint("too_many", name, "touch", MOST_POINTS)
    for point in points:
        if not is_point(point):
            yield Complaint("unknown_point", name, str(point)[:_LONGEST_WORD])
    if not isinstance(touch.get("on", ""), str):
        yield Complaint("unknown_surface", name, str(touch["on"])[:_LONGEST_WORD])
    for key in ("x", "z", "pedal", "pushbar", "rung", "roller"):
        most = LARGEST_ANGLE if key in ("pedal", "pushbar") else FARTHEST_M
        same = key == "x" and isinstance(touch.get("x"), str) and touch["x"] == "same"
        if touch.get(key) is not None and not same and not is_number(touch[key], most):
            yield Complaint("no_number", name, key)


def _solved(name: str, phase: dict) -> Iterator[Complaint]:
    solved = phase.get("solved", {})
    if not isinstance(solved, dict):
        yield Complaint("unknown_entry", name, "solved")
        return
    for angle, value in solved.items():
        if angle not in SOLVED_NAMES:
            yield Complaint("unknown_angle", name, str(angle)[:_LONGEST_WORD])
        elif not is_number(value):
            yield Complaint("no_number", name, angle)
    hips = phase.get("solved_hips", [0, 0, 0])
    if not isinstance(hips, list) or len(hips) != 3 or not all(is_number(one, FARTHEST_M) for one in hips):
        yield Complaint("no_number", name, "solved_hips")


def _is_small(value, depth: int = 0) -> bool:
    """Whether a value is made of short words, moderate numbers and few entries."""
    if depth > _DEEPEST:
        return False
    if isinstance(value, dict | list):
        inside = [*value, *value.values()] if isinstance(value, dict) else value
        return len(value) <= _MOST_ENTRIES and all(_is_small(one, depth + 1) for one in inside)
    if isinstance(value, str):
        return len(value) <= _LONGEST_WORD
    return value is None or isinstance(value, bool) or is_number(value)
