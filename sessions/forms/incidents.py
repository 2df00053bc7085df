"""What is written about an incident: a field for each subject, each a note of its own."""

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Column, Layout, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sessions.models import IncidentNote
from studio.forms.days import PlainDay

LONGEST = 1000
About = IncidentNote.About


class IncidentForm(forms.Form):
    """Any of the fields will do; all empty is asked for again."""

    # What happened keeps the plain name: it is what most people write first.
    FIELDS = {
        "words": About.HAPPENED,
        "done": About.DONE,
        "witnesses": About.WITNESSES,
        "told": About.TOLD,
        "follow_up": About.FOLLOW_UP,
    }
    due_on = PlainDay(label=gettext_lazy("Look at it again on"), required=False)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name, about in self.FIELDS.items():
            rows = 3 if name == "words" else 2
            self.fields[name] = forms.CharField(
                label=about.label,
                max_length=LONGEST,
                required=False,
                widget=forms.Textarea(attrs={"rows": rows}),
            )
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True
        self.helper.layout = Layout(
            "words", "done", Row(Column("witnesses"), Column("told")), "follow_up", "due_on"
        )

    def clean(self):
        data = super().clean()
        if data.get("due_on") and not data.get("follow_up") and "follow_up" not in self.errors:
            self.add_error("follow_up", _("Write what is to be looked at on that day."))
        if not self.errors and not any(data.get(name) for name in self.FIELDS):
            self.add_error("words", _("Write something in one of these fields."))
        return data

    def words(self) -> dict[str, str]:
        """Return subject -> text, for the fields that hold some."""
        data = self.cleaned_data
        return {about.value: data[name] for name, about in self.FIELDS.items() if data.get(name)}
