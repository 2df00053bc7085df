"""The studio's own exercise: begun, written step by step, kept as a version that never changes."""

import secrets

from django.db import transaction

from library import own_exercise as own
from library import own_figure as figures
from library import versions_apart
from library.actions import own_figure
from library.actions.drafts import Over, look_open
from library.contents import content_hash
from library.models import Exercise, ExerciseDraft, ExerciseVersion
from library.models.checking import library_of
from studio import clock
from studio.actions import audit

__all__ = [
    "Broken", "MovedOn", "NothingNew", "Over", "add_version", "begin", "drop", "keep", "slips_of", "whole",
    "write_step",
]  # fmt: skip

audit.register(
    "exercise.begun",
    "exercise.written",
    "exercise.made",
    "exercise.changed",
    "exercise.classified",
    "exercise.dropped",
)


class Broken(Exception):
    """The exercise does not hold by the rules of the library. `slips` says where."""

    def __init__(self, slips):
        super().__init__("; ".join(f"{slip.field} {slip.says}" for slip in slips))
        self.slips = slips


class MovedOn(Exception):
    """The exercise has another version by now than the one the person looked at."""


class NothingNew(Exception):
    """The draft says what the exercise says already."""


def begin(
    *, actor: audit.Actor, exercise: Exercise | None = None, like: Exercise | None = None
) -> ExerciseDraft:
    """Open a draft and return it: of an exercise, of a new one like another, or of one from nothing.

    An exercise has one open draft at a time: who comes second gets the one that is there.
    """
    with transaction.atomic():
        if exercise is not None:
            there = ExerciseDraft.objects.open().filter(exercise=exercise).first()
            if there:
                return there
        origin = exercise or like
        draft = ExerciseDraft.objects.create(
            exercise=exercise,
            base=origin.current if origin else None,
            payload=_beginning(exercise, like),
            begun_by=actor.person,
            begun_at=clock.now(),
        )
        audit.write(actor, "exercise.begun", draft)
    return draft


def _beginning(exercise, like) -> dict:
    if exercise is not None:
        return dict(exercise.current.payload)
    key = f"{own.OWN_PREFIX}{secrets.token_hex(6)}"
    if like is None:
        return own.blank(key)
    facts = like.current.facts
    suggested = {"demands": facts["demands"], "demand_sides": facts["demand_sides"]}
    return {**own.copied(like.current.payload, key), "suggested": suggested}


def write_step(
    *, actor: audit.Actor, draft: ExerciseDraft, expected: int, facts=None, text=None, why=None
) -> list[str]:
    """Write what one step says and return the fields that made the demands open again.

    facts, text: fields of the two, new values. A whole text replaces the one before. Raises Over, and Stale when
    somebody else wrote first.
    """
    payload = dict(draft.payload)
    before = payload["facts"]
    payload["facts"] = {**before, **(facts or {})}
    if text is not None:
        payload["text"] = {"id": before["id"], **text}
    if why is not None:
        payload["why"] = why
    reopened = [] if "demands" in (facts or {}) else own.reopens(before, payload["facts"])
    if reopened:
        payload["suggested"] = {name: before[name] for name in ("demands", "demand_sides")}
        payload["facts"] |= {"demands": None, "demand_sides": {}}
    with transaction.atomic():
        look_open(draft)
        draft.payload = payload
        draft.save_version(expected, ["payload"], by=actor.person, at=clock.now())
        audit.write(actor, "exercise.written", draft, fields=[*(facts or {}), *(text or {})])
    return reopened


def whole(draft: ExerciseDraft) -> dict:
    """Return the payload that keeping a draft would make a version of."""
    payload = {"facts": draft.payload["facts"], "text": dict(draft.payload["text"])}
    if not payload["facts"].get("home_ok"):
        payload["text"].pop("client", None)
    return {**payload, "pose": _pose(draft)}


