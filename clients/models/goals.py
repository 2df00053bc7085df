"""What the client wants, in the client's own words, and how near it feels."""

from decimal import Decimal

from django.core.validators import MaxValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from clients.models.people import OfClientQuerySet
from studio.models import AppendOnly, EditableRow


class Goal(EditableRow):
    class State(models.TextChoices):
        OPEN = "open", _("open")
        REACHED = "reached", _("reached")
        PUT_ASIDE = "put_aside", _("put aside")

    class Side(models.TextChoices):
        LEFT = "left", _("Left")
        RIGHT = "right", _("Right")
        BOTH = "both", _("Both sides")

    client = models.ForeignKey("clients.Client", on_delete=models.PROTECT, related_name="goals")
    words = models.CharField(_("in the client's own words"), max_length=240)
    state = models.CharField(max_length=10, choices=State, default=State.OPEN)
    set_on = models.DateField()
    closed_on = models.DateField(null=True, blank=True)
    # A number to reach, where the goal has one: a measure of library.measures, a side, whole tenths of its unit.
    measure = models.CharField(max_length=60, blank=True)
    side = models.CharField(max_length=5, choices=Side, blank=True)
    target = models.IntegerField(null=True, blank=True)
    target_on = models.DateField(null=True, blank=True)

    objects = OfClientQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(measure="", side="", target=None, target_on=None)
                | (~models.Q(measure="") & ~models.Q(side="") & models.Q(target__isnull=False)),
                name="goal_target_is_whole",
            )
        ]

    def __str__(self):
        return self.words

    @property
    def target_value(self) -> Decimal | None:
        """The number to reach in the unit of its measure, exactly."""
        return None if self.target is None else Decimal(self.target) / 10


class GoalRating(AppendOnly):
    """The client's own number for a goal on a day: 0 cannot do it, 10 does it as wished."""

    goal = models.ForeignKey(Goal, on_delete=models.PROTECT, related_name="ratings")
    on = models.DateField()
    value = models.PositiveSmallIntegerField(validators=[MaxValueValidator(10)])
    author = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["on", "id"]
        constraints = [models.CheckConstraint(condition=models.Q(value__lte=10), name="goal_rating_to_10")]
