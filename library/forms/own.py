"""The steps of the form of the studio's own exercise. Each step is checked by the rules of the shipped ones."""

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Column, Layout, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import own_exercise, own_wording, tables
from library import vocabulary_wording as words
from library.own_exercise import FACTS, TEXT, Library, filled, slips_alone
from library.own_wording import FACTS as FACT_LABELS
from library.own_wording import TEXTS as TEXT_LABELS
from studio.forms.widgets import LongSelect, Options, Phrases

LONGEST_NAME, LONGEST_TEXT, LONGEST_LINE = 80, 2000, 300
MOST_NAMES = 5
_CHOOSE = gettext_lazy("Choose one from the list.")


def _choices(name: str, empty: str | None = None) -> list[tuple[str, str]]:
    rows = [(code, str(words.LISTS[name][code])) for code in tables.closed_list(name)]
    return rows if empty is None else [("", empty), *rows]


def _one(field: str, name: str, widget=None, *, required=True, help_text="") -> forms.ChoiceField:
    made = forms.ChoiceField(
        label=FACT_LABELS[field],
        required=required,
        help_text=help_text,
        error_messages={"required": _CHOOSE, "invalid_choice": _CHOOSE},
        **({"widget": widget} if widget else {}),
    )
    made.list_name, made.may_be_empty = name, not isinstance(widget, Options)
    return made


def _some(field: str, name: str, *, required=False, help_text="") -> forms.MultipleChoiceField:
    made = forms.MultipleChoiceField(
        label=FACT_LABELS[field],
        required=required,
        widget=Phrases(),
        help_text=help_text,
        error_messages={"required": gettext_lazy("Touch at least one."), "invalid_choice": _CHOOSE},
    )
    made.list_name = name
    return made


def _number(field: str, low: int, high: int) -> forms.IntegerField:
    says = gettext_lazy("Type a whole number from %(low)s to %(high)s.") % {"low": low, "high": high}
    return forms.IntegerField(
        label=FACT_LABELS[field],
        min_value=low,
        max_value=high,
        error_messages=dict.fromkeys(("required", "invalid", "min_value", "max_value"), says),
    )


