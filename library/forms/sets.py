"""Which exercises go out as a file, and the file that comes in."""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library.exercise_sets import LARGEST_BYTES
from studio.forms.layout import fields_only
from studio.forms.widgets import Phrases


class ExportForm(forms.Form):
    """Ticked ones of the studio's own, or everything on the shelf."""

    which = forms.MultipleChoiceField(
        label=gettext_lazy("The studio’s own"),
        required=False,
        widget=Phrases(),
        error_messages={"invalid_choice": gettext_lazy("Choose from what is on the shelf.")},
    )
    everything = forms.BooleanField(label=gettext_lazy("The whole library"), required=False)

    def __init__(self, data=None, *, own):
        super().__init__(data, initial={"which": [one.public_id for one in own]})
        self.fields["which"].choices = [(one.public_id, one.current.name) for one in own]
        self.helper = fields_only(*(["which"] if own else []), "everything")

    def clean(self):
        data = super().clean()
        if not data.get("everything") and not data.get("which") and not self.errors:
            self.add_error("everything", _("Choose at least one exercise, or the whole library."))
        return data


class SetForm(forms.Form):
    file = forms.FileField(
        label=gettext_lazy("File"),
        help_text=gettext_lazy("An exercise set that Evenside has written."),
        widget=forms.FileInput(attrs={"accept": ".json,application/json"}),
        error_messages={
            "required": gettext_lazy("Choose a file."),
            "empty": gettext_lazy("The file is empty. Choose another."),
        },
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.helper = fields_only("file")

    def clean_file(self):
        file = self.cleaned_data["file"]
        if file.size > LARGEST_BYTES:
            raise forms.ValidationError(_("The file is larger than 8 MB. Export fewer exercises at a time."))
        return file
