"""The studio's apparatus: units that are booked, and springs under the studio's own names."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from studio.models import Door, EditableRow


class Kind(models.TextChoices):
    """Kinds that are booked as units. Mat, standing and small props are not."""

    REFORMER = "reformer", _("Reformer")
    TRAPEZE_TABLE = "trapeze_table", _("Trapeze table")
    CHAIR = "chair", _("Chair")
    LADDER_BARREL = "ladder_barrel", _("Ladder barrel")
    ARC = "arc", _("Arc")


class SpringGrade(models.TextChoices):
    VERY_LIGHT = "very_light", _("very light")
    LIGHT = "light", _("light")
    MEDIUM = "medium", _("medium")
    HEAVY = "heavy", _("heavy")
    VERY_HEAVY = "very_heavy", _("very heavy")


class ApparatusQuerySet(Door):
    def seen_by(self, person):
        return self if person.is_active else self.none()


class ApparatusUnit(EditableRow):
    """One piece of a kind, such as the second reformer."""

    kind = models.CharField(max_length=20, choices=Kind)
    name = models.CharField(_("name"), max_length=60, unique=True)
    room = models.ForeignKey("studio.Room", on_delete=models.PROTECT, related_name="units")
    # Codes of the closed list "accessories"; an empty list says that nobody has looked yet.
    accessories = models.JSONField(_("what belongs to it"), default=list, blank=True)
    in_use = models.BooleanField(default=True)

    objects = ApparatusQuerySet.as_manager()

    class Meta:
        ordering = ["kind", "name"]

    def __str__(self):
        return self.name


class StudioSpring(EditableRow):
    """Springs of one kind of apparatus under the studio's own name. Rate and tension stay empty until measured."""

    kind = models.CharField(max_length=20, choices=Kind)
    name = models.CharField(_("the studio's own name"), max_length=60)
    grade = models.CharField(max_length=12, choices=SpringGrade)
    count = models.PositiveIntegerField(_("how many on one unit"), default=1)
    rate_n_per_m = models.PositiveIntegerField(null=True, blank=True)
    tension_n = models.PositiveIntegerField(null=True, blank=True)
    in_use = models.BooleanField(default=True)

    objects = ApparatusQuerySet.as_manager()

    class Meta:
        ordering = ["kind", "id"]
        constraints = [models.UniqueConstraint(fields=["kind", "name"], name="one_spring_a_name")]

    def __str__(self):
        return self.name
