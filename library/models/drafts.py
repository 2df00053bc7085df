"""An exercise while it is being written: nothing on the shelf changes until it is kept."""

from django.db import models

from library.models.exercises import Exercise, ExerciseVersion
from studio.models import Door, EditableRow


class DraftQuerySet(Door):
    def seen_by(self, person):
        """Whoever teaches, and the owner, write the library together."""
        return self if person.is_active and person.reads_health else self.none()

    def open(self):
        return self.filter(state=ExerciseDraft.State.OPEN)


class ExerciseDraft(EditableRow):
    """A payload as it grows step by step.

    `exercise` is what is being changed, None while it is a new one. `base` is the version it was made from: of
    the same exercise, of the one it was copied from, or None. `payload` holds facts, text and pose as far as
    they are filled in; `suggested` the demands ticked before, `why` the reason for leaving some out, `pose_before`
    the figure before this one, or before it was taken away.
    """

    class State(models.TextChoices):
        OPEN = "open"
        KEPT = "kept"
        DROPPED = "dropped"

    exercise = models.ForeignKey(Exercise, null=True, on_delete=models.PROTECT, related_name="drafts")
    base = models.ForeignKey(ExerciseVersion, null=True, on_delete=models.PROTECT, related_name="+")
    payload = models.JSONField()
    state = models.CharField(max_length=8, choices=State, default=State.OPEN)
    begun_by = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    begun_at = models.DateTimeField()

    objects = DraftQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["exercise"],
                condition=models.Q(state="open", exercise__isnull=False),
                name="one_open_draft_an_exercise",
            )
        ]

    def __str__(self):
        return self.payload["facts"].get("name", "")
