"""A day that somebody types: a plain date of the studio, never shifted by a time zone."""

import datetime as dt

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from studio.forms.widgets import DateInput

# Years outside are slips of typing, and a calendar around them would leave the years that dates can have.
YEARS = range(2000, 2200)


def is_within_reach(day: dt.date) -> bool:
    """Return whether a studio can mean this day."""
    return day.year in YEARS


class PlainDay(forms.DateField):
    """A plain date, as the browser's own date field sends it or typed year first. Years have four digits."""

    def __init__(self, **kwargs):
        super().__init__(widget=DateInput(), input_formats=["%Y-%m-%d"], **kwargs)
        self.error_messages["invalid"] = gettext_lazy("Type the date as day, month, year.")

    def to_python(self, value):
        day = super().to_python(value)
        if day and not is_within_reach(day):
            raise forms.ValidationError(_("Check the year."), code="year")
        return day
