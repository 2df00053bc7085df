"""One-time codes: a way in for somebody who has no passphrase yet, or none any more."""

from django.db import models


class OneTimeCode(models.Model):
    """Kept as a salted hash. Open until it is used, replaced by a newer one, or its day is over."""

    class Kind(models.TextChoices):
        ENTRY = "entry"
        RECOVERY = "recovery"

    person = models.ForeignKey("studio.Staff", on_delete=models.CASCADE, related_name="codes")
    kind = models.CharField(max_length=8, choices=Kind)
    secret = models.CharField(max_length=128)
    made_at = models.DateTimeField()
    made_by = models.ForeignKey("studio.Staff", null=True, on_delete=models.PROTECT, related_name="+")
    # A recovery code lies in a drawer for as long as it takes.
    until = models.DateTimeField(null=True)
    ended_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ["-made_at", "-id"]
        constraints = [
            models.UniqueConstraint(
                fields=["person", "kind"],
                condition=models.Q(ended_at=None),
                name="one_open_code_a_person_and_kind",
            )
        ]
