"""Words of the studio's own: what clients consent to, and the cautions that hold here."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from studio.models.base import AppendOnly, Door, new_public_id


class TextQuerySet(Door):
    def seen_by(self, person):
        return self if person.is_active else self.none()

    def current(self, kind: str):
        """Return the newest version of a text, or None where nothing has been written yet."""
        return self.filter(kind=kind).first()


class StudioText(AppendOnly):
    """One version of a text. A later consent names the version that was read."""

    class Kind(models.TextChoices):
        CONSENT = "consent", _("Words of consent")
        CAUTIONS = "cautions", _("The studio’s own cautions")

    public_id = models.CharField(max_length=24, unique=True, default=new_public_id, editable=False)
    kind = models.CharField(max_length=8, choices=Kind)
    number = models.PositiveIntegerField()
    words = models.TextField(blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")

    objects = TextQuerySet.as_manager()

    class Meta:
        ordering = ["kind", "-number"]
        constraints = [models.UniqueConstraint(fields=["kind", "number"], name="one_text_a_kind_and_number")]
