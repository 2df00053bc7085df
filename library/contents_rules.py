"""What one row of the library's data files must look like. Each check yields (field, sentence)."""

from collections.abc import Iterator, Mapping

Fault = tuple[str, str]

TEXT_FIELDS = (
    "id",
    "purpose",
    "set_up",
    "steps",
    "breath",
    "cues",
    "watch",
    "easier",
    "harder",
    "dose",
    "cautions",
)
# A text whose steps are not written yet: what the exercise is for, and no more.
PURPOSE_FIELDS = frozenset(["id", "purpose"])
CLIENT_FIELDS = ("how", "breath", "easier")
WATCH_FIELDS = ("fault", "see", "say")

# Field of the facts -> name of the closed list it takes one value from.
_ONE_OF = {
    "apparatus": "apparatus",
    "position": "position",
    "level": "level",
    "breath": "breath",
    "sides": "sides",
}
_ONE_OR_NONE = {
    "transfer_stage": "transfer_stage",
    "side_means": "side_means",
    "compare_by": "compare_by",
    "spring_grade": "spring_grade",
    "spring_min": "spring_grade",
    "spring_max": "spring_grade",
    "spring_role": "spring_role",
    "spring_harder": "spring_harder",
}
_SOME_OF = {
    "accessories": "accessories",
    "families": "family",
    "skills": "skill",
    "demands": "demand",
    "home_props": "home_prop",
    "faults": "fault",
    "adaptations": "adaptation",
}
_COUNTS = ("reps_min", "reps_max", "seconds_per_rep", "setup_s", "switch_s")
_OTHER = (
    "id",
    "name",
    "alt_names",
    "historic_mat_no",
    "demand_sides",
    "progression_of",
    "regression_to",
    "transfer_family",
    "home_ok",
)
FACT_FIELDS = frozenset([*_OTHER, *_COUNTS, *_ONE_OF, *_ONE_OR_NONE, *_SOME_OF])


def fact_faults(facts: Mapping, vocab: Mapping, everything: Mapping) -> Iterator[Fault]:
    """Yield what is wrong with the facts of one exercise.

    vocab: the closed lists. everything: all exercises by id, for references between them.
    """
    yield from _keys(facts, FACT_FIELDS)
    if set(facts) != FACT_FIELDS:
        return
    for field in ("id", "name"):
        if not _is_words(facts[field]):
            yield field, "needs words."
    if not isinstance(facts["home_ok"], bool):
        yield "home_ok", "is true or false."
    yield from _closed_lists(facts, vocab)
    yield from _numbers(facts)
    yield from _sides(facts, vocab)
    yield from _springs(facts, vocab)
    if (facts["transfer_family"] is None) != (facts["transfer_stage"] is None):
        yield "transfer_stage", "is given with a transfer family, and only then."
    for field in ("progression_of", "regression_to"):
        for other in facts[field]:
            if other not in everything:
                yield field, f"'{other}' is no exercise of the library."


def is_whole(text: Mapping) -> bool:
    """Return whether a text tells the whole exercise, and not only its purpose."""
    return not set(text) <= PURPOSE_FIELDS


def text_faults(text: Mapping, facts: Mapping) -> Iterator[Fault]:
    """Yield what is wrong with the text of one exercise, seen beside its facts.

    A text is whole, or only an id and a purpose; nothing in between.
    """
    if not is_whole(text):
        yield from _keys(text, PURPOSE_FIELDS)
        if "purpose" in text and not _is_words(text["purpose"]):
            yield "purpose", "needs words."
        return
    wanted = {*TEXT_FIELDS, "client"} if facts.get("home_ok") else set(TEXT_FIELDS)
    yield from _keys(text, wanted)
    for field in TEXT_FIELDS:
        if field in ("steps", "cues"):
            yield from _sentences(field, text.get(field))
        elif field != "watch" and field in text and not _is_words(text[field]):
            yield field, "needs words."
    yield from _watch(text.get("watch"), facts.get("faults", []))
    if "client" in wanted and "client" in text:
        yield from _client(text["client"])


