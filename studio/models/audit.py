"""The audit log: who did what to which thing, never what was in it."""

from django.db import models

from studio.models.base import AppendOnly


class AuditEntry(AppendOnly):
    """One act. No health text, no name, no passphrase: kinds, ids and names of fields only."""

    at = models.DateTimeField()
    person = models.ForeignKey("studio.Staff", null=True, on_delete=models.PROTECT, related_name="+")
    role = models.CharField(max_length=60, blank=True)
    device = models.CharField(max_length=64, blank=True)
    session_mark = models.CharField(max_length=64, blank=True)
    action = models.CharField(max_length=80)
    thing_kind = models.CharField(max_length=60, blank=True)
    thing_id = models.CharField(max_length=40, blank=True)
    outcome = models.CharField(max_length=20)
    fields = models.JSONField(default=list)
    app_version = models.CharField(max_length=20)

    class Meta:
        ordering = ["id"]
        indexes = [models.Index(fields=["thing_kind", "thing_id"])]
