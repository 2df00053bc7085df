"""People who work here. Nobody types a passphrase for somebody else."""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from studio.forms.rows import RowForm
from studio.models import Staff
from studio.passphrases import folded

ROLES = ("is_owner", "is_instructor", "is_front_desk")


class PersonForm(RowForm):
    class Meta:
        model = Staff
        fields = ("full_name", "call_name", *ROLES, "is_active")
        labels = {"call_name": gettext_lazy("What to call them"), "is_active": gettext_lazy("May sign in")}
        help_texts = {
            "is_owner": gettext_lazy("Sees everything, and changes the studio and who works in it."),
            "is_instructor": gettext_lazy("Teaches: flags, plans, records, home practice."),
            "is_front_desk": gettext_lazy("Books and types the forms. Sees nothing about health afterwards."),
        }

    def clean(self):
        data = super().clean()
        if not any(data.get(role) for role in ROLES):
            self.add_error("is_front_desk", _("Choose at least one of owner, instructor, front desk."))
        return data


class NewPersonForm(PersonForm):
    class Meta(PersonForm.Meta):
        fields = ("full_name", "call_name", "sign_in_name", *ROLES)
        help_texts = {
            **PersonForm.Meta.help_texts,
            "sign_in_name": gettext_lazy("Short, as they will type it every day."),
        }

    def clean_sign_in_name(self):
        name = folded(self.cleaned_data["sign_in_name"])
        if Staff.objects.filter(sign_in_name=name).exists():
            raise forms.ValidationError(_("Somebody signs in with that name already. Choose another."))
        return name
