"""What both screens show of the alternatives to a row: figure, name, level, verdict, why, home."""

from django.http import Http404

from library import alternatives_wording, vocabulary_wording
from library.alternatives import Alternative
from sessions import judging, wording
from sessions.actions.alternatives import Instead


def rows(instead: Instead) -> list[dict]:
    """Return the alternatives to a row as the templates show them, the nearest first."""
    return [row(one, instead.shelf[one.id]) for one in instead.found]


def listed(found: list[dict]) -> dict:
    """Return a list of alternatives for the templates: the rows, and what holds for all of them, said once."""
    common, besides = alternatives_wording.apart([one["whys"] for one in found]) if found else ([], [])
    return {
        "found": [{**one, "besides": own} for one, own in zip(found, besides, strict=True)],
        "common": common,
    }


def row(one: Alternative, exercise) -> dict:
    """Return one alternative as the templates show it; without a verdict where it was nobody's."""
    facts = exercise.current.facts
    verdict = judging.stored(one.judgement) if one.judgement else None
    return {
        "exercise": exercise,
        "name": facts["name"],
        "apparatus": vocabulary_wording.apparatus(facts["apparatus"]),
        "level": vocabulary_wording.level(facts["level"]),
        "home": facts["home_ok"],
        "verdict": verdict["verdict"] if verdict else "",
        "text": wording.chip_text(verdict) if verdict else "",
        "whys": alternatives_wording.whys(one.why),
        "change": one.adaptations[0] if one.adaptations else "",
    }


def chosen(instead: Instead, data):
    """Return what was touched: the exercise and the adaptations that go with it. 404 for what is not there."""
    wanted = data.get("instead", "")
    found = [one for one in instead.shelf.values() if one.public_id == wanted]
    if not found:
        raise Http404
    change = data.get("change", "")
    return found[0], (change,) if change else ()
