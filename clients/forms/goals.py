"""Goals in the client's own words, and the client's own number."""

from django import forms
from django.utils.translation import gettext_lazy

from clients.models import Goal
from studio.forms.layout import fields_only

RATINGS = [(value, str(value)) for value in range(11)]


class WordsField(forms.CharField):
    """The words of a goal."""

    def __init__(self, **kwargs):
        super().__init__(
            label=gettext_lazy("In the client’s own words"),
            max_length=240,
            widget=forms.Textarea(attrs={"rows": 2, "dir": "auto"}),
            error_messages={
                "required": gettext_lazy("Write the wish as the client says it."),
                "max_length": gettext_lazy(
                    "Too long: %(limit_value)d letters at most, this is %(show_value)d."
                ),
            },
            **kwargs,
        )


class GoalForm(forms.Form):
    words = WordsField()

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.helper = fields_only("words")


class WordsForm(forms.Form):
    """Changed words, with the version they were read at."""

    words = WordsField()
    version = forms.IntegerField()


class RatingForm(forms.Form):
    value = forms.TypedChoiceField(
        choices=RATINGS,
        coerce=int,
        error_messages={
            "required": gettext_lazy("Choose a number from 0 to 10."),
            "invalid_choice": gettext_lazy("Choose a number from 0 to 10."),
        },
    )


class GoalStateForm(forms.Form):
    state = forms.ChoiceField(choices=Goal.State.choices)
    version = forms.IntegerField()
