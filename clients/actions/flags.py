"""Flags: putting one on file, changing it by a newer one, and the steps of its life. Nothing is edited."""

from django.db import transaction

from clients.intake_form import UNSETTLED
from clients.models import Flag, FlagStatus
from studio import clock
from studio.actions import audit

audit.register("flag.added", "flag.state_set", "flags.read")

State = FlagStatus.State
# From a state to those it may go to by one touch.
STEPS = {
    State.PROPOSED: {State.ACTIVE, State.ENDED},
    State.ACTIVE: {State.RESTING, State.ENDED},
    State.RESTING: {State.ACTIVE, State.ENDED},
    State.ENDED: {State.ACTIVE},
}


class OnFileAlready(Exception):
    """An open flag of this client says exactly the same."""


class MovedOn(Exception):
    """Somebody else changed the flag since it was read. `state` is what it is now."""

    def __init__(self, state: str):
        super().__init__("the flag moved on")
        self.state = state


class NotPossible(Exception):
    """That step does not follow from where the flag is."""


def add(*, actor: audit.Actor, client, fields: dict, submission=None) -> Flag:
    """Put an active flag on file and return it. fields: a condition with its facts, or an instruction.

    Raises OnFileAlready when an open flag says exactly the same.
    """
    with transaction.atomic():
        flag = _new(actor, client, fields, submission=submission)
        for other in Flag.objects.with_state().filter(client=client).exclude(state=State.ENDED):
            if _same(other, flag):
                raise OnFileAlready
        flag.save()
        _step(actor, flag, State.ACTIVE, "")
        audit.write(actor, "flag.added", flag)
    return flag


def change(*, actor: audit.Actor, flag: Flag, fields: dict, reason: str, expected: int) -> Flag:
    """Write a new flag in place of one and end that one; return the new one.

    The new one is active, or resting when the old one was. expected: how many steps the flag had when it was
    read. Raises MovedOn when somebody changed it since, NotPossible for one that has ended.
    """
    with transaction.atomic():
        state = _state_as_read(flag, expected)
        if state == State.ENDED:
            raise NotPossible
        new = _new(actor, flag.client, fields, submission=flag.submission)
        new.replaces = flag
        new.save()
        _step(actor, flag, State.ENDED, reason)
        _step(actor, new, State.RESTING if state == State.RESTING else State.ACTIVE, reason)
        audit.write(actor, "flag.added", new, fields=["replaces"])
    return new


def set_state(*, actor: audit.Actor, flag: Flag, state: str, reason: str, expected: int) -> None:
    """Take one step in a flag's life: confirm, rest, end, wake.

    Raises MovedOn when somebody changed it since it was read, NotPossible for a step that does not follow:
    a flag that was replaced stays ended, and a clinician's words must be sorted before they count.
    """
    with transaction.atomic():
        now = _state_as_read(flag, expected)
        unsorted = flag.about == UNSETTLED and state == State.ACTIVE
        if state not in STEPS[now] or unsorted or flag.replaced_by.exists():
            raise NotPossible
        _step(actor, flag, state, reason)
        audit.write(actor, "flag.state_set", flag, fields=[state])


def _new(actor, client, fields: dict, *, submission) -> Flag:
    return Flag(
        client=client, submission=submission, created_by=actor.person, created_at=clock.now(), **fields
    )


def _same(one: Flag, other: Flag) -> bool:
    names = ("condition", "about", "side", "when", "event_on", "due_on", "verdict", "words", "until_on")
    return all(getattr(one, name) == getattr(other, name) for name in names)


def _step(actor, flag: Flag, state: str, reason: str) -> None:
    FlagStatus.objects.create(flag=flag, state=state, author=actor.person, at=clock.now(), reason=reason)


def _state_as_read(flag: Flag, expected: int) -> str:
    """Return the present state of a flag, provided it has as many steps as when it was read."""
    states = list(flag.statuses.order_by("id").values_list("state", flat=True))
    if len(states) != expected:
        raise MovedOn(states[-1] if states else "")
    return State(states[-1])
