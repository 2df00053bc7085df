"""A pose examined and drawn while somebody writes it, or when it comes out of a file. Plain computation."""

from collections.abc import Mapping
from typing import NamedTuple
from xml.etree import ElementTree

import numpy as np

from library import body, own_figure, pose_wording
from library.body.complaints import examine, stored_complaints
from library.body.grounding import Grounded, GroundingError, ground, rounded
from library.body.shape import Complaint, slips

# What a drawing is made of; nothing else may come out of a pose that somebody sent.
_DRAWN = {"svg", "title", "desc", "g", "path", "circle", "text"}
_ATTRIBUTES = ("style", "href", "on")
ENDS = ("start", "end")
_MOST_TRIED = 6
_HOPELESS_M = 1.0  # farther than this no single contact is in the way


class Drawing(NamedTuple):
    """What became of a pose: solved, or None where something stops; complaints; phase -> pose to draw it from.

    loose: contacts (phase, place) of which any one left out would let it be drawn, where they cannot all be met.
    unmet: the phase that is drawn as near as the body comes, though it cannot be met; '' for none.
    """

    pose: dict | None
    complaints: list[Complaint]
    shown: dict[str, dict]
    loose: list[tuple[str, int]]
    unmet: str = ""


def drawing(pose: dict) -> Drawing:
    """Solve a pose and say what is wrong. Of a phase that cannot be met it shows how near the body comes."""
    solved, complaints = examine(pose)
    if not any(one.stops for one in complaints):
        solved = own_figure.led(solved)
        if can_draw(solved):
            return Drawing(solved, complaints, shown(solved), [])
        complaints = [Complaint("no_drawing", "", "scene")]
    first = next(one for one in complaints if one.stops)
    if first.kind != "out_of_reach" or first.phase not in pose:
        return Drawing(None, complaints, _start_alone(pose, first.phase), [])
    start = ground(pose["start"], pose["scene"]) if first.phase != "start" else None
    loose = [*_loose(pose, first.phase, start)] if first.value < _HOPELESS_M else []
    reached = _reached(pose, first.phase, start)
    if reached is None:
        return Drawing(None, complaints, _start_alone(pose, first.phase), loose)
    phases = [first.phase] if start is None else ["start", first.phase]
    # Both are drawn of one pose, in one frame, so that they compare.
    return Drawing(None, complaints, dict.fromkeys(phases, reached), loose, first.phase)


def _start_alone(pose: dict, stopped_at: str) -> dict[str, dict]:
    """Return the start to be shown by itself, where it is not what stops and holds without the rest."""
    start = None if stopped_at == "start" else _alone(pose, "start")
    return {"start": start} if start else {}


def _reached(pose: dict, name: str, start: Grounded | None) -> dict | None:
    """Return a pose to draw a phase from that cannot be met, as near as the body comes to it; None for none."""
    try:
        near = ground(pose[name], pose["scene"], start=start)
    except GroundingError as error:
        near = error.reached
    except np.linalg.LinAlgError:
        return None
    if near is None or not np.isfinite([*near.angles.values(), *near.hips]).all():
        return None
    end = rounded(pose[name], near)
    first = rounded(pose["start"], start) if start else end
    drawn = {**_without_middle(pose), "start": first, "end": end}
    return drawn if can_draw(drawn) else None


def _loose(pose: dict, name: str, start: Grounded | None):
    """Yield the contacts of a phase without which the phase can be met. Only so many are tried: each is solved."""
    phase, scene = pose[name], pose["scene"]
    for place in range(min(len(phase["touch"]), _MOST_TRIED) if len(phase["touch"]) > 1 else 0):
        less = {**phase, "touch": phase["touch"][:place] + phase["touch"][place + 1 :]}
        try:
            ground(less, scene, start=start)
        except (GroundingError, np.linalg.LinAlgError):
            continue
        yield name, place


def shown(solved: dict) -> dict[str, dict]:
    """Return phase -> pose from which it is drawn; the middle is drawn as an end of its own."""
    if "middle" not in solved:
        return {"start": solved, "end": solved}
    return {"start": solved, "middle": _still(solved, solved["middle"]), "end": solved}


def drawn_as(phase: str) -> str:
    """Return the end as which a phase is drawn."""
    return "start" if phase == "start" else "end"


def _still(pose: dict, phase: dict) -> dict:
    return {**_without_middle(pose), "start": phase, "end": phase}


def _without_middle(pose: dict) -> dict:
    of_the_way = ("middle", "arrow_path", "second_arrow", "ghost")
    return {name: value for name, value in pose.items() if name not in of_the_way}


def _alone(pose: dict, name: str) -> dict | None:
    """One phase that holds by itself, or None."""
    if slips(pose):
        return None
    solved, complaints = examine(_still(pose, pose[name]))
    return solved if not any(one.stops for one in complaints) and can_draw(solved) else None


def faults(pose) -> list[Complaint]:
    """Return what speaks against a pose that brings its solved angles along; nothing where it may be taken over."""
    found = slips(pose)
    if found:
        return found
    _solved, complaints = examine(own_figure.unsolved(pose))
    stopping = [one for one in complaints if one.stops] or stored_complaints(pose)
    if stopping or can_draw(pose):
        return stopping
    return [Complaint("no_drawing", "", "scene")]


def can_draw(pose) -> bool:
    """Return whether a pose can be drawn and told at both its ends, as nothing but lines."""
    try:
        drawn = [body.figure(pose, phase=phase, title="") for phase in ENDS]
        told = [pose_wording.describe(pose, phase, side) for phase in ENDS for side in ("right", "left")]
        return all(told) and all(_is_plain(ElementTree.fromstring(one)) for one in drawn)
    except Exception:  # noqa: BLE001 - a pose from a file may be anything at all; it is refused, whatever it breaks
        return False


def _is_plain(tree) -> bool:
    tags = {node.tag.rpartition("}")[2] for node in tree.iter()}
    names = {name.rpartition("}")[2] for node in tree.iter() for name in node.attrib}
    return tags <= _DRAWN and not any(name.startswith(_ATTRIBUTES) for name in names)


def apart(theirs: Mapping | None, mine: Mapping | None) -> list[tuple[str, str, object, object]]:
    """Return (phase, angle as it may follow, theirs, mine) where two poses were typed differently."""
    found = []
    for name in ("start", "middle", "end"):
        one, two = ((pose or {}).get(name, {}) for pose in (theirs, mine))
        for _row, part, angle in own_figure.rows():
            old, new = (phase.get(part, {}).get(angle) for phase in (one, two))
            if old != new:
                found.append((name, own_figure.free_name(part, angle), old, new))
    return found
