"""Health answers and flags: written once, answered by further rows, never edited."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from clients.models.people import OfClientQuerySet
from studio.models import AppendOnly, PublicRow


class Submission(AppendOnly, PublicRow):
    """One set of health answers, as given on one day. A later one adds to it; nothing replaces it."""

    class GivenBy(models.TextChoices):
        PAPER = "paper", _("the client, on paper")
        SPOKEN = "spoken", _("the client, told to the instructor")

    client = models.ForeignKey("clients.Client", on_delete=models.PROTECT, related_name="submissions")
    form_version = models.PositiveIntegerField()
    given_by = models.CharField(max_length=8, choices=GivenBy)
    given_on = models.DateField(_("date on the form"))
    typed_by = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    typed_at = models.DateTimeField()
    answers = models.JSONField()

    objects = OfClientQuerySet.as_manager()

    class Meta:
        ordering = ["-typed_at", "-id"]


class FlagQuerySet(OfClientQuerySet):
    def with_state(self):
        """Return flags with `state`, that of their newest status row."""
        newest = FlagStatus.objects.filter(flag=models.OuterRef("pk")).order_by("-id")
        return self.annotate(state=models.Subquery(newest.values("state")[:1]))

    def in_state(self, *states):
        """Return the flags whose newest status row is one of some states."""
        return self.with_state().filter(state__in=states)

    def active(self):
        """Return the flags that count when an exercise is judged."""
        return self.with_state().filter(state=FlagStatus.State.ACTIVE)

    def with_history(self):
        """Return flags with their state, every status row and where they came from."""
        statuses = models.Prefetch("statuses", FlagStatus.objects.select_related("author"))
        return self.with_state().select_related("submission", "created_by").prefetch_related(statuses)


class Flag(AppendOnly, PublicRow):
    """A condition of the rule table, or a clinician's instruction. Its life is in its status rows."""

    class Side(models.TextChoices):
        NONE = "", _("no side")
        LEFT = "left", _("left")
        RIGHT = "right", _("right")
        BOTH = "both", _("both")
        UNKNOWN = "unknown", _("side not known")

    class When(models.TextChoices):
        """How well the date is known."""

        NONE = "", _("no date needed")
        DATE = "date", _("on a date")
        LONG_AGO = "long_ago", _("long ago")
        UNKNOWN = "unknown", _("date not known")

    client = models.ForeignKey("clients.Client", on_delete=models.PROTECT, related_name="flags")
    submission = models.ForeignKey(Submission, null=True, on_delete=models.PROTECT, related_name="flags")
    replaces = models.ForeignKey("self", null=True, on_delete=models.PROTECT, related_name="replaced_by")
    # Either a condition …
    condition = models.CharField(max_length=60, blank=True)
    when = models.CharField(max_length=8, choices=When, blank=True)
    event_on = models.DateField(null=True, blank=True)
    due_on = models.DateField(null=True, blank=True)
    # … or a clinician's instruction on a demand or an exercise.
    about = models.CharField(max_length=60, blank=True)
    verdict = models.CharField(max_length=6, blank=True)
    words = models.CharField(max_length=300, blank=True)
    clinician = models.CharField(max_length=120, blank=True)
    dated = models.DateField(null=True, blank=True)
    until_on = models.DateField(null=True, blank=True)

    side = models.CharField(max_length=8, choices=Side, blank=True)
    note = models.CharField(max_length=300, blank=True)
    created_by = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()

    objects = FlagQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(
                condition=(~models.Q(condition="") & models.Q(about=""))
                | (models.Q(condition="") & ~models.Q(about="")),
                name="flag_is_condition_or_instruction",
            )
        ]

    @property
    def is_instruction(self) -> bool:
        return bool(self.about)

    # The attributes library.precautions.judge reads.

    @property
    def instruction(self) -> str | None:
        return self.about or None

    @property
    def by(self) -> str:
        return self.clinician

    @property
    def until(self):
        return self.until_on

    @property
    def on(self):
        """Return the event date, 'long_ago', or None where it is not known or not needed.

        For an instruction it is the day it was given: on an earlier day it lifts nothing.
        """
        if self.about:
            return self.dated
        if self.when == self.When.LONG_AGO:
            return "long_ago"
        return self.event_on

    @property
    def due(self):
        return self.due_on


class FlagStatus(AppendOnly):
    """One step in a flag's life, with its author and the reason."""

    class State(models.TextChoices):
        PROPOSED = "proposed", _("proposed")
        ACTIVE = "active", _("active")
        RESTING = "resting", _("resting")
        ENDED = "ended", _("ended")

    flag = models.ForeignKey(Flag, on_delete=models.PROTECT, related_name="statuses")
    state = models.CharField(max_length=8, choices=State)
    author = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    reason = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["id"]
