"""The owner's card of the first hour on today's page: what is there already, and where the next step is."""

from django.db.models import Exists, OuterRef, Subquery
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from clients.models import Client, Submission
from library.models import ApparatusUnit, StudioSpring
from sessions import first_hour
from sessions.actions import first_hour as first_hour_actions
from sessions.models import Attendance, Booking, Handout, Plan, Record
from studio.access import opens
from studio.models import Room, Staff, Studio
from studio.roles import OWNER

WORDS = {
    "room": (_("Add the room you teach in"), _("Every booking stands in a room.")),
    "apparatus": (_("Add each piece of apparatus"), _("Mat work alone needs none.")),
    "springs": (_("Name your springs"), _("Your own names, one of five grades each.")),
    "people": (
        _("Let in who works here"),
        _("Each gets a code and chooses a passphrase. Alone? Go past it."),
    ),
    "client": (
        _("Write down a first client"),
        _("Name, birth date, telephone, whom to ring in an emergency."),
    ),
    "form": (
        _("Write down their answers"),
        _("From their paper form, or as they tell you. They suggest flags; you confirm."),
    ),
    "booking": (_("Book them"), _("Who, with whom, where, when.")),
    "plan": (_("Plan the session"), _("Each exercise shows what their flags say about it.")),
    "session": (_("Record it"), _("As planned is one touch.")),
    "handout": (_("Print their home practice"), _("Two to four exercises that may be done alone.")),
}


def card(request) -> list[dict] | None:
    """Return the lines of the card, or None where it is not for this person, put away, or walked to its end.

    One query, however much the studio holds.
    """
    me = request.user
    if not me.is_owner or request.studio.first_hour_left:
        return None
    found = _found(me)
    if first_hour.is_over(found):
        return None
    urls = _urls(me, found)
    return [
        {"step": step, "words": WORDS[step.key][0], "hint": WORDS[step.key][1], "url": urls.get(step.key)}
        for step in first_hour.steps(found)
    ]


def _found(me) -> dict:
    """Return step -> whether its row is there, and the ids that the next pages need."""
    clients = Client.objects.seen_by(me).filter(archived_on=None).order_by("pk")
    unwritten = clients.exclude(Exists(Submission.objects.seen_by(me).filter(client=OuterRef("pk"))))
    coming = Attendance.objects.seen_by(me).filter(state__in=Attendance.HOLDING)
    coming = coming.order_by("booking__starts_at", "pk")
    recorded = coming.filter(record__isnull=False)
    return (
        Studio.objects.seen_by(me)
        .annotate(
            room=Exists(Room.objects.seen_by(me)),
            apparatus=Exists(ApparatusUnit.objects.seen_by(me)),
            springs=Exists(StudioSpring.objects.seen_by(me)),
            people=Exists(Staff.objects.seen_by(me).exclude(pk=me.pk)),
            client=Exists(clients),
            form=Exists(Submission.objects.seen_by(me)),
            booking=Exists(Booking.objects.seen_by(me)),
            plan=Exists(Plan.objects.seen_by(me)),
            session=Exists(Record.objects.seen_by(me)),
            handout=Exists(Handout.objects.seen_by(me)),
            to_write=Subquery(unwritten.values("public_id")[:1]),
            to_plan=Subquery(coming.filter(plan=None).values("public_id")[:1]),
            to_record=Subquery(coming.filter(booking__instructor=me, record=None).values("public_id")[:1]),
            to_print=Subquery(recorded.values("client__public_id")[:1]),
            any_client=Subquery(clients.values("public_id")[:1]),
        )
        .values(*first_hour.STEPS, "to_write", "to_plan", "to_record", "to_print", "any_client")
        .get()
    )


def _urls(me, found) -> dict[str, str]:
    """Return step -> the address of its page; a step whose page needs what is not there has none."""
    urls = {
        "room": reverse("studio:room_new"),
        "apparatus": reverse("library:unit_new"),
        "springs": reverse("library:spring_new"),
        "people": reverse("studio:staff_new"),
        "client": reverse("clients:new"),
        "booking": reverse("sessions:booking_new"),
    }
    for step, name, part, public_id in (
        ("form", "clients:intake", "client", found["to_write"]),
        ("plan", "sessions:plan", "attendance", found["to_plan"]),
        ("session", "sessions:record", "attendance", found["to_record"]),
        ("handout", "sessions:home_practice", "client", found["to_print"] or found["any_client"]),
    ):
        if public_id:
            urls[step] = reverse(name, kwargs={part: public_id})
    return urls


@opens(OWNER, methods=("POST",))
def leave(request):
    first_hour_actions.leave(actor=request.actor)
    return redirect("sessions:today")
