"""A number for a goal to reach: which measure, which side, how much, by when."""

from crispy_forms.layout import Column, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from clients.models import Goal
from library import measure_wording, measures
from studio.forms.layout import fields_only
from studio.forms.widgets import DateInput


class TargetForm(forms.Form):
    """No measure takes the number off."""

    measure = forms.ChoiceField(label=gettext_lazy("Measure"), required=False)
    side = forms.ChoiceField(label=gettext_lazy("Side"), choices=Goal.Side.choices, required=False)
    target = forms.DecimalField(
        label=gettext_lazy("To reach"),
        required=False,
        max_digits=5,
        decimal_places=1,
        error_messages={
            "invalid": gettext_lazy("Write a number, such as 10 or 8.5."),
            "max_decimal_places": gettext_lazy("One decimal is enough, such as 8.5."),
            "max_digits": gettext_lazy("That is too large for any measure. Check the number."),
        },
    )
    by = forms.DateField(
        label=gettext_lazy("By"),
        required=False,
        widget=DateInput(),
        error_messages={"invalid": gettext_lazy("Type the date as day, month, year.")},
    )
    version = forms.IntegerField(widget=forms.HiddenInput())

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        rows = measures.all_measures().values()
        named = [(of.id, f"{measure_wording.words(of).short} ({of.unit})") for of in rows]
        self.fields["measure"].choices = [("", _("No number")), *named]
        self.helper = fields_only(
            Row(Column("measure"), Column("side")), Row(Column("target"), Column("by")), "version"
        )

    @classmethod
    def of(cls, goal: Goal, data=None):
        """Return the form of a goal; its ids are its own, since a page shows several."""
        initial = {
            "measure": goal.measure,
            "side": goal.side or Goal.Side.LEFT,
            "target": goal.target_value,
            "by": goal.target_on,
            "version": goal.version,
        }
        return cls(data, initial=initial, auto_id=f"aim-{goal.public_id}-%s")

    def clean(self):
        cleaned = super().clean()
        key, target = cleaned.get("measure"), cleaned.get("target")
        if not key:
            return cleaned
        of = measures.measure(key)
        if not cleaned.get("side"):
            self.add_error("side", _("Choose a side."))
        if "target" in self.errors:
            return cleaned
        if target is None:
            self.add_error("target", _("Write the number to reach."))
        elif not of.minimum <= target <= of.maximum:
            low, high = (measure_wording.value_words(of, value) for value in (of.minimum, of.maximum))
            words = _("This measure goes from %(low)s to %(high)s. Write a number between.")
            self.add_error("target", words % {"low": low, "high": high})
        return cleaned
