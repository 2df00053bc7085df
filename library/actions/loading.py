"""Bring the shipped library into the database: a new version where content changed, nothing else."""

from dataclasses import dataclass
from pathlib import Path

from django.db import transaction

from library import contents
from library.models import Exercise, ExerciseVersion, LibraryLoad
from studio import clock
from studio.actions import audit


@dataclass(frozen=True, slots=True)
class Loaded:
    """What one run did, as counts of exercises."""

    added: int
    changed: int
    unchanged: int

    @property
    def did_something(self) -> bool:
        return bool(self.added or self.changed)


def load_library(*, actor: audit.Actor | None = None, folder: Path = contents.DATA) -> Loaded:
    """Load every shipped exercise and return what was done.

    An exercise gets a new version only when its own content changed. Where the studio made a version of its
    own, that stays the current one and the shipped one is kept beside it. Nothing is ever removed: a plan or
    a handout may name it. The digest of all files ends a run at once when nothing changed.
    Raises `contents.BrokenLibrary`, before anything is written, when the files do not hold together.
    """
    digest = contents.digest(folder)
    last = LibraryLoad.objects.order_by("-pk").first()
    if last and last.digest == digest:
        return Loaded(added=0, changed=0, unchanged=Exercise.objects.with_content().count())
    payloads = contents.payloads(folder)
    with transaction.atomic():
        loaded = _store(payloads)
        load = LibraryLoad.objects.create(digest=digest, at=clock.now())
        if loaded.did_something:
            audit.write(actor or audit.Actor.program("load_library"), "library.loaded", load)
    return loaded


def _store(payloads: dict[str, dict]) -> Loaded:
    known = _latest_shipped()
    hashes = {key: contents.content_hash(payload) for key, payload in payloads.items()}
    stale = [key for key in payloads if known.get(key) != hashes[key]]
    exercises = _exercises(stale)
    numbers = _next_numbers(exercises.values())
    at = clock.now()
    versions = ExerciseVersion.objects.bulk_create(
        ExerciseVersion(
            exercise=exercises[key],
            number=numbers[exercises[key].pk],
            content_hash=hashes[key],
            payload=payloads[key],
            created_at=at,
        )
        for key in stale
    )
    _make_current(versions)
    added = sum(key not in known for key in stale)
    return Loaded(added=added, changed=len(stale) - added, unchanged=len(payloads) - len(stale))


def _latest_shipped() -> dict[str, str]:
    """Return exercise key -> content hash of its newest shipped version."""
    shipped = ExerciseVersion.objects.filter(origin=ExerciseVersion.Origin.SHIPPED).order_by("number")
    return dict(shipped.values_list("exercise__key", "content_hash"))


def _exercises(keys: list[str]) -> dict[str, Exercise]:
    """Return the rows for these keys, made where they are missing."""
    there = set(Exercise.objects.filter(key__in=keys).values_list("key", flat=True))
    Exercise.objects.bulk_create(Exercise(key=key) for key in keys if key not in there)
    return {row.key: row for row in Exercise.objects.filter(key__in=keys).select_related("current")}


def _next_numbers(exercises) -> dict[int, int]:
    numbers = {exercise.pk: 1 for exercise in exercises}
    rows = ExerciseVersion.objects.filter(exercise__in=numbers).values_list("exercise_id", "number")
    for exercise_id, number in rows:
        numbers[exercise_id] = max(numbers[exercise_id], number + 1)
    return numbers


def _make_current(versions: list[ExerciseVersion]) -> None:
    """Point each exercise at its new version, unless the studio's own version is the current one."""
    moved = []
    for version in versions:
        exercise = version.exercise
        if exercise.current is None or exercise.current.origin == ExerciseVersion.Origin.SHIPPED:
            exercise.current = version
            moved.append(exercise)
    Exercise.objects.bulk_update(moved, ["current"])
