"""Units of apparatus with what belongs to them, and springs under the studio's own names."""

from django import forms
from django.utils.translation import gettext_lazy as _

from library import accessories
from library.models import ApparatusUnit, StudioSpring
from studio.forms.rows import RowForm
from studio.forms.widgets import Phrases
from studio.models import Room


def _ask_to_choose(form, *names) -> None:
    """Say "Choose" where nothing is chosen yet, in place of a row of dashes."""
    for name in names:
        if name in form.fields:
            choices = [(value, label) for value, label in form.fields[name].choices if value]
            form.fields[name].choices = [("", _("Choose")), *choices]


class UnitForm(RowForm):
    class Meta:
        model = ApparatusUnit
        fields = ("kind", "name", "room", "in_use")
        labels = {"kind": _("Kind"), "in_use": _("In use")}

    def __init__(self, *args, person, **kwargs):
        super().__init__(*args, **kwargs)
        _ask_to_choose(self, "kind")
        self.fields["room"].empty_label = _("Choose")
        self.fields["room"].queryset = Room.objects.seen_by(person)
        self.fields["room"].to_field_name = "public_id"
        if self.instance.room_id:
            self.initial["room"] = self.instance.room.public_id


class KnownUnitForm(UnitForm):
    """A unit that exists keeps its kind; what may belong to it follows from that."""

    accessories = forms.MultipleChoiceField(
        label=_("What belongs to this one"),
        required=False,
        widget=Phrases(),
        help_text=_("Touch what is here. Leave it all untouched while nobody has looked."),
    )

    class Meta(UnitForm.Meta):
        fields = ("name", "room", "accessories", "in_use")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        choices = accessories.choices(self.instance.kind)
        if choices:
            self.fields["accessories"].choices = choices
        else:
            del self.fields["accessories"]

    def values(self) -> dict:
        """Return the fields of the row; a kind to which nothing belongs keeps its empty list."""
        return {name: value for name, value in super().values().items() if name in self.fields}


class SpringForm(RowForm):
    class Meta:
        model = StudioSpring
        fields = ("kind", "name", "grade", "count", "in_use")
        labels = {"kind": _("Kind"), "grade": _("Grade"), "in_use": _("In use")}
        help_texts = {
            "name": _(
                "As you call it here. Grades are guidance; colours mean something else in every studio."
            ),
            "count": _("Each is one peg on the recording screen."),
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        _ask_to_choose(self, "kind", "grade")
