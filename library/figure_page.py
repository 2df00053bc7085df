"""What the page of a figure says, and where; and what its buttons change in what was typed.

No database: forms and drawings come in as arguments.
"""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from library import complaint_wording, figure_wording, own_figure, pose_wording
from library.body.filing import PHASES
from library.body.shape import Complaint
from library.own_drawing import Drawing, apart

_FAR = 2.0  # degrees by which a followed angle has to differ before it is worth a word
_MOST_PAIRS = 30


def said(form, drawing: Drawing | None) -> dict:
    """Return slots: slot -> sentences beside a field; general: those about the whole; stops: whether none is drawn."""
    slots: dict[str, list[dict]] = {}
    general: list[str] = []
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
        if slot and row not in slots.setdefault(slot, []):
            slots[slot].append(row)
        if not slot or one.stops or one.kind == "inside":
            general.append({"text": text, "stops": one.stops})
    if drawing and drawing.pose:
        for slot, text in _followed(form, drawing.pose):
            slots.setdefault(slot, []).append({"text": text, "quiet": True})
    return {
        "slots": {name: slots.get(name, []) for name in form.slots()},
        "general": [row for place, row in enumerate(general) if row not in general[:place]],
        "stops": drawing is None or drawing.pose is None,
        "wrong": len([one for rows in slots.values() for one in rows if one.get("stops")]),
    }


def _merged(complaints: list[Complaint]) -> list[tuple[Complaint, int]]:
    """Return the complaints, of many points inside one thing the deepest, with how many more there are."""
    found: list[tuple[Complaint, int]] = []
    deep: dict[tuple[str, str], list[Complaint]] = {}
    for one in complaints:
        if one.kind == "inside":
            deep.setdefault((one.phase, one.inside), []).append(one)
        else:
            found.append((one, 0))
    for several in deep.values():
        found.append((max(several, key=lambda one: one.value), len(several) - 1))
    return found


def _and_more(more: int) -> str:
    if not more:
        return ""
    return " " + ngettext("%(n)s more point does too.", "%(n)s more points do too.", more) % {"n": more}


def _slot(form, one: Complaint) -> str:
    """Return the slot of what a complaint is about, or '' where it is about the whole."""
    if one.kind in ("out_of_range", "unknown_angle", "no_number"):
        row = own_figure.row_of(one.where) if one.where.rpartition(".")[2] in figure_wording.ANGLES else ""
        part, _dash, angle = row.partition("-")
        if part in ("left", "right") and form[f"{one.phase}-{row}"].value() in (None, ""):
            row = f"both-{angle}"
        return row
    if one.kind not in ("out_of_reach", "unknown_surface", "inside") or one.phase not in form.phases:
        return ""
    for place in range(form.counts[one.phase]):
        slot = f"{one.phase}-t{place}"
        points = str(form[f"{slot}-point"].value()).split(own_figure.SEVERAL)
        if one.where in points or (one.kind == "unknown_surface" and one.where == form[f"{slot}-on"].value()):
            return slot
    return ""


def _followed(form, pose: dict):
    """Yield (slot, words) for angles that followed and came out elsewhere than they were typed."""
    for name in form.phases:
        for free in pose[name].get("free", ()):
            row = own_figure.row_of(free)
            side, _dot, angle = free.rpartition(".")
            typed = form[f"{name}-{row}"].value()
            solved = pose[name]["solved"].get(
                f"{'r' if side == 'both' else side}.{angle}" if side else angle, 0
            )
            try:
                far = abs(float(typed or 0) - solved) >= _FAR
            except (TypeError, ValueError):
                continue
            if far:
                phase = figure_wording.PHASES[name]
                yield (
                    row,
                    _("%(phase)s: it followed to %(degrees)s°.") % {"phase": phase, "degrees": round(solved)},
                )


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
    return {"who": now.changed_by, "when": now.changed_at, "pairs": pairs}


def _degrees(value) -> str:
    return "" if value is None else f"{value:g}°"


# --- what the buttons change in what was typed -----------------------------------------------------------------


def change_contacts(data, word: str, where: str, most: int) -> None:
    """Add an empty contact to a phase (`add`, 'end') or take one out (`drop`, 'end:1') of what was posted."""
    phase, _colon, place = where.partition(":")
    typed = data.get(f"{phase}-n", "")
    if phase not in PHASES or not typed.isdecimal() or len(typed) > 3:
        return
    count = min(int(typed), most)
    if word == "add":
        data[f"{phase}-n"] = str(min(count + 1, most))
        return
    if not place.isdecimal() or len(place) > 3 or int(place) >= count:
        return
    for later in range(int(place), count):
        for key in own_figure.CONTACT:
            data.pop(f"{phase}-t{later}-{key}", None)
            following = data.get(f"{phase}-t{later + 1}-{key}")
            if following is not None and later + 1 < count:
                data[f"{phase}-t{later}-{key}"] = following
    data[f"{phase}-n"] = str(count - 1)


def add_middle(data) -> None:
    """Put a middle position between what was posted: angles half way, contacts and what follows as at the end."""
    if data.get("middle"):
        return
    data["middle"], data["at"] = "1", "50"
    for row, _part, _angle in own_figure.rows():
        first, last = (data.get(f"{name}-{row}", "") for name in ("start", "end"))
        data[f"middle-{row}"] = _half_way(first, last)
        if data.get(f"end-{row}-f"):
            data[f"middle-{row}-f"] = "on"
    for name in [one for one in data if one.startswith("end-t") or one == "end-n"]:
        data[f"middle-{name.removeprefix('end-')}"] = data[name]


def _half_way(first: str, last: str) -> str:
    if not first and not last:
        return ""
    try:
        return f"{(float(first or 0) + float(last or 0)) / 2:g}"
    except ValueError:
        return last
