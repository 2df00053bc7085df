"""One exercise in the place of another: in a plan, where it can be taken back, and in a record."""

from django.db import models

from studio.models import Door


class SwapQuerySet(Door):
    def seen_by(self, person):
        if not person.reads_health:
            return self.none()
        return self if person.is_owner else self.filter(item__plan__attendance__client__archived_on=None)


class PlanSwap(models.Model):
    """What stood in a row of a plan before another exercise took its place. Taking back removes the line.

    exercise: the one that stood there. values: what its row said (sessions.actions.swaps.KEPT), its reason
    to keep it among them.
    """

    item = models.ForeignKey("studio_sessions.PlanItem", on_delete=models.CASCADE, related_name="swaps")
    exercise = models.ForeignKey("library.Exercise", on_delete=models.PROTECT, related_name="+")
    values = models.JSONField(default=dict)
    by = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    objects = SwapQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]


class EntryInsteadQuerySet(Door):
    def seen_by(self, person):
        if not person.reads_health:
            return self.none()
        entries = "entry__record__attendance__client__archived_on"
        return self if person.is_owner else self.filter(**{entries: None})


class EntryInstead(models.Model):
    """What was planned where an entry of the record is another exercise: its content as it was planned."""

    entry = models.OneToOneField("studio_sessions.Entry", on_delete=models.CASCADE, related_name="instead_of")
    planned = models.ForeignKey("library.ExerciseVersion", on_delete=models.PROTECT, related_name="+")

    objects = EntryInsteadQuerySet.as_manager()
