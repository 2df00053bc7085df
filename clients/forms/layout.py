"""What the forms of this app share: fields without the form element around them, and dates that make sense."""

import datetime as dt

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Layout
from django import forms
from django.core.exceptions import ValidationError
from django.forms.utils import flatatt
from django.utils.html import format_html, format_html_join
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from studio.forms.widgets import DateInput

FIRST_YEAR = 1900


def fields_only(*parts) -> FormHelper:
    """Return a helper that draws fields only: the page holds the form element, the token and the button."""
    helper = FormHelper()
    helper.form_tag = False
    helper.disable_csrf = True
    helper.layout = Layout(*parts)
    return helper


class LongSelect(forms.Select):
    """A select of hundreds of choices, written in one go: Django's own draws a template for each."""

    def render(self, name, value, attrs=None, renderer=None):
        chosen = "" if value is None else str(value)
        parts = [
            _options([pair], chosen) if not _is_group(pair) else _group(pair, chosen) for pair in self.choices
        ]
        attrs = self.build_attrs(self.attrs, {**(attrs or {}), "name": name})
        return format_html("<select{}>{}</select>", flatatt(attrs), mark_safe("".join(parts)))


def _is_group(pair) -> bool:
    return isinstance(pair[1], list | tuple)


def _group(pair, chosen: str) -> str:
    return format_html('<optgroup label="{}">{}</optgroup>', pair[0], _options(pair[1], chosen))


def _options(pairs, chosen: str) -> str:
    rows = ((value, mark_safe(" selected" if str(value) == chosen else ""), label) for value, label in pairs)
    return format_html_join("", '<option value="{}"{}>{}</option>', rows)


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
