"""An exercise set that somebody has looked at and not yet taken over."""

from django.db import models

from studio.models import Door, PublicRow


class OfferedSetQuerySet(Door):
    def seen_by(self, person):
        """Only the owner takes sets over."""
        return self if person.is_active and person.is_owner else self.none()


class OfferedSet(PublicRow):
    """A file that holds by all the rules, kept between the look and the taking over.

    `against` names the shelf that it was looked at against: when that has changed, it is looked at again.
    """

    file_name = models.CharField(max_length=120)
    content = models.TextField()
    against = models.CharField(max_length=64)
    by = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    taken_at = models.DateTimeField(null=True, blank=True)

    objects = OfferedSetQuerySet.as_manager()

    def __str__(self):
        return self.file_name
