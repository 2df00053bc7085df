"""Browsers the owner has let in, who is signed in where, and the PIN each person set."""

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from studio.models.base import Door, PublicRow


class DeviceQuerySet(Door):
    def seen_by(self, person):
        """Devices are the owner's business; everybody else sees the name beside their own sign-ins."""
        return self if person.has_role("owner") else self.none()

    def in_use(self):
        return self.filter(revoked_at=None)

    def not_over_network_since(self, moment):
        """Return those that use the network and have not come over it since a moment."""
        return self.in_use().filter(over_network_at__lt=moment)


class Device(PublicRow):
    """One browser that the owner enrolled. It holds a random token; only the token's hash is kept here."""

    class Kind(models.TextChoices):
        TABLET = "tablet", _("tablet")
        DESK = "desk", _("desk")

    name = models.CharField(_("name"), max_length=60)
    kind = models.CharField(_("kind"), max_length=6, choices=Kind)
    token_hash = models.CharField(max_length=64, unique=True, editable=False)
    enrolled_at = models.DateTimeField()
    enrolled_by = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    revoked_at = models.DateTimeField(null=True, blank=True)
    # When it last came over the network; a browser on the studio's own machine never does.
    over_network_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = DeviceQuerySet.as_manager()

    class Meta:
        ordering = ["name", "id"]

    def __str__(self):
        return self.name


class StaffSessionQuerySet(Door):
    def seen_by(self, person):
        """The owner sees every sign-in, others see their own."""
        return self if person.has_role("owner") else self.filter(person=person)

    def running(self):
        return self.filter(ended_at=None)


class StaffSession(PublicRow):
    """One person signed in in one browser. Whether it is locked is a fact of this row, not of the page."""

    person = models.ForeignKey("studio.Staff", on_delete=models.CASCADE, related_name="sign_ins")
    device = models.ForeignKey(Device, null=True, on_delete=models.CASCADE, related_name="sign_ins")
    session_key = models.CharField(max_length=40, unique=True, null=True, editable=False)
    since = models.DateTimeField()
    # When the passphrase was last typed: the overall limit runs from here, also after a PIN.
    full_at = models.DateTimeField()
    seen_at = models.DateTimeField()
    locked_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    objects = StaffSessionQuerySet.as_manager()

    class Meta:
        ordering = ["-seen_at"]
        indexes = [models.Index(fields=["person", "ended_at"])]


class Presence(models.Model):
    """That a person signed in fully on a device, and how often a wrong PIN was tried for them there."""

    person = models.ForeignKey("studio.Staff", on_delete=models.CASCADE, related_name="+")
    device = models.ForeignKey(Device, on_delete=models.CASCADE, related_name="presences")
    full_at = models.DateTimeField()
    wrong_pins = models.PositiveSmallIntegerField(default=0)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["person", "device"], name="one_presence_a_device")]


class Pin(models.Model):
    """Six digits of one person, hashed like a passphrase. Nothing here says that two people chose the same."""

    person = models.OneToOneField("studio.Staff", on_delete=models.CASCADE, related_name="pin")
    digits = models.CharField(max_length=128, editable=False)
    set_at = models.DateTimeField()
    # Wrong tries on any device since the last full sign-in.
    wrong_total = models.PositiveSmallIntegerField(default=0)

    class Meta:
        constraints = [models.CheckConstraint(condition=~Q(digits=""), name="pin_is_set")]


class KeptTextQuerySet(Door):
    def seen_by(self, person):
        """Only who typed it: neither the next person at the device nor the owner."""
        return self.filter(person=person)


class KeptText(PublicRow):
    """What somebody had typed and not saved when the screen locked, until they throw it away."""

    person = models.ForeignKey("studio.Staff", on_delete=models.CASCADE, related_name="kept_texts")
    path = models.CharField(max_length=300)
    # Pairs of what the field is called and what was typed.
    fields = models.JSONField()
    at = models.DateTimeField()
    # Shown once of itself after coming back; afterwards it is found on the person's own page.
    shown = models.BooleanField(default=False)

    objects = KeptTextQuerySet.as_manager()

    class Meta:
        ordering = ["-at", "-id"]
