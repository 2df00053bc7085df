"""Choosing between the studio's version and a newer shipped one, field by field."""

from collections.abc import Iterable

from django.db import transaction

from library import own_exercise, versions_apart
from library.actions.own import Broken, MovedOn, add_version
from library.contents import content_hash
from library.models import Exercise, ExerciseVersion
from library.models.checking import library_of
from library.models.upgrades import meeting_of
from studio.actions import audit

audit.register("exercise.settled")


def settle(
    *, actor: audit.Actor, exercise: Exercise, ours: int, theirs: int, take: Iterable[versions_apart.Field]
) -> ExerciseVersion:
    """Make what was chosen the current version and return it; both versions chosen between stay on file.

    ours, theirs: numbers of the versions that the owner saw. take: the fields taken as they now ship; all others
    stay the studio's. Where nothing of the studio's is left, the shipped version itself becomes the current one.
    Raises MovedOn where either has changed since, or somebody chose first, and Broken where the choice does not
    hold together. Nothing is written then.
    """
    take = list(take)
    with transaction.atomic():
        met = meeting_of(exercise)
        if met is None or (met.ours.number, met.theirs.number) != (ours, theirs):
            raise MovedOn
        payload = versions_apart.merged(met.ours.payload, met.theirs.payload, take)
        if content_hash(payload) == met.theirs.content_hash:
            met.exercise.current = met.theirs
            met.exercise.save(update_fields=["current"])
            audit.write(actor, "exercise.settled", met.exercise, fields={name for _part, name in take})
            return met.theirs
        slips = own_exercise.slips(payload, library_of(actor.person))
        if slips:
            raise Broken(slips)
        return add_version(
            actor=actor, exercise=met.exercise, payload=payload, base=met.theirs, action="exercise.settled"
        )
