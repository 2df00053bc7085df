"""Side and date of one condition: the same questions on the intake and on a flag."""

import datetime as dt

from crispy_forms.layout import Column, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from clients import due_dates, wording
from clients.forms.layout import FIRST_YEAR, PastDate
from clients.intake_form import DATE, LONG_AGO, UNKNOWN, Question
from studio.forms.layout import fields_only
from studio.forms.widgets import DateInput, Options

_WEEK_BOUNDS = {
    "min_value": gettext_lazy("Type a number from 0."),
    "max_value": gettext_lazy("A pregnancy is 42 weeks at most. Check the number."),
    "invalid": gettext_lazy("Type a whole number."),
}
_DAY_BOUNDS = {
    "min_value": gettext_lazy("Days beside the weeks: 0 to 6."),
    "max_value": gettext_lazy("Days beside the weeks: 0 to 6."),
    "invalid": gettext_lazy("Type a whole number."),
}


class ConditionFactsForm(forms.Form):
    """Only what applies to the condition is asked; a condition without side or date asks nothing.

    told_on: the day the answer was given, against which a due date is weighed. born: the birth date.
    """

    side = forms.ChoiceField(
        label=gettext_lazy("Which side"),
        choices=list(wording.SIDES.items()),
        widget=Options(),
        error_messages={"required": gettext_lazy("Left, right, both, or not known?")},
    )
    when = forms.ChoiceField(
        label=gettext_lazy("When"), choices=list(wording.WHENS.items()), widget=Options(), required=False
    )
    on = PastDate(label=gettext_lazy("Date"), required=False)
    due_how = forms.ChoiceField(
        label=gettext_lazy("How far along"),
        choices=list(wording.DUE_HOW.items()),
        widget=Options(),
        required=False,
    )
    due = forms.DateField(label=gettext_lazy("Due date"), widget=DateInput(), required=False)
    weeks = forms.IntegerField(
        label=gettext_lazy("Weeks"),
        min_value=0,
        max_value=due_dates.LAST_WEEK,
        required=False,
        error_messages=_WEEK_BOUNDS,
    )
    days = forms.IntegerField(
        label=gettext_lazy("and days"),
        min_value=0,
        max_value=6,
        required=False,
        error_messages=_DAY_BOUNDS,
    )
    weeks_on = PastDate(label=gettext_lazy("on this day"), required=False)

    def __init__(self, *args, question: Question, today: dt.date, born: dt.date, told_on=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.question, self.born, self.told_on = question, born, told_on or today
        asked = {"side"} if question.sided else set()
        asked |= {"event": {"when", "on"}, "due": {"due_how", "due", "weeks", "days", "weeks_on"}}.get(
            question.asks, set()
        )
        for name in set(self.fields) - asked:
            del self.fields[name]
        for name in {"on", "weeks_on"} & asked:
            self.fields[name].today = today
        if "when" in self.fields:
            self.fields["when"].label = wording.event_words(question.id)
        if "due" in self.fields:
            self.fields["due"].error_messages["invalid"] = _("Type the date as day, month, year.")
        self.helper = fields_only(*self._layout(asked))

    def _layout(self, asked):
        parts = [name for name in ("side", "when", "on", "due_how", "due") if name in asked]
        if "weeks" in asked:
            parts.append(Row(Column("weeks"), Column("days"), Column("weeks_on")))
        return parts

    def clean(self):
        data = super().clean()
        if "when" in self.fields:
            self._clean_event(data)
        if "due_how" in self.fields:
            self._clean_due(data)
        return data

    def _clean_event(self, data):
        if "when" in self.errors or "on" in self.errors:
            return
        when, on = data.get("when"), data.get("on")
        if on and not when:
            data["when"] = when = DATE
        if not when:
            self.add_error("when", _("A date, more than a year ago, or not known?"))
        elif when == DATE and not on:
            self.add_error("on", _("Type the date, or choose another answer."))
        elif when != DATE and on and "on" in self.changed_data:
            self.add_error("on", _("Wipe the date, or choose “On a date”."))
        elif on and on < self.born:
            self.add_error("on", _("That is before the client was born. Check the date."))

    def _clean_due(self, data):
        how, due = data.get("due_how"), data.get("due")
        if {"due_how", "due", "weeks", "days", "weeks_on"} & set(self.errors):
            return
        if due and not how:
            how = "due"
        if not how:
            self.add_error("due_how", _("Due date, weeks on a day, or not known?"))
        elif how == "due":
            self._check_due("due", due, _("Type the due date, or choose another answer."))
        elif how == "weeks":
            self._due_of_weeks(data)
        elif (due and "due" in self.changed_data) or data.get("weeks") is not None:
            self.add_error("due_how", _("Something is typed below as well. Wipe it, or choose it here."))

    def _due_of_weeks(self, data):
        weeks, on = data.get("weeks"), data.get("weeks_on")
        if weeks is None:
            self.add_error("weeks", _("How many weeks?"))
        if on is None:
            self.add_error("weeks_on", _("On which day was that?"))
        if weeks is None or on is None:
            return
        data["due"] = due_dates.due_from_weeks(weeks, data.get("days") or 0, on)
        self._check_due("weeks", data["due"], "")

    def _check_due(self, field, due, missing):
        if due is None:
            self.add_error(field, missing)
        elif due.year < FIRST_YEAR or due_dates.long_past(due, self.told_on):
            self.add_error(
                field, _("More than 42 weeks have gone by. If the baby is born, note a birth instead.")
            )
        elif due_dates.too_far_ahead(due, self.told_on):
            self.add_error(field, _("That is further ahead than a pregnancy lasts. Check it."))

    def facts(self) -> dict:
        """Return side, when, on and due as a flag keeps them. Only for a form that is valid."""
        data = self.cleaned_data
        side, when, on, due = data.get("side", ""), data.get("when", ""), data.get("on"), data.get("due")
        if self.question.asks == "due":
            due = None if data.get("due_how") == UNKNOWN else due
            when = "" if due else UNKNOWN
        return {"side": side, "when": when, "on": on if when == DATE else None, "due": due}

    def told(self) -> dict:
        """Return the facts as the answers keep them: plain values, with the weeks as they were told."""
        facts = self.facts()
        kept = {
            name: value.isoformat() if isinstance(value, dt.date) else value for name, value in facts.items()
        }
        if self.cleaned_data.get("due_how") == "weeks":
            kept["weeks"] = self.cleaned_data["weeks"]
            kept["days"] = self.cleaned_data.get("days") or 0
            kept["weeks_on"] = self.cleaned_data["weeks_on"].isoformat()
        return {name: value for name, value in kept.items() if value not in (None, "")}


def facts_initial(flag) -> dict:
    """Return what the form shows for a flag that is there already."""
    how = "due" if flag.due_on else UNKNOWN
    when = flag.when if flag.when in (DATE, LONG_AGO, UNKNOWN) else ""
    return {"side": flag.side, "when": when, "on": flag.event_on, "due_how": how, "due": flag.due_on}
