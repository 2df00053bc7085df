"""Forms for rows with a version."""

from crispy_forms.helper import FormHelper
from django import forms


class RowForm(forms.ModelForm):
    """A model form that carries the version it was read at, and draws fields only."""

    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        if self.instance._state.adding:
            del self.fields["version"]
        else:
            self.fields["version"].initial = self.instance.version
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True

    @property
    def expected(self) -> int | None:
        return self.cleaned_data.get("version")

    def values(self) -> dict:
        """Return the fields of the row as typed. Only for a form that is valid."""
        return {name: value for name, value in self.cleaned_data.items() if name in self._meta.fields}

    def conflict(self, now) -> dict:
        """Return both texts where they differ, and let the next save go over the present row."""
        self.data = self.data.copy()
        self.data["version"] = now.version
        pairs = [
            {"label": self.fields[name].label, "theirs": getattr(now, name), "yours": self.cleaned_data[name]}
            for name in self._meta.fields
        ]
        differing = [pair for pair in pairs if pair["theirs"] != pair["yours"]]
        return {"who": now.changed_by, "when": now.changed_at, "pairs": differing, "version": ""}
