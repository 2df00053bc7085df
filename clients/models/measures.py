"""What was measured on a day: one row for both sides, never changed; a correction is a further row."""

from decimal import Decimal

from django.db import models
from django.utils.translation import gettext_lazy as _

from clients.models.people import OfClientQuerySet
from studio.models import AppendOnly, PublicRow

TENTHS = 10


class MeasurementQuerySet(OfClientQuerySet):
    def standing(self):
        """Return the rows that count: nothing replaces them, and they were not taken back."""
        return self.filter(replaced_by=None).exclude(left=None, right=None)

    def of_measure(self, key: str):
        """Return the rows of one measure of library.measures, oldest day first."""
        return self.filter(measure=key)


class Measurement(AppendOnly, PublicRow):
    """Both sides of one measure on one day, in whole tenths of its unit: 8.5 cm is 85, 44 s is 440.

    None is a side that was not taken, which is never nought. A row that replaces another and has neither side
    takes it back. `tries` keeps every try, {"left": [tenths, …], "right": […]}.
    """

    class First(models.TextChoices):
        LEFT = "left", _("Left first")
        RIGHT = "right", _("Right first")

    client = models.ForeignKey("clients.Client", on_delete=models.PROTECT, related_name="measurements")
    measure = models.CharField(max_length=60)
    protocol = models.CharField(max_length=60)
    on = models.DateField(_("day"))
    left = models.IntegerField(null=True)
    right = models.IntegerField(null=True)
    tries = models.JSONField(default=dict)
    first = models.CharField(max_length=5, choices=First, default=First.LEFT)
    setup = models.CharField(max_length=80, blank=True)
    note = models.CharField(max_length=300, blank=True)
    replaces = models.OneToOneField("self", null=True, on_delete=models.PROTECT, related_name="replaced_by")
    author = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    objects = MeasurementQuerySet.as_manager()

    class Meta:
        ordering = ["on", "id"]
        indexes = [models.Index(fields=["client", "measure", "on"], name="measurement_of_client")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(left__isnull=False)
                | models.Q(right__isnull=False)
                | models.Q(replaces__isnull=False),
                name="measurement_has_a_side",
            )
        ]

    @property
    def left_value(self) -> Decimal | None:
        """The left side in the unit of the measure, exactly."""
        return _exact(self.left)

    @property
    def right_value(self) -> Decimal | None:
        """The right side in the unit of the measure, exactly."""
        return _exact(self.right)

    def same_way(self, other: "Measurement") -> bool:
        """Return whether both were taken in the same way, so that they may be compared."""
        mine, theirs = (" ".join(row.setup.casefold().split()) for row in (self, other))
        return self.measure == other.measure and self.protocol == other.protocol and mine == theirs


def _exact(tenths: int | None) -> Decimal | None:
    return None if tenths is None else Decimal(tenths) / TENTHS
