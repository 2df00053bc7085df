"""The side sheet of a plan row, the reason for keeping one, and finding an exercise to add."""

from django import forms
from django.core.validators import MaxLengthValidator, MaxValueValidator, MinValueValidator
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import vocabulary_wording
from sessions import plan_wording, planning, wording
from sessions.models import PlanItem
from studio.forms.widgets import Pegs, Phrases, Segmented, Stepper

# What a setting holds besides its springs: free words, as the studio's machines are marked.
TEXTS = {
    "gear": gettext_lazy("Gear or stop"),
    "bar": gettext_lazy("Bar"),
    "strap": gettext_lazy("Strap or hook"),
    "box": gettext_lazy("Box"),
}
NO_UNIT = "none"


class PlanItemForm(forms.Form):
    """One row: sides and dose, unit and springs, changes, minutes, a note.

    units: booked units of the exercise's kind. springs: the studio's springs of that kind. minutes_by_sum:
    what the row takes where no minutes are typed. Fields that mean nothing for the exercise are not there.
    """

    version = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args, item: PlanItem, units=(), springs=(), minutes_by_sum=1, **kwargs):
        self.item, self.facts, self.units = item, item.exercise.current.facts, list(units)
        self.sided = planning.is_sided(self.facts)
        self.pegs = _pegs(springs, item.setting)
        initial = {**_initial(item), **kwargs.pop("initial", {})}
        super().__init__(*args, initial=initial, **kwargs)
        if self.sided:
            self._add_sides()
        self._add_dose()
        if self.units:
            self._add_unit()
        if self.pegs or self.facts["spring_role"]:
            self._add_setting()
        self._add_rest(minutes_by_sum)

    def _add_sides(self) -> None:
        self.fields["sides"] = forms.ChoiceField(
            label=_("Sides"),
            choices=[("both", _("Both")), ("left", _("Left only")), ("right", _("Right only"))],
            widget=Segmented(),
            required=False,
            help_text=vocabulary_wording.right_means(self.facts["side_means"]),
        )
        self.fields["first_side"] = forms.ChoiceField(
            label=_("Goes first"),
            choices=[("left", _("Left")), ("right", _("Right"))],
            widget=Segmented(),
            required=False,
        )

    def _add_dose(self) -> None:
        usual = planning.usual_repetitions(self.facts)
        names = {"repetitions": _("Repetitions"), "seconds": _("Seconds held")}
        if self.sided:
            names |= {"repetitions_right": _("Repetitions, right"), "seconds_right": _("Seconds held, right")}
        for name, label in names.items():
            if name.startswith("repetitions"):
                self.fields[name] = _number(label, 200, start=usual)
            else:
                self.fields[name] = _number(label, 900, step=5, start=10)

    def _add_unit(self) -> None:
        choices = [(unit.public_id, unit.name) for unit in self.units] + [(NO_UNIT, _("None yet"))]
        self.fields["unit"] = forms.ChoiceField(
            label=_("Apparatus"), choices=choices, widget=Segmented(), required=False
        )

    def _add_setting(self) -> None:
        if self.pegs:
            self.fields["springs"] = forms.MultipleChoiceField(
                label=_("Springs hooked on"),
                choices=[(value, label) for value, _grade, label in self.pegs],
                widget=Pegs(self.pegs),
                required=False,
            )
        for name, label in TEXTS.items():
            self.fields[name] = _words(label, 40)

    def _add_rest(self, minutes_by_sum) -> None:
        codes = self.facts["adaptations"]
        if codes:
            self.fields["adaptations"] = forms.MultipleChoiceField(
                label=_("Changes for this client"),
                choices=[(code, vocabulary_wording.adaptation(code)) for code in codes],
                widget=Phrases(),
                required=False,
            )
        self.fields["pause"] = forms.TypedChoiceField(
            label=_("Rest on the side or sitting, after it"),
            choices=PlanItem.Pause.choices,
            coerce=int,
            empty_value=0,
            widget=Segmented(),
            required=False,
        )
        # One touch on what would lift, or on taking it out: the row's form with that change.
        for name in ("with", "without"):
            self.fields[name] = forms.CharField(required=False, widget=forms.HiddenInput)
        self.fields["minutes"] = _number(_("Minutes"), 120, start=minutes_by_sum)
        self.fields["minutes"].help_text = _("Empty: %(n)d by the sum.") % {"n": minutes_by_sum}
        self.fields["note"] = _words(_("Note"), 240)

    @property
    def right_differs(self) -> bool:
        """Return whether the right side's own numbers are to be shown at once."""
        names = ("repetitions_right", "seconds_right")
        return self.sided and any(self[name].value() or self[name].errors for name in names)

    def clean(self):
        data = super().clean()
        wrong = {"repetitions", "seconds"} & set(self.errors)
        if not wrong and not data.get("repetitions") and not data.get("seconds"):
            self.add_error("repetitions", _("Say how many, or how many seconds it is held."))
        return data

    def values(self) -> dict:
        """Return what the row is to hold, by field of PlanItem. Only for a form that is valid."""
        data = self.cleaned_data
        sides = (data["sides"] or "both") if self.sided else ""
        both = sides == "both"
        values = {
            "sides": sides,
            "first_side": (data.get("first_side") or "left") if both else sides,
            "minutes": data["minutes"],
            "note": data["note"],
        }
        for name in ("repetitions", "seconds"):
            right = data.get(f"{name}_right") if both else None
            values[name] = data[name]
            values[f"{name}_right"] = right if right != data[name] else None
        if "unit" in self.fields:
            chosen = [unit for unit in self.units if unit.public_id == data["unit"]]
            values["unit"] = chosen[0] if chosen else None
        if "gear" in self.fields:
            values["setting"] = self._setting()
        values["pause"] = data["pause"]
        if "adaptations" in self.fields:
            values["adaptations"] = self._adaptations()
        return values

    def _adaptations(self) -> list[str]:
        """Return the chosen adaptations, with what a button beside the form put in or took out."""
        listed, data = self.facts["adaptations"], self.cleaned_data
        wanted = {*data["adaptations"], *data["with"].split()} - set(data["without"].split())
        return [code for code in listed if code in wanted]

    def _setting(self) -> dict:
        springs: dict[str, dict] = {}
        for value in self.cleaned_data.get("springs", ()):
            one = self.pegs.spring_of(value)
            springs.setdefault(one["spring"], {**one, "count": 0})["count"] += 1
        texts = {name: self.cleaned_data[name] for name in TEXTS if self.cleaned_data[name]}
        return {"springs": list(springs.values()), **texts} if springs or texts else {}


