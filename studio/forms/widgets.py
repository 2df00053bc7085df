"""Form widgets of the house, for crispy forms: real inputs under the painted controls.

Each is drawn by a file in templates/components/, the same one that the template tag of that name uses.
"""

from django import forms
from django.core.exceptions import ValidationError
from django.forms.utils import flatatt
from django.utils.html import format_html, format_html_join
from django.utils.translation import gettext_lazy as _

from studio import wording
from studio.templatetags import controls
from studio.templatetags.keeping import drawn

QUALITY_WORDS = wording.QUALITY
STEP_CHOICES = [(step, word) for step, word in QUALITY_WORDS.items()]
EFFORT_CHOICES = [(step, str(step)) for step in range(11)]


class HouseWidget:
    """A widget whose template lies in the project's template folder and draws the whole control."""

    house = True

    def _render(self, template_name, context, renderer=None):
        # Django's own renderer for widgets looks only into the apps, not into templates/.
        return drawn(template_name, {name: value for name, value in context.items() if name != "widget"})


class DateInput(forms.DateInput):
    """The browser's own date field; the value travels as yyyy-mm-dd whatever the locale shows."""

    input_type = "date"

    def __init__(self, attrs=None):
        super().__init__(attrs, format="%Y-%m-%d")


class TimeInput(forms.TimeInput):
    """The browser's own time field, hours and minutes."""

    input_type = "time"

    def __init__(self, attrs=None):
        super().__init__(attrs, format="%H:%M")


class LongSelect(forms.Select):
    """A select of many choices, in groups or not: Django's own fills two templates for each of them."""

    def _render(self, template_name, context, renderer=None):
        widget = context["widget"]
        groups = format_html_join(
            "\n", "{}", ((_group(name, options),) for name, options, _place in widget["optgroups"])
        )
        return format_html(
            '<select name="{}"{}>\n{}\n</select>', widget["name"], flatatt(widget["attrs"]), groups
        )


def _group(name: str | None, options: list[dict]) -> str:
    rows = ((option["value"], flatatt(option["attrs"]), option["label"]) for option in options)
    written = format_html_join("\n", '<option value="{}"{}>{}</option>', rows)
    return format_html('<optgroup label="{}">\n{}\n</optgroup>', name, written) if name else written


class Stepper(HouseWidget, forms.NumberInput):
    """A number with minus and plus. Empty stays empty; the first touch on an empty one gives `start`."""

    template_name = "components/stepper.html"

    def __init__(self, min=0, max=None, step=1, start=None, unit="", side=None, small=False, attrs=None):  # noqa: A002
        super().__init__(attrs)
        self.options = {"min": min, "max": max, "step": step, "start": start, "unit": unit, "small": small}
        self.side = side

    def get_context(self, name, value, attrs):
        attrs = self.build_attrs(self.attrs, attrs)
        options = {key: "" if given is None else given for key, given in self.options.items()}
        known = {key: attrs.pop(key, options[key]) for key in ("min", "max", "step")}
        context = controls.stepper_context(
            name, self.format_value(value), "", self.side, id=attrs.pop("id", None), attrs=attrs,
            **{**options, **known},
        )  # fmt: skip
        return {**context, "widget": {"name": name, "attrs": attrs}}


class _PaintedRadios(HouseWidget, forms.RadioSelect):
    """Radios in a house template; the field's label is the legend, so the part has none of its own."""

    def parts(self, name, value, attrs, element_id):
        raise NotImplementedError(f"{type(self).__name__} does not say what its parts are")

    def get_context(self, name, value, attrs):
        attrs = self.build_attrs(self.attrs, attrs)
        chosen = self.format_value(value)
        chosen = chosen[0] if chosen else None
        context = self.parts(name, chosen, attrs, attrs.pop("id", None))
        return {**context, "widget": {"name": name, "attrs": attrs}}


class Steps(_PaintedRadios):
    """The five steps, 1 to 5, rising outward from the midline on a side, or rightward without one."""

    template_name = "components/steps.html"

    def __init__(self, side=None, attrs=None, choices=()):
        super().__init__(attrs, choices)
        self.side = side

    def parts(self, name, value, attrs, element_id):
        labels = {int(number): word for number, word in self.choices if str(number).isdigit()}
        return controls.steps_context(
            name, value, "", self.side, labels=labels or None, id=element_id, attrs=attrs
        )


class Effort(_PaintedRadios):
    """Effort from 0 resting to 10 could not do more."""

    template_name = "components/effort.html"

    def parts(self, name, value, attrs, element_id):
        return controls.effort_context(name, value, id=element_id, attrs=attrs)


class Options(_PaintedRadios):
    """Big answers in a line, such as Yes, No and Not sure."""

    template_name = "components/options.html"

    def parts(self, name, value, attrs, element_id):
        return controls.choice_context(name, self.choices, value, id=element_id, attrs=attrs)


class Segmented(Options):
    """A small choice in one strip."""

    template_name = "components/choose.html"


class Phrases(HouseWidget, forms.CheckboxSelectMultiple):
    """Short phrases to touch, any number of them."""

    template_name = "components/phrases.html"

    def get_context(self, name, value, attrs):
        attrs = self.build_attrs(self.attrs, attrs)
        context = controls.choice_context(
            name, self.choices, self.format_value(value), id=attrs.pop("id", None), attrs=attrs
        )
        return {**context, "widget": {"name": name, "attrs": attrs}}


class Pegs(HouseWidget, forms.CheckboxSelectMultiple):
    """The springs of an apparatus as pegs; a hooked one is inked. `pegs` are (value, grade, label)."""

    template_name = "components/pegs.html"

    def __init__(self, pegs=(), attrs=None):
        super().__init__(attrs, [(value, label) for value, grade, label in pegs])
        self.pegs = list(pegs)

    def get_context(self, name, value, attrs):
        attrs = self.build_attrs(self.attrs, attrs)
        context = controls.peg_context(
            name, self.pegs, self.format_value(value), id=attrs.pop("id", None), attrs=attrs
        )
        return {**context, "widget": {"name": name, "attrs": attrs}}


class SplitTick(HouseWidget, forms.Widget):
    """One word with a half disc for each side; the value is a set of 'left' and 'right'."""

    template_name = "components/split_tick.html"
    use_fieldset = True

    def __init__(self, stop=False, attrs=None):
        super().__init__(attrs)
        self.stop = stop

    def get_context(self, name, value, attrs):
        value = set(value or ())
        context = controls.split_context(name, "", "left" in value, "right" in value, self.stop)
        for half in context["halves"]:
            half["said"] = wording.SIDES[half["side"]]
        return {**context, "bare": True, "widget": {"name": name, "attrs": attrs or {}}}

    def value_from_datadict(self, data, files, name):
        return {side for side in ("left", "right") if data.get(f"{name}_{side}")}

    def value_omitted_from_data(self, data, files, name):
        return False  # an unticked box sends nothing

    def id_for_label(self, id_):
        return ""


class SplitTickField(forms.Field):
    """A set of sides; empty unless the field is required."""

    widget = SplitTick

    def __init__(self, *, stop=False, required=False, **kwargs):
        kwargs.setdefault("widget", SplitTick(stop=stop))
        super().__init__(required=required, **kwargs)

    def to_python(self, value):
        return set(value or ())

    def validate(self, value):
        if self.required and not value:
            raise ValidationError(_("Tick left, right or both."), code="required")

    def has_changed(self, initial, data):
        return set(initial or ()) != set(data or ())
