"""The map of easier and harder around an exercise or a skill, and one idea over the apparatus. No client here."""

from dataclasses import dataclass

from django.http import Http404
from django.shortcuts import render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _

from library import facts_wording, map_drawing, map_wording, maps, tables, transfers, vocabulary_wording
from library.models.shelf import shelf_of
from studio.access import opens

# More cards than this in one cell of the transfer view are folded.
UNFOLDED = 2


@dataclass(frozen=True)
class Standing:
    """What a map or a transfer view says of an exercise for somebody: nothing, where it is about nobody.

    kind: '', 'secure', 'working' or 'next'; stage is the same in words. words: for the box. last: when it was last
    done, in words.
    """

    kind: str = ""
    stage: str = ""
    words: str = ""
    verdict: str = ""
    text: str = ""
    last: str = ""


NOBODYS = Standing()


class Shelf:
    """Everything on the shelf, and where each exercise leads. One query."""

    def __init__(self, person, url_of=None):
        self.rows = {one.key: one for one in shelf_of(person)}
        self.facts = {key: one.current.facts for key, one in self.rows.items()}
        self.names = {key: one["name"] for key, one in self.facts.items()}
        self.url_of = url_of or (lambda one: reverse("library:exercise", args=[one.public_id]))

    def key_of(self, public_id: str) -> str:
        """Return the key of an exercise by the id of its address, or 404."""
        for key, one in self.rows.items():
            if one.public_id == public_id:
                return key
        raise Http404(_("There is nothing here."))

    def url(self, key: str) -> str:
        return self.url_of(self.rows[key])


def map_context(found: maps.Map, shelf: Shelf, title: str, standing=None) -> dict:
    """Return picture and list of a map. standing: exercise id -> Standing, for somebody."""
    marks = {key: _mark(key, shelf, standing) for key in found.ids}
    layout = maps.drawn(found, shelf.names, foot_lines=2 if standing is not None else 1)
    kinds = {one.kind for one in standing.values()} if standing else set()
    return {
        "map": mark_safe(map_drawing.svg(layout, marks, title, found.focus)),
        "branches": _branches(maps.nested(found), found, shelf, standing or {}),
        "rest": map_wording.rest(found.rest),
        "alone": len(found.ids) == 1,
        "soft": bool(found.soft),
        "kinds": kinds,
        "for_somebody": standing is not None,
    }


def _mark(key, shelf, standing) -> map_drawing.Mark:
    foot = (vocabulary_wording.apparatus(shelf.facts[key]["apparatus"]),)
    if standing is None:
        return map_drawing.Mark(shelf.url(key), foot)
    one = standing.get(key, NOBODYS)
    return map_drawing.Mark(shelf.url(key), (*foot, one.words), one.kind, strong=True)


def _branches(branches, found, shelf, standing) -> list[dict]:
    return [
        {
            "exercise": shelf.rows[one.id],
            "facts": shelf.facts[one.id],
            "url": shelf.url(one.id),
            "here": one.id == found.focus,
            "standing": standing.get(one.id, NOBODYS),
            "also": _also(one, found, shelf),
            "harder": _branches(one.harder, found, shelf, standing),
        }
        for one in branches
    ]


def _also(one: maps.Branch, found: maps.Map, shelf: Shelf) -> str:
    soft = [shelf.names[low] for low in one.also_from if (low, one.id) in found.soft]
    firm = [shelf.names[low] for low in one.also_from if (low, one.id) not in found.soft]
    return map_wording.also_from(firm, soft)


@opens()
def exercise_map(request, exercise):
    shelf = Shelf(request.user)
    key = shelf.key_of(exercise)
    page = map_context(maps.of_exercise(key, shelf.facts), shelf, map_wording.around(shelf.names[key]))
    page |= {"exercise": shelf.rows[key], "facts": shelf.facts[key], "at": "library"}
    page |= {"skills": skills_of(shelf.facts[key]["skills"])}
    return render(request, "library/map.html", page)


@opens()
def skill_map(request, skill):
    check_skill(skill)
    shelf = Shelf(request.user)
    page = map_context(maps.of_skill(skill, shelf.facts), shelf, map_wording.skill_title(skill))
    page |= {"skill": vocabulary_wording.label("skill", skill), "skill_key": skill, "at": "library"}
    return render(request, "library/map.html", page)


def check_skill(skill: str) -> None:
    """404 for what is no skill of the closed list."""
    if skill not in vocabulary_wording.SKILLS:
        raise Http404(_("There is nothing here."))


def skills_of(codes) -> list[dict]:
    return [{"key": code, "name": vocabulary_wording.label("skill", code)} for code in codes]


@opens()
def ideas(request):
    """All ideas, and all skills: the two ways into the library that go across the apparatus."""
    shelf = Shelf(request.user)
    page = {
        "ideas": ideas_of(shelf),
        "skills": [
            one | {"count": len(maps.trains(one["key"], shelf.facts))}
            for one in skills_of(vocabulary_wording.SKILLS)
        ],
        "at": "library",
    }
    return render(request, "library/transfers.html", page)


def ideas_of(shelf: Shelf) -> list[dict]:
    """Return every idea with one drawn exercise to stand for it, how many it has, and where it is done."""
    found = []
    for family in transfers.families():
        keys = transfers.members(family, shelf.facts)
        cells = transfers.row(keys, shelf.facts)
        found.append(
            {
                "key": family,
                "name": facts_wording.transfer_family(family),
                "count": len(keys),
                "exercise": next((shelf.rows[k] for k in keys if shelf.rows[k].current.pose), None),
                "places": [map_wording.column(cell.column) for cell in cells if cell.ids],
            }
        )
    return found


@opens()
def idea(request, family):
    page = idea_context(family, Shelf(request.user)) | {"at": "library"}
    return render(request, "library/transfer.html", page)


def idea_context(family: str, shelf: Shelf, standing=None) -> dict:
    """Return one idea in its stages. standing: exercise id -> Standing, for somebody. 404 for an unknown idea."""
    if family not in transfers.families():
        raise Http404(_("There is nothing here."))
    keys = transfers.members(family, shelf.facts)
    skills = next(row["main_skills"] for row in tables.transfer_families() if row["id"] == family)
    return {
        "family": family,
        "idea": facts_wording.transfer_family(family),
        "count": len(keys),
        "skills": skills_of(skills),
        "columns": [map_wording.column(name) for name in transfers.COLUMNS],
        "stages": [_stage(one, shelf, standing or {}) for one in transfers.stages(keys, shelf.facts)],
        "for_somebody": standing is not None,
    }


def _stage(stage: transfers.Stage, shelf: Shelf, standing) -> dict:
    cells = []
    for cell in stage.cells:
        cards = [_card(key, shelf, standing) for key in cell.ids]
        cells.append(
            {
                "name": map_wording.column(cell.column),
                "cards": cards[:UNFOLDED] if len(cards) > UNFOLDED + 1 else cards,
                "more": cards[UNFOLDED:] if len(cards) > UNFOLDED + 1 else [],
            }
        )
    return {"name": vocabulary_wording.label("transfer_stage", stage.id), "id": stage.id, "cells": cells}


def _card(key: str, shelf: Shelf, standing) -> dict:
    return {
        "exercise": shelf.rows[key],
        "facts": shelf.facts[key],
        "url": shelf.url(key),
        "standing": standing.get(key, NOBODYS),
    }
