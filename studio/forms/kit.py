"""The form on the page of components: one field of every kind, some of them wrong on purpose."""

from django import forms
from django.utils.translation import gettext_lazy as _

from studio.forms import widgets


class KitForm(forms.Form):
    """Every widget of the house. It is only looked at: nothing takes what is typed."""

    name = forms.CharField(label=_("Name"), help_text=_("As on the paper form."))
    telephone = forms.CharField(
        label=_("Telephone"), error_messages={"required": _("Type the number to ring.")}
    )
    born = forms.DateField(label=_("Born"), widget=widgets.DateInput(), required=False)
    at = forms.TimeField(label=_("Time"), widget=widgets.TimeInput(), required=False)
    room = forms.ChoiceField(label=_("Room"), choices=[("", "–"), ("long", _("Long room"))], required=False)
    minutes = forms.IntegerField(
        label=_("Minutes"),
        widget=widgets.Stepper(min=5, max=60, step=5, start=10, unit=_("min")),
        error_messages={"required": _("Say how many minutes.")},
    )
    quality = forms.TypedChoiceField(
        label=_("Quality"), choices=widgets.STEP_CHOICES, coerce=int, widget=widgets.Steps(), required=False
    )
    effort = forms.TypedChoiceField(
        label=_("Effort"), choices=widgets.EFFORT_CHOICES, coerce=int, widget=widgets.Effort(), required=False
    )
    answer = forms.ChoiceField(
        label=_("Does it wake you at night?"),
        choices=[("yes", _("Yes")), ("no", _("No")), ("unsure", _("Not sure"))],
        widget=widgets.Options(),
        error_messages={"required": _("Choose one, Not sure counts too.")},
    )
    paper = forms.ChoiceField(
        label=_("Paper"),
        choices=[("a4", _("A4")), ("letter", _("Letter"))],
        widget=widgets.Segmented(),
        required=False,
    )
    seen = forms.MultipleChoiceField(
        label=_("What was seen"),
        choices=[("neck", _("Neck gripped")), ("breath", _("Held the breath"))],
        widget=widgets.Phrases(),
        required=False,
    )
    springs = forms.MultipleChoiceField(
        label=_("Springs"),
        choices=[("1", _("Heavy")), ("2", _("Light"))],
        widget=widgets.Pegs([("1", "heavy", _("Heavy")), ("2", "light", _("Light"))]),
        required=False,
    )
    pain = widgets.SplitTickField(label=_("Pain"), required=False)
    agreed = forms.BooleanField(label=_("The client has read this page"), required=False)
    words = forms.CharField(
        label=_("Their own words"), widget=forms.Textarea(attrs={"rows": 3}), required=False
    )
