"""Looking for a condition of the rule table. Nothing about a client is typed here."""

import re

from django import forms
from django.utils.translation import gettext_lazy as _

from library import wording
from studio.folding import fold


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", fold(text))


class ConditionSearchForm(forms.Form):
    words = forms.CharField(
        label=_("Condition"),
        max_length=80,
        required=False,
        error_messages={"max_length": _("Shorten this to %(limit_value)d characters.")},
        widget=forms.TextInput(attrs={"type": "search", "autocomplete": "off", "enterkeyhint": "search"}),
    )

    def matches(self, row: dict) -> bool:
        """Return whether every word typed begins a word of the name, group or id; accents do not matter."""
        label, group = wording.condition_label(row["id"]), wording.condition_group_label(row["group"])
        names = _words(" ".join([label, group, row["id"].replace("_", " ")]))
        typed = _words(self.cleaned_data.get("words", ""))
        return all(any(name.startswith(word) for name in names) for word in typed)
