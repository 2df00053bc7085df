"""The figure of the studio's own exercise: a pose as numbers of a form, and a pose made of them again.

Plain computation. A form has rows (a part of the body and an angle, ``both-hip``) with a number for each phase, and
contacts in order. Angles in degrees as in `library.body`; places in centimetres on the page, metres in the pose.
Numbers of the apparatus are those of `own_scene`. What the form does not ask (straps, springs, props) stays as in the
pose it began with.
"""

from collections.abc import Mapping

from library import own_scene
from library.body.filing import PHASES
from library.body.limits import LEAST_DEGREES
from library.body.skeleton import ARM_ANGLES, BODY_ANGLES, LEG_ANGLES
from library.body.surfaces import LEVELS, ROUND

# Group on the page -> part of a phase, its angles.
GROUPS = {
    "body": ("body", BODY_ANGLES),
    "both_legs": ("both", LEG_ANGLES),
    "right_leg": ("right", LEG_ANGLES),
    "left_leg": ("left", LEG_ANGLES),
    "both_arms": ("both", ARM_ANGLES),
    "right_arm": ("right", ARM_ANGLES),
    "left_arm": ("left", ARM_ANGLES),
}
# Surfaces of which a contact holds a number, in an entry of the same name; a roller's is a place, the others are
# degrees or a count.
NUMBERED = ("pedal", "pushbar", "rung", "roller")
SEVERAL = "|"  # between the points of which the first that touches counts
CONTACT = ("point", "on", "x", "same", "z", "number")
# What one-sided work means -> the limbs that are coloured: the right side is the one that is drawn.
_WORKS = {
    "working_leg": ["r.leg"], "stance_leg": ["r.leg"], "rear_leg": ["r.leg"], "front_leg": ["r.leg"],
    "working_arm": ["r.arm"], "support_side": ["r.arm"],
}  # fmt: skip
_ANGLES = ("body", "both", "left", "right")
_ASKED = (*_ANGLES, "touch", "free", "at", "solved", "solved_hips", "rest", "props")


def rows() -> list[tuple[str, str, str]]:
    """Return every row of the form in order: its name, the part of a phase and the angle."""
    return [(f"{part}-{angle}", part, angle) for part, angles in GROUPS.values() for angle in angles]


def free_name(part: str, angle: str) -> str:
    """Return the name under which an angle may follow: lean, both.hip, r.knee, l.knee."""
    side = {"body": "", "both": "both.", "right": "r.", "left": "l."}[part]
    return f"{side}{angle}"


def row_of(free: str) -> str:
    """Return the row of an angle by the name under which it may follow, or was solved."""
    side, _dot, angle = free.rpartition(".")
    return f"{ {'': 'body', 'both': 'both', 'r': 'right', 'l': 'left'}[side] }-{angle}"


def scene_field(name: str) -> str:
    """Return the form's field for a number or a choice of the scene."""
    return f"scene-{name}"


def surfaces_of(pose: Mapping) -> list[str]:
    """Return what there is to touch in a pose's scene, and what it touches already."""
    scene = pose["scene"]
    of_kind = {
        "mat": ["mat"],
        "floor": ["floor"],
        "reformer": ["carriage", "headrest", *([] if {"board", "platform"} & scene.keys() else ["footbar"])],
        "table": ["table", "pushbar", "post"],
        "chair": ["seat", "pedal", "floor"],
        "barrel": ["barrel", "rung", "floor"],
        "arc": ["arc", "mat"],
    }[scene["kind"]]
    with_entry = {
        "board": ["jumpboard"], "platform": ["platform"], "box": ["box"], "handles": ["handle"], "mat": ["mat"],
        "stool": ["stool", "backrest"], "wall": ["wall"], "rear_wall": ["rear_wall"], "cushion": ["cushion"],
    }  # fmt: skip
    besides = [one for entry, some in with_entry.items() if scene.get(entry) for one in some]
    touched = [
        touch["on"] for name in PHASES if name in pose for touch in pose[name]["touch"] if "on" in touch
    ]
    return list(dict.fromkeys([*of_kind, *besides, *touched]))


