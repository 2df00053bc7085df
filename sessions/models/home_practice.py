"""Home practice being put together, and handouts as they were issued."""

from django.db import models

from clients.models import OfClientQuerySet
from studio.models import AppendOnly, Door, EditableRow, PublicRow


class HomePractice(EditableRow):
    """What a client is to do at home, while the instructor still changes it. One open one a client.

    items: dicts in order, keys as in sessions.home_rules; all but "exercise" may be missing.
    """

    client = models.OneToOneField("clients.Client", on_delete=models.PROTECT, related_name="home_practice")
    attendance = models.ForeignKey(
        "studio_sessions.Attendance", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    moment = models.CharField(max_length=120, blank=True)
    look_again_on = models.DateField(null=True, blank=True)
    large_print = models.BooleanField(default=False)
    items = models.JSONField(default=list)

    objects = OfClientQuerySet.as_manager()


class HandoutQuerySet(Door):
    def seen_by(self, person):
        """An issued handout carries no health answer: the desk may print it again."""
        if not person.is_active:
            return self.none()
        return self if person.is_owner else self.filter(client__archived_on=None)

    def current(self):
        """Return handouts that nothing has replaced."""
        return self.filter(replacement=None)

    def light(self):
        """Leave the bytes and what was judged in the database, and say only whether there is a PDF."""
        there = models.ExpressionWrapper(models.Q(pdf__isnull=False), models.BooleanField())
        return self.defer("pdf", "verdicts").annotate(has_pdf=there)


class Handout(AppendOnly, PublicRow):
    """A handout as issued: its bytes and what they were made from are kept for ever.

    verdicts: one dict an exercise in the payload's order: "exercise" (library id), "version_id" (what its
    words and figures came from), "sides", "adaptations", "seconds" (planned time, for minutes on the back),
    "limits" (how far the client went in it, as it was kept), "verdict" (sessions.judging.judged). Seconds and
    limits are missing on early ones.
    """

    client = models.ForeignKey("clients.Client", on_delete=models.PROTECT, related_name="handouts")
    attendance = models.ForeignKey(
        "studio_sessions.Attendance", null=True, on_delete=models.PROTECT, related_name="handouts"
    )
    number = models.PositiveIntegerField(unique=True)
    version = models.PositiveIntegerField()
    issued_on = models.DateField()
    issued_at = models.DateTimeField()
    author = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    replaces = models.OneToOneField("self", null=True, on_delete=models.PROTECT, related_name="replacement")
    payload = models.JSONField()
    # What the judge said when it was issued, for the studio only: never part of the payload.
    verdicts = models.JSONField(default=list)
    table_version = models.CharField(max_length=40, blank=True)
    pdf = models.BinaryField(null=True)

    objects = HandoutQuerySet.as_manager()

    class Meta:
        ordering = ["-issued_at", "-id"]


class CallBackClosed(AppendOnly):
    """Somebody dealt with a handout that had become wrong, and said how.

    flag_ids: the flags there were; verdicts: library id -> the judge's word for what was wrong then; limits: library
    id -> how far the client went by then, in what the page showed farther.
    """

    handout = models.ForeignKey(Handout, on_delete=models.PROTECT, related_name="call_backs_closed")
    flag_ids = models.JSONField()
    verdicts = models.JSONField(default=dict)
    limits = models.JSONField(default=dict)
    reason = models.CharField(max_length=300)
    author = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
