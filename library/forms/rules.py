"""The owner's forms about the rule table: a stricter rule, an end with its reason, a clinician's review."""

import datetime as dt

from crispy_forms.layout import Column, Row
from django import forms
from django.core.validators import RegexValidator
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import rule_wording, tables, wording
from library.models.rules import Verdict
from library.stricter import ALWAYS, Window, rules_on, said, stricter_than, window_of
from studio.forms.layout import fields_only
from studio.forms.widgets import DateInput, Options, Stepper

LONGEST_REASON = 400
MOST_WEEKS = 520
OWN_WEEKS = "weeks"
REVIEWED_YEARS = 10
VERSION = r"^\d+-[0-9a-f]{8}(\+[0-9a-f]{8})?$"


def condition_choices() -> list[tuple[str, list[tuple[str, str]]]]:
    """Return the conditions of the table by their groups, for a select."""
    groups: dict[str, list] = {}
    for row in tables.rule_table().conditions.values():
        label = wording.condition_group_label(row["group"])
        groups.setdefault(label, []).append((row["id"], wording.condition_label(row["id"])))
    return list(groups.items())


class ConditionForm(forms.Form):
    """For whom a rule is to be made stricter. Asked in the address, before anything is written."""

    condition = forms.ChoiceField(
        label=gettext_lazy("Condition"),
        error_messages={"invalid_choice": gettext_lazy("Choose a condition from the list.")},
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["condition"].choices = [("", _("Choose")), *condition_choices()]
        self.helper = fields_only("condition")


class StricterForm(forms.Form):
    """One rule of the studio on a condition and a demand; only verdicts stricter than the table's are offered.

    table: the one in force. The window is 'always', one of a rule of the table ('rule:R001'), or weeks of its own.
    """

    condition = forms.CharField(widget=forms.HiddenInput)
    demand = forms.CharField(widget=forms.HiddenInput)
    verdict = forms.ChoiceField(
        label=gettext_lazy("What holds here"),
        widget=Options(),
        error_messages={
            "required": gettext_lazy("Choose what holds in this studio."),
            "invalid_choice": gettext_lazy("Only a stricter word can be chosen here."),
        },
    )
    when = forms.ChoiceField(
        label=gettext_lazy("When"),
        widget=Options(),
        error_messages={
            "required": gettext_lazy("Choose when it holds."),
            "invalid_choice": gettext_lazy("Choose when it holds."),
        },
    )
    first_week = forms.IntegerField(
        label=gettext_lazy("From how many weeks on"),
        required=False,
        min_value=0,
        max_value=MOST_WEEKS,
        widget=Stepper(min=0, max=MOST_WEEKS),
        help_text=gettext_lazy("Only for weeks of your own. Empty: from the first day."),
    )
    end_week = forms.IntegerField(
        label=gettext_lazy("Up to how many weeks"),
        required=False,
        min_value=1,
        max_value=MOST_WEEKS,
        widget=Stepper(min=1, max=MOST_WEEKS),
        help_text=gettext_lazy("Only for weeks of your own. Empty: no end."),
    )
    reason = forms.CharField(
        label=gettext_lazy("Why"),
        max_length=LONGEST_REASON,
        widget=forms.Textarea(attrs={"rows": 3, "dir": "auto"}),
        help_text=gettext_lazy("Instructors read it wherever the rule decides."),
        error_messages={"required": gettext_lazy("Say why, in a few words. Instructors read it.")},
    )
    adaptation = forms.CharField(
        label=gettext_lazy("Usual change"),
        required=False,
        max_length=LONGEST_REASON,
        widget=forms.Textarea(attrs={"rows": 2, "dir": "auto"}),
        help_text=gettext_lazy("What to do instead. Needed with Modify."),
    )

    def __init__(self, *args, table: tables.Table, condition: str, demand: str, **kwargs):
        super().__init__(*args, **kwargs)
        self.table, self.about = table, (condition, demand)
        self.rules = rules_on(table, condition, demand)
        self.basis = table.conditions[condition]["window_basis"]
        self.windows = self._windows()
        words = dict(Verdict.choices)
        self.offers = stricter_than(said(table, *self.about))
        self.fields["verdict"].choices = [(one, words[one]) for one in self.offers]
        self.fields["when"].choices = self._whens()
        self.fields["condition"].initial, self.fields["demand"].initial = condition, demand
        self.fields["adaptation"].initial = table.demands[demand]["default_adaptation"]
        self._leave_out_what_is_settled()

    def _windows(self) -> dict[str, Window]:
        """Return the windows that may be chosen as they stand."""
        windows = {"always": ALWAYS}
        for rule in self.rules:
            if window_of(rule) not in windows.values():
                windows[f"rule:{rule.id}"] = window_of(rule)
        return windows

    def _whens(self) -> list[tuple[str, str]]:
        choices = [
            (key, self._as_of_the_table(key, window))
            for key, window in self.windows.items()
            if stricter_than(said(self.table, *self.about, window))
        ]
        return choices if self.basis == "ongoing" else [*choices, (OWN_WEEKS, _("Weeks of your own"))]

    @staticmethod
    def _as_of_the_table(key: str, window: Window) -> str:
        words = capfirst(rule_wording.window_words(window))
        if key == "always":
            return words
        return _("%(when)s, as rule %(rule)s") % {"when": words, "rule": key.removeprefix("rule:")}

    def _counted_from(self) -> str:
        """Return from when the weeks of this condition are counted."""
        if self.basis == "gestation_days":
            return _("Weeks are weeks of pregnancy.")
        start = _(self.table.conditions[self.about[0]]["event_label"])
        return _("Weeks are counted from this: %(start)s.") % {"start": start}

    def _leave_out_what_is_settled(self) -> None:
        """Ask for weeks only where days are counted, and for a window only where there is a choice."""
        own = self.basis != "ongoing"
        if own:
            self.fields["when"].help_text = self._counted_from()
        else:
            del self.fields["first_week"], self.fields["end_week"]
        choices = self.fields["when"].choices
        if len(choices) == 1:
            self.fields["when"].widget = forms.HiddenInput()
            self.fields["when"].initial = choices[0][0]
        weeks = [Row(Column("first_week"), Column("end_week"))] if own else []
        self.helper = fields_only("condition", "demand", "verdict", "when", *weeks, "reason", "adaptation")

    def clean(self):
        data = super().clean()
        if self.fields["when"].widget.is_hidden and "when" in self.errors:
            self.add_error(None, self.errors["when"][0])
        if data.get("verdict") == "modify" and not data.get("adaptation"):
            self.add_error("adaptation", _("Say which change makes it possible."))
        if data.get("when"):
            data["window"] = self._window(data)
        if data.get("window") and data.get("verdict"):
            says = said(self.table, *self.about, data["window"])
            if data["verdict"] not in stricter_than(says):
                self.add_error("verdict", self.not_stricter(says))
        return data

    def _window(self, data) -> Window | None:
        if data["when"] != OWN_WEEKS:
            return self.windows[data["when"]]
        first, end = data.get("first_week"), data.get("end_week")
        if {"first_week", "end_week"} & set(self.errors):
            return None
        if first is None and end is None:
            self.add_error("first_week", _("Type at least one of the two weeks, or choose “always”."))
            return None
        if end is not None and end <= (first or 0):
            self.add_error("end_week", _("The end comes after the beginning."))
            return None
        return Window(self.basis, 7 * (first or 0), None if end is None else 7 * end)

    @staticmethod
    def not_stricter(says: str) -> str:
        """Return the sentence for a rule that would add nothing."""
        return _("The table says %(verdict)s there already. Choose something stricter, or another time.") % {
            "verdict": wording.verdict_word(says)
        }

    def rule(self) -> dict:
        """Return what `actions.rules.make_stricter` takes. Only for a valid form."""
        data = self.cleaned_data
        condition, demand = self.about
        return {
            "condition": condition,
            "demand": demand,
            "verdict": data["verdict"],
            "window": data["window"],
            "raises": data["when"].removeprefix("rule:") if data["when"].startswith("rule:") else "",
            "reason": data["reason"],
            "adaptation": data["adaptation"],
        }


class EndForm(forms.Form):
    """Why a rule of the studio ends, or a review is taken back."""

    reason = forms.CharField(
        label=gettext_lazy("Why"),
        max_length=LONGEST_REASON,
        widget=forms.Textarea(attrs={"rows": 3, "dir": "auto"}),
        error_messages={"required": gettext_lazy("Say why, in a few words. It stays on file.")},
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.helper = fields_only("reason")


class ReviewForm(forms.Form):
    """What a licensed clinician signed: who they are, which version they looked at, and what of it."""

    name = forms.CharField(
        label=gettext_lazy("Name of the clinician"),
        max_length=120,
        error_messages={"required": gettext_lazy("Write who looked at it.")},
    )
    profession = forms.CharField(
        label=gettext_lazy("Profession"),
        max_length=120,
        help_text=gettext_lazy("As licensed, such as physiotherapist or physician."),
        error_messages={"required": gettext_lazy("Write their profession.")},
    )
    registration = forms.CharField(
        label=gettext_lazy("Registration"),
        max_length=120,
        help_text=gettext_lazy("Number, or with which body they are registered."),
        error_messages={"required": gettext_lazy("Write the number, or where they are registered.")},
    )
    on = forms.DateField(
        label=gettext_lazy("Date of the review"),
        widget=DateInput(),
        error_messages={"required": gettext_lazy("Type the date they signed.")},
    )
    table_version = forms.CharField(
        label=gettext_lazy("Version of the table"),
        max_length=40,
        help_text=gettext_lazy("As it stands on the page that was signed."),
        error_messages={"required": gettext_lazy("Copy the version from the signed page.")},
        validators=[
            RegexValidator(VERSION, gettext_lazy("Copy the version from the signed page, sign by sign."))
        ],
    )
    looked_at = forms.CharField(
        label=gettext_lazy("What they looked at"),
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 4, "dir": "auto"}),
        help_text=gettext_lazy("All of it, or which conditions and questions; and what they wish changed."),
        error_messages={"required": gettext_lazy("Write what they looked at.")},
    )

    def __init__(self, *args, today: dt.date, **kwargs):
        super().__init__(*args, **kwargs)
        self.today = today
        self.helper = fields_only(
            "name",
            Row(Column("profession"), Column("registration")),
            Row(Column("on"), Column("table_version")),
            "looked_at",
        )

    def clean_on(self):
        on = self.cleaned_data["on"]
        if on > self.today:
            raise forms.ValidationError(_("That day is still to come."))
        if on.year < self.today.year - REVIEWED_YEARS:
            raise forms.ValidationError(_("That is more than ten years ago. Look at the year."))
        return on
