"""Exercise sets: out as one file, in after a look at what that would do."""

import hashlib
from collections.abc import Callable

from django.db import transaction

from library import complaint_wording, exercise_sets, own_drawing, tables
from library.actions.own import MovedOn, Over, add_version
from library.body import all_poses
from library.contents import Problem
from library.models import Exercise, OfferedSet
from library.models.checking import library_of
from library.models.shelf import shelf_of
from studio import clock
from studio.actions import audit

audit.register("set.exported", "set.offered", "set.taken", "exercise.imported")


class BrokenSet(Exception):
    """The file does not hold. `problems` lists everything found."""

    def __init__(self, problems: tuple[Problem, ...]):
        super().__init__("\n".join(map(str, problems)))
        self.problems = problems


def export(*, actor: audit.Actor, exercises: list[Exercise]) -> str:
    """Return the file that holds these exercises as they are now."""
    audit.write(actor, "set.exported", fields=[one.key for one in exercises])
    return exercise_sets.written(one.current.payload for one in exercises)


def offer(*, actor: audit.Actor, content: bytes, file_name: str) -> OfferedSet:
    """Keep a file that holds for the taking over and return it. Raises BrokenSet; nothing is written then."""
    reading = looked_at(content, actor.person, file_name)
    if reading.problems:
        raise BrokenSet(reading.problems)
    with transaction.atomic():
        offered = OfferedSet.objects.create(
            file_name=file_name[:120],
            content=content.decode(),
            against=_mark(actor.person),
            by=actor.person,
            at=clock.now(),
        )
        audit.write(actor, "set.offered", offered)
    return offered


def looked_at(content: bytes, person, file_name: str) -> exercise_sets.Reading:
    """Return what a file says, what is wrong with it and what taking it over would do. Writes nothing."""
    shelf = shelf_of(person)
    return exercise_sets.read(
        content,
        library_of(person),
        file=file_name,
        present={one.key: one.current.content_hash for one in shelf},
        shipped=tables.exercises(),
        pose_faults=_pose_faults({**all_poses(), **{one.key: one.current.pose for one in shelf}}),
    )


def take(*, actor: audit.Actor, offered: OfferedSet) -> exercise_sets.Reading:
    """Take a set over: a version of the studio's for each exercise that is new or differs. Return what was done.

    Raises Over when it was taken before, MovedOn when the shelf has changed since the look, and BrokenSet.
    """
    with transaction.atomic():
        if not OfferedSet.objects.filter(pk=offered.pk, taken_at=None).update(taken_at=clock.now()):
            raise Over
        if offered.against != _mark(actor.person):
            raise MovedOn
        reading = looked_at(offered.content.encode(), actor.person, offered.file_name)
        if reading.problems:
            raise BrokenSet(reading.problems)
        there = Exercise.objects.select_related("current").in_bulk(
            [*reading.added, *reading.changed], field_name="key"
        )
        for key in (*reading.added, *reading.changed):
            exercise = there.get(key) or Exercise.objects.create(key=key)
            add_version(
                actor=actor,
                exercise=exercise,
                payload=reading.payloads[key],
                base=exercise.current,
                action="exercise.imported",
            )
        audit.write(actor, "set.taken", offered)
    return reading


def _mark(person) -> str:
    """Name the shelf as it is now: every exercise with what it says."""
    rows = sorted(f"{one.key} {one.current.content_hash}" for one in shelf_of(person))
    return hashlib.sha256("\n".join(rows).encode()).hexdigest()


def _pose_faults(on_shelf: dict[str, dict | None]) -> Callable[[dict], list[str]]:
    """Return what says why a pose is refused. One that stands on the shelf has been looked at before."""

    def faults(pose: dict) -> list[str]:
        if pose == on_shelf.get(pose.get("key", "")):
            return []
        return [complaint_wording.plain(one) for one in own_drawing.faults(pose)]

    return faults
