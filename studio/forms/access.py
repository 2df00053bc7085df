"""Signing in, and the first owner's page."""

from crispy_forms.layout import Fieldset
from django import forms
from django.conf import settings
from django.utils.translation import gettext_lazy as _

from studio import currencies, passphrases, zones
from studio.forms.layout import fields_only
from studio.forms.widgets import LongSelect
from studio.models import Paper, Units


class SignInForm(forms.Form):
    sign_in_name = forms.CharField(
        label=_("Sign-in name"),
        max_length=60,
        widget=forms.TextInput(attrs={"autocomplete": "username", "autocapitalize": "none"}),
    )
    passphrase = forms.CharField(
        label=_("Passphrase"),
        strip=False,
        max_length=1000,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.helper = fields_only("sign_in_name", "passphrase")


def currency_code(typed: str) -> str:
    """Return the three letters of a currency as they are kept. Raises ValidationError for any others."""
    code = typed.strip().upper()
    if code not in currencies.DIGITS:
        raise forms.ValidationError(
            _("Write the three letters of your currency, such as GBP, EUR or USD."), code="currency"
        )
    return code


def new_passphrase_field(label) -> forms.CharField:
    """Return a field for a new passphrase: password managers may fill it, and what was typed is kept."""
    return forms.CharField(
        label=label,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}, render_value=True),
        help_text=_("At least 15 characters. Four or five ordinary words with spaces do well."),
    )


class CodeForm(forms.Form):
    """A one-time code, and the passphrase chosen with it."""

    sign_in_name = forms.CharField(
        label=_("Sign-in name"),
        max_length=60,
        widget=forms.TextInput(attrs={"autocomplete": "username", "autocapitalize": "none"}),
    )
    code = forms.CharField(
        label=_("Code"),
        max_length=80,
        help_text=_("Capitals and dashes do not matter."),
        widget=forms.TextInput(
            attrs={"autocomplete": "off", "autocapitalize": "none", "spellcheck": "false"}
        ),
    )
    passphrase = new_passphrase_field(_("New passphrase"))

    def __init__(self, *args, studio_name, **kwargs):
        super().__init__(*args, **kwargs)
        self.studio_name = studio_name
        self.helper = fields_only("sign_in_name", "code", "passphrase")

    def clean_passphrase(self):
        # The person's full name is only held against it once the code has shown who they are.
        passphrase = self.cleaned_data["passphrase"]
        passphrases.check(passphrase, self.studio_name, self.cleaned_data.get("sign_in_name", ""))
        return passphrase


class AgainForm(forms.Form):
    """The passphrase of the person who is signed in, once more. The name fits into any other form's fields."""

    FIELD = "again_passphrase"

    again_passphrase = forms.CharField(
        label=_("Your passphrase"),
        strip=False,
        max_length=1000,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.helper = fields_only(self.FIELD)


class FirstOwnerForm(forms.Form):
    """asks_code: whether the request comes from another machine and needs the code on the console."""

    code = forms.CharField(
        label=_("Code from the console"),
        required=False,
        help_text=_("This is not the machine the studio runs on, so the code it shows there is needed."),
    )
    full_name = forms.CharField(label=_("Your full name"), max_length=120)
    call_name = forms.CharField(label=_("What to call you"), max_length=60)
    sign_in_name = forms.CharField(
        label=_("Sign-in name"), max_length=60, widget=forms.TextInput(attrs={"autocomplete": "username"})
    )
    passphrase = new_passphrase_field(_("Passphrase"))
    teaches = forms.BooleanField(label=_("I teach as well"), required=False, initial=True)
    studio_name = forms.CharField(label=_("Studio name"), max_length=120)
    telephone = forms.CharField(label=_("Studio telephone"), max_length=40)
    emergency_number = forms.CharField(
        label=_("Emergency number"),
        max_length=20,
        help_text=_("The number to call for an ambulance where you are. It goes on every handout."),
    )
    zone = forms.ChoiceField(label=_("Time zone"), widget=LongSelect)
    currency = forms.CharField(
        label=_("Currency"),
        max_length=3,
        help_text=_("Three letters, such as GBP, EUR or USD."),
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "characters"}),
    )
    locale = forms.ChoiceField(label=_("Language and formats"), choices=settings.LANGUAGES)
    units = forms.ChoiceField(label=_("Units"), choices=Units)
    paper = forms.ChoiceField(label=_("Paper size"), choices=Paper)

    def __init__(self, *args, asks_code=False, **kwargs):
        super().__init__(*args, **kwargs)
        if not asks_code:
            del self.fields["code"]
        self.helper = fields_only(
            *(["code"] if asks_code else []),
            Fieldset(_("You"), "full_name", "call_name", "sign_in_name", "passphrase", "teaches"),
            Fieldset(_("The studio"), "studio_name", "telephone", "emergency_number"),
            Fieldset(_("Where you are"), "zone", "currency", "locale", "units", "paper"),
        )
        self.fields["zone"].choices = [
            ("", _("Choose")),
            *zones.choices(),
        ]

    def clean_currency(self):
        return currency_code(self.cleaned_data["currency"])

    def clean(self):
        data = super().clean()
        if "passphrase" in data:
            names = ("studio_name", "sign_in_name", "full_name", "call_name")
            try:
                passphrases.check(data["passphrase"], *(data.get(name, "") for name in names))
            except forms.ValidationError as problem:
                self.add_error("passphrase", problem)
        return data

    def owner(self) -> dict:
        """Return the fields of the owner."""
        data = self.cleaned_data
        names = {name: data[name] for name in ("full_name", "call_name", "sign_in_name")}
        return {**names, "is_instructor": data["teaches"]}

    def studio(self) -> dict:
        """Return the fields of the studio."""
        data = self.cleaned_data
        names = ("telephone", "emergency_number", "zone", "currency", "locale", "units", "paper")
        return {"name": data["studio_name"], **{name: data[name] for name in names}}