def _pose(draft: ExerciseDraft) -> dict | None:
    """The drawing holds while apparatus and start position are those that it was drawn for."""
    pose = draft.payload.get("pose")
    if not pose or not own_figure.still_fits(draft):
        return None
    return figures.fitted(pose, draft.payload["facts"])


def slips_of(draft: ExerciseDraft, person) -> list[own.Slip]:
    """Return what keeps a draft from being kept; nothing where it holds."""
    payload, found = whole(draft), []
    if own.steps_to_do(payload):
        return found
    found += own.slips(payload, library_of(person))
    now = draft.exercise.current if draft.exercise else None
    if now and now.is_classified and not own.is_classified(payload["facts"]):
        found.append(
            own.Slip(own.FACTS, "demands", "are to be gone through again: this exercise was classified.")
        )
    if now and own.lessened(now.facts, payload["facts"]) and not draft.payload.get("why"):
        found.append(own.Slip(own.FACTS, "demands", "lack some that were noted before: say why."))
    return found


def keep(*, actor: audit.Actor, draft: ExerciseDraft, expected: int, seen: int) -> ExerciseVersion:
    """Make a draft the exercise's current version, and return it.

    seen: number of the version that the person saw as the current one, 0 for a new exercise. Raises Over, Stale,
    MovedOn, NothingNew, and Broken where something is missing or does not hold; nothing is written then.
    """
    with transaction.atomic():
        look_open(draft)
        exercise = draft.exercise
        if (exercise.current.number if exercise else 0) != seen:
            raise MovedOn
        payload = whole(draft)
        lacking = [own.Slip(own.FACTS, "", step) for step in own.steps_to_do(payload)]
        found = lacking or slips_of(draft, actor.person)
        if found:
            raise Broken(found)
        # Compared as values: a number that was solved again may be written 12.0 where the file says 12.
        if exercise and exercise.current.payload == payload:
            raise NothingNew
        draft.state = draft.State.KEPT
        draft.save_version(expected, ["state"], by=actor.person, at=clock.now())
        return add_version(
            actor=actor,
            exercise=exercise or Exercise.objects.create(key=payload["facts"]["id"]),
            payload=payload,
            base=draft.base,
            note=draft.payload.get("why", ""),
        )


def drop(*, actor: audit.Actor, draft: ExerciseDraft, expected: int) -> None:
    """Put a draft away. The exercise stays as it is. Raises Over, and Stale when somebody wrote meanwhile."""
    with transaction.atomic():
        look_open(draft)
        draft.state = draft.State.DROPPED
        draft.save_version(expected, ["state"], by=actor.person, at=clock.now())
        audit.write(actor, "exercise.dropped", draft)


def add_version(
    *,
    actor: audit.Actor,
    exercise: Exercise,
    payload: dict,
    base: ExerciseVersion | None,
    note: str = "",
    action: str = "",
) -> ExerciseVersion:
    """Add a version of the studio's, make it the current one and return it. The payload has been checked.

    action: what the audit log calls it; empty for made or changed, as it is.
    """
    last = exercise.versions.order_by("-number").first()
    before = exercise.current
    version = ExerciseVersion.objects.create(
        exercise=exercise,
        number=last.number + 1 if last else 1,
        content_hash=content_hash(payload),
        origin=ExerciseVersion.Origin.STUDIO,
        base=base,
        payload=payload,
        created_at=clock.now(),
        author=actor.person,
        note=note,
    )
    exercise.current = version
    exercise.save(update_fields=["current"])
    changed = [
        name for (_part, name), _old, _new in versions_apart.differing(before and before.payload, payload)
    ]
    said = action or ("exercise.changed" if before else "exercise.made")
    audit.write(actor, said, exercise, fields=dict.fromkeys(changed))
    if version.is_classified and (not before or before.facts["demands"] != version.facts["demands"]):
        audit.write(actor, "exercise.classified", exercise, fields=["demands"])
    return version
