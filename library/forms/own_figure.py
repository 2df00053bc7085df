"""The figure of the studio's own exercise in number fields, and what it begins with."""

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Layout
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import figure_wording as words
from library import own_figure as figures
from library import own_wording, vocabulary_wording
from library.body.filing import PHASES
from library.body.shape import LARGEST_ANGLE, MOST_CONTACTS, MOST_FREE
from library.forms.own_base import CHOOSE
from library.forms.own_fields import CENTIMETRES, DEGREES, FARTHEST_CM, chosen, number
from library.forms.own_scene import FigureScene
from library.plain_starts import keys_of
from studio.forms.widgets import LongSelect


class FigureForm(forms.Form):
    """A pose as numbers. `pose()` is what they make of the pose the form began with, nothing solved."""

    version = forms.IntegerField(widget=forms.HiddenInput)
    origin = forms.CharField(required=False, max_length=80, widget=forms.HiddenInput)
    middle = forms.CharField(required=False, max_length=1, widget=forms.HiddenInput)

    def __init__(self, data=None, *, base: dict, version: int, origin: str, sided: bool):
        self.base, self.sided = base, sided
        at_first = figures.initial(base)
        super().__init__(data, initial={"version": version, "origin": origin, **at_first})
        held = (lambda name: data.get(name, "")) if data is not None else at_first.get
        self.phases = [name for name in PHASES if name != "middle" or held("middle")]
        self.counts = {name: _count(held(f"{name}-n")) for name in self.phases}
        self.scene = FigureScene(self, held)
        for name in self.phases:
            self._angles_of(name)
            self._contacts_of(name)
        self._whole()
        if self.is_bound:
            self._mark()

    # --- fields ------------------------------------------------------------------------------------

    def _angles_of(self, phase: str) -> None:
        for row, part, angle in figures.rows():
            label = f"{words.PHASES[phase]}: {words.angle_name(figures.free_name(part, angle))}"
            self.fields[f"{phase}-{row}"] = number(label, LARGEST_ANGLE, DEGREES, slot=row)
            self.fields[f"{phase}-{row}"].widget.attrs["aria-label"] = label
            self.fields[f"{phase}-{row}-f"] = forms.BooleanField(
                label=_("%(what)s may follow") % {"what": label}, required=False
            )

    def _contacts_of(self, phase: str) -> None:
        self.fields[f"{phase}-n"] = forms.IntegerField(
            widget=forms.HiddenInput, min_value=0, max_value=MOST_CONTACTS
        )
        for place in range(self.counts[phase]):
            name = f"{phase}-t{place}"
            self.fields[f"{name}-point"] = chosen(_("What touches"), self._points(), required=True, slot=name)
            self.fields[f"{name}-on"] = chosen(_("On"), self._surfaces(), slot=name)
            self.fields[f"{name}-x"] = number(_("Place along, cm"), FARTHEST_CM, CENTIMETRES, slot=name)
            self.fields[f"{name}-z"] = number(_("Height, cm"), FARTHEST_CM, CENTIMETRES, slot=name)
            self.fields[f"{name}-number"] = number(
                _("Angle of bar or pedal, or rung"), LARGEST_ANGLE, DEGREES, slot=name
            )
            self.fields[f"{name}-same"] = forms.BooleanField(label=_("Stays where it was"), required=False)

    def _whole(self) -> None:
        self.fields["track"] = chosen(_("The arrow follows"), _point_groups(), required=True)
        self.fields["driver"] = chosen(_("What leads the movement"), self._drivers())
        if self.sided:
            self.fields["work"] = chosen(_("Which limb works"), self._limbs())
        self.fields["turn"] = number(_("Seen from the side by, °"), 90, _("Type degrees from -90 to 90."))
        self.fields["height"] = number(
            _("Seen from above by, °"), 80, _("Type degrees from -10 to 80."), least=-10
        )
        for name, label in (("arrow_x", _("Arrow to the right, cm")), ("arrow_y", _("Arrow up, cm"))):
            self.fields[name] = number(label, 100, _("Type centimetres from -100 to 100."))
        if "middle" in self.phases:
            self.fields["at"] = number(
                _("Middle, per cent of the way"), 95, _("Type a number from 5 to 95."), least=5
            )
        self.helper = FormHelper()
        self.helper.form_tag, self.helper.disable_csrf = False, True
        self.helper.layout = Layout("track")

    def _limbs(self) -> list:
        names = {
            "r.leg": _("Right leg"),
            "r.arm": _("Right arm"),
            "l.leg": _("Left leg"),
            "l.arm": _("Left arm"),
        }
        kept = self.base.get("work", [])
        return [
            ("", _("The trunk, or none alone")),
            *((code, name) for code, name in names.items() if code[0] == "r" or code in kept),
        ]

    def _points(self) -> list:
        """Every point, and what the base says of several points in one contact."""
        several = {
            figures.SEVERAL.join(touch["point"]): words.point_name(touch["point"])
            for name in PHASES
            if name in self.base
            for touch in self.base[name]["touch"]
            if isinstance(touch["point"], list)
        }
        return [
            ("", _("Choose")),
            *_point_groups(),
            *([(_("The first of several"), [*several.items()])] if several else []),
        ]

    def _surfaces(self) -> list:
        return [
            ("", _("Only a place or height")),
            *((one, words.surface_name(one)) for one in figures.surfaces_of(self.scene.pose)),
        ]

    def _drivers(self) -> list:
        bars = [
            (one, words.name(one)) for one in ("pedal", "pushbar") if one in figures.surfaces_of(self.base)
        ]
        angles = [
            (figures.free_name(p, a), words.angle_name(figures.free_name(p, a)))
            for _r, p, a in figures.rows()
        ]
        kept = self.base.get("driver", "")
        known = {code for code, _name in [*bars, *angles]}
        besides = [(kept, words.name(kept))] if kept and kept not in known else []
        return [("", _("Whatever changes most")), *bars, *besides, *angles]

    # --- what was typed ----------------------------------------------------------------------------

    def clean(self):
        data = super().clean()
        for name in self.phases:
            self._clean_phase(name, data)
        self.scene.clean(data)
        data["arrow_x"], data["arrow_y"] = data.get("arrow_x") or 0.0, data.get("arrow_y") or 0.0
        for name, usual in (("turn", 14.0), ("height", 12.0), ("at", 50.0)):
            if data.get(name) is None:
                data[name] = usual
        data["middle"] = "1" if "middle" in self.phases else ""
        if not self.sided:
            data["work"] = (self.base.get("work") or [""])[0]
        return data

    def _clean_phase(self, name: str, data: dict) -> None:
        ticked = [row for row, _part, _angle in figures.rows() if data.get(f"{name}-{row}-f")]
        if len(ticked) > MOST_FREE:
            says = _("At most %(n)s angles may follow.") % {"n": MOST_FREE}
            self.add_error(f"{name}-{ticked[MOST_FREE]}", says)
        for place in range(self.counts[name]):
            self._clean_contact(f"{name}-t{place}", data)

    def _clean_contact(self, name: str, data: dict) -> None:
        on, point = data.get(f"{name}-on"), data.get(f"{name}-point") or ""
        if (
            on in figures.NUMBERED
            and data.get(f"{name}-number") is None
            and not self.errors.get(f"{name}-number")
        ):
            says = {
                "pedal": _("Type the angle of the pedal, 0 is level."),
                "pushbar": _("Type the angle of the bar, 0 is level."),
                "rung": _("Type which rung: 0 is the lowest."),
            }
            self.add_error(f"{name}-number", says.get(on) or _("Type where the roller is, in centimetres."))
        if figures.SEVERAL in point and on and not figures.takes_several(on):
            self.add_error(f"{name}-point", _("Only one point can touch this. Choose one."))
        bare = not on and data.get(f"{name}-x") is None and data.get(f"{name}-z") is None
        if point and bare and not data.get(f"{name}-same") and not self._wrong(name):
            self.add_error(f"{name}-on", _("Say on what it is, or type a place or a height."))

    def _wrong(self, name: str) -> bool:
        return any(field.startswith(name) for field in self.errors)

    def _mark(self) -> None:
        for field in self.errors:
            if field in self.fields:
                self.fields[field].widget.attrs["aria-invalid"] = "true"

    def pose(self) -> dict:
        """Return the pose that was typed, nothing solved. Only once it is clean."""
        data = {**self.cleaned_data}
        data.setdefault("middle-n", 0)
        return figures.built(self.base, data)

    # --- for the page ------------------------------------------------------------------------------

    def groups(self) -> list[dict]:
        """Return the groups of angles with their rows: which are used, and a cell for each phase."""
        found = []
        for code, (part, angles) in figures.GROUPS.items():
            group_rows = [self._row(f"{part}-{angle}", angle) for angle in angles]
            used = [row for row in group_rows if row["used"]]
            found.append(
                {
                    "code": code,
                    "name": words.GROUPS[code],
                    "used": used,
                    "rest": [row for row in group_rows if not row["used"]],
                }
            )
        return found

    def _row(self, row: str, angle: str) -> dict:
        cells = [
            {"number": self[f"{name}-{row}"], "free": self[f"{name}-{row}-f"], "phase": words.PHASES[name]}
            for name in self.phases
        ]
        used = any(cell["number"].value() not in (None, "") or cell["free"].value() for cell in cells)
        label, means = words.ANGLES[angle]
        return {"id": row, "label": label, "means": means, "cells": cells, "used": used}

    def contacts(self) -> list[dict]:
        """Return each phase with its contacts, and whether one more may be added."""
        return [
            {
                "code": name,
                "name": words.PHASES[name],
                "rows": [self._contact_row(name, place) for place in range(self.counts[name])],
                "more": self.counts[name] < MOST_CONTACTS,
            }
            for name in self.phases
        ]

    def _contact_row(self, phase: str, place: int) -> dict:
        name = f"{phase}-t{place}"
        fields = {key: self[f"{name}-{key}"] for key in figures.CONTACT}
        return {"id": name, "place": place, "later": phase != "start", **fields}

    @property
    def numbered(self) -> bool:
        """Whether anything that may be touched asks for a number of its own."""
        return any(one in figures.NUMBERED for one in figures.surfaces_of(self.base))

    def slots(self) -> list[str]:
        """Return every place beside the fields where a sentence may stand."""
        contacts = [f"{name}-t{place}" for name in self.phases for place in range(self.counts[name])]
        return [*(row for row, _part, _angle in figures.rows()), *contacts, *self.scene.slots()]

    def slot_of(self, field: str) -> str:
        """Return the slot of a field: its row or its contact."""
        phase, _dash, rest = field.partition("-")
        if phase == "scene":
            return self.scene.slot_of(field)
        if phase not in PHASES:
            return ""
        return f"{phase}-{rest.partition('-')[0]}" if rest[:1] == "t" and rest[1:2].isdigit() else rest


