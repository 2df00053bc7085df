"""What has worked for one client in one exercise: cues in the instructors' words, their range, their settings."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from clients.models import OfClientQuerySet
from sessions.models.records import Range
from studio.models import EditableRow


class OwnWayQuerySet(OfClientQuerySet):
    def of(self, client_id: int, exercise) -> "OwnWay | None":
        """Return what is kept for a client (by key) and an exercise, or None; one query."""
        return self.filter(client=client_id, exercise=exercise).first()

    def limits_of(self, client_id: int) -> dict[int, dict]:
        """Return a client's limits by key of the exercise; one query."""
        return dict(self.filter(client=client_id).exclude(limit={}).values_list("exercise", "limit"))


class OwnWay(EditableRow):
    """One row a client and exercise.

    cues: sentences, the one that worked last first. setting: the preferred one, in the shape of
    PlanItem.setting; empty where none is marked. range and range_words: how far this client goes. limit: the same
    as it is drawn, by sides (sessions.own_limits); empty for the whole way.
    """

    client = models.ForeignKey("clients.Client", on_delete=models.PROTECT, related_name="own_ways")
    exercise = models.ForeignKey("library.Exercise", on_delete=models.PROTECT, related_name="+")
    cues = models.JSONField(default=list, blank=True)
    range = models.CharField(max_length=6, choices=Range, blank=True)
    range_words = models.CharField(_("range in words"), max_length=120, blank=True)
    setting = models.JSONField(default=dict, blank=True)
    limit = models.JSONField(default=dict, blank=True)

    objects = OwnWayQuerySet.as_manager()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["client", "exercise"], name="one_own_way")]
