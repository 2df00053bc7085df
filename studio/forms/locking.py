"""The PIN, a passphrase of one's own, and enrolling a browser."""

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Field, Layout
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from studio import locking, passphrases
from studio.forms.widgets import Options
from studio.models import Device

PIN_PROBLEMS = {
    "length": gettext_lazy("A PIN has exactly six digits."),
    "same": gettext_lazy("Six times the same digit is too easy. Choose another."),
    "run": gettext_lazy("A run up or down is too easy. Choose another."),
    "repeat": gettext_lazy("A pattern that repeats is too easy. Choose another."),
    "year": gettext_lazy("A year in it is too easy. Choose another."),
    "common": gettext_lazy("Many people choose that one. Choose another."),
}


class PinInput(forms.PasswordInput):
    """Six digits on a number pad; nothing is remembered by the browser or sent back."""

    def __init__(self, autocomplete="off"):
        super().__init__(
            {"inputmode": "numeric", "autocomplete": autocomplete, "maxlength": locking.PIN_LENGTH}
        )


class _Plain(forms.Form):
    """passphrase: the one of the person who is signed in, checked by the view through studio.actions.reauth."""

    again_passphrase = forms.CharField(
        label=gettext_lazy("Your passphrase"),
        strip=False,
        max_length=1000,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True


class PinForm(_Plain):
    pin = forms.CharField(
        label=gettext_lazy("New PIN"),
        widget=PinInput("new-password"),
        help_text=gettext_lazy("Six digits."),
    )
    pin_again = forms.CharField(label=gettext_lazy("The same PIN again"), widget=PinInput("new-password"))
    field_order = ["pin", "pin_again", "again_passphrase"]

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.helper.layout = Layout(
            Field("pin", wrapper_class="w-narrow"),
            Field("pin_again", wrapper_class="w-narrow"),
            Field("again_passphrase", wrapper_class="w-mid"),
        )

    def clean_pin(self):
        problem = locking.pin_problem(self.cleaned_data["pin"])
        if problem:
            raise forms.ValidationError(PIN_PROBLEMS[problem])
        return self.cleaned_data["pin"]

    def clean(self):
        data = super().clean()
        if data.get("pin") and data.get("pin_again") and data["pin"] != data["pin_again"]:
            self.add_error("pin_again", _("The two are not the same. Type both once more."))
        return data


class OwnPassphraseForm(_Plain):
    """names: names of the studio and the person, which a passphrase must not be made of."""

    new_passphrase = forms.CharField(
        label=gettext_lazy("New passphrase"),
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text=gettext_lazy("At least 15 characters. Four or five ordinary words with spaces do well."),
    )

    field_order = ["new_passphrase", "again_passphrase"]

    def __init__(self, *args, names=(), **kwargs):
        super().__init__(*args, **kwargs)
        self.names = names

    def clean_new_passphrase(self):
        passphrases.check(self.cleaned_data["new_passphrase"], *self.names)
        return self.cleaned_data["new_passphrase"]


class EnrolForm(_Plain):
    name = forms.CharField(
        label=gettext_lazy("Name of this device"),
        max_length=60,
        help_text=gettext_lazy("What you call it in the studio, such as Tablet by the window."),
    )
    kind = forms.ChoiceField(
        label=gettext_lazy("What it is"),
        choices=Device.Kind,
        widget=Options(),
        help_text=gettext_lazy("A tablet locks sooner than a desk."),
    )
    field_order = ["name", "kind", "again_passphrase"]