def _keys(row: Mapping, wanted) -> Iterator[Fault]:
    for field in sorted(set(wanted) - set(row)):
        yield field, "is missing." if field != "client" else "is missing: this exercise may go home."
    for field in sorted(set(row) - set(wanted)):
        yield field, "is not a field here. Take it out or put its name right."


def _is_words(value) -> bool:
    return isinstance(value, str) and bool(value.strip())


def _sentences(field: str, value) -> Iterator[Fault]:
    if value is None:
        return
    if not isinstance(value, list) or len(value) < 2 or not all(_is_words(line) for line in value):
        yield field, "is a list of two or more sentences."


def _watch(rows, faults: list[str]) -> Iterator[Fault]:
    if rows is None:
        return
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        yield "watch", "is a list of what to see and what to say."
        return
    for place, row in enumerate(rows, start=1):
        if set(row) != set(WATCH_FIELDS) or not all(_is_words(value) for value in row.values()):
            yield f"watch {place}", "has a fault, what to see and what to say, all with words."
    named = [row.get("fault") for row in rows]
    if sorted(map(str, named)) != sorted(faults):
        yield "watch", f"speaks of the exercise's own faults, each once: {', '.join(faults)}."


def _client(client) -> Iterator[Fault]:
    if not isinstance(client, dict):
        yield "client", "is how, breath and easier, in the client's words."
        return
    for field, says in _keys(client, CLIENT_FIELDS):
        yield f"client {field}", says
    for field in CLIENT_FIELDS:
        if field in client and not _is_words(client[field]):
            yield f"client {field}", "needs words."


def _ids(vocab: Mapping, name: str) -> list[str]:
    return [row if isinstance(row, str) else row["id"] for row in vocab.get(name, ())]


def _closed_lists(facts: Mapping, vocab: Mapping) -> Iterator[Fault]:
    for field, name in {**_ONE_OF, **_ONE_OR_NONE}.items():
        value = facts[field]
        if value is None and field in _ONE_OR_NONE:
            continue
        if value not in _ids(vocab, name):
            yield field, f"'{value}' is not in the closed list '{name}'."
    for field, name in _SOME_OF.items():
        known = _ids(vocab, name)
        for value in facts[field]:
            if value not in known:
                yield field, f"'{value}' is not in the closed list '{name}'."
        if len(set(facts[field])) != len(facts[field]):
            yield field, "names something twice."


def _numbers(facts: Mapping) -> Iterator[Fault]:
    for field in _COUNTS:
        if not isinstance(facts[field], int) or facts[field] < 0:
            yield field, "is a whole number, 0 or more."
            return
    if not 1 <= facts["reps_min"] <= facts["reps_max"]:
        yield "reps_min", "is at least 1 and no more than reps_max."


def _sides(facts: Mapping, vocab: Mapping) -> Iterator[Fault]:
    sided = facts["sides"] != "both_together"
    for field in ("side_means", "compare_by"):
        if sided != (facts[field] is not None):
            yield field, "is given for sided work, and only for that."
    known = _ids(vocab, "demand_side")
    for demand, side in facts["demand_sides"].items():
        if demand not in facts["demands"]:
            yield "demand_sides", f"'{demand}' is not among the demands of this exercise."
        if side not in known:
            yield "demand_sides", f"'{side}' is not in the closed list 'demand_side'."


def _springs(facts: Mapping, vocab: Mapping) -> Iterator[Fault]:
    grades = _ids(vocab, "spring_grade")
    given = [facts[field] for field in ("spring_min", "spring_grade", "spring_max")]
    if all(grade is None for grade in given) and facts["spring_role"] is None:
        return
    if any(grade not in grades for grade in given) or facts["spring_role"] is None:
        yield "spring_grade", "needs a lowest, a usual and a highest grade, and a role."
        return
    if [grades.index(grade) for grade in given] != sorted(grades.index(grade) for grade in given):
        yield "spring_grade", "lies between the lowest and the highest grade."
    if (facts["spring_role"] == "anchor") != (facts["spring_harder"] is None):
        yield "spring_harder", "says which way is harder, except where the spring only anchors."
