"""What is typed when a measure is taken: both sides with the same set-up, every try by itself."""

import datetime as dt
from decimal import Decimal

from crispy_forms.layout import Column, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from clients.forms.layout import PastDate
from clients.models import Measurement
from clients.models.measures import TENTHS
from library import measure_wording
from library.measures import Measure
from studio.forms.layout import fields_only
from studio.forms.widgets import Segmented, Stepper
from studio.wording import SIDES

TOO_LONG = {"max_length": gettext_lazy("Too long: %(limit_value)d letters at most, this is %(show_value)d.")}
NUMBER = gettext_lazy("Type a number, or leave it empty.")


class ValueField(forms.DecimalField):
    """One try, in the unit and the steps of its measure. Empty is not nought."""

    def __init__(self, of: Measure, *, side: str, label: str, start=None):
        self.of = of
        step = of.step.normalize()
        super().__init__(
            label=label,
            required=False,
            widget=Stepper(min=of.minimum, max=of.maximum, step=step, start=start, unit=of.unit, side=side),
        )
        self.error_messages |= {"invalid": NUMBER}

    def to_python(self, value):
        if isinstance(value, str):
            value = value.strip().replace(",", ".").replace("−", "-")
        return super().to_python(value)

    def validate(self, value):
        super().validate(value)
        if value is None:
            return
        low, high = self.of.minimum, self.of.maximum
        if not low <= value <= high:
            said = {
                "low": measure_wording.value_words(self.of, low),
                "high": measure_wording.value_words(self.of, high),
            }
            raise forms.ValidationError(_("Between %(low)s and %(high)s. Read it again.") % said)
        if value % self.of.step:
            raise forms.ValidationError(
                _("Read in steps of %(step)s.") % {"step": measure_wording.value_words(self.of, self.of.step)}
            )


class MeasurementForm(forms.Form):
    """One measure on one day. `sides`: those that may be taken; `last`: the newest row, to go by."""

    on = PastDate(label=gettext_lazy("Day"), error_messages={"required": gettext_lazy("Which day was it?")})
    first = forms.ChoiceField(
        label=gettext_lazy("Which side came first"),
        choices=[(side, SIDES[side]) for side in Measurement.First.values],
        widget=Segmented(),
        required=False,
    )
    setup = forms.CharField(
        label=gettext_lazy("Set-up"),
        required=False,
        max_length=80,
        error_messages=TOO_LONG,
        help_text=gettext_lazy("Which wall, box or mat. Only tests with the same words here are compared."),
    )
    note = forms.CharField(
        label=gettext_lazy("Note"),
        required=False,
        max_length=300,
        error_messages=TOO_LONG,
        widget=forms.Textarea(attrs={"rows": 2, "dir": "auto"}),
    )

    def __init__(self, *args, of: Measure, sides, today: dt.date, last=None, row=None, **kwargs):
        self.of, self.sides, self.taken = of, tuple(sides), {}
        kwargs["initial"] = self._initial(today, last, row)
        super().__init__(*args, **kwargs)
        self.fields["on"].today = today
        for side in self.sides:
            for number in range(of.tries):
                start = getattr(last, f"{side}_value", None)
                self.fields[self._name(side, number)] = ValueField(
                    of, side=side, label=self._label(number), start=start
                )
        for side in self.sides:
            self.initial |= self._tries_of(row, side)
        self.helper = fields_only(Row(Column("on"), Column("first")), "setup", "note")

    @staticmethod
    def _name(side: str, number: int) -> str:
        return f"{side}_{number + 1}"

    def _label(self, number: int) -> str:
        if self.of.tries > 1:
            return _("Try %(number)d") % {"number": number + 1}
        return _("Seconds held") if self.of.timed else _("Read off")

    def _initial(self, today, last, row) -> dict:
        source = row or last
        return {
            "on": row.on if row else today,
            "first": source.first if source else Measurement.First.LEFT,
            "setup": source.setup if source else "",
            "note": row.note if row else "",
        }

    def _tries_of(self, row, side: str) -> dict:
        tries = row.tries.get(side, ()) if row else ()
        return {
            self._name(side, number): measure_wording.plain(self.of, Decimal(value) / TENTHS)
            for number, value in enumerate(tries)
        }

    def halves(self) -> dict:
        """Return side -> its bound fields, one a try."""
        return {
            side: [self[self._name(side, number)] for number in range(self.of.tries)] for side in self.sides
        }

    def clean(self):
        data = super().clean()
        data["first"] = data.get("first") or Measurement.First.LEFT
        names = {side: [self._name(side, n) for n in range(self.of.tries)] for side in self.sides}
        self.taken = {side: [data.get(name) for name in fields] for side, fields in names.items()}
        for side, fields in names.items():
            self._all_or_none(side, fields)
        self._refuse_held_back()
        if not self.errors and not any(self.taken.values()):
            raise forms.ValidationError(_("Type the value of at least one side."), code="empty")
        return data

    def _refuse_held_back(self) -> None:
        """A number for a side whose field has gone since the page was opened is told, not dropped."""
        for side in Measurement.First.values:
            names = [self._name(side, number) for number in range(self.of.tries)]
            if side not in self.sides and any(self.data.get(name, "").strip() for name in names):
                said = {"side": SIDES[side]}
                raise forms.ValidationError(
                    _("%(side)s is held back now, so nothing was saved. Save again without that side.") % said
                )

    def _all_or_none(self, side: str, fields: list[str]) -> None:
        """Both tries or none: the better of one is not the better of two."""
        missing = [name for name, value in zip(fields, self.taken[side], strict=True) if value is None]
        if len(missing) == len(fields):
            self.taken[side] = []
        elif missing and missing[0] not in self.errors:
            self.add_error(missing[0], _("This try is missing: type it, or empty the other one too."))


class TakeBackForm(forms.Form):
    """Why a row should not be there."""

    note = forms.CharField(
        label=gettext_lazy("Why it should not be there"),
        max_length=300,
        error_messages={
            **TOO_LONG,
            "required": gettext_lazy("Say in a few words why it should not be there."),
        },
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, prefix="back", **kwargs)
        self.helper = fields_only("note")
