"""The one door to the audit log."""

import hashlib
from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.db import transaction

from studio import clock
from studio.models import AuditEntry


@dataclass(frozen=True)
class Actor:
    """Who acts, from where. `person` is None for the program itself and for somebody not signed in."""

    person: Any = None
    role: str = ""
    device: str = ""
    session_mark: str = ""

    @classmethod
    def of_request(cls, request) -> "Actor":
        """Return the actor behind a request. The session key is only ever kept as a hash."""
        person = request.user if request.user.is_authenticated else None
        key = request.session.session_key or ""
        return cls(
            person=person,
            role="+".join(sorted(person.roles)) if person else "nobody",
            device=request.META.get("REMOTE_ADDR", "")[:64],
            session_mark=hashlib.sha256(key.encode()).hexdigest()[:32] if key else "",
        )

    @classmethod
    def program(cls, what: str) -> "Actor":
        """Return the actor for work the program does by itself, such as loading the library."""
        return cls(role="program", device=what)


# Dotted name of every act that is logged. A name that is not here is refused: one list, no typing slips.
ACTIONS: set[str] = set()


def register(*names: str) -> None:
    """Make action names known. Each app lists its own in one place."""
    ACTIONS.update(names)


register(
    "studio.set_up",
    "studio.changed",
    "staff.added",
    "staff.changed",
    "room.saved",
    "hours.changed",
    "staff.signed_in",
    "staff.sign_in_failed",
    "staff.signed_out",
    "access.refused",
    "library.loaded",
    "program.started",
)


def write(actor: Actor, action: str, thing=None, *, outcome: str = "done", fields=()) -> AuditEntry:
    """Write one entry, in the transaction of the change it belongs to.

    actor: who acts. action: a registered dotted name. thing: the row acted on (its kind and public id are
    kept), or None. fields: names of the fields that changed, never their values.
    Raises KeyError for an unknown action name: a slip that a test must catch.
    """
    if action not in ACTIONS:
        raise KeyError(f"audit action {action!r} is not registered")
    # Without a savepoint of its own: where the line cannot be written, the change it belongs to must not stand.
    with transaction.atomic(savepoint=False):
        return AuditEntry.objects.create(
            at=clock.now(),
            person=actor.person,
            role=actor.role,
            device=actor.device,
            session_mark=actor.session_mark,
            action=action,
            thing_kind=thing._meta.label_lower if thing is not None else "",
            thing_id=str(getattr(thing, "public_id", thing.pk)) if thing is not None else "",
            outcome=outcome,
            fields=sorted(fields),
            app_version=settings.VERSION,
        )
