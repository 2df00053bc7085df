"""Home practice: finding an exercise, its dose and changes, what holds for the whole sheet, closing a call-back."""

import datetime as dt

from crispy_forms.layout import Field
from django import forms
from django.core.validators import MaxLengthValidator, MaxValueValidator, MinValueValidator
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import vocabulary_wording
from sessions import handout_checks, home_rules, home_wording, planning
from sessions.models import CallBackClosed, Gates, HomePractice
from studio.forms.layout import fields_only
from studio.forms.widgets import DateInput, Phrases, Segmented, Stepper

# How far ahead the day of looking again may lie.
FURTHEST = dt.timedelta(days=366)
MOST_TIMES, MOST_SECONDS = 100, 600
# The field at which each need of a row is answered.
ANSWERED_AT = {
    home_rules.UNTRIED: "adaptations",
    home_rules.CHANGE: "adaptations",
    home_rules.PROPS: "has_it",
    home_rules.TAUGHT: "taught",
    home_rules.BEYOND: "beyond",
}


class ItemForm(forms.Form):
    """One exercise of the sheet. Questions that do not arise for this client and exercise are not there.

    item: what is filled in at first. place: how many exercises stand before it. sheet: the rows it stands
    among. After a form was found wanting, `row` is the exercise as it was weighed with what was typed.
    """

    row = None

    version = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(
        self, data=None, *, exercise, gates: Gates, item: dict, place: int, version: int, today, sheet=()
    ):
        self.exercise, self.gates, self.place, self.today = exercise, gates, place, today
        self.sheet = sheet
        self.facts = exercise.current.facts
        self.item = home_rules.whole(item, self.facts)
        super().__init__(data, initial=self._initial(version))
        if planning.is_sided(self.facts):
            self._add_sides()
        self._add_dose()
        self._add_days()
        self._add_words()
        self._add_questions()

    def _initial(self, version: int) -> dict:
        per_week = str(self.item["per_week"] or home_wording.CHOSEN_DAYS)
        taught = bool(self.item["taught_on"])
        return {**self.item, "per_week": per_week, "taught": taught, "version": version}

    def _add_sides(self) -> None:
        self.fields["sides"] = forms.ChoiceField(
            label=_("Sides"),
            choices=[("both", _("Both")), ("left", _("Left only")), ("right", _("Right only"))],
            widget=Segmented(),
            help_text=vocabulary_wording.right_means(self.facts["side_means"]),
        )

    def _add_dose(self) -> None:
        usual = planning.usual_repetitions(self.facts)
        self.fields["repetitions"] = _number(_("Repetitions"), MOST_TIMES, start=usual)
        self.fields["seconds"] = _number(_("Seconds held"), MOST_SECONDS, step=5, start=10)
        if "sides" in self.fields:
            self.fields["repetitions_right"] = _number(_("Repetitions, right"), MOST_TIMES, start=usual)
            self.fields["seconds_right"] = _number(_("Seconds held, right"), MOST_SECONDS, step=5, start=10)

    def _add_days(self) -> None:
        self.fields["per_week"] = forms.TypedChoiceField(
            label=_("How often"),
            choices=home_wording.per_week_choices(),
            coerce=lambda value: None if value == home_wording.CHOSEN_DAYS else int(value),
            widget=Segmented(),
            error_messages={"required": _("How often?")},
        )
        self.fields["days"] = forms.TypedMultipleChoiceField(
            label=_("On these days"),
            choices=home_wording.weekday_choices(),
            coerce=int,
            widget=Phrases(),
            required=False,
        )

    def _add_words(self) -> None:
        codes = [code for code in self.facts["adaptations"] if code in vocabulary_wording.ADAPTATIONS_AT_HOME]
        self.fields["adaptations"] = forms.MultipleChoiceField(
            label=_("Changes for this client"),
            choices=[(code, vocabulary_wording.adaptation(code)) for code in codes],
            widget=Phrases(),
            required=False,
        )
        # One touch on what would lift: the form with that change.
        self.fields["with"] = forms.CharField(required=False, widget=forms.HiddenInput)
        self.fields["change"] = _words(_("A change in their words"), handout_checks.LONGEST["adaptations"])
        self.fields["change"].help_text = _("In bold on the page: “Left arm: stop at the tape on your wall.”")
        self.fields["cue"] = _words(_("Cue in their words"), handout_checks.LONGEST["cue"])

    def _add_questions(self) -> None:
        props = home_rules.missing({**self.item, "has_it": False}, self.facts, self.gates.owned)
        if props:
            self.fields["has_it"] = forms.BooleanField(
                label=home_wording.has_it_label(props),
                help_text=home_wording.has_it_help(props),
                required=False,
            )
        noted = self.gates.noted.get(self.exercise.pk, ())
        # One side noted is not both: the question stays while the sides can still be chosen.
        if not all(home_rules.is_steady({"sides": side}, noted) for side in self._sides()):
            self.fields["taught"] = forms.BooleanField(
                label=home_wording.taught_label(self.facts, self._taught_day()), required=False
            )
        if self.place >= home_rules.MOST:
            self.fields["beyond"] = forms.BooleanField(
                label=home_wording.beyond_label(), help_text=home_wording.beyond_help(), required=False
            )

    def _taught_day(self) -> dt.date | None:
        on = self.item["taught_on"]
        return dt.date.fromisoformat(on) if on else None

    def _sides(self) -> tuple[str, ...]:
        return ("both", "left", "right") if "sides" in self.fields else ("",)

    @property
    def right_differs(self) -> bool:
        """Return whether the right side's own numbers are to be shown at once."""
        names = ("repetitions_right", "seconds_right")
        return "sides" in self.fields and any(self[name].value() or self[name].errors for name in names)

    def clean(self):
        data = super().clean()
        self._check_dose(data)
        self._check_days(data)
        for name in ("change", "cue"):
            words = self.gates.told(data.get(name) or "")
            if words:
                self.add_error(name, home_wording.told(words))
        if not self.errors:
            self._check_gates()
        return data

    def _check_dose(self, data: dict) -> None:
        typed = {"repetitions", "seconds"}
        if not typed & set(self.errors) and not any(data.get(name) for name in typed):
            self.add_error("repetitions", _("Say how many, or how many seconds it is held."))

    def _check_days(self, data: dict) -> None:
        if not {"per_week", "days"} & set(self.errors) and not data["per_week"] and not data["days"]:
            self.add_error("days", _("Touch the days."))

    def _check_gates(self) -> None:
        self.row = self.gates.row(self.exercise, self.values(), self.place, self.sheet)
        for code in self.row.needs:
            self.add_error(ANSWERED_AT.get(code), home_wording.refusal(code))

    def values(self) -> dict:
        """Return the item that was typed, with keys as in sessions.home_rules."""
        data = self.cleaned_data
        sides = data["sides"] if "sides" in self.fields else ""
        right = sides == "both"
        return {
            "exercise": self.exercise.public_id,
            "sides": sides,
            "repetitions": data["repetitions"] or None,
            "seconds": data["seconds"] or None,
            "repetitions_right": _other(data, "repetitions", right),
            "seconds_right": _other(data, "seconds", right),
            "per_week": data["per_week"],
            # The page shows the days only while they are what is chosen.
            "days": [] if data["per_week"] else sorted(data["days"]),
            "adaptations": self._adaptations(),
            "change": data["change"],
            "cue": data["cue"],
            "has_it": data.get("has_it", False),
            "taught_on": self._taught_on(data),
            "beyond": data.get("beyond", self.item["beyond"]),
        }

    def _adaptations(self) -> list[str]:
        """Return the chosen adaptations, with what a button beside the form put in."""
        wanted = {*self.cleaned_data["adaptations"], *self.cleaned_data["with"].split()}
        return [code for code, _label in self.fields["adaptations"].choices if code in wanted]

    def _taught_on(self, data: dict) -> str:
        if "taught" in self.fields and not data.get("taught"):
            return ""
        asked = "taught" in self.fields
        return self.item["taught_on"] or (self.today.isoformat() if asked else "")


