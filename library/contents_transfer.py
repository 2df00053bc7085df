"""What must hold for transfer families and for adaptations that lift a demand.

Each check yields (what, entry, field, sentence); `what` is FAMILIES, LIFTS, or FACTS for an exercise. It
takes rows of exercises that have their shape already.
"""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping

from library.contents_between import FACTS, Found
from library.contents_rules import closed_ids, studio_apparatus

FAMILIES, LIFTS = "families", "lifts"
FAMILY_FIELDS = frozenset(["id", "label", "main_skills", "path"])
LIFT_FIELDS = frozenset(["id", "adaptation", "lifts", "only_for", "note", "source"])
LIFT_MAY_HAVE = frozenset(["not_for_conditions", "adds", "sides_become"])
_LISTS = ("lifts", "only_for", "not_for_conditions", "adds")


def family_faults(families: list[Mapping], facts: Mapping[str, Mapping], vocab: Mapping) -> Iterator[Found]:
    """Yield what is wrong with the transfer families, and where exercises and families disagree."""
    known = [row.get("id") for row in families]
    for key, one in facts.items():
        if one["transfer_family"] is not None and one["transfer_family"] not in known:
            yield FACTS, key, "transfer_family", f"'{one['transfer_family']}' is no transfer family."
    for family in families:
        name = str(family.get("id"))
        if known.count(name) > 1:
            yield FAMILIES, name, "id", "is there twice. Each id stands once."
        faults = [*_family_shape(family)] or [
            *_members(family, facts),
            *_family_skills(family, facts, vocab),
            *_stages(family, facts, vocab),
        ]
        for field, says in faults:
            yield FAMILIES, name, field, says


def _family_shape(family) -> Iterator[tuple[str, str]]:
    for field in sorted(FAMILY_FIELDS ^ set(family)):
        yield field, "is missing." if field in FAMILY_FIELDS else "is not a field here."
    if not _has_words(family.get("label")):
        yield "label", "needs words."
    for field in ("main_skills", "path"):
        if field in family and not _is_list(family[field]):
            yield field, "is a list with at least one id."


def _members(family, facts) -> Iterator[tuple[str, str]]:
    members = {key for key, one in facts.items() if one["transfer_family"] == family["id"]}
    for key, times in Counter(family["path"]).items():
        if key not in facts:
            yield "path", f"'{key}' is no exercise of the library."
        elif key not in members:
            yield "path", f"'{key}' does not name this family in its facts."
        if times > 1:
            yield "path", f"names '{key}' twice."
    for key in facts:
        if key in members and key not in family["path"]:
            yield "path", f"lacks '{key}', whose facts name this family."


def _family_skills(family, facts, vocab) -> Iterator[tuple[str, str]]:
    for skill in family["main_skills"]:
        if skill not in closed_ids(vocab, "skill"):
            yield "main_skills", f"'{skill}' is not in the closed list 'skill'."
        elif not any(skill in facts[key]["skills"] for key in family["path"] if key in facts):
            yield "main_skills", f"'{skill}' is trained by none of its exercises."


def _stages(family, facts, vocab) -> Iterator[tuple[str, str]]:
    stages, levels = closed_ids(vocab, "transfer_stage"), closed_ids(vocab, "level")
    studio = studio_apparatus(vocab)
    rows = [
        (key, facts[key])
        for key in family["path"]
        if key in facts and facts[key]["transfer_stage"] in stages and facts[key]["level"] in levels
    ]
    places = [(stages.index(one["transfer_stage"]), levels.index(one["level"])) for _key, one in rows]
    if places != sorted(places):
        yield "path", "goes by stage, and within a stage by level."
    for key, one in rows:
        if one["transfer_stage"] == "prepare" and one["spring_role"] is not None:
            yield "path", f"'{key}' prepares, so it has no springs."
        if one["transfer_stage"] == "support" and one["apparatus"] not in studio:
            yield "path", f"'{key}' is at the stage where the apparatus helps, but stands on none."
    used = {one["apparatus"] for _key, one in rows}
    if "mat" not in used:
        yield "path", "has no exercise on the mat."
    if len(used & set(studio)) < 2:
        yield "path", "uses fewer than two kinds of studio apparatus."


def lift_faults(
    lifts: list[Mapping], facts: Mapping[str, Mapping], vocab: Mapping, conditions: Collection[str]
) -> Iterator[Found]:
    """Yield what is wrong with the adaptations that lift a demand. conditions: ids of the rule table."""
    known = [row.get("id") for row in lifts]
    for row in lifts:
        name = str(row.get("id"))
        if known.count(name) > 1:
            yield LIFTS, name, "id", "is there twice. Each id stands once."
        faults = [*_lift_shape(row)] or [*_lift_lists(row, vocab, conditions), *_lifted(row, facts)]
        for field, says in faults:
            yield LIFTS, name, field, says


def _lift_shape(row) -> Iterator[tuple[str, str]]:
    for field in sorted(LIFT_FIELDS - set(row)):
        yield field, "is missing."
    for field in sorted(set(row) - LIFT_FIELDS - LIFT_MAY_HAVE):
        yield field, "is not a field here. Take it out or put its name right."
    for field in ("adaptation", "note", "source"):
        if field in row and not _has_words(row[field]):
            yield field, "needs words."
    for field in _LISTS:
        if field in row and not _is_list(row[field]):
            yield field, "is a list with at least one id, or left out."
    if row.get("sides_become", "both") != "both":
        yield "sides_become", "is 'both', or left out."


def _lift_lists(row, vocab, conditions) -> Iterator[tuple[str, str]]:
    if row["adaptation"] not in closed_ids(vocab, "adaptation"):
        yield "adaptation", f"'{row['adaptation']}' is not in the closed list 'adaptation'."
    for field in ("lifts", "adds"):
        for demand in row.get(field, ()):
            if demand not in closed_ids(vocab, "demand"):
                yield field, f"'{demand}' is not in the closed list 'demand'."
    for demand in set(row["lifts"]) & set(row.get("adds", ())):
        yield "adds", f"'{demand}' is lifted by this row as well."
    for condition in row.get("not_for_conditions", ()):
        if condition not in conditions:
            yield "not_for_conditions", f"'{condition}' is no condition of the rule table."


def _lifted(row, facts) -> Iterator[tuple[str, str]]:
    """Yield where an exercise that it is for does not list the adaptation or does not carry the demands."""
    for key in row["only_for"]:
        if key not in facts:
            yield "only_for", f"'{key}' is no exercise of the library."
            continue
        if row["adaptation"] not in facts[key]["adaptations"]:
            yield "only_for", f"'{key}' does not list the adaptation '{row['adaptation']}'."
        for demand in row["lifts"]:
            if demand not in facts[key]["demands"]:
                yield "lifts", f"'{demand}' is no demand of '{key}'."


def _has_words(value) -> bool:
    return isinstance(value, str) and bool(value.strip())


def _is_list(value) -> bool:
    return isinstance(value, list) and bool(value) and all(_has_words(one) for one in value)
