"""Touch, home equipment, stature and mass."""

from django.db import transaction

from clients.models import CareProfile
from studio import clock
from studio.actions import audit
from studio.models import Stale

audit.register("care.changed", "care.read")


def change(*, actor: audit.Actor, client, fields: dict, expected: int) -> CareProfile:
    """Write what changed of a client's care profile and return it, making it where there is none.

    expected: the version that was read, 0 where there was none. Raises Stale when somebody else saved since.
    """
    with transaction.atomic():
        care, changed = CareProfile.objects.filter(client=client).first(), list(fields)
        if care is None:
            care = CareProfile.objects.create(
                client=client, changed_by=actor.person, changed_at=clock.now(), **fields
            )
        elif expected == 0:
            raise Stale(care)
        else:
            changed = [name for name, value in fields.items() if getattr(care, name) != value]
            for name in changed:
                setattr(care, name, fields[name])
            care.save_version(expected, changed, by=actor.person, at=clock.now())
        audit.write(actor, "care.changed", care, fields=changed)
    return care