def _other(data: dict, name: str, right: bool) -> int | None:
    """Return the right side's own number, or None where it is the same as the left's."""
    number = data.get(f"{name}_right") or None
    return number if right and number != data[name] else None


def _number(label: str, most: int, **stepper) -> forms.IntegerField:
    """Return an optional whole number from 1 up, with sentences that say what to do."""
    field = forms.IntegerField(
        label=label,
        required=False,
        widget=Stepper(min=1, max=most, small=True, **stepper),
        error_messages={"invalid": _("Type a whole number, or leave it empty.")},
    )
    field.validators += [
        MinValueValidator(1, _("Type 1 or more, or leave it empty.")),
        MaxValueValidator(most, _("Type %(limit_value)s or less.")),
    ]
    return field


def _words(label: str, most: int) -> forms.CharField:
    field = forms.CharField(label=label, required=False, widget=forms.Textarea(attrs={"rows": 2}))
    _say_length(field, most)
    return field


def _say_length(field: forms.CharField, most: int) -> None:
    """Let a text be typed too long, and say then how long it may be."""
    field.max_length = None
    field.validators = [one for one in field.validators if not isinstance(one, MaxLengthValidator)]
    field.validators.append(MaxLengthValidator(most, _("Shorten this to %(limit_value)s letters.")))


