"""The library to read in: all exercises, and one of them. No client here."""

from django.shortcuts import render

from library import tables, vocabulary_wording
from library.forms.search import LibrarySearchForm
from library.models import Exercise
from studio.access import opens

# More figures than this come shelf by shelf, when they are scrolled to.
DRAWN_AT_ONCE = 30


@opens()
def exercise_list(request):
    form = LibrarySearchForm(request.GET)
    exercises = _in_library_order(Exercise.objects.seen_by(request.user).with_content())
    found = [one for one in exercises if form.is_valid() and form.matches(one.current.facts)]
    shelves = _by_apparatus(found)
    page = {"form": form, "shelves": shelves, "count": len(found), "total": len(exercises)}
    if request.htmx and "shelf" in request.GET:
        return render(request, "library/_shelf.html", {"shelf": next(iter(shelves), None), "drawn": True})
    page["drawn"] = len(found) <= DRAWN_AT_ONCE
    if request.htmx:
        return render(request, "library/_found.html", page)
    return render(request, "library/list.html", page)


@opens()
def exercise_page(request, exercise):
    row = Exercise.objects.with_content().get_seen(request.user, exercise)
    easier, harder = _neighbours(request.user, row.current.facts)
    page = {
        "exercise": row,
        "facts": row.current.facts,
        "text": row.current.text,
        "easier": easier,
        "harder": harder,
        "at": "library",
    }
    return render(request, "library/exercise.html", page)


def _in_library_order(exercises) -> list[Exercise]:
    """Return exercises in the order of the shipped files; the studio's own come last, by name."""
    place = {key: number for number, key in enumerate(tables.exercises())}
    return sorted(exercises, key=lambda one: (place.get(one.key, len(place)), one.current.name))


def _by_apparatus(exercises: list[Exercise]) -> list[dict]:
    """Return key, name in words and exercises of every apparatus that has any."""
    shelves = {name: [] for name in vocabulary_wording.APPARATUS}
    for one in exercises:
        shelves[one.current.facts["apparatus"]].append(one)
    return [
        {"key": name, "name": vocabulary_wording.apparatus(name), "exercises": rows}
        for name, rows in shelves.items()
        if rows
    ]


def _neighbours(person, facts: dict) -> tuple[list[Exercise], list[Exercise]]:
    """Return the easier and the harder exercises next to this one, as far as they are on the shelf."""
    below = {*facts["progression_of"], *facts["regression_to"]}
    above = {key for key, other in tables.exercises().items() if facts["id"] in other["progression_of"]}
    rows = Exercise.objects.seen_by(person).with_content().filter(key__in=below | above)
    ordered = _in_library_order(rows)
    return [one for one in ordered if one.key in below], [one for one in ordered if one.key in above]
