"""The steps of the form of the studio's own exercise, by name, and what a new one begins with."""

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Column, Layout, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import own_wording
from library.forms.own_base import (
    CHOOSE,
    LONGEST_NAME,
    MOST_NAMES,
    StepForm,
    lines,
    number,
    one_of,
    some_of,
    words_field,
)
from library.forms.own_words import DemandsForm, WordsForm
from library.own_wording import FACTS as FACT_LABELS
from studio.forms.widgets import LongSelect, Options


class WhatForm(StepForm):
    name = forms.CharField(
        label=FACT_LABELS["name"],
        max_length=LONGEST_NAME,
        error_messages={"required": gettext_lazy("Give it a name.")},
    )
    alt_names = words_field(
        FACT_LABELS["alt_names"],
        rows=2,
        help_text=gettext_lazy("One on each line. Leave it empty if there is none."),
    )
    apparatus = one_of("apparatus", "apparatus")
    position = one_of("position", "position")
    level = one_of("level", "level", Options())
    accessories = some_of("accessories", "accessories")
    families = some_of("families", "family", required=True)
    main_skill = one_of("skills", "skill")
    skills = some_of("skills", "skill")

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
    breath = one_of("breath", "breath")
    reps_min = number("reps_min", 1, 30)
    reps_max = number("reps_max", 1, 30)
    seconds_per_rep = number("seconds_per_rep", 1, 30)
    setup_s = number("setup_s", 5, 120)
    sides = one_of("sides", "sides", Options())
    side_means = one_of("side_means", "side_means", required=False)
    compare_by = one_of("compare_by", "compare_by", required=False)
    switch_s = number("switch_s", 0, 60)
    spring_min = one_of("spring_min", "spring_grade", required=False)
    spring_grade = one_of("spring_grade", "spring_grade", required=False)
    spring_max = one_of("spring_max", "spring_grade", required=False)
    spring_role = one_of("spring_role", "spring_role", required=False)
    spring_harder = one_of("spring_harder", "spring_harder", required=False)

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
    home_props = some_of("home_props", "home_prop")
    faults = some_of("faults", "fault", required=True)
    adaptations = some_of("adaptations", "adaptation", required=True)
    transfer_family = forms.ChoiceField(label=FACT_LABELS["transfer_family"], required=False)
    transfer_stage = one_of("transfer_stage", "transfer_stage", required=False)
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
                    error_messages={"invalid_choice": CHOOSE},
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
        error_messages={"invalid_choice": CHOOSE},
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