def takes_several(surface: str) -> bool:
    """Return whether the first of several points may touch a surface: level and round ones."""
    return surface in LEVELS or surface in ROUND or surface == "roller"


# --- a pose as the numbers of a form ---------------------------------------------------------------------------


def initial(pose: Mapping) -> dict:
    """Return the values of the form's fields for a pose; `<phase>-n` counts its contacts."""
    camera, arrow = pose.get("camera", {}), pose.get("arrow_off", (0, 0))
    values = {
        "track": pose["track"],
        "driver": pose.get("driver", ""),
        "work": (pose.get("work") or [""])[0],
        "turn": camera.get("turn", 14),
        "height": camera.get("height", 12),
        "arrow_x": arrow[0] / 2,
        "arrow_y": -arrow[1] / 2,
        "middle": "1" if "middle" in pose else "",
        "at": round(100 * pose.get("middle", {}).get("at", 0.5), 1),
        **{scene_field(name): value for name, value in own_scene.initial(pose["scene"]).items()},
    }
    for name in PHASES:
        values |= _phase_values(name, pose[name]) if name in pose else {f"{name}-n": 0}
    return values


def _phase_values(name: str, phase: Mapping) -> dict:
    free = set(phase.get("free", ()))
    values: dict = {f"{name}-n": len(phase["touch"])}
    for row, part, angle in rows():
        if angle in phase.get(part, {}):
            values[f"{name}-{row}"] = phase[part][angle]
        values[f"{name}-{row}-f"] = free_name(part, angle) in free
    for place, touch in enumerate(phase["touch"]):
        values |= {f"{name}-t{place}-{key}": value for key, value in _contact_values(touch).items()}
    return values


def _contact_values(touch: Mapping) -> dict:
    point, on = touch["point"], touch.get("on", "")
    number = touch.get(on) if on in NUMBERED else None
    x = touch.get("x")
    return {
        "point": point if isinstance(point, str) else SEVERAL.join(point),
        "on": on,
        "x": None if x is None or x == "same" else _cm(x),
        "same": x == "same",
        "z": None if touch.get("z") is None else _cm(touch["z"]),
        "number": _cm(number) if on == "roller" and number is not None else number,
    }


def _cm(metres: float) -> float:
    return round(100 * metres, 3)


def _metres(cm: float) -> float:
    return round(cm / 100, 5)


# --- a pose of the numbers of a form ---------------------------------------------------------------------------


def built(base: Mapping, values: Mapping) -> dict:
    """Return the pose that these values make of the pose the form began with, nothing solved.

    values: as `initial` gives them, checked. Where they say nothing new the base itself is returned.
    """
    pose = {name: value for name, value in base.items() if name not in (*PHASES, "work", "arrow_off")}
    pose |= {"track": values["track"], "driver": values["driver"]}
    pose["scene"] = own_scene.built(base["scene"], scene_values(base["scene"], values))
    pose["camera"] = {"turn": values["turn"], "height": values["height"]}
    if values["work"]:
        pose["work"] = [values["work"]]
    off = [round(2 * values["arrow_x"], 1), round(-2 * values["arrow_y"], 1)]
    if any(off) or "arrow_off" in base:
        pose["arrow_off"] = off
    for name in PHASES:
        if name != "middle" or values["middle"]:
            pose[name] = _phase_built(name, base.get(name) or base["end"], values)
    if pose == unsolved(base):
        return dict(base)
    if any(pose.get(name) != unsolved(base).get(name) for name in ("track", "scene", *PHASES)):
        for name in ("arrow_path", "second_arrow", "ghost"):  # they were drawn for that movement
            pose.pop(name, None)
    return pose


def scene_values(scene: Mapping, values: Mapping) -> dict:
    """Return what a form's values say of a scene, by the names of `own_scene`; what they do not say is left out."""
    names = [*(one.name for one in own_scene.numbers(scene)), *own_scene.choices(scene)]
    return {name: values[scene_field(name)] for name in names if scene_field(name) in values}


