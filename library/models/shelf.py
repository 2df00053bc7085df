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
    _read([one for one in exercises if (one.current_id, one.content_mark) not in _versions])
    for one in exercises:
        one.current = _versions[one.current_id, one.content_mark]
    place = {key: number for number, key in enumerate(tables.exercises())}
    return sorted(exercises, key=lambda one: (place.get(one.key, len(place)), one.current.name))


def _read(exercises: list[Exercise]) -> None:
    if not exercises:
        return
    if len(_versions) > _MOST_KEPT:
        _versions.clear()
        _entries.clear()
    read = ExerciseVersion.objects.in_bulk([one.current_id for one in exercises])
    for one in exercises:
        _versions[one.current_id, one.content_mark] = read[one.current_id]


def entry_of(exercise: Exercise) -> finding.Entry:
    """Return an exercise as it is searched, in the words of the language in use."""
    version, language = exercise.current, get_language()
    mark = (version.content_hash, language)
    entry = _entries.get(mark)
    if entry is None:
        entry = _entries[mark] = finding.Entry.of(version.facts, version.text)
    return entry
