"""The words of the studio's own exercise, and what it asks of the body, ticked from the whole list."""

from crispy_forms.layout import Column, Layout, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import own_exercise, own_wording, tables
from library import vocabulary_wording as words
from library.forms.own_base import CHOOSE, LONGEST_LINE, StepForm, in_their_order, lines, words_field
from library.own_exercise import TEXT, filled, slips_alone
from library.own_wording import TEXTS as TEXT_LABELS


class WordsForm(StepForm):
    """All words, or no more than what it is for: then the page says that the steps are not written yet."""

    part = TEXT
    purpose = words_field(TEXT_LABELS["purpose"], rows=2, required=True, longest=LONGEST_LINE)
    set_up = words_field(TEXT_LABELS["set_up"], rows=4)
    steps = words_field(TEXT_LABELS["steps"], rows=6, help_text=gettext_lazy("One sentence on each line."))
    breath = words_field(TEXT_LABELS["breath"], rows=2)
    cues = words_field(
        TEXT_LABELS["cues"], rows=4, help_text=gettext_lazy("What is said aloud, one on each line.")
    )
    easier = words_field(TEXT_LABELS["easier"], rows=2)
    harder = words_field(TEXT_LABELS["harder"], rows=2)
    dose = words_field(TEXT_LABELS["dose"], rows=2)
    cautions = words_field(TEXT_LABELS["cautions"], rows=4)
    BESIDES = ("set_up", "steps", "breath", "cues", "easier", "harder", "dose", "cautions")
    CLIENT = ("how", "breath", "easier")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        text, self.more = self.payload["text"], []
        told = {row["fault"]: row for row in text.get("watch", ())}
        for fault in self.faults:
            for name, label in (
                ("see", _("%(fault)s: what the eye sees")),
                ("say", _("%(fault)s: what to say")),
            ):
                field = words_field(label % {"fault": words.fault(fault)}, rows=2, longest=LONGEST_LINE)
                field.initial = told.get(fault, {}).get(name, "")
                self.fields[f"{name}_{fault}"] = field
                self.more.append(f"{name}_{fault}")
        if self.payload["facts"].get("home_ok"):
            for name in self.CLIENT:
                field = words_field(own_wording.CLIENTS[name], rows=6 if name == "how" else 2)
                field.initial = text.get("client", {}).get(name, "")
                self.fields[f"client_{name}"] = field
                self.more.append(f"client_{name}")
        self.helper.layout = Layout("version", *self.layout())

    @property
    def faults(self) -> list[str]:
        return self.payload["facts"].get("faults", [])

    def at_first(self):
        text = dict(self.payload["text"])
        return {**text, **{name: "\n".join(text.get(name, ())) for name in ("steps", "cues")}}

    def layout(self):
        watch = [Row(Column(f"see_{fault}"), Column(f"say_{fault}")) for fault in self.faults]
        mine = ["purpose", "set_up", "steps", "breath", "cues", "easier", "harder", "dose", "cautions"]
        client = [name for name in getattr(self, "more", ()) if name.startswith("client_")]
        return [*mine[:5], *(watch if hasattr(self, "more") else ()), *mine[5:], *client]

    def facts(self):
        return None

    def text(self):
        data = self.cleaned_data
        if not any(data[name] for name in (*self.BESIDES, *self.more)):
            return {"purpose": data["purpose"]}
        text = {"purpose": data["purpose"], **{name: data[name] for name in self.BESIDES}}
        text |= {name: lines(data[name]) for name in ("steps", "cues")}
        text["watch"] = [
            {"fault": fault, "see": data[f"see_{fault}"], "say": data[f"say_{fault}"]}
            for fault in self.faults
        ]
        if self.payload["facts"].get("home_ok"):
            text["client"] = {name: data[f"client_{name}"] for name in self.CLIENT}
        return text

    def slips(self):
        text, data = self.text(), self.cleaned_data
        if set(text) == {"purpose"}:
            return
        for name in (*self.BESIDES, *self.more):
            if not data[name]:
                self.add_error(name, _("Write this too, or leave all but the purpose empty for now."))
        for name in ("steps", "cues"):
            if len(text[name]) == 1:
                yield own_exercise.Slip(TEXT, name, "")


class DemandsForm(StepForm):
    """What it asks of the body, ticked from the whole list; "nothing on the list" is an answer of its own."""

    nothing = forms.BooleanField(
        label=gettext_lazy("I have gone through the list, and nothing on it applies"), required=False
    )
    reason = words_field(gettext_lazy("Why some are left out"), rows=2, longest=LONGEST_LINE)

    def __init__(self, *args, before=None, **kwargs):
        self.before = before
        super().__init__(*args, **kwargs)
        facts = self.payload["facts"]
        ticked, sides = self._at_first(facts)
        both = facts.get("sides") == "both_together"
        for name, row in self.library.demands.items():
            self.fields[f"tick_{name}"] = forms.BooleanField(
                label=_(row["label"]), required=False, initial=name in ticked, help_text=_(row["definition"])
            )
            if row["sided"] and not both:
                choices = [(code, own_wording.side_words(code)) for code in tables.closed_list("demand_side")]
                self.fields[f"side_{name}"] = forms.ChoiceField(
                    label=_("Which side is loaded"),
                    required=False,
                    choices=[("", _("Choose")), *choices],
                    initial=sides.get(name, ""),
                    error_messages={"invalid_choice": CHOOSE},
                )

    def _at_first(self, facts):
        said = self.payload.get("suggested") if facts["demands"] is None else facts
        self.initial["nothing"] = facts["demands"] == []
        self.initial["reason"] = self.payload.get("why", "")
        return (said or {}).get("demands") or [], (said or {}).get("demand_sides") or {}

    def rows(self) -> list[dict]:
        """Return the list in its order: bound tick, and the side where there is one to choose."""
        return [
            {
                "tick": self[f"tick_{name}"],
                "side": self[f"side_{name}"] if f"side_{name}" in self.fields else None,
            }
            for name in self.library.demands
        ]

    def facts(self):
        data = self.cleaned_data
        ticked = [name for name in self.library.demands if data.get(f"tick_{name}")]
        said = self.payload.get("suggested") or self.payload["facts"]
        ticked = in_their_order(ticked, said["demands"])
        sided = [name for name in ticked if self.library.demands[name]["sided"]]
        sides = {name: data.get(f"side_{name}", "both") for name in sided}
        return {"demands": ticked, "demand_sides": sides}

    def why(self):
        return self.cleaned_data["reason"]

    def clean(self):
        data = forms.Form.clean(self)
        facts = self.facts()
        if not facts["demands"] and not data.get("nothing"):
            self.add_error("nothing", _("Tick what it asks, or say that nothing on the list applies."))
        if facts["demands"] and data.get("nothing"):
            self.add_error("nothing", _("Something is ticked below. Untick it, or this."))
        for name, side in facts["demand_sides"].items():
            if not side:
                self.add_error(f"side_{name}", _("Say which side is loaded."))
        self._brought(facts)
        if self.before and own_exercise.lessened(self.before, facts) and not data.get("reason"):
            self.add_error(
                "reason", _("Some that were noted before are left out or lie on another side. Say why.")
            )
        return data

    def _brought(self, facts):
        whole = filled({**self.payload["facts"], **facts})
        whole["name"] = whole["name"] or "own"
        for slip in slips_alone({"facts": whole, "text": {"id": whole["id"], "purpose": "-"}}, self.library):
            if slip.field == "demands":
                demand = slip.says.split("'")[1]
                self.add_error(f"tick_{demand}", _("The start position brings this. Tick it."))
