"""What the forms of this app share: dates that make sense."""

import datetime as dt

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from studio.forms.widgets import DateInput

FIRST_YEAR = 1900


class PastDate(forms.DateField):
    """A date from 1900 to today. `today` is set by the form, since nothing but the clock knows it."""

    def __init__(self, *, today: dt.date | None = None, **kwargs):
        kwargs.setdefault("widget", DateInput())
        super().__init__(**kwargs)
        self.error_messages["invalid"] = gettext_lazy("Type the date as day, month, year.")
        self.today = today

    def validate(self, value):
        super().validate(value)
        if value is None:
            return
        if value.year < FIRST_YEAR:
            raise ValidationError(_("That year is before 1900. Check the year."), code="too_old")
        if self.today and value > self.today:
            raise ValidationError(_("That day is still to come. Check the date."), code="future")
