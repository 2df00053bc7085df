"""Bookings: a time, an instructor, a room, apparatus units, and one attendance for each client."""

from django.db import models
from django.db.models import functions
from django.utils.translation import gettext_lazy as _

from clients.models import desk_marks
from sessions.models.records import Record
from studio.models import Door, EditableRow


class BookingQuerySet(Door):
    def seen_by(self, person):
        """The diary is everybody's who works here."""
        return self if person.is_active else self.none()

    def on_day(self, day):
        """Return bookings of one day, in the studio's wall-clock time."""
        return self.filter(wall_day=day)

    def counts(self, first, last):
        """Return how many bookings hold their time on each day from first to last, as day -> number."""
        rows = self.holding().filter(wall_day__range=(first, last)).values("wall_day")
        return {r["wall_day"]: r["n"] for r in rows.order_by().annotate(n=models.Count("pk", distinct=True))}

    def with_people(self):
        """Load everything a list shows, in a fixed number of queries."""
        return self.select_related("instructor", "room").prefetch_related("units", "attendances__client")

    def holding(self):
        """Return bookings that hold their time: those with somebody who still comes or came."""
        return self.filter(attendances__state__in=Attendance.HOLDING).distinct()


class Booking(EditableRow):
    """What is booked. Only `sessions.actions.bookings.take` writes its time and its resources."""

    starts_at = models.DateTimeField(db_index=True)
    ends_at = models.DateTimeField()
    zone = models.CharField(max_length=60)
    wall_day = models.DateField(db_index=True)
    wall_time = models.TimeField()
    minutes = models.PositiveIntegerField(_("length in minutes"))
    instructor = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="bookings")
    room = models.ForeignKey("studio.Room", on_delete=models.PROTECT, related_name="bookings")
    units = models.ManyToManyField("library.ApparatusUnit", related_name="bookings", blank=True)
    created_by = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()

    objects = BookingQuerySet.as_manager()

    class Meta:
        ordering = ["starts_at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(starts_at__lt=models.F("ends_at")), name="booking_has_length"
            )
        ]


class AttendanceQuerySet(Door):
    def seen_by(self, person):
        """Who comes when is everybody's; what they do is guarded by the plan and the record."""
        if not person.is_active:
            return self.none()
        return self if person.is_owner else self.filter(client__archived_on=None)

    def on_day(self, day):
        return self.filter(booking__wall_day=day)

    def with_desk_marks(self):
        """Add what the desk may know of the client: `ask_first` and `form_missing`."""
        return self.annotate(**desk_marks("client"))

    def with_last_time(self):
        """Add `last_record`, the key of the client's newest finished record before it, and `sessions_before`."""
        finished = models.Q(attendance__client_id=models.OuterRef("client_id"), finished_at__isnull=False)
        newest = Record.objects.filter(
            finished, attendance__booking__starts_at__lt=models.OuterRef("booking__starts_at")
        ).order_by("-attendance__booking__starts_at")
        before = (
            Attendance.objects.filter(
                client_id=models.OuterRef("client_id"),
                state=Attendance.State.DONE,
                booking__starts_at__lt=models.OuterRef("booking__starts_at"),
            )
            .order_by()
            .values("client_id")
            .annotate(n=models.Count("pk"))
        )
        return self.annotate(
            last_record=models.Subquery(newest.values("pk")[:1]),
            sessions_before=functions.Coalesce(models.Subquery(before.values("n")[:1]), 0),
        )

    def with_booking(self):
        return self.select_related("booking__instructor", "booking__room", "client").prefetch_related(
            "booking__units"
        )


class Attendance(EditableRow):
    """One client in one booking. Plan, record and home practice hang here; a pair is two of these."""

    class State(models.TextChoices):
        BOOKED = "booked", _("booked")
        ARRIVED = "arrived", _("arrived")
        DONE = "done", _("done")
        CANCELLED_IN_TIME = "cancelled_in_time", _("cancelled in time")
        CANCELLED_LATE = "cancelled_late", _("cancelled late")
        NO_SHOW = "no_show", _("no-show")

    HOLDING = ("booked", "arrived", "done", "no_show")

    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, related_name="attendances")
    client = models.ForeignKey("clients.Client", on_delete=models.PROTECT, related_name="attendances")
    state = models.CharField(max_length=18, choices=State, default=State.BOOKED)
    state_at = models.DateTimeField(null=True, blank=True)

    objects = AttendanceQuerySet.as_manager()

    class Meta:
        ordering = ["booking__starts_at", "id"]
        constraints = [
            models.UniqueConstraint(fields=["booking", "client"], name="one_attendance_a_client_and_booking")
        ]

    @property
    def holds(self) -> bool:
        return self.state in self.HOLDING
