"""What the page of a figure says, and beside which field: forms and drawings in, sentences out."""

from dataclasses import replace

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from library import complaint_wording, figure_wording, own_figure, pose_wording, scene_wording
from library.body.filing import PHASES
from library.body.shape import Complaint
from library.own_drawing import Drawing, apart

_FAR, _VERY_FAR = 2.0, 20.0  # degrees by which a followed angle has to differ before it is worth a word
_ALIKE = 0.5  # degrees, and far more than metres ever differ
_MOST_PAIRS = 30


def said(form, drawing: Drawing | None) -> dict:
    """Return slots: slot -> sentences beside a field; general: those about the whole; stops: whether none is drawn."""
    slots: dict[str, list[dict]] = {}
    general: list[dict] = []
    for field, errors in form.errors.items() if form.is_bound else ():
        slot = form.slot_of(field)
        phase = field.partition("-")[0]
        head = f"{figure_wording.PHASES[phase]}: " if phase in PHASES and slot and "-t" not in slot else ""
        for error in errors:
            if slot:
                slots.setdefault(slot, []).append({"text": head + str(error), "stops": True})
    complaints = _merged(drawing.complaints) if drawing else []
    for one, more in complaints:
        text = complaint_wording.plain(one) + _and_more(more)
        slot = _slot(form, one)
        row = {"text": text, "stops": one.stops}
        for place in (slot, _scene_slot(form, one, slot)):
            if place and row not in slots.setdefault(place, []):
                slots[place].append(row)
        if not slot or one.stops or one.kind == "inside":
            general.append({"text": text, "stops": one.stops})
    for phase, place in drawing.loose if drawing else ():
        text = _("%(phase)s: without this it can be drawn.") % {"phase": figure_wording.PHASES[phase]}
        slots.setdefault(f"{phase}-t{place}", []).append({"text": text, "stops": True})
    if drawing and drawing.pose:
        for slot, text in _followed(form, drawing.pose):
            slots.setdefault(slot, []).append({"text": text, "stops": False})
    if drawing and drawing.loose:
        points = ", ".join(_touching(form, *one) for one in drawing.loose)
        says = _("It can be drawn without one of these under “What touches”: %(points)s.") % {
            "points": points
        }
        general.append({"text": says, "stops": False})
    return {
        "slots": {name: slots.get(name, []) for name in form.slots()},
        "general": [row for place, row in enumerate(general) if row not in general[:place]],
        "stops": drawing is None or drawing.pose is None,
        "wrong": len([one for rows in slots.values() for one in rows if one["stops"]]),
    }


def _touching(form, phase: str, place: int) -> str:
    points = str(form[f"{phase}-t{place}-point"].value()).split(own_figure.SEVERAL)
    return figure_wording.point_name(points if len(points) > 1 else points[0])


def _merged(complaints: list[Complaint]) -> list[tuple[Complaint, int]]:
    """Return the complaints, of many points inside one thing the deepest, with how many more there are."""
    found: list[tuple[Complaint, int]] = []
    deep: dict[tuple[str, str], list[Complaint]] = {}
    for one in _both(complaints):
        if one.kind == "inside":
            deep.setdefault((one.phase, one.inside), []).append(one)
        else:
            found.append((one, 0))
    for several in deep.values():
        found.append((max(several, key=lambda one: one.value), len(several) - 1))
    return found


def _both(complaints: list[Complaint]) -> list[Complaint]:
    """Return the complaints with those said of the left and of the right alike said once, of both."""
    found = []
    for one in complaints:
        side, _dot, rest = one.where.partition(".")
        other = {"l": "r", "r": "l"}.get(side)
        twin = replace(one, where=f"{other}.{rest}", value=0.0)
        alike = [two for two in complaints if other and replace(two, value=0.0) == twin]
        if not alike or abs(alike[0].value - one.value) > _ALIKE or " " in rest:
            found.append(one)
        elif side == "r":
            part = "both" if one.kind == "out_of_range" else "mid"
            found.append(replace(one, where=f"{part}.{rest}"))
    return found


def _and_more(more: int) -> str:
    if not more:
        return ""
    return " " + ngettext("%(n)s more point does too.", "%(n)s more points do too.", more) % {"n": more}


