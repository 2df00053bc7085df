"""The figure of an exercise that is being written: kept in the draft with its solved angles, or taken away."""

from django.db import transaction

from library.actions.drafts import look_open
from library.models import ExerciseDraft
from studio import clock
from studio.actions import audit

# For what a figure was drawn: with another apparatus or start position it no longer fits.
DRAWN_FOR = ("apparatus", "position")


def write_figure(*, actor: audit.Actor, draft: ExerciseDraft, expected: int, pose: dict | None) -> None:
    """Keep a solved pose, or None for no drawing. Raises Over, and Stale when somebody wrote first."""
    facts = draft.payload["facts"]
    key = {"key": facts["id"]}
    payload = {**draft.payload, "pose": {**pose, **key} if pose else None}
    payload["drawn_for"] = {name: facts.get(name) for name in DRAWN_FOR}
    with transaction.atomic():
        look_open(draft)
        draft.payload = payload
        draft.save_version(expected, ["payload"], by=actor.person, at=clock.now())
        audit.write(actor, "exercise.written", draft, fields=["pose"])


def still_fits(draft: ExerciseDraft) -> bool:
    """Return whether apparatus and start position are those that the figure was drawn for."""
    drawn_for = draft.payload.get("drawn_for") or (draft.base.facts if draft.base_id else {})
    facts = draft.payload["facts"]
    return all(drawn_for.get(name) == facts.get(name) for name in DRAWN_FOR)
