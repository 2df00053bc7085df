"""The apparatus of a figure in words: its parts, and what each of their numbers says. See library.own_scene."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import figure_wording, own_scene

PARTS = {
    "bar": gettext_lazy("Foot bar"),
    "box": gettext_lazy("Box"),
    "headrest": gettext_lazy("Head rest"),
    "carriage": gettext_lazy("Carriage"),
    "y": gettext_lazy("The whole apparatus"),
    "chair": gettext_lazy("Seat"),
    "handles": gettext_lazy("Handles"),
    "ladder": gettext_lazy("Ladder"),
    "eye": gettext_lazy("Hooks of the springs"),
    "eye_y": gettext_lazy("Between the hooks"),
    "trapeze": gettext_lazy("Cross tube on top"),
    "wall": gettext_lazy("Wall in front"),
    "rear_wall": gettext_lazy("Wall behind"),
    "back_wall": gettext_lazy("Wall at the side"),
    "stool": gettext_lazy("Household chair"),
    "cushion": gettext_lazy("Cushion"),
    "pads": gettext_lazy("More cushions"),
    "block": gettext_lazy("Block"),
    "things": gettext_lazy("Small things"),
    "mat": gettext_lazy("Mat"),
    "floor": gettext_lazy("Floor beside it"),
    "ground": gettext_lazy("Mat or floor"),
}
# What is on the body's side of a number: where it is counted from.
_SAYS = {
    "along": gettext_lazy("Along, cm"),
    "across": gettext_lazy("Sideways, cm"),
    "height": gettext_lazy("Height, cm"),
    "from": gettext_lazy("From, cm"),
    "to": gettext_lazy("To, cm"),
    "across_from": gettext_lazy("Sideways from, cm"),
    "across_to": gettext_lazy("Sideways to, cm"),
    "half": gettext_lazy("Half its width, cm"),
    "apart": gettext_lazy("Apart, cm"),
}
CHOICES = {
    "box": {
        "": gettext_lazy("No box"),
        "short": gettext_lazy("Across, to sit on"),
        "long": gettext_lazy("Lengthwise, to lie on"),
    },
    "headrest": {"": gettext_lazy("Flat"), "up": gettext_lazy("Up")},
}
_THINGS = {
    "roller": gettext_lazy("Roller"),
    "step": gettext_lazy("Step"),
    "ball": gettext_lazy("Ball"),
    "towel": gettext_lazy("Towel"),
    "ring": gettext_lazy("Ring"),
}


def part_name(part: str) -> str:
    """Return a row of the apparatus in words."""
    return str(PARTS[part])


def number_label(one: own_scene.Number, scene) -> str:
    """Return the label of a number's field: what it says and its unit; which one of several it is about."""
    says = str(_SAYS[one.says])
    if one.part == "carriage" and one.says == "apart":
        point = figure_wording.point_name(scene["carriage"]["point"])
        return _("From the %(point)s, cm") % {"point": point}
    if one.part == "handles" and one.says == "apart":
        return _("From the seat, cm")
    if one.part == "things":
        what = _THINGS.get(scene["things"][one.path[1]].get("what"), "")
        return _("%(what)s: %(says)s") % {"what": what, "says": says}
    if one.part == "pads" and len(scene["pads"]) > 1:
        return _("%(n)d: %(says)s") % {"n": one.path[1] + 1, "says": says}
    return says


def full_label(one: own_scene.Number, scene) -> str:
    """Return the label with the part before it, for who hears the field alone."""
    return _("%(part)s: %(says)s") % {"part": part_name(one.part), "says": number_label(one, scene)}


def bounds(one: own_scene.Number) -> str:
    """Return what to type where a number does not fit."""
    return _("Type centimetres from %(least)s to %(most)s.") % {"least": one.least, "most": one.most}


def turned_about() -> str:
    return _("The far end has to lie beyond the near one. Type a larger number, or a smaller one before it.")


def choice_word(name: str, code: str) -> str:
    return str(CHOICES[name][code])


def apart(theirs, mine) -> list[dict]:
    """Return what two scenes have differently, as components/conflict.html shows it."""
    rows = []
    for name, number, old, new in own_scene.apart(theirs, mine):
        says = _SAYS[number.says] if number else ""
        part = part_name(number.part if number else name)
        label = _("%(part)s: %(says)s") % {"part": part, "says": says} if says else part
        rows.append({"label": label, "theirs": _value(name, old), "yours": _value(name, new)})
    return rows


def _value(name: str, value) -> str:
    if value is None:
        return ""
    return choice_word(name, value) if name in CHOICES else f"{value:g}"
