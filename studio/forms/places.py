"""The studio's settings, rooms, opening hours."""

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Column, Fieldset, Layout, Row
from django import forms
from django.conf import settings
from django.utils.dates import WEEKDAYS
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from studio import opening, zones
from studio.forms.access import currency_code
from studio.forms.rows import RowForm
from studio.forms.widgets import LongSelect, TimeInput
from studio.models import Room, Studio


class StudioForm(RowForm):
    zone = forms.ChoiceField(label=gettext_lazy("Time zone"), widget=LongSelect)
    locale = forms.ChoiceField(label=gettext_lazy("Language and formats"), choices=settings.LANGUAGES)

    class Meta:
        model = Studio
        fields = (
            "name",
            "telephone",
            "emergency_number",
            "crisis_line",
            "zone",
            "locale",
            "units",
            "paper",
            "currency",
            "session_minutes",
            "pace_percent",
            "change_seconds",
            "check_in_seconds",
            "close_seconds",
            "cancel_hours",
            "desk_types_intake",
            "idle_minutes_tablet",
            "idle_minutes_desk",
        )

        help_texts = {
            "emergency_number": gettext_lazy("For an ambulance where you are. It goes on every handout."),
            "crisis_line": gettext_lazy(
                "Whom staff may ring for somebody in despair, with its number. Staff see it."
            ),
            "currency": gettext_lazy("Three letters, such as GBP, EUR or USD."),
            "idle_minutes_tablet": gettext_lazy("1 to 30. During a session the longer of the two counts."),
            "idle_minutes_desk": gettext_lazy("1 to 30."),
            "pace_percent": gettext_lazy("160 means that what is counted as 10 minutes takes 16."),
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["zone"].choices = zones.choices(self.instance.zone)
        self.helper.layout = Layout(
            "version",
            Fieldset(
                _("The studio"),
                Row(Column("name"), Column("telephone")),
                Row(Column("emergency_number"), Column("crisis_line")),
            ),
            Fieldset(
                _("Here and now"),
                Row(Column("zone"), Column("locale")),
                Row(Column("units"), Column("paper"), Column("currency")),
            ),
            Fieldset(
                _("How long things take"),
                Row(Column("session_minutes"), Column("pace_percent"), Column("change_seconds")),
                Row(Column("check_in_seconds"), Column("close_seconds"), Column("cancel_hours")),
            ),
            Fieldset(_("Front desk"), "desk_types_intake"),
            Fieldset(
                _("Lock when nobody touches the screen"),
                Row(Column("idle_minutes_tablet"), Column("idle_minutes_desk")),
            ),
        )

    def clean_currency(self):
        return currency_code(self.cleaned_data["currency"])


class RoomForm(RowForm):
    class Meta:
        model = Room
        fields = ("name", "holds", "in_use")
        labels = {"in_use": gettext_lazy("In use")}
        help_texts = {"holds": gettext_lazy("A pair counts as one booking.")}


class HoursForm(forms.Form):
    """Up to three open stretches for each weekday; both times of a stretch empty means not open then.

    The first stretch of a day is `opens_0`, `closes_0`; the others `opens_0_2`, `closes_0_2` and so on.
    """

    version = forms.IntegerField(widget=forms.HiddenInput)

    FAULTS = {
        opening.ONE_TIME: gettext_lazy("Give both times, or leave both empty."),
        opening.BACKWARDS: gettext_lazy("Closing comes after opening."),
        opening.OVERLAPS: gettext_lazy("This begins before the other one has ended."),
    }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for day in WEEKDAYS:
            for number in range(1, opening.MOST + 1):
                # The day stands over the whole line and is read with each field.
                first = number == 1
                words = (_("From") if first else _("Again from"), _("To"))
                for part, label in zip(("opens", "closes"), words, strict=True):
                    field = forms.TimeField(label=label, required=False, widget=TimeInput())
                    self.fields[self.name(part, day, number)] = field
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True

    @staticmethod
    def name(part: str, day: int, number: int) -> str:
        """Return the name of a field: part is "opens" or "closes", number counts from 1."""
        return f"{part}_{day}" if number == 1 else f"{part}_{day}_{number}"

    def _pairs(self, data, day) -> list[tuple]:
        numbers = range(1, opening.MOST + 1)
        return [tuple(data.get(self.name(part, day, n)) for part in ("opens", "closes")) for n in numbers]

    def days(self) -> list[dict]:
        """Return what the page draws: each weekday with its pairs of fields, and whether all are needed."""
        rows = []
        for day, name in WEEKDAYS.items():
            pairs = [
                [self[self.name(part, day, n)] for part in ("opens", "closes")]
                for n in range(1, opening.MOST + 1)
            ]
            used = any(field.value() or field.errors for field in pairs[-1])
            rows.append({"name": name, "pairs": pairs[:-1], "last": pairs[-1], "last_used": used})
        return rows

    def clean(self):
        data = super().clean()
        for day in WEEKDAYS:
            for place, fault in opening.faults(self._pairs(data, day)).items():
                field = self.name("closes" if fault != opening.OVERLAPS else "opens", day, place + 1)
                if field not in self.errors:
                    self.add_error(field, self.FAULTS[fault])
        return data

    def stretches(self) -> list[tuple]:
        """Return (weekday, opens, closes) for every stretch."""
        pairs = ((day, pair) for day in WEEKDAYS for pair in self._pairs(self.cleaned_data, day))
        return [(day, *pair) for day, pair in pairs if pair[0]]


class TextForm(forms.Form):
    """One of the studio's own texts. `number` is the version that was open when it was typed."""

    number = forms.IntegerField(widget=forms.HiddenInput)
    words = forms.CharField(
        label=gettext_lazy("Text"),
        required=False,
        max_length=20000,
        widget=forms.Textarea(attrs={"rows": 16}),
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True
        self.helper.layout = Layout("number", "words")