def _count(value) -> int:
    typed = str(value)
    return min(int(typed), MOST_CONTACTS) if typed.isdecimal() and len(typed) < 4 else 0


def _point_groups() -> list:
    sides = zip(words.SIDES, (_("Right"), _("Left"), _("Both")), strict=True)
    limbs = [
        (name, [(f"{side}.{part}", words.point_name(f"{side}.{part}")) for part in words.LIMB_POINTS])
        for side, name in sides
    ]
    trunk = [(point, words.point_name(point)) for point in words.TRUNK_POINTS]
    return [limbs[2], limbs[0], limbs[1], (_("Trunk and head"), trunk)]


class BeginForm(forms.Form):
    """From which drawing or plain position a figure begins; what fits best stands first."""

    begin = forms.ChoiceField(
        label=gettext_lazy("Begin from"),
        widget=LongSelect(),
        error_messages={"invalid_choice": CHOOSE, "required": CHOOSE},
    )

    def __init__(self, data=None, *, groups):
        super().__init__(data)
        self.fields["begin"].choices = groups
        self.helper = FormHelper()
        self.helper.form_tag, self.helper.disable_csrf = False, True
        self.helper.layout = Layout("begin")


def beginnings(shelf, draft) -> list:
    """Return the choices of BeginForm: what it was made from, plain positions, the like, then the rest by apparatus."""
    facts = draft.payload["facts"]
    drawn = [one for one in shelf if one.current.pose]
    key = draft.base.facts["id"] if draft.base_id else ""
    from_it = [one for one in drawn if one.key == key]
    like = [
        one
        for one in drawn
        if one not in from_it
        and all(one.current.facts[name] == facts.get(name) for name in ("apparatus", "position"))
    ]
    rest: dict[str, list] = {}
    for one in drawn:
        if one not in from_it and one not in like:
            rest.setdefault(one.current.facts["apparatus"], []).append(one)
    plain = [
        (f"plain-{code}", own_wording.PLAIN_STARTS[code]) for code in keys_of(facts.get("apparatus", "mat"))
    ]
    groups = [
        (_("What it was made from"), [*map(_choice, from_it)]),
        (_("The same apparatus and start position"), [*map(_choice, like)]),
        (_("A plain position"), plain),
        *(
            (vocabulary_wording.label("apparatus", name), [*map(_choice, some)])
            for name, some in rest.items()
        ),
    ]
    return [group for group in groups if group[1]]


def _choice(exercise) -> tuple[str, str]:
    return f"like-{exercise.public_id}", exercise.current.name
