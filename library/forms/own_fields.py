"""The fields of a figure that is being written: numbers in degrees or centimetres, and choices."""

from django import forms
from django.utils.translation import gettext_lazy

from library.body.shape import LARGEST_ANGLE
from library.forms.own_base import CHOOSE
from studio.forms.widgets import LongSelect

FARTHEST_CM = 500
DEGREES = gettext_lazy("Type degrees from -%(most)s to %(most)s.") % {"most": LARGEST_ANGLE}
CENTIMETRES = gettext_lazy("Type centimetres from -%(most)s to %(most)s.") % {"most": FARTHEST_CM}
SAYS = "says-{}"


def number(label, most: float, says, *, least: float | None = None, slot: str = "") -> forms.FloatField:
    """A number field of the table of angles; its sentence stands in the slot of its row."""
    low = -most if least is None else least
    attrs = {"class": "form-control fig-num", "step": "any", "aria-describedby": SAYS.format(slot)}
    return forms.FloatField(
        label=label,
        required=False,
        min_value=low,
        max_value=most,
        widget=forms.NumberInput(attrs=attrs if slot else {"step": "any"}),
        error_messages=dict.fromkeys(("invalid", "min_value", "max_value"), says),
    )


def chosen(label, choices, *, required=False, slot: str = "") -> forms.ChoiceField:
    attrs = {"class": "form-select", "aria-describedby": SAYS.format(slot)} if slot else {}
    return forms.ChoiceField(
        label=label,
        required=required,
        choices=choices,
        widget=LongSelect(attrs=attrs),
        error_messages={"invalid_choice": CHOOSE, "required": CHOOSE},
    )
