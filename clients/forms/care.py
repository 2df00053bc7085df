"""Touch, home equipment, stature and mass, typed in the studio's units and kept in millimetres and grams."""

from decimal import Decimal, InvalidOperation

from crispy_forms.layout import Column, Fieldset, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from clients import wording
from clients.models import CareProfile, Proportions, Touch
from studio import units
from studio.forms.layout import fields_only
from studio.forms.widgets import Options, Phrases
from studio.models import Units

# Outside these a slip of the finger is likelier than a person: common practice, no source.
STATURE_MM = (900, 2400)
MASS_G = (25_000, 300_000)


class MeasureField(forms.DecimalField):
    """A measure with at most one decimal, after a point or a comma."""

    def __init__(self, *, unit, **kwargs):
        widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"})
        super().__init__(
            required=False, max_digits=5, decimal_places=1, widget=widget, help_text=unit, **kwargs
        )
        self.error_messages |= {
            "invalid": gettext_lazy("Type a number, such as 68.5."),
            "max_decimal_places": gettext_lazy("One figure after the point is enough."),
            "max_digits": gettext_lazy("That number is too long. Check it."),
            "max_whole_digits": gettext_lazy("That number is too long. Check it."),
        }

    def to_python(self, value):
        if isinstance(value, str):
            value = value.strip().replace(",", ".")
        return super().to_python(value)


class CareForm(forms.Form):
    touch = forms.ChoiceField(
        label=gettext_lazy("Helping with hands"),
        choices=[choice for choice in Touch.choices if choice[0]],
        required=False,
        widget=Options(),
        help_text=gettext_lazy("None chosen: not asked yet."),
    )
    home_equipment = forms.MultipleChoiceField(
        label=gettext_lazy("What they have at home"), required=False, widget=Phrases()
    )
    cm = MeasureField(label=gettext_lazy("Stature"), unit=gettext_lazy("centimetres"))
    feet = forms.IntegerField(
        label=gettext_lazy("Stature"),
        required=False,
        min_value=0,
        max_value=8,
        help_text=gettext_lazy("feet"),
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
        error_messages={"invalid": gettext_lazy("Type a whole number of feet.")},
    )
    inches = MeasureField(label=gettext_lazy("and"), unit=gettext_lazy("inches"))
    kg = MeasureField(label=gettext_lazy("Mass"), unit=gettext_lazy("kilograms"))
    pounds = MeasureField(label=gettext_lazy("Mass"), unit=gettext_lazy("pounds"))
    proportions = forms.ChoiceField(
        label=gettext_lazy("Proportions for reckoning where the weight of the body lies"),
        choices=Proportions.choices,
        widget=Options(),
        required=False,
    )
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args, care: CareProfile | None, measured_in: str, **kwargs):
        self.care, self.imperial = care, measured_in == Units.IMPERIAL
        kwargs["initial"] = self._initial(care)
        super().__init__(*args, **kwargs)
        self.fields["home_equipment"].choices = wording.home_choices()
        for name in ("cm", "kg") if self.imperial else ("feet", "inches", "pounds"):
            del self.fields[name]
        stature = ("feet", "inches", "pounds") if self.imperial else ("cm", "kg")
        self.helper = fields_only(
            "version",
            "touch",
            "home_equipment",
            Fieldset(
                _("For reckoning loads, if the client likes to say"),
                Row(*(Column(name) for name in stature)),
                "proportions",
            ),
        )

    def _initial(self, care) -> dict:
        if care is None:
            return {"version": 0, "proportions": Proportions.NEUTRAL}
        shown = {name: getattr(care, name) for name in ("touch", "home_equipment", "proportions", "version")}
        if care.stature_mm:
            shown["cm"] = units.cm_from_mm(care.stature_mm)
            shown["feet"], shown["inches"] = units.feet_from_mm(care.stature_mm)
        if care.mass_g:
            shown["kg"] = units.kg_from_g(care.mass_g)
            shown["pounds"] = units.pounds_from_g(care.mass_g)
        return shown

    def clean(self):
        data = super().clean()
        if self.imperial:
            self._clean_feet(data)
        names = ("feet", "pounds") if self.imperial else ("cm", "kg")
        for field, value, limits, said in (
            (
                names[0],
                self._stature(data),
                STATURE_MM,
                _("Check the stature: that is not a grown person’s."),
            ),
            (names[1], self._mass(data), MASS_G, _("Check the mass: that is not a grown person’s.")),
        ):
            if value is not None and not limits[0] <= value <= limits[1] and field not in self.errors:
                self.add_error(field, said)
        return data

    def _clean_feet(self, data):
        inches = data.get("inches")
        if inches is not None and data.get("feet") is None and "feet" not in self.errors:
            self.add_error("feet", _("How many feet?"))
        if inches is not None and not 0 <= inches < units.INCHES_PER_FOOT:
            self.add_error("inches", _("Inches beside the feet: 0 to 11.9."))

    def _stature(self, data) -> int | None:
        if not self.imperial:
            return units.mm_from_cm(data["cm"]) if data.get("cm") is not None else None
        if data.get("feet") is None:
            return None
        return units.mm_from_feet(data["feet"], data.get("inches") or Decimal(0))

    def _mass(self, data) -> int | None:
        if self.imperial:
            return units.g_from_pounds(data["pounds"]) if data.get("pounds") is not None else None
        return units.g_from_kg(data["kg"]) if data.get("kg") is not None else None

    def fields_to_write(self) -> dict:
        """Return the fields of the care profile. A measure that was not touched keeps its exact value."""
        data, changed = self.cleaned_data, set(self.changed_data)
        stature = (
            self._stature(data) if changed & {"cm", "feet", "inches"} else _kept(self.care, "stature_mm")
        )
        mass = self._mass(data) if changed & {"kg", "pounds"} else _kept(self.care, "mass_g")
        return {
            "touch": data["touch"],
            "home_equipment": data["home_equipment"],
            "stature_mm": stature,
            "mass_g": mass,
            "proportions": data["proportions"] or Proportions.NEUTRAL,
        }


def _kept(care, name):
    return getattr(care, name) if care else None


def stature_words(mm: int | None, measured_in: str) -> str:
    """Return a stature in the studio's units; empty where it is not known."""
    if not mm:
        return ""
    if measured_in == Units.IMPERIAL:
        feet, inches = units.feet_from_mm(mm)
        return _("%(feet)d ft %(inches)s in") % {"feet": feet, "inches": _plain(inches)}
    return _("%(cm)s cm") % {"cm": _plain(units.cm_from_mm(mm))}


def mass_words(g: int | None, measured_in: str) -> str:
    """Return a mass in the studio's units; empty where it is not known."""
    if not g:
        return ""
    if measured_in == Units.IMPERIAL:
        return _("%(lb)s lb") % {"lb": _plain(units.pounds_from_g(g))}
    return _("%(kg)s kg") % {"kg": _plain(units.kg_from_g(g))}


def _plain(value: Decimal) -> str:
    """Return a number without a nought after the point."""
    try:
        whole = value.to_integral_value()
    except InvalidOperation:
        return str(value)
    return str(whole) if whole == value else str(value)
