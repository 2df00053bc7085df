"""Looking for exercises where a client is there. No name and no value here tells of the client's health."""

from django import forms
from django.utils.translation import gettext_lazy

from library.forms.search import FindForm

SHORT, SHORTEST = "short", "shortest"
# What each choice leaves out, by verdict.
LEFT_OUT = {"": (), SHORT: ("avoid",), SHORTEST: ("avoid", "modify")}


class ClientFindForm(FindForm):
    """The library's form, with what the flags say and what the client has at home.

    owned: codes of the equipment noted at the client's home, for `kit`.
    """

    list = forms.ChoiceField(
        label=gettext_lazy("By the flags"),
        required=False,
        choices=[
            ("", gettext_lazy("Nothing left out")),
            (SHORT, gettext_lazy("Leave out Avoid")),
            (SHORTEST, gettext_lazy("Leave out Avoid and Modify")),
        ],
        widget=forms.Select(attrs={"class": "form-select"}),
    )
    kit = forms.BooleanField(label=gettext_lazy("For home, with what is there"), required=False)
    props = None
    home = None
    field_order = ["words", "list"]

    def __init__(self, *args, owned=(), **kwargs):
        super().__init__(*args, **kwargs)
        self.owned = owned

    def filters(self) -> dict:
        asked = super().filters()
        if self.cleaned_data.get("kit"):
            asked |= {"home": True, "props": sorted(self.owned)}
        return asked

    def leaves_out(self, verdict: str) -> bool:
        """Return whether the choice made leaves an exercise with this verdict out."""
        return verdict in LEFT_OUT[self.cleaned_data.get("list", "")]

    @property
    def by_verdict(self) -> bool:
        return bool(self.is_valid() and self.cleaned_data.get("list"))

    def narrowed(self, words, without):
        other = super().narrowed(words, without)
        other.owned = self.owned
        return other


class HomeFindForm(ClientFindForm):
    """The same for the sheet that goes home: only such exercises are looked at."""

    transfer = None
    kit = None
