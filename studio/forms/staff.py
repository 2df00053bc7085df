"""People who work here."""

from crispy_forms.helper import FormHelper
from django import forms
from django.contrib.auth.password_validation import validate_password
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from studio.forms.rows import RowForm
from studio.models import Staff

ROLES = ("is_owner", "is_instructor", "is_front_desk")


class PersonForm(RowForm):
    class Meta:
        model = Staff
        fields = ("full_name", "call_name", *ROLES, "is_active")
        labels = {"is_active": gettext_lazy("may sign in")}

    def clean(self):
        data = super().clean()
        if not any(data.get(role) for role in ROLES):
            self.add_error("is_front_desk", _("Choose at least one of owner, instructor, front desk."))
        return data


class PassphraseForm(forms.Form):
    """A new passphrase, typed by the person it belongs to, on this machine."""

    passphrase = forms.CharField(
        label=gettext_lazy("New passphrase"),
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}, render_value=True),
        help_text=gettext_lazy("Let them type it themselves: 15 characters or more, ordinary words do well."),
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True

    def clean_passphrase(self):
        validate_password(self.cleaned_data["passphrase"])
        return self.cleaned_data["passphrase"]


class NewPersonForm(PersonForm):
    """passphrase: typed by the person it belongs to, on this machine."""

    passphrase = forms.CharField(
        label=gettext_lazy("Passphrase"),
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}, render_value=True),
        help_text=gettext_lazy("Let them type it themselves: 15 characters or more, ordinary words do well."),
    )

    class Meta(PersonForm.Meta):
        fields = ("full_name", "call_name", "sign_in_name", *ROLES)

    def clean_sign_in_name(self):
        name = self.cleaned_data["sign_in_name"].casefold()
        if Staff.objects.filter(sign_in_name=name).exists():
            raise forms.ValidationError(_("Somebody signs in with that name already. Choose another."))
        return name

    def clean_passphrase(self):
        validate_password(self.cleaned_data["passphrase"])
        return self.cleaned_data["passphrase"]
