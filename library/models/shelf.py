"""The whole library at hand, to search in. Versions never change, so what was read of them is kept."""

from django.db.models import F
from django.utils.translation import get_language

from library import finding, tables
from library.models.exercises import Exercise, ExerciseVersion

# (primary key, hash of the content) -> version, and (hash, language) -> what is searched. Grows with new versions
# only; past this many it starts anew.
_MOST_KEPT = 3000
_versions: dict[tuple[int, str], ExerciseVersion] = {}
_entries: dict[tuple[str, str | None], finding.Entry] = {}


def shelf_of(person) -> list[Exercise]:
    """Return every exercise with content, in library order, the studio's own last. One query, two at first.

    The versions are shared with other requests: read them only.
    """
    exercises = list(
        Exercise.objects.seen_by(person)
        .filter(current__isnull=False)
        .annotate(content_mark=F("current__content_hash"))
    )
    versions = _versions_of(exercises)
    for one in exercises:
        one.current = versions[one.current_id, one.content_mark]
    place = {key: number for number, key in enumerate(tables.exercises())}
    return sorted(exercises, key=lambda one: (place.get(one.key, len(place)), one.current.name))


def _versions_of(exercises: list[Exercise]) -> dict[tuple[int, str], ExerciseVersion]:
    """Return mark -> version, read where it is not kept. What is kept may be let go meanwhile by another thread."""
    marks = {(one.current_id, one.content_mark) for one in exercises}
    kept = {mark: _versions.get(mark) for mark in marks}
    found = {mark: version for mark, version in kept.items() if version}
    missing = marks - found.keys()
    if missing:
        if len(_versions) > _MOST_KEPT:
            _versions.clear()
            _entries.clear()
        read = ExerciseVersion.objects.in_bulk([pk for pk, _content in missing])
        fresh = {mark: read[mark[0]] for mark in missing}
        _versions.update(fresh)
        found |= fresh
    return found


def entry_of(exercise: Exercise) -> finding.Entry:
    """Return an exercise as it is searched, in the words of the language in use."""
    version, language = exercise.current, get_language()
    mark = (version.content_hash, language)
    entry = _entries.get(mark)
    if entry is None:
        entry = _entries[mark] = finding.Entry.of(version.facts, version.text)
    return entry
