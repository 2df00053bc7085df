"""The studio itself: its settings, rooms, opening hours and the days it is closed."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from studio.models.base import Door, EditableRow

IDLE_MINUTES = [MinValueValidator(1), MaxValueValidator(30)]


class Units(models.TextChoices):
    METRIC = "metric", _("centimetres and kilograms")
    IMPERIAL = "imperial", _("feet, inches and pounds")


class Paper(models.TextChoices):
    A4 = "a4", _("A4")
    LETTER = "letter", _("Letter")


class StudioQuerySet(Door):
    def seen_by(self, person):
        return self if person.is_active else self.none()


class Studio(EditableRow):
    """The one row of settings. There is exactly one once the owner has set the studio up."""

    name = models.CharField(_("studio name"), max_length=120)
    telephone = models.CharField(_("telephone"), max_length=40, blank=True)
    emergency_number = models.CharField(_("emergency number"), max_length=20)
    zone = models.CharField(_("time zone"), max_length=60)
    locale = models.CharField(_("language and formats"), max_length=12, default="en-gb")
    units = models.CharField(_("units"), max_length=10, choices=Units, default=Units.METRIC)
    paper = models.CharField(_("paper size"), max_length=10, choices=Paper, default=Paper.A4)
    # Common practice, no source: how much longer an exercise takes than its bare count, and the fixed parts.
    pace_percent = models.PositiveIntegerField(_("pace, per cent of the bare count"), default=160)
    change_seconds = models.PositiveIntegerField(_("seconds to change apparatus"), default=75)
    check_in_seconds = models.PositiveIntegerField(_("seconds for check-in"), default=300)
    close_seconds = models.PositiveIntegerField(_("seconds for the close"), default=240)
    session_minutes = models.PositiveIntegerField(_("usual length in minutes"), default=55)
    cancel_hours = models.PositiveIntegerField(_("hours of notice for a cancellation in time"), default=24)
    desk_types_intake = models.BooleanField(_("front desk may type paper forms"), default=True)
    crisis_line = models.CharField(_("crisis line"), max_length=80, blank=True)
    currency = models.CharField(_("currency"), max_length=3, default="GBP")
    # The card that leads to the first printed page was put away by the owner.
    first_hour_left = models.BooleanField(default=False, editable=False)
    # Minutes without a touch until the screen locks. OWASP verification standard 5.0, 7.3.1 asks for a limit;
    # the figures are common practice, no source.
    idle_minutes_tablet = models.PositiveSmallIntegerField(
        _("minutes until a tablet locks"), default=5, validators=IDLE_MINUTES
    )
    idle_minutes_desk = models.PositiveSmallIntegerField(
        _("minutes until the desk locks"), default=15, validators=IDLE_MINUTES
    )

    objects = StudioQuerySet.as_manager()

    def __str__(self):
        return self.name


class RoomQuerySet(Door):
    def seen_by(self, person):
        return self if person.is_active else self.none()


class Room(EditableRow):
    name = models.CharField(_("room"), max_length=60, unique=True)
    # A pair counts as one booking; two bookings side by side need a room that holds two.
    holds = models.PositiveIntegerField(_("bookings at once"), default=1)
    in_use = models.BooleanField(default=True)

    objects = RoomQuerySet.as_manager()

    class Meta:
        ordering = ["name"]

    def __str__(self):
        return self.name


class OpeningHour(models.Model):
    """One open stretch on a weekday, in the studio's wall-clock time. Monday is 0."""

    weekday = models.PositiveSmallIntegerField()
    opens = models.TimeField()
    closes = models.TimeField()

    class Meta:
        ordering = ["weekday", "opens"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(opens__lt=models.F("closes")), name="opens_before_closing"
            ),
            models.CheckConstraint(condition=models.Q(weekday__lte=6), name="weekday_is_a_weekday"),
        ]


class DaysQuerySet(Door):
    def seen_by(self, person):
        """When somebody is away, or the studio closed, is everybody's who works here."""
        return self if person.is_active else self.none()


class ClosedDay(models.Model):
    day = models.DateField(unique=True)
    reason = models.CharField(max_length=120)

    objects = DaysQuerySet.as_manager()


class Absence(models.Model):
    """Whole days on which an instructor does not teach. The reason is nobody's business here."""

    staff = models.ForeignKey("studio.Staff", on_delete=models.CASCADE, related_name="absences")
    first_day = models.DateField()
    last_day = models.DateField()

    objects = DaysQuerySet.as_manager()
