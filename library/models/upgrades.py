"""Where the shipped library has moved on under a version of the studio's own."""

from typing import NamedTuple

from library.models.exercises import Exercise, ExerciseVersion


class Meeting(NamedTuple):
    """An exercise of which both sides have something new.

    base: the shipped version that the studio's rests on, None where it rests on none. ours: the studio's, which is
    the current one. theirs: the newest shipped one.
    """

    exercise: Exercise
    base: ExerciseVersion | None
    ours: ExerciseVersion
    theirs: ExerciseVersion


def meetings(person) -> list[Meeting]:
    """Return every exercise whose studio's version rests on an older shipped one than the newest. Two queries."""
    exercises = Exercise.objects.seen_by(person).filter(current__origin=ExerciseVersion.Origin.STUDIO)
    return _met(exercises)


def meeting_of(exercise: Exercise) -> Meeting | None:
    """Return what is to be chosen for one exercise, or None where nothing is."""
    return next(iter(_met(Exercise.objects.filter(pk=exercise.pk, current__origin="studio"))), None)


def _met(exercises) -> list[Meeting]:
    rows = {one.pk: one for one in exercises.select_related("current")}
    versions: dict[int, dict[int, ExerciseVersion]] = {}
    for version in ExerciseVersion.objects.filter(exercise__in=rows).order_by("number"):
        versions.setdefault(version.exercise_id, {})[version.pk] = version
    found = []
    for pk, exercise in rows.items():
        shipped = [one for one in versions[pk].values() if not one.is_own]
        base = _shipped_base(exercise.current, versions[pk])
        if shipped and (base is None or base.number < shipped[-1].number):
            found.append(Meeting(exercise, base, exercise.current, shipped[-1]))
    return found


def _shipped_base(version: ExerciseVersion, known: dict[int, ExerciseVersion]) -> ExerciseVersion | None:
    """Return the shipped version at the root of a version of the studio's; one of another exercise is none."""
    while version is not None and version.is_own:
        version = known.get(version.base_id)
    return version
