"""The library to read in: all exercises, and one of them. No client here."""

from django.shortcuts import render
from django.urls import reverse
from django_htmx.http import replace_url

from library import (
    alternatives,
    alternatives_wording,
    facts_wording,
    progressions,
    tables,
    vocabulary_wording,
)
from library.forms.search import FindForm
from library.models import Exercise
from library.models.shelf import shelf_of
from library.templatetags.finding import with_query
from library.views.finder import Finder, start_of
from studio.access import opens

# More figures than this come shelf by shelf, when they are scrolled to.
DRAWN_AT_ONCE = 30


@opens()
def exercise_list(request):
    """The shelf by apparatus; once something is typed, what was found, best first. All of it is in the address."""
    form = FindForm(request.GET)
    finder = Finder(request.user, form)
    hits = finder.hits
    page = {**finder.context(), "total": len(finder.shelf), "list_url": reverse("library:list")}
    if request.htmx and "shelf" in request.GET:
        shelf = next(iter(_by_apparatus(hits)), None)
        return render(request, "library/_shelf.html", {"shelf": shelf, "drawn": True})
    if form.words_typed:
        page["ranked"] = finder.page(start_of(request))
        if request.htmx and "from" in request.GET:
            return render(request, "library/_ranked.html", page)
    else:
        page |= {"shelves": _by_apparatus(hits), "drawn": len(hits) <= DRAWN_AT_ONCE}
    if request.htmx:
        answer = render(request, "library/_found.html", page)
        return replace_url(answer, with_query(page["list_url"], page["query"]))
    return render(request, "library/list.html", page)


@opens()
def exercise_page(request, exercise):
    row = Exercise.objects.with_content().get_seen(request.user, exercise)
    facts = row.current.facts
    page = {
        "exercise": row,
        "facts": facts,
        "text": row.current.text,
        "at": "library",
        "nearest": _nearest(request.user, row),
        **_around(request.user, facts),
    }
    return render(request, "library/exercise.html", page)


def _nearest(person, exercise: Exercise) -> dict:
    """Return what is nearest to an exercise, for nobody in particular, with why; what holds for all said once."""
    shelf = {one.key: one for one in shelf_of(person)}
    facts = {key: one.current.facts for key, one in shelf.items()}
    found = alternatives.nearest(exercise.key, None, exercises=facts)
    common, besides = alternatives_wording.apart(
        [alternatives_wording.whys(one.why) for one in found] or [[]]
    )
    rows = [{"exercise": shelf[one.id], "whys": own} for one, own in zip(found, besides, strict=False)]
    return {"common": common, "found": rows}


def _in_library_order(exercises) -> list[Exercise]:
    """Return exercises in the order of the shipped files; the studio's own come last, by name."""
    place = {key: number for number, key in enumerate(tables.exercises())}
    return sorted(exercises, key=lambda one: (place.get(one.key, len(place)), one.current.name))


def _by_apparatus(hits) -> list[dict]:
    """Return key, name in words and hits of every apparatus that has any."""
    shelves = {name: [] for name in vocabulary_wording.APPARATUS}
    for hit in hits:
        shelves[hit.facts["apparatus"]].append(hit)
    return [
        {"key": name, "name": vocabulary_wording.apparatus(name), "hits": rows}
        for name, rows in shelves.items()
        if rows
    ]


def _around(person, facts: dict) -> dict:
    """Return the easier and harder exercises next to this one and the idea it carries on, as far as on the shelf.

    `idea` is None without a transfer family, else its name and its exercises by stage, this one among them.
    """
    known = {facts["id"]: facts, **tables.exercises()}
    below, above = progressions.easier(facts["id"], known), progressions.harder(facts["id"], known)
    family = facts["transfer_family"]
    path = next((row["path"] for row in tables.transfer_families() if row["id"] == family), ())
    rows = Exercise.objects.seen_by(person).with_content().filter(key__in={*below, *above, *path})
    ordered = _in_library_order(rows)
    return {
        "easier": [one for one in ordered if one.key in below],
        "harder": [one for one in ordered if one.key in above],
        "idea": _idea(family, path, {one.key: one for one in ordered}),
    }


def _idea(family: str | None, path, rows: dict[str, Exercise]) -> dict | None:
    if not family:
        return None
    there = [rows[key] for key in path if key in rows]
    stages = [
        {"name": name, "exercises": [one for one in there if one.current.facts["transfer_stage"] == stage]}
        for stage, name in vocabulary_wording.TRANSFER_STAGES.items()
    ]
    return {
        "name": facts_wording.transfer_family(family),
        "stages": [one for one in stages if one["exercises"]],
    }
