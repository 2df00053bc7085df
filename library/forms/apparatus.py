"""Units of apparatus, and springs under the studio's own names."""

from django.utils.translation import gettext_lazy as _

from library.models import ApparatusUnit, StudioSpring
from studio.forms.rows import RowForm
from studio.models import Room


class UnitForm(RowForm):
    class Meta:
        model = ApparatusUnit
        fields = ("kind", "name", "room", "in_use")
        labels = {"kind": _("Kind"), "in_use": _("in use")}

    def __init__(self, *args, person, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["room"].queryset = Room.objects.seen_by(person)
        self.fields["room"].to_field_name = "public_id"
        if self.instance.room_id:
            self.initial["room"] = self.instance.room.public_id


class SpringForm(RowForm):
    class Meta:
        model = StudioSpring
        fields = ("kind", "name", "grade", "count", "in_use")
        labels = {"kind": _("Kind"), "grade": _("Grade"), "in_use": _("in use")}
        help_texts = {
            "name": _(
                "As you call it here. Grades are guidance; colours mean something else in every studio."
            ),
            "count": _("How many of these hang on one unit."),
        }
