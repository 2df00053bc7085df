"""The paper form, typed in: eight groups of conditions, the client's own words, and who gave it when."""

import datetime as dt

from crispy_forms.layout import Column, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from clients import intake_form, wording
from clients.forms.facts import ConditionFactsForm
from clients.forms.layout import PastDate
from clients.intake_form import ANSWERS, LEFT_EMPTY, NO
from clients.models import Submission, Touch
from library import wording as library_words
from studio.forms.layout import fields_only
from studio.forms.widgets import Options, Phrases

WORDS_LENGTH = 2000


def _words(label, *, length=WORDS_LENGTH, rows=3, help_text="", **kwargs) -> forms.CharField:
    widget = forms.Textarea(attrs={"rows": rows, "dir": "auto"})
    too_long = {
        "max_length": gettext_lazy("Too long: %(limit_value)d letters at most, this is %(show_value)d.")
    }
    return forms.CharField(
        label=label,
        required=False,
        max_length=length,
        widget=widget,
        help_text=help_text,
        error_messages=too_long,
        **kwargs,
    )


def _group_ids() -> list[str]:
    return [group for group, _conditions in intake_form.groups()]


class IntakeForm(forms.Form):
    """One set of answers. Conditions are drawn by hand (`sections`), the rest by crispy forms.

    client: whose form it is. gives: whether the person may also note what was told (not the front desk).
    later: a form is on file already, so a group that is not spoken of may stay empty.
    """

    given_by = forms.ChoiceField(
        label=gettext_lazy("Given by"), choices=Submission.GivenBy.choices, widget=Options()
    )
    given_on = PastDate(
        label=gettext_lazy("Date on the form, or of the talk"),
        error_messages={
            "required": gettext_lazy("Type the date. None on the paper? Take the day it came in.")
        },
    )
    contact_same = forms.BooleanField(
        label=gettext_lazy("Name, birth date, telephone and emergency contact are as on the form."),
        error_messages={
            "required": gettext_lazy("Compare, then tick. If something differs, change the contact first.")
        },
    )
    limits_words = _words(gettext_lazy("In their words"), length=300)
    limits_by = forms.CharField(label=gettext_lazy("Who said so"), required=False, max_length=120)
    limits_dated = PastDate(label=gettext_lazy("Dated"), required=False)
    hurts = _words(gettext_lazy("Where does it hurt or feel stiff? Which side, since when?"))
    tablets = _words(gettext_lazy("Tablets, sprays or patches, and what for"))
    operations = _words(gettext_lazy("Operations and accidents, and when"))
    anything = _words(gettext_lazy("Anything else we should know"))
    wishes = _words(
        gettext_lazy("What would they like to be able to do?"),
        length=720,
        help_text=gettext_lazy("In the client’s own words, one wish a line."),
    )
    home = forms.MultipleChoiceField(
        label=gettext_lazy("What they have at home"), required=False, widget=Phrases()
    )
    home_other = forms.CharField(label=gettext_lazy("Something else at home"), required=False, max_length=200)
    touch = forms.ChoiceField(
        label=gettext_lazy("Helping with hands"),
        choices=[choice for choice in Touch.choices if choice[0]],
        required=False,
        widget=Options(),
    )

    def __init__(self, *args, client, today: dt.date, gives: bool, later: bool, **kwargs):
        super().__init__(*args, **kwargs)
        self.client, self.today, self.later = client, today, later
        self.fields["given_on"].today = self.fields["limits_dated"].today = today
        self.fields["home"].choices = wording.home_choices()
        if gives:
            same = _("Name, birth date, telephone and emergency contact are right.")
            self.fields["contact_same"].label = same
        else:
            del self.fields["given_by"]
            self.fields["given_on"].label = _("Date on the form")
        for group, _conditions in intake_form.groups():
            self.fields[f"group_{group}"] = forms.ChoiceField(
                choices=[(answer, answer) for answer in ANSWERS],
                error_messages={
                    "required": _("Choose an answer. Nothing on the paper? Choose “Left empty”.")
                },
            )
        self.facts: dict[str, ConditionFactsForm] = {}
        self.source = fields_only(*(["given_by"] if gives else []), "given_on")
        self.limits = fields_only("limits_words", Row(Column("limits_by"), Column("limits_dated")))
        self.own_words = fields_only("hurts", "tablets", "operations", "anything")
        self.wish_part = fields_only("wishes")
        self.home_part = fields_only("home", "home_other", "touch")

    def ticked(self) -> list[str]:
        """Return the known conditions that are ticked, in the order of the form."""
        sent = set(self.data.getlist("ticked")) if self.is_bound else set()
        return [name for name in intake_form.questions() if name in sent]

    def clean(self):
        data = super().clean()
        told_on = data.get("given_on") or self.today
        for name in self.ticked():
            form = ConditionFactsForm(
                self.data,
                prefix=name,
                question=intake_form.questions()[name],
                today=self.today,
                born=self.client.birth_date,
                told_on=told_on,
            )
            self.facts[name] = form
        self._clean_groups(data)
        self._clean_dates(data)
        return data

    def _clean_groups(self, data):
        for group, conditions in intake_form.groups():
            named = any(q.id in self.facts for q in conditions)
            if named and data.get(f"group_{group}") == NO:
                self.add_error(f"group_{group}", _("“No”, and something is ticked below. Which is it?"))
            if not all([self.facts[q.id].is_valid() for q in conditions if q.id in self.facts]):  # noqa: C419
                self.add_error(f"group_{group}", _("A ticked line below still needs an answer."))

    def _clean_dates(self, data):
        if data.get("given_on") and data["given_on"] < self.client.birth_date:
            self.add_error("given_on", _("That is before the client was born. Check the date."))
        if not data.get("limits_words") and (data.get("limits_by") or data.get("limits_dated")):
            self.add_error("limits_words", _("What did they say? Write the words as they stand on the form."))

    def answers(self) -> dict:
        """Return the answers as `clients.intake_form` describes them. Only for a form that is valid."""
        data = self.cleaned_data
        dated = data["limits_dated"]
        limits = {
            "words": data["limits_words"].strip(),
            "by": data["limits_by"],
            "dated": dated.isoformat() if dated else "",
        }
        return {
            "groups": {group: data[f"group_{group}"] for group, _conditions in intake_form.groups()},
            "conditions": {name: form.told() for name, form in self.facts.items()},
            "limits": limits if limits["words"] else {},
            **{name: data[name] for name in intake_form.TEXTS},
            "home": data["home"],
            "touch": data["touch"],
        }

    def given_by_value(self) -> str:
        """Return who gave the answers; what the front desk types is always from paper."""
        return self.cleaned_data.get("given_by", Submission.GivenBy.PAPER)

    def sections(self) -> list[dict]:
        """Return the groups with their answers, conditions and errors, as the template draws them."""
        ticked = set(self.ticked())
        first = LEFT_EMPTY if self.later else ""
        found = []
        for group, conditions in intake_form.groups():
            name = f"group_{group}"
            answer = self.data.get(name, "") if self.is_bound else first
            found.append(
                {
                    "id": group,
                    "name": name,
                    "heading": wording.group_heading(group),
                    "question": wording.group_question(group),
                    "answers": [(value, wording.ANSWERS[value], value == answer) for value in ANSWERS],
                    "errors": self.errors.get(name, ()) if self.is_bound else (),
                    "rows": [self._row(question, question.id in ticked) for question in conditions],
                }
            )
        return found

    def wrong_places(self) -> list[tuple[str, str]]:
        """Return where on the page something is wrong, as (anchor, heading), from the top down."""
        groups = [(f"group_{group}", f"q-{group}", wording.group_heading(group)) for group in _group_ids()]
        rest = [
            ("in-contact", _("Whose form"), ("contact_same", "given_by", "given_on")),
            ("in-limits", _("Limits from a clinician"), ("limits_words", "limits_by", "limits_dated")),
            ("in-words", _("In their own words"), ("hurts", "tablets", "operations", "anything")),
            ("in-wishes", _("Wishes"), ("wishes",)),
            ("in-home", _("At home, and touch"), ("home", "home_other", "touch")),
        ]
        found = [(anchor, heading) for anchor, heading, names in rest if set(names) & set(self.errors)]
        wrong = [(anchor, heading) for name, anchor, heading in groups if name in self.errors]
        head = [place for place in found if place[0] == "in-contact"]
        return [*head, *wrong, *(place for place in found if place not in head)]

    def _row(self, question, ticked: bool) -> dict:
        """Return one condition as drawn: what was typed stays, whether ticked or not."""
        row = {"id": question.id, "label": library_words.condition_label(question.id), "ticked": ticked}
        typed = self._typed(question.id)
        errors = self.facts[question.id].errors if question.id in self.facts else {}
        if question.sided:
            side = typed("side")
            row["sides"] = [(value, label, value == side) for value, label in wording.SIDES.items()]
        if question.asks == "event":
            when = typed("when")
            row["event"] = wording.event_words(question.id)
            row["whens"] = [(value, label, value == when) for value, label in wording.WHENS.items()]
            row["on"] = typed("on")
        if question.asks == "due":
            how = typed("due_how")
            row["hows"] = [(value, label, value == how) for value, label in wording.DUE_HOW.items()]
            row |= {name: typed(name) for name in ("due", "weeks", "days", "weeks_on")}
        row["more"] = question.sided or bool(question.asks)
        row["errors"] = errors
        row["flat_errors"] = [error for found in errors.values() for error in found]
        return row

    def _typed(self, condition: str):
        if not self.is_bound:
            return lambda name: ""
        return lambda name: self.data.get(f"{condition}-{name}", "")