def moves_otherwise(before: Mapping, after: Mapping) -> bool:
    """Return whether two figures differ in what the body does or on what, and not only in how they are seen."""
    one, two = unsolved(before), unsolved(after)
    return any(one.get(name) != two.get(name) for name in ("scene", *PHASES))


def unsolved(pose: Mapping) -> dict:
    """Return a pose as its author typed it, without what was solved."""
    return {
        name: {k: v for k, v in value.items() if k not in ("solved", "solved_hips")}
        if name in PHASES
        else value
        for name, value in pose.items()
    }


def _phase_built(name: str, base: Mapping, values: Mapping) -> dict:
    phase = {key: value for key, value in base.items() if key not in _ASKED}
    for part in _ANGLES:
        typed = {
            angle: values[f"{name}-{row}"]
            for row, of, angle in rows()
            if of == part and values.get(f"{name}-{row}") is not None
        }
        if typed or part in base:
            phase[part] = typed
    phase["touch"] = [_contact(name, place, values) for place in range(values[f"{name}-n"])]
    ticked = [free_name(part, angle) for row, part, angle in rows() if values.get(f"{name}-{row}-f")]
    before = [one for one in base.get("free", ()) if one in ticked]
    phase["free"] = [*before, *(one for one in ticked if one not in before)]
    if name == "middle":
        phase["at"] = round(values["at"] / 100, 3)
        if "at" not in base and phase["at"] == 0.5:
            del phase["at"]
    # Which parts rest and what carries the rest is known for the contacts of the base only.
    as_before = _points(phase["touch"]) == _points(base["touch"])
    phase |= {key: base.get(key, []) if as_before else [] for key in ("props", "rest")}
    return phase


def _points(touches) -> list:
    return [(touch["point"], touch.get("on")) for touch in touches]


def _contact(name: str, place: int, values: Mapping) -> dict:
    point, on, x, same, z, number = (values.get(f"{name}-t{place}-{key}") for key in CONTACT)
    touch: dict = {"point": point.split(SEVERAL) if SEVERAL in point else point}
    if on:
        touch["on"] = on
    if same and name != "start":
        touch["x"] = "same"
    elif x is not None:
        touch["x"] = _metres(x)
    if z is not None:
        touch["z"] = _metres(z)
    if on in NUMBERED and number is not None:
        touch[on] = _metres(number) if on == "roller" else number
    return touch


# --- what the pose needs besides -------------------------------------------------------------------------------


def led(pose: Mapping) -> dict:
    """Return a solved pose that says what leads it: as it says itself, or the angle that changes most."""
    if pose.get("driver"):
        return dict(pose)
    first, last = pose["start"]["solved"], pose["end"]["solved"]
    change = {n: abs(last.get(n, 0) - first.get(n, 0)) for n in sorted(first.keys() | last.keys())}
    name = max(change, key=lambda one: change[one], default="")
    if not name or change[name] < LEAST_DEGREES:
        return {**pose, "driver": ""}
    side, _dot, angle = name.rpartition(".")
    other = {"l": f"r.{angle}", "r": f"l.{angle}"}.get(side, "")
    alike = other in change and abs(change[other] - change[name]) < 1
    return {**pose, "driver": f"both.{angle}" if alike else name}


def fitted(pose: Mapping, facts: Mapping) -> dict:
    """Return a pose as the facts of its exercise ask for it: its key, what its sides mean, which limb works."""
    means = facts.get("side_means")
    if pose.get("key") == facts["id"] and pose.get("side") == means:
        return dict(pose)
    whole = {**pose, "key": facts["id"]}
    if whole.get("side") != means:
        whole.pop("side", None)
        work = whole.pop("work", None) or _WORKS.get(means)
        if means:
            whole |= {"side": means} | ({"work": work} if work else {})
    return whole
