"""What the floor screen posts, the close of a session, additions and incident notes."""

import uuid
from collections import Counter

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Column, Layout, Row
from django import forms
from django.utils.translation import gettext_lazy as _

from library.models import Kind
from sessions import phrases
from sessions.models import Felt, Quality, Range, Record
from sessions.recording import CHANGED, TYPED_AT_MOST, Done, SideDone
from studio.forms.widgets import Effort, Phrases

MOST = {"reps": 200, "secs": 1200}
# What a setting holds besides its springs.
FREE = ("gear", "bar", "strap", "box")


def peg_values(spring) -> list[str]:
    """Return one value for each spring of this name that a unit has: each is a peg of its own."""
    return [f"{spring.public_id}:{n}" for n in range(1, spring.count + 1)]


class EntryForm(forms.Form):
    """One entry. Fields exist for the sides of the plan row only; everything may stay empty."""

    id = forms.UUIDField(required=False)
    note = forms.CharField(max_length=TYPED_AT_MOST, required=False)

    def __init__(self, data, *, item, springs):
        super().__init__(data)
        self.item = item
        self.springs = list(springs)
        # Chips that were touched. Which ones are offered may have changed since: they are words like typed ones.
        self.touched = data.getlist("phrases") if hasattr(data, "getlist") else []
        self.side_names = sides_of(item)
        for side in self.side_names:
            for name, most in MOST.items():
                self.fields[f"{name}_{side}"] = _count(most)
            self.fields[f"range_{side}"] = forms.ChoiceField(
                choices=[("", ""), *Range.choices], required=False
            )
            self.fields[f"quality_{side}"] = forms.TypedChoiceField(
                choices=[("", ""), *Quality.choices], coerce=int, empty_value=None, required=False
            )
            # "This side was not done": its numbers stay empty, whatever stands in the controls.
            self.fields[f"without_{side}"] = forms.BooleanField(required=False)
            for felt in Felt.values:
                self.fields[f"felt_{felt}_{side}"] = forms.BooleanField(required=False)
        pegs = [(value, value) for spring in self.springs for value in peg_values(spring)]
        self.fields["springs"] = forms.MultipleChoiceField(choices=pegs, required=False)
        # Whether the changes for this client stood on the screen: then none ticked means none done.
        self.fields["changes"] = forms.BooleanField(required=False)
        self.listed = item.content.facts["adaptations"]
        choices = [(code, code) for code in self.listed]
        self.fields["adaptations"] = forms.MultipleChoiceField(choices=choices, required=False)
        for name in FREE:
            self.fields[name] = forms.CharField(max_length=40, required=False)

    def clean(self):
        note = phrases.joined(self.touched, self.cleaned_data.get("note", ""))
        if len(note) > TYPED_AT_MOST:
            words = _("Too much for one note: keep it to %(n)d characters, chips counted.")
            self.add_error("note", words % {"n": TYPED_AT_MOST})
        elif "note" in self.cleaned_data:
            self.cleaned_data["note"] = note
        return self.cleaned_data

    def setting(self) -> dict:
        """Return the setting as it was hooked on, in the shape of PlanItem.setting."""
        data = self.cleaned_data
        counts = Counter(value.split(":")[0] for value in data.get("springs", ()))
        hooked = [
            {"spring": s.public_id, "name": s.name, "grade": s.grade, "count": counts[s.public_id]}
            for s in self.springs
            if counts[s.public_id]
        ]
        named = {name: data[name] for name in FREE if data.get(name)}
        return {**({"springs": hooked} if hooked else {}), **named}

    def adaptations(self) -> tuple[str, ...] | None:
        """Return the changes that were done; None where the screen did not ask, which is as planned."""
        if not self.cleaned_data.get("changes"):
            return None
        ticked = self.cleaned_data.get("adaptations", ())
        # What the plan held and the exercise no longer lists was not on the screen: it stays.
        kept = [code for code in self.item.adaptations if code not in self.listed]
        return (*(code for code in self.listed if code in ticked), *kept)

    def done(self) -> Done:
        """Return the entry that was typed. Empty stays empty: it is never a nought.

        Of a form that is not valid: what could be read of it.
        """
        sides = {side: self._side(side) for side in self.side_names}
        sides = {name: side for name, side in sides.items() if side != SideDone()}
        return Done(
            id=self.cleaned_data.get("id") or uuid.uuid4(),
            state=CHANGED,
            sides=sides,
            setting=self.setting(),
            note=self.cleaned_data.get("note", ""),
            adaptations=self.adaptations(),
        )

    def _side(self, side: str) -> SideDone:
        data = self.cleaned_data
        felt = tuple(felt for felt in Felt.values if data.get(f"felt_{felt}_{side}"))
        if data.get(f"without_{side}"):
            return SideDone(felt=felt)
        return SideDone(
            repetitions=data.get(f"reps_{side}"),
            seconds=data.get(f"secs_{side}"),
            range=data.get(f"range_{side}", ""),
            quality=data.get(f"quality_{side}"),
            felt=felt,
        )


def sides_of(item) -> tuple[str, ...]:
    """Return the sides that the rows of an entry are kept for: left and right, one of them, or 'both'."""
    if item.sides == "both":
        return ("left", "right")
    return (item.sides or "both",)


def _count(most: int) -> forms.IntegerField:
    sentence = _("Say a whole number from 0 to %(most)s, or leave it empty.") % {"most": most}
    messages = dict.fromkeys(("invalid", "min_value", "max_value"), sentence)
    return forms.IntegerField(min_value=0, max_value=most, required=False, error_messages=messages)


class CloseForm(forms.ModelForm):
    """The minute after: effort, pain, the client's sentence and what to carry over. All of it may be empty.

    notes: (key of an entry, its note with the name of the exercise) of notes that can be kept as a cue.
    """

    version = forms.IntegerField(widget=forms.HiddenInput)
    effort = forms.TypedChoiceField(
        label=_("Effort"),
        choices=[(n, str(n)) for n in range(11)],
        coerce=int,
        empty_value=None,
        required=False,
        widget=Effort(),
    )
    pain = forms.TypedChoiceField(
        label=_("Pain now"),
        help_text=_("0 none, 10 the worst they can think of"),
        choices=[("", _("not asked")), *[(n, str(n)) for n in range(11)]],
        coerce=int,
        empty_value=None,
        required=False,
    )
    next_apparatus = forms.ChoiceField(
        label=_("Next apparatus"),
        choices=[("", _("not decided")), ("mat", _("Mat")), *Kind.choices],
        required=False,
    )

    class Meta:
        model = Record
        fields = Record.CLOSE
        labels = {"client_words": _("Their own closing sentence")}

    def __init__(self, *args, notes=(), **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["version"].initial = self.instance.version
        if notes:
            self.fields["worked"] = forms.MultipleChoiceField(
                label=_("Which of your notes worked as a cue?"),
                help_text=_("It then comes first when this client does that exercise again."),
                choices=notes,
                required=False,
                widget=Phrases(),
            )
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True
        self.helper.layout = Layout(
            "version",
            "effort",
            "next_time",
            *(["worked"] if notes else []),
            Row(Column("bring_back"), Column("leave_out")),
            Row(Column("next_apparatus"), Column("pain")),
            "client_words",
        )


class WordsForm(forms.Form):
    """One dated sentence: an addition to a record or a note to an incident."""

    def __init__(self, *args, longest, label, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["words"] = forms.CharField(
            label=label, max_length=longest, widget=forms.Textarea(attrs={"rows": 3})
        )
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True
