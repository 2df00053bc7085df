"""Selling a pass and correcting one. No health, and nothing is guessed: years have four digits."""

import secrets

from crispy_forms.layout import Column, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sessions.models import PassEntry
from sessions.models.passes import MOST_SESSIONS
from studio import money
from studio.forms.days import PlainDay
from studio.forms.layout import fields_only
from studio.forms.widgets import Options, Stepper

MOST_AT_ONCE = 20
LONGEST_YEARS = 10


class SellForm(forms.Form):
    token = forms.CharField(widget=forms.HiddenInput, max_length=40)
    sessions = forms.IntegerField(
        label=gettext_lazy("Sessions"),
        min_value=1,
        max_value=MOST_SESSIONS,
        widget=Stepper(min=1, max=MOST_SESSIONS, start=10),
        error_messages={"required": gettext_lazy("Type how many sessions the pass holds.")},
    )
    bought_on = PlainDay(
        label=gettext_lazy("Counts from"),
        help_text=gettext_lazy("The day it was bought. Sessions of that day and later are taken from it."),
        error_messages={"required": gettext_lazy("Type the day it was bought.")},
    )
    last_day = PlainDay(
        label=gettext_lazy("Last day"),
        required=False,
        help_text=gettext_lazy("The whole day still counts. Empty: it does not end."),
    )
    price = forms.DecimalField(
        label=gettext_lazy("Price"),
        required=False,
        min_value=0,
        max_digits=10,
        localize=True,
        help_text=gettext_lazy("Only written down. Nothing is charged here."),
    )

    def __init__(self, *args, today, currency, **kwargs):
        initial = {"token": secrets.token_urlsafe(16), "bought_on": today, "sessions": 10}
        super().__init__(*args, initial=initial, **kwargs)
        self.today, self.currency = today, currency
        self.fields["price"].label = _("Price in %(currency)s") % {"currency": currency}
        self.helper = fields_only(
            "token", Row(Column("sessions"), Column("price")), Row(Column("bought_on"), Column("last_day"))
        )

    def clean_bought_on(self):
        day = self.cleaned_data["bought_on"]
        if day.year > self.today.year + 1:
            raise forms.ValidationError(_("That is more than a year ahead. Check the year."), code="ahead")
        return day

    def clean_price(self):
        price = self.cleaned_data["price"]
        if price is None:
            return None
        try:
            return money.to_minor(price, self.currency)
        except ValueError:
            places = money.places(self.currency)
            sentence = _("%(currency)s has %(n)d digits after the point at most.")
            raise forms.ValidationError(
                sentence % {"currency": self.currency, "n": places}, code="places"
            ) from None

    def clean(self):
        data = super().clean()
        first, last = data.get("bought_on"), data.get("last_day")
        if first and last and last < first:
            self.add_error("last_day", _("The last day lies before the first. Check both."))
        if first and last and last.year - first.year > LONGEST_YEARS:
            self.add_error("last_day", _("That is more than ten years. Check the year, or leave it empty."))
        return data

    def values(self) -> dict:
        """Return what sessions.actions.passes.sell takes. Only for a form that is valid."""
        data = self.cleaned_data
        return {
            "sessions": data["sessions"],
            "bought_on": data["bought_on"],
            "last_day": data["last_day"],
            "price_minor": data["price"],
            "currency": self.currency,
            "token": data["token"],
        }


class CorrectForm(forms.Form):
    """So many sessions on or off, and why. `seen` is the ledger's last line on the page."""

    seen = forms.IntegerField(widget=forms.HiddenInput)
    way = forms.ChoiceField(
        label=gettext_lazy("What to do"),
        choices=[("off", gettext_lazy("Take off")), ("on", gettext_lazy("Put on"))],
        widget=Options(),
        error_messages={"required": gettext_lazy("Choose one.")},
    )
    number = forms.IntegerField(
        label=gettext_lazy("How many sessions"),
        min_value=1,
        max_value=MOST_AT_ONCE,
        widget=Stepper(min=1, max=MOST_AT_ONCE, start=1),
        error_messages={"required": gettext_lazy("Type how many.")},
    )
    reason = forms.ChoiceField(
        label=gettext_lazy("Why"),
        choices=PassEntry.Reason.choices,
        widget=Options(),
        error_messages={"required": gettext_lazy("Choose the reason. It is kept with the change.")},
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.helper = fields_only("seen", Row(Column("way"), Column("number")), "reason")

    @property
    def delta(self) -> int:
        """Return the change with its sign. Only for a form that is valid."""
        number = self.cleaned_data["number"]
        return -number if self.cleaned_data["way"] == "off" else number
