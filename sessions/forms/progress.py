"""What part of a client's time the progress page shows."""

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Column, Layout, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from studio.forms.days import PlainDay


class RangeForm(forms.Form):
    """From a day to a day, both included and both optional. Its names in the address are from and to."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["from"] = PlainDay(label=gettext_lazy("From"), required=False)
        self.fields["to"] = PlainDay(label=gettext_lazy("To"), required=False)
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True
        self.helper.layout = Layout(Row(Column("from"), Column("to")))

    def clean(self):
        cleaned = super().clean()
        first, last = cleaned.get("from"), cleaned.get("to")
        if first and last and last < first:
            self.add_error("to", _("This day is before the first one. Choose a later day."))
        return cleaned
