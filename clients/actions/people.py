"""Taking a client on file and changing the contact."""

from django.db import transaction

from clients.models import Client
from studio import clock
from studio.actions import audit

audit.register("client.added", "client.contact_changed")


def add(*, actor: audit.Actor, contact: dict) -> Client:
    """Put a new client on file and return it. contact: the fields of Client.CONTACT."""
    with transaction.atomic():
        client = Client.objects.create(**contact, created_at=clock.now())
        audit.write(actor, "client.added", client)
    return client


def change_contact(*, actor: audit.Actor, client: Client, contact: dict, expected: int) -> list[str]:
    """Write changed contact fields and return their names; with no change nothing is written.

    expected: the version the fields were read at. Raises studio.models.Stale when somebody else saved since.
    """
    with transaction.atomic():
        now = Client.objects.get(pk=client.pk)
        changed = [name for name, value in contact.items() if getattr(now, name) != value]
        for name, value in contact.items():
            setattr(now, name, value)
        now.fold_names()
        fields = [*contact, "search_key", "telephone_digits"]
        now.save_version(expected, fields, by=actor.person, at=clock.now())
        audit.write(actor, "client.contact_changed", client, fields=changed)
    return changed
