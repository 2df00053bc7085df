"""Days on which the studio is closed, or somebody is away."""

import datetime as dt

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Column, Layout, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from studio.forms.widgets import DateInput
from studio.models import Staff

LONGEST_DAYS = 366


class _Days(forms.Form):
    """today: nothing is noted for days that are over."""

    first = forms.DateField(label=gettext_lazy("First day"), widget=DateInput())
    last = forms.DateField(
        label=gettext_lazy("Last day"),
        required=False,
        widget=DateInput(),
        help_text=gettext_lazy("Empty for one day."),
    )

    def __init__(self, *args, today: dt.date, **kwargs):
        super().__init__(*args, **kwargs)
        self.today = today
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True

    def clean(self):
        data = super().clean()
        first = data.get("first")
        if first and "last" in data:
            last = data["last"] = data["last"] or first
            if last < first:
                self.add_error("last", _("The last day comes before the first."))
            elif last < self.today:
                self.add_error("last" if last != first else "first", _("That is over already."))
            elif (last - first).days >= LONGEST_DAYS:
                self.add_error("last", _("That is more than a year. Note a year at a time."))
        return data


class ClosedForm(_Days):
    prefix = "closed"

    reason = forms.CharField(
        label=gettext_lazy("Why"),
        max_length=120,
        help_text=gettext_lazy("Whoever tries to book that day reads it."),
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.helper.layout = Layout(Row(Column("first"), Column("last")), "reason")


class AbsenceForm(_Days):
    """person: who fills it in; an instructor notes their own absences only."""

    prefix = "absence"

    staff = forms.ModelChoiceField(label=gettext_lazy("Who"), queryset=None, to_field_name="public_id")

    def __init__(self, *args, person, **kwargs):
        super().__init__(*args, **kwargs)
        rows = Staff.objects.seen_by(person).teaching()
        self.fields["staff"].queryset = rows if notes_for_all(person) else rows.filter(pk=person.pk)
        if not notes_for_all(person):
            self.initial.setdefault("staff", person.public_id)
        self.fields["staff"].empty_label = _("Choose")
        self.fields["staff"].label_from_instance = lambda row: row.full_name
        self.helper.layout = Layout("staff", Row(Column("first"), Column("last")))


def notes_for_all(person) -> bool:
    """Return whether somebody notes absences of others too: the owner and the front desk do."""
    return person.is_owner or person.is_front_desk


class DayForm(forms.Form):
    """The closed day that is opened again."""

    day = forms.DateField()


class AbsenceAsItStands(AbsenceForm):
    """The absence that is taken away, as its row on the page sends it."""

    prefix = None

    def clean(self):
        return forms.Form.clean(self)
