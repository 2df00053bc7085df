"""Looking for an exercise. Nothing about a client is ever typed here."""

from django import forms
from django.utils.translation import gettext_lazy as _

from library import vocabulary_wording
from library.searching import is_found


class LibrarySearchForm(forms.Form):
    words = forms.CharField(
        label=_("Name"),
        max_length=80,
        required=False,
        widget=forms.TextInput(attrs={"type": "search", "autocomplete": "off"}),
    )
    apparatus = forms.ChoiceField(label=_("Apparatus"), required=False)
    home = forms.BooleanField(label=_("May go home"), required=False)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["apparatus"].choices = [("", _("All apparatus")), *vocabulary_wording.APPARATUS.items()]

    def matches(self, facts: dict) -> bool:
        """Return whether an exercise is among those asked for. The form must have been validated."""
        asked = self.cleaned_data
        return (
            is_found(facts, asked.get("words", ""))
            and asked.get("apparatus", "") in ("", facts["apparatus"])
            and (facts["home_ok"] or not asked.get("home"))
        )