def _slot(form, one: Complaint) -> str:
    """Return the slot of what a complaint is about, or '' where it is about the whole."""
    if one.phase not in form.phases:
        return ""
    if one.kind in ("out_of_range", "unknown_angle", "no_number"):
        return _slot_of_angle(form, one.phase, one.where)
    if one.kind not in ("out_of_reach", "unknown_surface", "inside"):
        return ""
    side, _dot, part = one.where.partition(".")
    names = {one.where, f"mid.{part}"} if side in ("l", "r") else {one.where, f"r.{part}", f"l.{part}"}
    for place in range(form.counts[one.phase]):
        slot = f"{one.phase}-t{place}"
        points = set(str(form[f"{slot}-point"].value()).split(own_figure.SEVERAL))
        on = form[f"{slot}-on"].value()
        if on == one.where if one.kind == "unknown_surface" else names & points:
            return slot
    return ""


def _scene_slot(form, one: Complaint, slot: str) -> str:
    """Return the slot of the apparatus that a complaint is about too: what is in the way, or was moved out of reach."""
    if one.kind == "inside":
        return form.scene.slot_of_thing(one.inside)
    phase, _dash, place = slot.partition("-t")
    return form.scene.slots_of_contact(phase, int(place)) if place.isdigit() else ""


def _slot_of_angle(form, phase: str, name: str) -> str:
    """Return the row in which an angle was typed: that of its side, or of both."""
    part, _dash, angle = own_figure.row_of(name).partition("-")
    if angle not in figure_wording.ANGLES:
        return ""
    tried = {
        "body": ("body",),
        "both": ("both", "right", "left"),
        "right": ("right", "both"),
        "left": ("left", "both"),
    }
    rows = [f"{one}-{angle}" for one in tried[part]]
    return next((row for row in rows if form[f"{phase}-{row}"].value() not in (None, "")), rows[0])


def _followed(form, pose: dict):
    """Yield (slot, words) for angles that followed and came out elsewhere than they were typed."""
    for name in form.phases:
        for free in pose[name].get("free", ()):
            row = own_figure.row_of(free)
            far, solved = _way_off(form[f"{name}-{row}"].value(), pose[name]["solved"], free)
            if far >= _FAR:
                values = {"phase": figure_wording.PHASES[name], "degrees": round(solved)}
                says = _("%(phase)s: it followed to %(degrees)s°.")
                if far >= _VERY_FAR:
                    says = _(
                        "%(phase)s: drawn at %(degrees)s° so that all that touches still does. Untick “follows” to "
                        "hold it as typed, or take a contact out."
                    )
                yield row, says % values


def _way_off(typed, solved: dict, free: str) -> tuple[float, float]:
    """How far an angle that followed came out from where it was typed, and where; degrees."""
    side, _dot, angle = free.rpartition(".")
    came_to = solved.get(f"{'r' if side == 'both' else side}.{angle}" if side else angle, 0)
    try:
        return abs(float(typed or 0) - came_to), came_to
    except (TypeError, ValueError):
        return 0.0, came_to


def phase_label(phase: str, side: str | None) -> str:
    """Return the caption of a picture."""
    label = str(figure_wording.PHASES[phase])
    if side == "left":
        return _("%(phase)s, left (mirrored)") % {"phase": label}
    return _("%(phase)s, right") % {"phase": label} if side else label


def conflict(now, mine: dict) -> dict:
    """Return both figures in words, and every angle that differs, where somebody else wrote meanwhile."""
    theirs = now.payload.get("pose")
    pairs = [
        {
            "label": figure_wording.PHASES[name],
            "theirs": pose_wording.describe(theirs, name) if theirs else _("No drawing"),
            "yours": pose_wording.describe(mine, name),
        }
        for name in ("start", "end")
    ]
    pairs += [
        {
            "label": f"{figure_wording.PHASES[name]}: {figure_wording.angle_name(angle)}",
            "theirs": _degrees(old),
            "yours": _degrees(new),
        }
        for name, angle, old, new in apart(theirs, mine)[:_MOST_PAIRS]
    ]
    if theirs and theirs["scene"]["kind"] == mine["scene"]["kind"]:
        pairs += scene_wording.apart(theirs["scene"], mine["scene"])[:_MOST_PAIRS]
    return {"who": now.changed_by, "when": now.changed_at, "pairs": pairs}


def _degrees(value) -> str:
    return "" if value is None else f"{value:g}°"
