"""Booking: who, when, with whom, where, on what."""

import datetime as dt

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Column, Layout, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from clients.models import Client
from library.models import ApparatusUnit
from sessions.actions.bookings import Wish
from studio.forms.days import PlainDay
from studio.forms.widgets import Phrases, TimeInput
from studio.models import Room, Staff
from studio.roles import DESK_WRITERS


class PublicChoice(forms.ModelChoiceField):
    """A choice of rows whose values are public ids, never keys."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, to_field_name="public_id", **kwargs)


class PublicChoices(forms.ModelMultipleChoiceField):
    def __init__(self, *args, **kwargs):
        super().__init__(*args, to_field_name="public_id", **kwargs)


class BookingForm(forms.Form):
    client = PublicChoice(
        queryset=Client.objects.none(), label=gettext_lazy("Client"), empty_label=gettext_lazy("Choose")
    )
    partner = PublicChoice(
        queryset=Client.objects.none(),
        label=gettext_lazy("Second client, for a pair"),
        empty_label=gettext_lazy("Nobody"),
        required=False,
    )
    day = PlainDay(label=gettext_lazy("Day"))
    time = forms.TimeField(label=gettext_lazy("Time"), widget=TimeInput())
    minutes = forms.IntegerField(label=gettext_lazy("Minutes"), min_value=10, max_value=240)
    instructor = PublicChoice(
        queryset=Staff.objects.none(), label=gettext_lazy("Instructor"), empty_label=gettext_lazy("Choose")
    )
    room = PublicChoice(
        queryset=Room.objects.none(),
        label=gettext_lazy("Room"),
        empty_label=gettext_lazy("Where the apparatus stands"),
        required=False,
    )
    units = PublicChoices(
        queryset=ApparatusUnit.objects.none(),
        label=gettext_lazy("Apparatus"),
        required=False,
        widget=Phrases(),
        help_text=gettext_lazy("None is needed for mat work."),
    )

    def __init__(self, *args, person, moving=None, **kwargs):
        super().__init__(*args, **kwargs)
        clients = Client.objects.seen_by(person)
        self.fields["client"].queryset = clients
        self.fields["partner"].queryset = clients
        teaching = Staff.objects.seen_by(person).teaching()
        # An instructor books for nobody else; the desk and the owner book for all.
        own_only = not person.has_role(*DESK_WRITERS)
        self.fields["instructor"].queryset = teaching.filter(pk=person.pk) if own_only else teaching
        self.fields["room"].queryset = Room.objects.seen_by(person).filter(in_use=True)
        units = ApparatusUnit.objects.seen_by(person).filter(in_use=True).select_related("room")
        self.fields["units"].queryset = units
        self.fields["units"].label_from_instance = lambda unit: f"{unit.name} · {unit.room.name}"
        if moving:
            del self.fields["client"], self.fields["partner"]
            self.fields["version"] = forms.IntegerField(widget=forms.HiddenInput)
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True
        self.helper.layout = self._layout(moving)

    def _layout(self, moving) -> Layout:
        who = [] if moving else [Row(Column("client"), Column("partner"))]
        return Layout(
            *(["version"] if moving else []),
            *who,
            Row(Column("day"), Column("time"), Column("minutes")),
            Row(Column("instructor"), Column("room")),
            "units",
        )

    def clean(self):
        data = super().clean()
        if data.get("partner") and data.get("partner") == data.get("client"):
            self.add_error("partner", _("Choose another person, or leave this empty."))
        if not data.get("room") and "room" not in self.errors:
            data["room"] = self._only_room(data.get("units") or ())
            if not data["room"]:
                self.add_error("room", _("Choose a room, or apparatus that stands in one."))
        return data

    def _only_room(self, units) -> Room | None:
        """Return the one room that the apparatus stands in, or the studio's only room; None for neither."""
        rooms = {unit.room for unit in units} or set(self.fields["room"].queryset)
        return rooms.pop() if len(rooms) == 1 else None

    def loose_wish(self) -> Wish | None:
        """Return what is asked for so far, with midnight for the time; None before a day and an instructor."""
        if self.is_bound:
            self.is_valid()
            data = self.cleaned_data
        else:
            data = self._begun()
        if not (data.get("day") and data.get("minutes") and data.get("instructor")):
            return None
        people = (data.get("client"), data.get("partner"))
        return Wish(
            day=data["day"],
            time=dt.time(),
            minutes=data["minutes"],
            instructor=data["instructor"],
            room=data.get("room"),
            units=tuple(data.get("units") or ()),
            clients=tuple(person for person in people if person),
        )

    def _begun(self) -> dict:
        """Return the values that the form opens with; whatever makes no sense counts as not chosen."""
        data = {}
        for name, field in self.fields.items():
            try:
                data[name] = field.clean(self.get_initial_for_field(field, name))
            except forms.ValidationError:
                data[name] = None
        return data

    def wish(self) -> Wish:
        """Return what is asked for. Only for a form that is valid."""
        data = self.cleaned_data
        people = (data.get("client"), data.get("partner"))
        return Wish(
            day=data["day"],
            time=data["time"],
            minutes=data["minutes"],
            instructor=data["instructor"],
            room=data["room"],
            units=tuple(data["units"]),
            clients=tuple(person for person in people if person),
        )


class StateForm(forms.Form):
    """One touch on a state. Cancelled in time or late is decided by the clock, not by the person."""

    SET = ("booked", "arrived", "done", "cancelled", "no_show")
    state = forms.ChoiceField(choices=[(state, state) for state in SET])
    version = forms.IntegerField()