class WholeForm(forms.ModelForm):
    """What holds for the whole sheet: the moment it hangs on, the day of looking again, large print."""

    version = forms.IntegerField(widget=forms.HiddenInput)

    class Meta:
        model = HomePractice
        fields = ("moment", "look_again_on", "large_print")
        widgets = {"look_again_on": DateInput()}
        labels = {
            "moment": gettext_lazy("When in the day"),
            "look_again_on": gettext_lazy("We look at it again on"),
            "large_print": gettext_lazy("Large print"),
        }
        help_texts = {
            "moment": gettext_lazy("It is done more where it hangs on something: “after a walk”."),
            "look_again_on": gettext_lazy("Empty: the day of the next booking."),
        }

    def __init__(self, *args, gates: Gates, version: int, look_again, today, **kwargs):
        super().__init__(*args, **kwargs)
        self.gates, self.today = gates, today
        self.initial |= {"version": version, "look_again_on": look_again}
        _say_length(self.fields["moment"], handout_checks.LONGEST["when"])
        self.fields["look_again_on"].error_messages["invalid"] = _("Type the date as day, month, year.")
        self.helper = fields_only(
            "version", "moment", Field("look_again_on", wrapper_class="w-mid"), "large_print"
        )

    def clean_moment(self):
        words = self.gates.told(self.cleaned_data["moment"])
        if words:
            raise forms.ValidationError(home_wording.told(words))
        return self.cleaned_data["moment"]

    def clean_look_again_on(self):
        day = self.cleaned_data["look_again_on"]
        if day and day < self.today:
            raise forms.ValidationError(_("That day has gone by. Choose one that is still to come."))
        if day and day > self.today + FURTHEST:
            raise forms.ValidationError(_("That is more than a year ahead. Check the date."))
        return day


class CloseForm(forms.Form):
    """How a handout that was called back has been dealt with."""

    reason = forms.CharField(
        label=gettext_lazy("What was done about it"),
        widget=forms.Textarea(attrs={"rows": 2}),
        error_messages={
            "required": gettext_lazy("Say what was done: rang them, crossed it out, told them to leave it.")
        },
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        _say_length(self.fields["reason"], CallBackClosed._meta.get_field("reason").max_length)
        self.helper = fields_only("reason")
