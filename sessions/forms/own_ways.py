"""What worked for a client in an exercise: a cue in the instructor's words, how far this client goes."""

from django import forms
from django.utils.translation import gettext_lazy as _

from sessions import own_ways
from sessions.models import OwnWay, Range
from studio.forms.layout import fields_only
from studio.forms.widgets import Segmented

# A strip of choices has no empty one to touch.
NOT_NOTED = "none"


class CueForm(forms.Form):
    """One cue, typed or touched."""

    cue = forms.CharField(
        label=_("A cue that worked"),
        help_text=_("In the words you said, short enough to say again."),
        max_length=own_ways.LONGEST_CUE,
        error_messages={
            "required": _("Type what you said."),
            "max_length": _("Keep it to %(limit_value)d characters: a cue is said aloud."),
        },
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.helper = fields_only("cue")

    def clean_cue(self) -> str:
        return own_ways.tidy(self.cleaned_data["cue"])


class RangeForm(forms.ModelForm):
    """How far this client goes, as one of three and in words. Both may stay empty."""

    version = forms.IntegerField(widget=forms.HiddenInput)
    range = forms.ChoiceField(
        label=_("Own range"),
        choices=[(NOT_NOTED, _("not noted")), *Range.choices],
        required=False,
        widget=Segmented(),
    )

    class Meta:
        model = OwnWay
        fields = ("range", "range_words")
        labels = {"range_words": _("In words")}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["version"].initial = self.instance.version if self.instance.pk else 0
        self.initial["range"] = self.instance.range or NOT_NOTED
        self.helper = fields_only("version", "range", "range_words")

    def clean_range(self) -> str:
        value = self.cleaned_data["range"]
        return "" if value == NOT_NOTED else value
