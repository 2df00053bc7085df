"""Flags: a condition, a clinician's instruction, and one step in a flag's life."""

from crispy_forms.layout import Column, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from clients import wording
from clients.forms.layout import PastDate
from clients.models import FlagStatus
from library import tables
from library.verdicts import VERDICTS
from studio.forms.layout import fields_only
from studio.forms.widgets import DateInput, LongSelect, Options

VERDICT_LABELS = {
    "avoid": gettext_lazy("Avoid"),
    "modify": gettext_lazy("Modify"),
    "watch": gettext_lazy("Watch"),
    "none": gettext_lazy("No rule: the clinician lifts it"),
}
INSTRUCTION_SIDES = (
    ("both", gettext_lazy("Both, or no side")),
    ("left", gettext_lazy("Left")),
    ("right", gettext_lazy("Right")),
    ("unknown", gettext_lazy("Not known")),
)
TOO_LONG = {"max_length": gettext_lazy("Too long: %(limit_value)d letters at most, this is %(show_value)d.")}


class ConditionChoiceForm(forms.Form):
    """Which condition, and a note for those who teach. Side and dates are asked by ConditionFactsForm."""

    condition = forms.ChoiceField(
        label=gettext_lazy("Condition"),
        widget=LongSelect,
        error_messages={
            "required": gettext_lazy("Choose a condition."),
            "invalid_choice": gettext_lazy("Choose a condition from the list."),
        },
    )
    note = forms.CharField(
        label=gettext_lazy("Note for instructors"), required=False, max_length=300, error_messages=TOO_LONG
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["condition"].choices = [("", _("Choose")), *wording.condition_choices()]
        self.note_part = fields_only("note")


class InstructionForm(forms.Form):
    """What a clinician said. It outranks the table, stricter or looser, so who and when are needed."""

    about = forms.ChoiceField(
        label=gettext_lazy("About"),
        widget=LongSelect,
        help_text=gettext_lazy("A kind of movement, or one exercise."),
        error_messages={
            "required": gettext_lazy("Choose what it is about."),
            "invalid_choice": gettext_lazy("Choose from the list."),
        },
    )
    verdict = forms.ChoiceField(
        label=gettext_lazy("What it asks for"),
        choices=[(verdict, VERDICT_LABELS[verdict]) for verdict in VERDICTS],
        widget=Options(),
        error_messages={"required": gettext_lazy("Avoid, modify, watch, or lifted?")},
    )
    words = forms.CharField(
        label=gettext_lazy("In their words"),
        max_length=300,
        widget=forms.Textarea(attrs={"rows": 3, "dir": "auto"}),
        error_messages={"required": gettext_lazy("Write what they said, as they said it."), **TOO_LONG},
    )
    clinician = forms.CharField(
        label=gettext_lazy("Who said so"),
        max_length=120,
        error_messages={"required": gettext_lazy("Write the name and the profession.")},
    )
    dated = PastDate(
        label=gettext_lazy("Dated"),
        error_messages={"required": gettext_lazy("Type the date of the letter or the talk.")},
    )
    until_on = forms.DateField(
        label=gettext_lazy("Last day it holds"),
        required=False,
        widget=DateInput(),
        help_text=gettext_lazy("Empty: no end."),
        error_messages={"invalid": gettext_lazy("Type the date as day, month, year.")},
    )
    side = forms.ChoiceField(
        label=gettext_lazy("Side"),
        choices=INSTRUCTION_SIDES,
        widget=Options(),
        initial="both",
        required=False,
    )

    def __init__(self, *args, today, **kwargs):
        super().__init__(*args, **kwargs)
        self.today = today
        self.fields["about"].choices = [("", _("Choose")), *wording.about_choices()]
        self.fields["dated"].today = today
        self.helper = fields_only(
            "about",
            "verdict",
            "words",
            Row(Column("clinician"), Column("dated"), Column("until_on")),
            "side",
        )

    def clean(self):
        data = super().clean()
        until = data.get("until_on")
        if until and until < self.today:
            self.add_error("until_on", _("That day is over. Type a later day, or leave it empty."))
        return data

    def instruction(self) -> dict:
        """Return the fields of the flag; a movement without sides keeps none. Only for a valid form."""
        data = dict(self.cleaned_data)
        table = tables.rule_table()
        if data["about"] in table.demands and not table.is_sided(data["about"]):
            data["side"] = ""
        return data


class ReasonForm(forms.Form):
    """Why a flag is changed. `needed`: not for one that was only proposed."""

    reason = forms.CharField(
        label=gettext_lazy("Why the change"),
        max_length=300,
        error_messages={
            "required": gettext_lazy("Say why, in a few words. It stays with the flag."),
            **TOO_LONG,
        },
    )
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args, needed: bool, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["reason"].required = needed
        self.helper = fields_only("version", "reason")


class StateForm(forms.Form):
    """One touch on a flag: confirm, rest, end, wake. Everything but a confirmation needs a reason.

    now, steps: the flag's state and how many steps it has had. Somebody who read it before the last step is
    not asked for a reason but told that it moved on (by the action).
    """

    state = forms.ChoiceField(choices=[(s, s) for s in FlagStatus.State.values if s != "proposed"])
    reason = forms.CharField(required=False, max_length=300, error_messages=TOO_LONG)
    version = forms.IntegerField()

    def __init__(self, *args, now: str, steps: int, **kwargs):
        super().__init__(*args, **kwargs)
        self.now, self.steps = now, steps

    def clean(self):
        data = super().clean()
        confirms = self.now == "proposed" and data.get("state") == "active"
        as_read = data.get("version") == self.steps
        if as_read and not confirms and not data.get("reason") and "reason" not in self.errors:
            self.add_error("reason", _("Say why, in a few words. It stays with the flag."))
        return data
