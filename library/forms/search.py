"""Looking for exercises: what is typed and which filters are set, as it stands in the address.

Nothing about a client is typed here, and no value tells of one.
"""

from urllib.parse import urlencode

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import facts_wording, tables, vocabulary_wording
from library.finding import words_of
from studio.forms.widgets import Phrases

LONGEST = 80
# Filters that are one choice each, in the order of the fold.
CHOICES = ("apparatus", "position", "level", "family", "skill", "transfer")


def _choice(label) -> forms.ChoiceField:
    return forms.ChoiceField(label=label, required=False, widget=forms.Select(attrs={"class": "form-select"}))


class FindForm(forms.Form):
    """Words and filters. `carried`: (name, value) pairs that stay in the address whatever is looked for.

    prefix_id: what the ids of the fields begin with, where a page holds other forms too.
    """

    words = forms.CharField(
        label=gettext_lazy("Name, or what it is for"),
        max_length=LONGEST,
        required=False,
        error_messages={"max_length": gettext_lazy("Shorten this to %(limit_value)d characters.")},
        widget=forms.TextInput(
            attrs={
                "type": "search",
                "class": "form-control",
                "autocomplete": "off",
                "autocapitalize": "off",
                "spellcheck": "false",
                "enterkeyhint": "search",
            }
        ),
    )
    apparatus = _choice(gettext_lazy("Apparatus"))
    position = _choice(gettext_lazy("Position"))
    level = _choice(gettext_lazy("Level"))
    family = _choice(gettext_lazy("Movement"))
    skill = _choice(gettext_lazy("Trains"))
    transfer = _choice(gettext_lazy("Idea across apparatus"))
    home = forms.BooleanField(label=gettext_lazy("May go home"), required=False)
    props = forms.MultipleChoiceField(
        label=gettext_lazy("At home there is"), required=False, widget=Phrases()
    )

    def __init__(self, data=None, *, carried=(), prefix_id="find", **kwargs):
        super().__init__(data if data is not None else {}, auto_id=f"{prefix_id}-%s", **kwargs)
        self.carried = [(name, value) for name, value in carried if value]
        for name, empty, values in self._lists():
            if name in self.fields:
                self.fields[name].choices = [("", empty), *values]
        if "props" in self.fields:
            self.fields["props"].choices = list(vocabulary_wording.HOME_PROPS.items())

    @staticmethod
    def _lists():
        ideas = [(row["id"], facts_wording.transfer_family(row["id"])) for row in tables.transfer_families()]
        return (
            ("apparatus", _("All apparatus"), vocabulary_wording.APPARATUS.items()),
            ("position", _("Any position"), vocabulary_wording.POSITIONS.items()),
            ("level", _("Any level"), vocabulary_wording.LEVELS.items()),
            ("family", _("Any movement"), vocabulary_wording.FAMILIES.items()),
            ("skill", _("Anything"), vocabulary_wording.SKILLS.items()),
            ("transfer", _("Any idea"), ideas),
        )

    @property
    def words_typed(self) -> str:
        return self.cleaned_data.get("words", "") if self.is_valid() else ""

    def filters(self) -> dict:
        """Return what is set, as `library.finding.search` takes it. Only for a form that is valid."""
        asked = {name: [value] for name in CHOICES if (value := self.cleaned_data.get(name))}
        if self.cleaned_data.get("home"):
            asked["home"] = True
        if props := self.cleaned_data.get("props"):
            asked |= {"home": True, "props": props}
        return asked

    # The fold, and what is set in it.

    @property
    def selects(self):
        return [field for field in self if isinstance(field.field.widget, forms.Select)]

    @property
    def ticks(self):
        return [field for field in self if isinstance(field.field.widget, forms.CheckboxInput)]

    @property
    def phrases(self):
        return [field for field in self if isinstance(field.field.widget, Phrases)]

    def set_filters(self) -> list[tuple[str, str, str]]:
        """Return (field, value, words) of every filter that is set, in the order of the fold."""
        held = []
        for field in (*self.selects, *self.ticks, *self.phrases):
            value = self.cleaned_data.get(field.name) if self.is_valid() else None
            if not value:
                continue
            if value is True:
                held.append((field.name, "on", str(field.label)))
                continue
            names = dict(field.field.choices)
            chosen = value if isinstance(value, list) else [value]
            held += [(field.name, one, str(names[one])) for one in chosen]
        return held

    def query(self, *, words: str | None = None, without: tuple[str, str] | None = None) -> str:
        """Return the address's part behind '?', with nothing empty in it.

        words: other words than those typed. without: field and value of a filter that is left out.
        """
        return urlencode(self.pairs(words=words, without=without))

    def pairs(self, *, words: str | None = None, without: tuple[str, str] | None = None) -> list:
        """Return the same as (name, value) pairs."""
        typed = self.words_typed if words is None else words
        held = [(name, value) for name, value, _label in self.set_filters() if (name, value) != without]
        return [*self.carried, *([("words", typed)] if typed else []), *held]

    def wider(self) -> list[tuple[str, str, str | None, tuple[str, str] | None]]:
        """Return every single thing that could be let go: what to call it, and query, words and filter left.

        As (text, query, words, without); words None where the words stay.
        """
        rows = [
            (_("without “%(filter)s”") % {"filter": label}, (name, value))
            for name, value, label in self.set_filters()
        ]
        wider = [(text, self.query(without=left), None, left) for text, left in rows]
        typed = self.words_typed.split()
        if len(typed) > 1 and len(words_of(self.words_typed)) > 1:
            for place, word in enumerate(typed):
                fewer = " ".join(typed[:place] + typed[place + 1 :])
                wider.append(
                    (_("without the word “%(word)s”") % {"word": word}, self.query(words=fewer), fewer, None)
                )
        return wider

    def narrowed(self, words: str | None, without: tuple[str, str] | None) -> "FindForm":
        """Return the same search with other words or without one filter."""
        data = self.data.copy() if hasattr(self.data, "copy") else dict(self.data)
        if words is not None:
            data["words"] = words
        if without and hasattr(data, "setlist"):
            data.setlist(without[0], [value for value in data.getlist(without[0]) if value != without[1]])
        elif without:
            data.pop(without[0], None)
        return type(self)(data, carried=self.carried)
