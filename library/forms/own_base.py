"""What every step of the form of the studio's own exercise shares: fields from the closed lists, and the checks."""

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Layout
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import own_exercise, own_wording, tables
from library import vocabulary_wording as words
from library.own_exercise import FACTS, Library, filled, slips_alone
from library.own_wording import FACTS as FACT_LABELS
from studio.forms.widgets import Options, Phrases

LONGEST_NAME, LONGEST_TEXT, LONGEST_LINE = 80, 2000, 300
MOST_NAMES = 5
CHOOSE = gettext_lazy("Choose one from the list.")


def choices_of(name: str, empty: str | None = None) -> list[tuple[str, str]]:
    rows = [(code, str(words.LISTS[name][code])) for code in tables.closed_list(name)]
    return rows if empty is None else [("", empty), *rows]


def one_of(field: str, name: str, widget=None, *, required=True, help_text="") -> forms.ChoiceField:
    made = forms.ChoiceField(
        label=FACT_LABELS[field],
        required=required,
        help_text=help_text,
        error_messages={"required": CHOOSE, "invalid_choice": CHOOSE},
        **({"widget": widget} if widget else {}),
    )
    made.list_name, made.may_be_empty = name, not isinstance(widget, Options)
    return made


def some_of(field: str, name: str, *, required=False, help_text="") -> forms.MultipleChoiceField:
    made = forms.MultipleChoiceField(
        label=FACT_LABELS[field],
        required=required,
        widget=Phrases(),
        help_text=help_text,
        error_messages={"required": gettext_lazy("Touch at least one."), "invalid_choice": CHOOSE},
    )
    made.list_name = name
    return made


def number(field: str, low: int, high: int) -> forms.IntegerField:
    says = gettext_lazy("Type a whole number from %(low)s to %(high)s.") % {"low": low, "high": high}
    return forms.IntegerField(
        label=FACT_LABELS[field],
        min_value=low,
        max_value=high,
        error_messages=dict.fromkeys(("required", "invalid", "min_value", "max_value"), says),
    )


def words_field(label, *, rows=3, required=False, help_text="", longest=LONGEST_TEXT) -> forms.CharField:
    return forms.CharField(
        label=label,
        required=required,
        max_length=longest,
        help_text=help_text,
        widget=forms.Textarea(attrs={"rows": rows, "dir": "auto"}),
        error_messages={"required": gettext_lazy("This needs a sentence.")},
    )


def lines(typed: str) -> list[str]:
    """Return what was typed line by line, without empty lines."""
    return [line.strip() for line in typed.splitlines() if line.strip()]


def in_their_order(chosen: list[str], before) -> list[str]:
    """Return what was chosen in the order it had; what is new comes after. The form shows a list's own order."""
    kept = [one for one in before or () if one in chosen]
    return [*kept, *(one for one in chosen if one not in kept)]


class StepForm(forms.Form):
    """One step over a payload as far as it is filled in; `facts()` and `text()` are what it changes."""

    version = forms.IntegerField(widget=forms.HiddenInput)
    part = FACTS

    def __init__(self, data=None, *, draft, library: Library, names: dict[str, str]):
        self.payload, self.library, self.names = draft.payload, library, names
        super().__init__(data, initial={"version": draft.version, **self.at_first()})
        for field in self.fields.values():
            if hasattr(field, "list_name"):
                empty = _("Choose") if field.required else _("None")
                field.choices = choices_of(
                    field.list_name, empty if getattr(field, "may_be_empty", False) else None
                )
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True
        self.helper.layout = Layout("version", *self.layout())

    def at_first(self) -> dict:
        return dict(self.payload["facts"])

    def layout(self) -> list:
        return [name for name in self.fields if name != "version"]

    def facts(self) -> dict | None:
        """Return the facts as this step has them. Only once it is clean."""
        data = {name: value for name, value in self.cleaned_data.items() if name != "version"}
        for name, field in self.fields.items():
            if isinstance(field, forms.MultipleChoiceField):
                data[name] = in_their_order(data[name], self.payload["facts"].get(name))
        return {name: None if value == "" else value for name, value in data.items()}

    def text(self) -> dict | None:
        return None

    def why(self) -> str | None:
        return None

    def clean(self):
        data = super().clean()
        if not self.errors:
            for slip in self.slips():
                name = slip.field.partition(" ")[0]
                said = own_wording.sentence(slip)
                if said not in self.errors.get(name, ()):
                    self.add_error(name if name in self.fields else None, said)
        return data

    def slips(self):
        """Yield what the rules say about the fields of this step, whatever else is not filled in yet."""
        facts = filled({**self.payload["facts"], **self.facts()})
        if not facts["name"]:
            facts["name"] = filled({})["name"]
        mine = self.fields_of_step()
        payload = {"facts": facts, "text": {"id": facts["id"], "purpose": "-"}}
        found = [slip for slip in slips_alone(payload, self.library) if slip.part == FACTS]
        if own_exercise.has_shape({**facts, "demands": [], "demand_sides": {}}):
            rows = own_exercise.between({facts["id"]: facts}, self.library)
            found += [own_exercise.Slip(FACTS, *row[1:]) for row in rows if row[0] == facts["id"]]
        return [slip for slip in found if slip.field in mine]

    def fields_of_step(self) -> set[str]:
        return set(self.fields)
