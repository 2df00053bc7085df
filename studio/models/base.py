"""What every model of the house shares: public ids, the door, versions, rows that are only ever added."""

import secrets

from django.db import models
from django.http import Http404
from django.utils.translation import gettext as _


def new_public_id() -> str:
    """Return 96 random bits, fit for an address: ids are never guessable and never in sequence."""
    return secrets.token_urlsafe(12)


class Door(models.QuerySet):
    """The only way to an object. Each model's queryset says what a person may see."""

    def seen_by(self, person):
        """Return the rows this person may see. Every model must answer for itself."""
        raise NotImplementedError(f"{type(self).__name__} does not say who may see {self.model.__name__}")

    def get_seen(self, person, public_id: str):
        """Return the one row, or 404: an id that is foreign answers exactly like one that is missing."""
        try:
            return self.seen_by(person).get(public_id=public_id)
        except self.model.DoesNotExist:
            raise Http404(_("There is nothing here.")) from None


class PublicRow(models.Model):
    """A row that has an address."""

    public_id = models.CharField(max_length=24, unique=True, default=new_public_id, editable=False)

    class Meta:
        abstract = True


class Stale(Exception):
    """Somebody else saved the row first. Carries the row as it now stands, so that both can be shown."""

    def __init__(self, current: models.Model):
        super().__init__("the row was saved by somebody else")
        self.current = current


class EditableRow(PublicRow):
    """A row that people edit: a save is refused when the row moved on since it was read."""

    version = models.PositiveIntegerField(default=1, editable=False)
    changed_at = models.DateTimeField(null=True, blank=True, editable=False)
    changed_by = models.ForeignKey(
        "studio.Staff", null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        abstract = True

    def save_version(self, expected: int, fields: list[str], *, by, at) -> None:
        """Write the named fields if the row still has the expected version.

        Raises `Stale` with the present row otherwise; nothing is written then.
        """
        values = {name: getattr(self, name) for name in fields}
        values.update(version=expected + 1, changed_at=at, changed_by=by)
        written = type(self)._base_manager.filter(pk=self.pk, version=expected).update(**values)
        if not written:
            raise Stale(type(self)._base_manager.get(pk=self.pk))
        self.version, self.changed_at, self.changed_by = expected + 1, at, by


class AppendOnly(models.Model):
    """A row that is written once. Code refuses to change it, and so does the database (studio.guards)."""

    class Meta:
        abstract = True

    def save(self, *args, **kwargs):
        if not self._state.adding:
            raise TypeError(f"{type(self).__name__} rows are only ever added")
        kwargs["force_insert"] = True
        super().save(*args, **kwargs)

    def delete(self, *args, **kwargs):
        raise TypeError(f"{type(self).__name__} rows are never removed")
