"""The library to read in: all exercises, and one of them. No client here."""

from django.shortcuts import render
from django.urls import reverse
from django_htmx.http import replace_url

from library import (
    alternatives,
    alternatives_wording,
    facts_wording,
    progressions,
    transfers,
    vocabulary_wording,
)
from library.forms.search import FindForm
from library.templatetags.finding import with_query
from library.views.finder import Finder, start_of
from library.views.maps import Shelf
from studio.access import opens

# So many figures come with the page, and so many at a time when they are scrolled to: rows of two, three or
# four cards are full.
DRAWN_AT_ONCE = 12


@opens()
def exercise_list(request):
    """The shelf by apparatus; once something is typed, what was found, best first. All of it is in the address."""
    form = FindForm(request.GET)
    finder = Finder(request.user, form)
    hits = finder.hits
    page = {**finder.context(), "total": len(finder.shelf), "list_url": reverse("library:list")}
    if request.htmx and "shelf" in request.GET:
        start = start_of(request)
        return render(request, "library/_figures.html", {"hits": hits[start : start + DRAWN_AT_ONCE]})
    if form.words_typed:
        page["ranked"] = finder.page(start_of(request))
        if request.htmx and "from" in request.GET:
            return render(request, "library/_ranked.html", page)
    else:
        page["shelves"] = _by_apparatus(hits)
    if request.htmx:
        answer = render(request, "library/_found.html", page)
        return replace_url(answer, with_query(page["list_url"], page["query"]))
    return render(request, "library/list.html", page)


@opens()
def exercise_page(request, exercise):
    shelf = Shelf(request.user)
    key = shelf.key_of(exercise)
    row = shelf.rows[key]
    page = {
        "exercise": row,
        "facts": row.current.facts,
        "text": row.current.text,
        "at": "library",
        "nearest": _nearest(key, shelf),
        "idea": _idea(key, shelf),
        **around(key, shelf),
    }
    return render(request, "library/exercise.html", page)


def around(key: str, shelf: Shelf) -> dict:
    """Return what stands before an exercise, after it, and beside it on other apparatus, as far as on the shelf."""
    below, above = progressions.easier(key, shelf.facts), progressions.harder(key, shelf.facts)
    return {
        "easier": [one for other, one in shelf.rows.items() if other in below],
        "harder": [one for other, one in shelf.rows.items() if other in above],
        "beside": [shelf.rows[other] for other in transfers.beside(key, shelf.facts)],
    }


def _nearest(key: str, shelf: Shelf) -> dict:
    """Return what is nearest to an exercise, for nobody in particular, with why; what holds for all said once."""
    found = alternatives.nearest(key, None, exercises=shelf.facts)
    common, besides = alternatives_wording.apart([alternatives_wording.whys(one.why) for one in found])
    rows = [{"exercise": shelf.rows[one.id], "whys": own} for one, own in zip(found, besides, strict=True)]
    return {"common": common, "found": rows}


def _by_apparatus(hits) -> list[dict]:
    """Return key, name in words and cards of every apparatus that has any.

    A card has its hit, whether it is drawn at once, and on the first of each further stretch the place from
    which the stretch's figures are asked for.
    """
    shelves = {name: [] for name in vocabulary_wording.APPARATUS}
    for hit in hits:
        shelves[hit.facts["apparatus"]].append(hit)
    first = next((name for name, rows in shelves.items() if rows), None)
    return [
        {"key": name, "name": vocabulary_wording.apparatus(name), "cards": _cards(rows, name == first)}
        for name, rows in shelves.items()
        if rows
    ]


def _cards(hits, first: bool) -> list[dict]:
    rows = []
    for place, hit in enumerate(hits):
        drawn = first and place < DRAWN_AT_ONCE
        wakes = not drawn and place % DRAWN_AT_ONCE == 0
        rows.append({"hit": hit, "drawn": drawn, "wakes": place if wakes else None})
    return rows


def _idea(key: str, shelf: Shelf) -> dict | None:
    """Return the idea an exercise carries on: its id and name, and its exercises by stage; None without one."""
    family = shelf.facts[key]["transfer_family"]
    if not family:
        return None
    there = transfers.members(family, shelf.facts)
    stages = [
        {
            "name": name,
            "exercises": [shelf.rows[one] for one in there if shelf.facts[one]["transfer_stage"] == stage],
        }
        for stage, name in vocabulary_wording.TRANSFER_STAGES.items()
    ]
    return {
        "family": family,
        "name": facts_wording.transfer_family(family),
        "stages": [one for one in stages if one["exercises"]],
    }