class _pegs(list):
    """Pegs of an apparatus as (value, grade, label): one for each spring that could be hooked on.

    The studio's springs of the kind come first; those of the setting that the studio no longer lists follow,
    so that they can be seen and taken off.
    """

    def __init__(self, springs, setting: dict):
        self.springs = {
            spring.public_id: {"spring": spring.public_id, "name": spring.name, "grade": spring.grade}
            for spring in springs
        }
        counts = {spring.public_id: spring.count for spring in springs}
        for held in setting.get("springs", ()):
            kept = {key: held[key] for key in ("spring", "name", "grade")}
            self.springs.setdefault(held["spring"], kept)
            counts[held["spring"]] = max(counts.get(held["spring"], 0), held["count"])
        super().__init__(
            (f"{key}.{n}", one["grade"], _peg_words(one))
            for key, one in self.springs.items()
            for n in range(1, counts[key] + 1)
        )

    def spring_of(self, value: str) -> dict:
        return self.springs[value.rpartition(".")[0]]


def _peg_words(spring: dict) -> str:
    grade = vocabulary_wording.spring_grade(spring["grade"])
    return _("%(spring)s, %(grade)s") % {"spring": spring["name"], "grade": grade}


def _initial(item: PlanItem) -> dict:
    setting = item.setting
    return {
        "sides": item.sides or "both",
        "first_side": item.first_side or "left",
        "repetitions": item.repetitions,
        "seconds": item.seconds,
        "repetitions_right": item.repetitions_right,
        "seconds_right": item.seconds_right,
        "unit": item.unit.public_id if item.unit else NO_UNIT,
        "springs": [
            f"{held['spring']}.{n}"
            for held in setting.get("springs", ())
            for n in range(1, held["count"] + 1)
        ],
        "minutes": item.minutes,
        "adaptations": item.adaptations,
        "pause": item.pause,
        "note": item.note,
        **{name: setting.get(name, "") for name in TEXTS},
    }


def _number(label, most, **stepper) -> forms.IntegerField:
    """Return an optional whole number from 1 up, with sentences that say what to do."""
    field = forms.IntegerField(
        label=label,
        required=False,
        widget=Stepper(min=1, max=most, small=True, **stepper),
        error_messages={"invalid": gettext_lazy("Type a whole number, or leave it empty.")},
    )
    field.validators += [
        MinValueValidator(1, gettext_lazy("Type 1 or more, or leave it empty.")),
        MaxValueValidator(most, gettext_lazy("Type %(limit_value)s or less.")),
    ]
    return field


def _words(label, most) -> forms.CharField:
    field = forms.CharField(label=label, required=False)
    field.widget.attrs["maxlength"] = most
    too_long = gettext_lazy("Shorten this to %(limit_value)s characters.")
    field.validators.append(MaxLengthValidator(most, too_long))
    return field


class KeepForm(forms.Form):
    """Why a row marked Avoid stays: needed, and kept with who and when."""

    version = forms.IntegerField(widget=forms.HiddenInput)
    reason = forms.CharField(
        label=gettext_lazy("Why keep it? It stays with the plan, with your name."),
        widget=forms.Textarea(attrs={"rows": 3, "maxlength": 300}),
        error_messages={"required": gettext_lazy("Type the reason first, or drop the exercise.")},
        validators=[MaxLengthValidator(300, gettext_lazy("Shorten this to %(limit_value)s characters."))],
    )


class VersionForm(forms.Form):
    """One touch on a plan: only the version that was on the page."""

    version = forms.IntegerField()


class MoveForm(VersionForm):
    way = forms.ChoiceField(choices=[("earlier", "earlier"), ("later", "later")])

    @property
    def by(self) -> int:
        return -1 if self.cleaned_data["way"] == "earlier" else 1


class ApproveForm(VersionForm):
    """`seen` is the mark of the judgements on the page."""

    seen = forms.CharField()


class StartForm(forms.Form):
    begin = forms.ChoiceField(choices=[("last", "last"), ("empty", "empty")])


def words_of(values: dict) -> dict[str, str]:
    """Return the values of a row (see PlanItemForm.values) in words, by what they are about."""
    row = PlanItem(**values)
    setting = wording.setting_words(row.setting)
    changes = ", ".join(vocabulary_wording.labels("adaptation", row.adaptations))
    first = {"left": _("left"), "right": _("right")}.get(row.first_side, "")
    return {
        _("Dose"): wording.dose(row),
        _("Goes first"): first if row.sides == "both" else "",
        _("Apparatus"): row.unit.name if row.unit else "",
        _("Springs and gear"): setting,
        _("Changes for this client"): changes,
        _("Minutes"): str(row.minutes or ""),
        _("Rest after it"): plan_wording.pause_words(row.pause),
        _("Note"): row.note,
    }
