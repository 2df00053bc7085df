"""Which of two texts holds, for each field in which they differ."""

from django import forms
from django.utils.translation import gettext_lazy as _

from library import own_wording
from library.versions_apart import Apart, Field

OURS, THEIRS = "ours", "theirs"
_CHOOSE = _("Choose one of the two.")


class SettleForm(forms.Form):
    """One choice a field. What the studio never touched is proposed as it ships; the rest is asked.

    `all` holds for every field, whatever is chosen. ours, theirs: numbers of the versions on the page.
    """

    ours = forms.IntegerField(widget=forms.HiddenInput)
    theirs = forms.IntegerField(widget=forms.HiddenInput)
    all = forms.ChoiceField(required=False, choices=[(OURS, OURS), (THEIRS, THEIRS)])

    def __init__(self, data=None, *, apart: list[Apart], ours: int, theirs: int):
        super().__init__(data, initial={"ours": ours, "theirs": theirs})
        self.apart = apart
        for place, row in enumerate(apart):
            self.fields[self.name_of(place)] = forms.ChoiceField(
                label=own_wording.field_label(row.field),
                required=not (data and data.get("all")),
                choices=[(OURS, _("The studio’s")), (THEIRS, _("As it ships now"))],
                initial="" if row.both_changed else THEIRS,
                error_messages={"required": _CHOOSE, "invalid_choice": _CHOOSE},
            )

    @staticmethod
    def name_of(place: int) -> str:
        return f"field_{place}"

    def taken(self) -> list[Field]:
        """Return the fields that are taken as they ship now. Only for a valid form."""
        data = self.cleaned_data
        chosen = [data["all"] or data[self.name_of(place)] for place in range(len(self.apart))]
        return [row.field for row, one in zip(self.apart, chosen, strict=True) if one == THEIRS]
