"""What has worked for one client in one exercise: cues in the instructors' words, their range, their settings."""

import json

from django.db import models
from django.db.models.functions import JSONObject
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

    def beside_rows(self) -> models.Subquery:
        """Return an annotation of plan rows: what is kept for their client and exercise, as a dict or None."""
        mine = self.filter(
            client=models.OuterRef("plan__attendance__client"), exercise=models.OuterRef("exercise")
        )
        return models.Subquery(mine.values(kept=JSONObject(**{name: name for name in OwnWay.SHOWN})))


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

    SHOWN = ("cues", "range", "range_words", "setting", "limit")
    LISTS = ("cues", "setting", "limit")

    objects = OwnWayQuerySet.as_manager()

    @classmethod
    def beside(cls, kept: dict) -> "OwnWay":
        """Return the row behind what `beside_rows` found: lists and dicts in it are text once more."""
        return cls(
            **{name: json.loads(kept[name]) if name in cls.LISTS else kept[name] for name in cls.SHOWN}
        )

    class Meta:
        constraints = [models.UniqueConstraint(fields=["client", "exercise"], name="one_own_way")]