def _words(label, *, rows=3, required=False, help_text="", longest=LONGEST_TEXT) -> forms.CharField:
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
                field.choices = _choices(
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


class WhatForm(StepForm):
    name = forms.CharField(
        label=FACT_LABELS["name"],
        max_length=LONGEST_NAME,
        error_messages={"required": gettext_lazy("Give it a name.")},
    )
    alt_names = _words(
        FACT_LABELS["alt_names"],
        rows=2,
        help_text=gettext_lazy("One on each line. Leave it empty if there is none."),
    )
    apparatus = _one("apparatus", "apparatus")
    position = _one("position", "position")
    level = _one("level", "level", Options())
    accessories = _some("accessories", "accessories")
    families = _some("families", "family", required=True)
    main_skill = _one("skills", "skill")
    skills = _some("skills", "skill")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["main_skill"].label = _("Main skill")
        self.fields["skills"].label = _("Further skills")

    def at_first(self):
        facts = dict(super().at_first())
        facts["alt_names"] = "\n".join(facts.get("alt_names", ()))
        main, *others = facts.get("skills") or [None]
        return {**facts, "main_skill": main, "skills": others}

    def layout(self):
        names = super().layout()[2:]
        return ["name", "alt_names", Row(Column("apparatus"), Column("position")), *names[2:]]

    def clean_alt_names(self):
        names = lines(self.cleaned_data["alt_names"])
        if len(names) > MOST_NAMES or any(len(name) > LONGEST_NAME for name in names):
            raise forms.ValidationError(_("At most five names, each of at most 80 letters."))
        return names

    def facts(self):
        facts = super().facts()
        main = facts.pop("main_skill")
        return {**facts, "skills": [main, *(one for one in facts["skills"] if one != main)]}


class WorkForm(StepForm):
    breath = _one("breath", "breath")
    reps_min = _number("reps_min", 1, 30)
    reps_max = _number("reps_max", 1, 30)
    seconds_per_rep = _number("seconds_per_rep", 1, 30)
    setup_s = _number("setup_s", 5, 120)
    sides = _one("sides", "sides", Options())
    side_means = _one("side_means", "side_means", required=False)
    compare_by = _one("compare_by", "compare_by", required=False)
    switch_s = _number("switch_s", 0, 60)
    spring_min = _one("spring_min", "spring_grade", required=False)
    spring_grade = _one("spring_grade", "spring_grade", required=False)
    spring_max = _one("spring_max", "spring_grade", required=False)
    spring_role = _one("spring_role", "spring_role", required=False)
    spring_harder = _one("spring_harder", "spring_harder", required=False)

    def layout(self):
        return [
            "breath",
            Row(*(Column(name) for name in ("reps_min", "reps_max", "seconds_per_rep", "setup_s"))),
            "sides",
            Row(*(Column(name) for name in ("side_means", "compare_by", "switch_s"))),
            Row(*(Column(name) for name in ("spring_min", "spring_grade", "spring_max"))),
            Row(Column("spring_role"), Column("spring_harder")),
        ]


class AroundForm(StepForm):
    """What stands around it. An exercise may name up to three others on either side."""

    home_ok = forms.BooleanField(label=FACT_LABELS["home_ok"], required=False)
    home_props = _some("home_props", "home_prop")
    faults = _some("faults", "fault", required=True)
    adaptations = _some("adaptations", "adaptation", required=True)
    transfer_family = forms.ChoiceField(label=FACT_LABELS["transfer_family"], required=False)
    transfer_stage = _one("transfer_stage", "transfer_stage", required=False)
    OTHERS = (("regression_to", 1), ("progression_of", 3))

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        families = [(row["id"], row["label"]) for row in self.library.families]
        self.fields["transfer_family"].choices = [
            ("", _("None")),
            *((key, _(label)) for key, label in families),
        ]
        own = self.payload["facts"]["id"]
        choices = [("", _("None")), *((key, name) for key, name in self.names.items() if key != own)]
        for field, most in self.OTHERS:
            named = self.payload["facts"].get(field, [])
            for place in range(max(most, len(named))):
                self.fields[f"{field}_{place}"] = forms.ChoiceField(
                    label=FACT_LABELS[field] if most == 1 else f"{FACT_LABELS[field]} {place + 1}",
                    required=False,
                    choices=choices,
                    widget=LongSelect(),
                    initial=named[place] if place < len(named) else "",
                    error_messages={"invalid_choice": _CHOOSE},
                )
        self.helper.layout = Layout("version", *self.layout())

    def layout(self):
        others = [name for name in self.fields if name.startswith(tuple(name for name, _most in self.OTHERS))]
        first = ["home_ok", "home_props", "faults", "adaptations"]
        return [*first, *others, Row(Column("transfer_family"), Column("transfer_stage"))]

    def facts(self):
        facts = super().facts()
        for field, _most in self.OTHERS:
            slots = [name for name in facts if name.startswith(field)]
            facts[field] = list(dict.fromkeys(filter(None, (facts.pop(name) for name in slots))))
        return facts

    def fields_of_step(self):
        return {*self.fields, "regression_to", "progression_of"}

    def slips(self):
        for slip in super().slips():
            yield slip._replace(field=f"{slip.field}_0") if slip.field in dict(self.OTHERS) else slip

    def add_error(self, field, error):
        # A sentence about all slots of a kind stands at the first of them.
        super().add_error(f"{field}_0" if f"{field}_0" in self.fields else field, error)

    def clean(self):
        data = forms.Form.clean(self)
        if not self.errors:
            for slip in super().slips():
                self.add_error(slip.field, own_wording.sentence(slip))
        return data


class WordsForm(StepForm):
    """All words, or no more than what it is for: then the page says that the steps are not written yet."""

    part = TEXT
    purpose = _words(TEXT_LABELS["purpose"], rows=2, required=True, longest=LONGEST_LINE)
    set_up = _words(TEXT_LABELS["set_up"], rows=4)
    steps = _words(TEXT_LABELS["steps"], rows=6, help_text=gettext_lazy("One sentence on each line."))
    breath = _words(TEXT_LABELS["breath"], rows=2)
    cues = _words(
        TEXT_LABELS["cues"], rows=4, help_text=gettext_lazy("What is said aloud, one on each line.")
    )
    easier = _words(TEXT_LABELS["easier"], rows=2)
    harder = _words(TEXT_LABELS["harder"], rows=2)
    dose = _words(TEXT_LABELS["dose"], rows=2)
    cautions = _words(TEXT_LABELS["cautions"], rows=4)
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
                field = _words(label % {"fault": words.fault(fault)}, rows=2, longest=LONGEST_LINE)
                field.initial = told.get(fault, {}).get(name, "")
                self.fields[f"{name}_{fault}"] = field
                self.more.append(f"{name}_{fault}")
        if self.payload["facts"].get("home_ok"):
            for name in self.CLIENT:
                field = _words(own_wording.CLIENTS[name], rows=6 if name == "how" else 2)
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
    reason = _words(gettext_lazy("Why some are left out"), rows=2, longest=LONGEST_LINE)

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
                    error_messages={"invalid_choice": _CHOOSE},
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


FORMS = {"what": WhatForm, "work": WorkForm, "around": AroundForm, "words": WordsForm, "demands": DemandsForm}


class LikeForm(forms.Form):
    """From which exercise a new one is made; empty for one from nothing."""

    like = forms.ChoiceField(
        label=gettext_lazy("Made from"),
        required=False,
        widget=LongSelect(),
        help_text=gettext_lazy(
            "Everything is copied but its name, and what it asks of the body is ticked anew."
        ),
        error_messages={"invalid_choice": _CHOOSE},
    )

    def __init__(self, *args, exercises, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["like"].choices = [
            ("", _("Nothing: start with an empty form")),
            *((one.public_id, one.current.name) for one in exercises),
        ]
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True
        self.helper.layout = Layout("like")
