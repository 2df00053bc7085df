"""The studio's settings, rooms, opening hours."""

import zoneinfo

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Column, Fieldset, Layout, Row
from django import forms
from django.conf import settings
from django.utils.dates import WEEKDAYS
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from studio.forms.rows import RowForm
from studio.forms.widgets import TimeInput
from studio.models import Room, Studio


class StudioForm(RowForm):
    zone = forms.ChoiceField(label=gettext_lazy("Time zone"))
    locale = forms.ChoiceField(label=gettext_lazy("Language and formats"), choices=settings.LANGUAGES)

    class Meta:
        model = Studio
        fields = (
            "name",
            "telephone",
            "emergency_number",
            "zone",
            "locale",
            "units",
            "paper",
            "session_minutes",
            "pace_percent",
            "change_seconds",
            "check_in_seconds",
            "close_seconds",
            "cancel_hours",
            "desk_types_intake",
        )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["zone"].choices = [
            (z, z.replace("_", " ")) for z in sorted(zoneinfo.available_timezones())
        ]
        self.helper.layout = Layout(
            "version",
            Fieldset(_("The studio"), Row(Column("name"), Column("telephone"), Column("emergency_number"))),
            Fieldset(
                _("Here and now"),
                Row(Column("zone"), Column("locale")),
                Row(Column("units"), Column("paper")),
            ),
            Fieldset(
                _("How long things take"),
                Row(Column("session_minutes"), Column("pace_percent"), Column("change_seconds")),
                Row(Column("check_in_seconds"), Column("close_seconds"), Column("cancel_hours")),
            ),
            Fieldset(_("Front desk"), "desk_types_intake"),
        )


class RoomForm(RowForm):
    class Meta:
        model = Room
        fields = ("name", "holds", "in_use")


class HoursForm(forms.Form):
    """One open stretch for each weekday; both times empty means closed."""

    version = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        days = []
        for day, name in WEEKDAYS.items():
            for part, word in (("opens", _("opens")), ("closes", _("closes"))):
                label = _("%(day)s %(what)s") % {"day": name, "what": word}
                field = forms.TimeField(label=label, required=False, widget=TimeInput())
                self.fields[f"{part}_{day}"] = field
            days.append(Row(Column(f"opens_{day}"), Column(f"closes_{day}")))
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True
        self.helper.layout = Layout("version", *days)

    def clean(self):
        data = super().clean()
        for day in WEEKDAYS:
            opens, closes = data.get(f"opens_{day}"), data.get(f"closes_{day}")
            if bool(opens) != bool(closes):
                self.add_error(f"closes_{day}", _("Give both times, or leave both empty for a closed day."))
            elif opens and closes and closes <= opens:
                self.add_error(f"closes_{day}", _("Closing comes after opening."))
        return data

    def stretches(self) -> list[tuple]:
        """Return (weekday, opens, closes) for the days that are open."""
        data = self.cleaned_data
        return [
            (day, data[f"opens_{day}"], data[f"closes_{day}"]) for day in WEEKDAYS if data[f"opens_{day}"]
        ]
