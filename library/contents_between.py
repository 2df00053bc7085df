"""What must hold between the rows of the library's data files: names, references, the graph, skills, lists.

Each check yields (what, entry, field, sentence); `what` is FACTS for an exercise, VOCAB
for the closed lists, or ORDER for the mat order as a whole. It takes rows that have their shape already
(contents_rules.has_shape).
"""

from collections.abc import Iterator, Mapping

from library import progressions
from library.contents_rules import ONE_OF, ONE_OR_NONE, SOME_OF, closed_ids, studio_apparatus

FACTS, VOCAB, ORDER = "facts", "vocab", "order"
Found = tuple[str, str, str, str]
# Places in the mat order of the 1945 book (from memory): each once, and no others.
MAT_ORDER = range(1, 35)
LISTS = (*dict.fromkeys([*ONE_OF.values(), *ONE_OR_NONE.values(), *SOME_OF.values()]), "demand_side")


def vocab_faults(vocab: Mapping) -> Iterator[Found]:
    """Yield what is wrong with the closed lists by themselves."""
    for name in LISTS:
        rows = vocab.get(name)
        if not isinstance(rows, list) or not rows or not all(map(_is_entry, rows)):
            yield VOCAB, name, "", "is a list of ids, or of rows with an id."
            continue
        ids = closed_ids(vocab, name)
        for entry in sorted({entry for entry in ids if ids.count(entry) > 1}):
            yield VOCAB, name, entry, "is there twice."
        if name == "apparatus":
            for row in rows:
                if not isinstance(row, dict) or not isinstance(row.get("studio_apparatus"), bool):
                    yield VOCAB, name, "studio_apparatus", "is true or false for each apparatus."


def _is_entry(row) -> bool:
    name = row.get("id") if isinstance(row, dict) else row
    return isinstance(name, str) and bool(name)


def faults(facts: Mapping[str, Mapping], vocab: Mapping, demands: Mapping[str, Mapping]) -> Iterator[Found]:
    """Yield what is wrong between exercises. demands: id -> row of the rule table's list of demands."""
    yield from _unused(facts, vocab)
    yield from _demand_lists(vocab, demands)
    yield from _names(facts)
    yield from _mat_order(facts)
    yield from _references(facts)
    yield from _levels(facts, closed_ids(vocab, "level"))
    yield from _graph(facts, studio_apparatus(vocab))
    yield from _skills(facts, vocab)


def _unused(facts, vocab) -> Iterator[Found]:
    used = {name: set() for name in LISTS}
    for one in facts.values():
        for field, name in {**ONE_OF, **ONE_OR_NONE}.items():
            used[name].add(one[field])
        for field, name in SOME_OF.items():
            used[name].update(one[field])
        used["demand_side"].update(one["demand_sides"].values())
    for name in LISTS:
        for entry in closed_ids(vocab, name):
            if entry not in used[name]:
                yield VOCAB, name, entry, "is used by no exercise. Take it out, or put the exercise right."


def _demand_lists(vocab, demands) -> Iterator[Found]:
    for demand in sorted(set(closed_ids(vocab, "demand")) ^ set(demands)):
        yield VOCAB, "demand", demand, "stands in this list and in rules/demands.json, or in neither."


def _names(facts) -> Iterator[Found]:
    taken: dict[str, str] = {}
    for key, one in facts.items():
        for field, name in [("name", one["name"]), *(("alt_names", other) for other in one["alt_names"])]:
            first = taken.setdefault(name.casefold(), key)
            if first != key:
                yield FACTS, key, field, f"'{name}' is already a name of '{first}'."


def _mat_order(facts) -> Iterator[Found]:
    taken: dict[int, str] = {}
    for key, one in facts.items():
        number = one["historic_mat_no"]
        if number is None:
            continue
        first = taken.setdefault(number, key)
        if number not in MAT_ORDER or one["apparatus"] != "mat":
            yield FACTS, key, "historic_mat_no", f"is {MAT_ORDER[0]} to {MAT_ORDER[-1]}, on the mat."
        elif first != key:
            yield FACTS, key, "historic_mat_no", f"{number} is already the number of '{first}'."
    missing = [str(number) for number in MAT_ORDER if number not in taken]
    if missing:
        yield ORDER, "mat order", "historic_mat_no", f"is given to no exercise: {', '.join(missing)}."


def _references(facts) -> Iterator[Found]:
    for key, one in facts.items():
        for field in ("progression_of", "regression_to"):
            for other in one[field]:
                if other not in facts:
                    yield FACTS, key, field, f"'{other}' is no exercise of the library."


def _levels(facts, levels: list[str]) -> Iterator[Found]:
    place = {level: number for number, level in enumerate(levels)}
    for key, one in facts.items():
        for field in ("progression_of", "regression_to"):
            for other in one[field]:
                if other in facts and _rank(facts[other], place) > _rank(one, place):
                    yield FACTS, key, field, f"'{other}' is of a harder level than this one."


def _rank(one, place: Mapping[str, int]) -> int:
    # A level outside the closed list is reported there.
    return place.get(one["level"], 0)


def _graph(facts, studio: list[str]) -> Iterator[Found]:
    for circle in progressions.circles(facts):
        field = "progression_of" if circle[1 % len(circle)] in facts[circle[0]]["progression_of"] else ""
        way = " to ".join([*circle, circle[0]])
        yield FACTS, circle[0], field or "regression_to", f"leads round in a circle: {way}."
    ways = progressions.ways_down(facts, studio)
    for key in facts:
        if key not in ways:
            says = "has no way down to a foundation exercise that needs no studio apparatus."
            yield FACTS, key, "regression_to", says


def _skills(facts, vocab) -> Iterator[Found]:
    studio = studio_apparatus(vocab)
    for skill in closed_ids(vocab, "skill"):
        trains = [one for one in facts.values() if skill in one["skills"]]
        if not any(one["apparatus"] == "mat" and one["level"] == progressions.FOUNDATION for one in trains):
            yield VOCAB, "skill", skill, "has no foundation exercise on the mat."
        if not any(one["home_ok"] and not one["home_props"] for one in trains):
            yield VOCAB, "skill", skill, "has no exercise for home that needs nothing."
        if len({one["apparatus"] for one in trains if one["apparatus"] in studio}) < 2:
            yield VOCAB, "skill", skill, "is trained on fewer than two kinds of studio apparatus."
