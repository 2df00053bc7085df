"""Name, birth date, how to reach somebody and whom to ring in an emergency. No health."""

from crispy_forms.layout import Column, Fieldset, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from clients.folding import digits
from clients.forms.layout import PastDate
from clients.models import Client
from studio import roles
from studio.forms.layout import fields_only

EMERGENCY = ("emergency_name", "emergency_telephone")


class TelephoneField(forms.CharField):
    """A telephone number as people write it: six digits or more, and nothing but the usual marks."""

    def __init__(self, **kwargs):
        widget = forms.TextInput(attrs={"type": "tel", "autocomplete": "off"})
        super().__init__(max_length=40, widget=widget, **kwargs)

    def validate(self, value):
        super().validate(value)
        if not value:
            return
        if len(digits(value)) < 6:
            raise forms.ValidationError(_("A telephone number has six digits or more. Check it."))
        if any(c.isalpha() for c in value):
            raise forms.ValidationError(_("Use digits, spaces and +, no letters."))


class ContactForm(forms.ModelForm):
    """The contact part, for a new client and for changes."""

    birth_date = PastDate(label=gettext_lazy("Date of birth"))
    telephone = TelephoneField(label=gettext_lazy("Telephone"), required=False)
    emergency_telephone = TelephoneField(label=gettext_lazy("Their telephone"))

    class Meta:
        model = Client
        fields = Client.CONTACT
        labels = {
            "full_name": gettext_lazy("Full name"),
            "call_name": gettext_lazy("What to call them"),
            "email": gettext_lazy("Email"),
            "emergency_name": gettext_lazy("Whom to ring in an emergency"),
        }
        help_texts = {"call_name": gettext_lazy("Printed on the handout. Empty: the first word of the name.")}
        error_messages = {
            "full_name": {"required": gettext_lazy("Type the full name.")},
            "emergency_name": {"required": gettext_lazy("Type a name: somebody to ring in an emergency.")},
        }

    def __init__(self, *args, today, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["call_name"].required = False
        self.fields["birth_date"].today = today
        self.fields["birth_date"].error_messages["required"] = _("Type the date of birth.")
        self.fields["emergency_telephone"].error_messages["required"] = _("Type a number to ring.")
        for name in ("full_name", "call_name", "emergency_name"):
            self.fields[name].widget.attrs.update({"autocomplete": "off", "dir": "auto"})
        self.fields["email"].widget.attrs["autocomplete"] = "off"
        if not self.is_bound and not self.instance.pk:
            self.fields["full_name"].widget.attrs["autofocus"] = True
        self.helper = fields_only(
            Row(Column("full_name"), Column("call_name"), Column("birth_date")),
            Row(Column("telephone"), Column("email")),
            Fieldset(_("In an emergency"), Row(Column("emergency_name"), Column("emergency_telephone"))),
        )

    def clean(self):
        data = super().clean()
        if not data.get("call_name") and data.get("full_name"):
            data["call_name"] = data["full_name"].split()[0][:80]
        reachable = data.get("telephone") or data.get("email")
        if not reachable and not {"telephone", "email"} & set(self.errors):
            self.add_error("telephone", _("Type a telephone number or an email: one of them is needed."))
        return data

    def contact(self) -> dict:
        """Return the contact fields by name. Only for a form that is valid."""
        return {name: self.cleaned_data[name] for name in Client.CONTACT}


class ContactChangeForm(ContactForm):
    """Changes to the contact. Whom to ring is changed by the front desk or the owner; others only read it."""

    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args, person, **kwargs):
        super().__init__(*args, **kwargs)
        self.writes_emergency = person.has_role(*roles.DESK_WRITERS)
        if not self.writes_emergency:
            for name in EMERGENCY:
                self.fields[name].disabled = True
            self.fields["emergency_telephone"].help_text = _("The front desk or the owner changes this.")
        self.helper.layout.fields.insert(0, "version")


class SearchForm(forms.Form):
    """What to look for, and which page of it."""

    words = forms.CharField(required=False, max_length=160, strip=True)
    page = forms.IntegerField(required=False, min_value=1, max_value=10_000)

    def wanted(self) -> tuple[str, int]:
        """Return the words and the page; anything that makes no sense counts as not asked."""
        self.full_clean()
        return self.cleaned_data.get("words") or "", self.cleaned_data.get("page") or 1
