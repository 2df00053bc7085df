"""The figure of an exercise that is being written: kept in the draft with its solved angles, or taken away."""

from django.db import transaction

from library import own_exercise as own
from library import own_figure as figures
from library.actions.drafts import look_open
from library.models import ExerciseDraft
from studio import clock
from studio.actions import audit

# For what a figure was drawn: with another apparatus or start position it no longer fits.
DRAWN_FOR = ("apparatus", "position")


def write_figure(*, actor: audit.Actor, draft: ExerciseDraft, expected: int, pose: dict | None) -> bool:
    """Keep a solved pose, or None for no drawing; return whether it made the demands open again.

    What the body does, or on what, bears on the demands, as the start position does. Raises Over, and Stale when
    somebody wrote first.
    """
    facts = draft.payload["facts"]
    key = {"key": facts["id"]}
    reopened = bool(pose) and own.is_classified(facts) and _moves_otherwise(draft, pose)
    payload = {**draft.payload, "pose": {**pose, **key} if pose else None}
    payload["drawn_for"] = {name: facts.get(name) for name in DRAWN_FOR}
    if draft.payload.get("pose"):
        payload["pose_before"] = draft.payload["pose"]
    if reopened:
        payload["suggested"] = {name: facts[name] for name in ("demands", "demand_sides")}
        payload["facts"] = {**facts, "demands": None, "demand_sides": {}}
    with transaction.atomic():
        look_open(draft)
        draft.payload = payload
        draft.save_version(expected, ["payload"], by=actor.person, at=clock.now())
        audit.write(actor, "exercise.written", draft, fields=["pose"])
    return reopened


def _moves_otherwise(draft: ExerciseDraft, pose: dict) -> bool:
    """Return whether a figure is another than the last one there was; an exercise that had none is as it was said."""
    drawn = (draft.payload.get("pose"), draft.payload.get("pose_before"), draft.base and draft.base.pose)
    before = next((one for one in drawn if one), None)
    return bool(before) and figures.moves_otherwise(before, pose)


def still_fits(draft: ExerciseDraft) -> bool:
    """Return whether apparatus and start position are those that the figure was drawn for."""
    drawn_for = draft.payload.get("drawn_for") or (draft.base.facts if draft.base_id else {})
    facts = draft.payload["facts"]
    return all(drawn_for.get(name) == facts.get(name) for name in DRAWN_FOR)
