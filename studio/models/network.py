"""Whether other devices reach the studio over the local network, and under which names."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from studio.models.base import Door, EditableRow

# Ports below this one are the system's own.
LOWEST_PORT, HIGHEST_PORT = 1024, 65535
PORT_RANGE = [MinValueValidator(LOWEST_PORT), MaxValueValidator(HIGHEST_PORT)]


class NetworkQuerySet(Door):
    def seen_by(self, person):
        return self if person.is_active and person.is_owner else self.none()


class Network(EditableRow):
    """The one row about the network. While there is none, or it is off, only this machine is served."""

    is_on = models.BooleanField(default=False)
    # The closed list: host names and addresses under which the studio answers, and no others.
    names = models.JSONField(default=list)
    addresses = models.JSONField(default=list)
    port = models.PositiveIntegerField(_("port"), default=8443, validators=PORT_RANGE)
    plain_port = models.PositiveIntegerField(_("port of the signpost"), default=8080, validators=PORT_RANGE)
    strict_transport = models.BooleanField(_("browsers may use the secure address only"), default=False)
    # When the authority was made that devices hold now, and whether they held another before and must change it.
    authority_at = models.DateTimeField(null=True, blank=True, editable=False)
    install_again = models.BooleanField(default=False, editable=False)

    objects = NetworkQuerySet.as_manager()

    @property
    def hosts(self) -> list[str]:
        """Return every name and address of the closed list, the one to try first in front."""
        return [*self.names, *self.addresses]
