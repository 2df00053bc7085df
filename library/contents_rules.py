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
ONE_OF = {
    "apparatus": "apparatus",
    "position": "position",
    "level": "level",
    "breath": "breath",
    "sides": "sides",
}
ONE_OR_NONE = {
    "transfer_stage": "transfer_stage",
    "side_means": "side_means",
    "compare_by": "compare_by",
    "spring_grade": "spring_grade",
    "spring_min": "spring_grade",
    "spring_max": "spring_grade",
    "spring_role": "spring_role",
    "spring_harder": "spring_harder",
}
SOME_OF = {
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
FACT_FIELDS = frozenset([*_OTHER, *_COUNTS, *ONE_OF, *ONE_OR_NONE, *SOME_OF])
# Fields that hold a list of ids or of words.
_LISTS = (*SOME_OF, "alt_names", "progression_of", "regression_to")
# At least one of each: without them an exercise cannot be found, taught or eased.
_NEVER_EMPTY = ("families", "skills", "faults", "adaptations")

SPRUNG_APPARATUS = ("reformer", "trapeze_table", "chair")
# Lowest and highest. Common practice, no source: few repetitions, more only for running and jumping.
_RANGES = {
    "reps_min": (1, 30),
    "reps_max": (1, 30),
    "seconds_per_rep": (1, 30),
    "setup_s": (5, 120),
    "switch_s": (0, 60),
}
# Seconds of one exercise in the middle of its range. Common practice, no source.
_WHOLE_S = (20, 240)
# What a start position brings of itself. On the back: except over the arc, where the trunk is not flat.
_POSITION_BRINGS = {
    "prone": ("prone_lying",),
    "side_lying": ("side_lying",),
    "kneeling": ("kneeling_load",),
    "quadruped": ("kneeling_load", "wrist_weight_bearing", "shoulder_weight_bearing"),
    "plank_support": ("wrist_weight_bearing", "shoulder_weight_bearing"),
    "inverted": ("inversion",),
    "supine": ("supine_lying_long",),
}


def fact_faults(facts: Mapping, vocab: Mapping, sided_demands) -> Iterator[Fault]:
    """Yield what is wrong with the facts of one exercise, by itself.

    vocab: the closed lists. sided_demands: ids of the demands that load left and right apart. Where the
    shape is wrong nothing else is looked at.
    """
    faults = [*_keys(facts, FACT_FIELDS)] or [*_shapes(facts)]
    yield from faults
    if faults:
        return
    yield from _closed_lists(facts, vocab)
    yield from _numbers(facts)
    yield from _sides(facts, sided_demands)
    yield from _springs(facts, vocab)
    yield from _positions(facts)
    yield from _home(facts, vocab)
    if (facts["transfer_family"] is None) != (facts["transfer_stage"] is None):
        yield "transfer_stage", "is given with a transfer family, and only then."


def has_shape(facts: Mapping) -> bool:
    """Return whether every field is there and of its kind, so that rows can be looked at together."""
    return set(facts) == FACT_FIELDS and not any(_shapes(facts))


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


def closed_ids(vocab: Mapping, name: str) -> list[str]:
    """Return the ids of one closed list, whether it holds bare ids or rows."""
    return [row if isinstance(row, str) else row["id"] for row in vocab.get(name, ())]


def _closed_lists(facts: Mapping, vocab: Mapping) -> Iterator[Fault]:
    for field, name in {**ONE_OF, **ONE_OR_NONE}.items():
        value = facts[field]
        if value is None and field in ONE_OR_NONE:
            continue
        if value not in closed_ids(vocab, name):
            yield field, f"'{value}' is not in the closed list '{name}'."
    for field, name in SOME_OF.items():
        known = closed_ids(vocab, name)
        for value in facts[field]:
            if value not in known:
                yield field, f"'{value}' is not in the closed list '{name}'."
        if field in _NEVER_EMPTY and not facts[field]:
            yield field, "names at least one."
    for side in facts["demand_sides"].values():
        if side not in closed_ids(vocab, "demand_side"):
            yield "demand_sides", f"'{side}' is not in the closed list 'demand_side'."
    for field in _LISTS:
        if len(set(facts[field])) != len(facts[field]):
            yield field, "names something twice."


def _shapes(facts: Mapping) -> Iterator[Fault]:
    for field in ("id", "name", *ONE_OF):
        if not _is_words(facts[field]):
            yield field, "needs words."
    for field in (*ONE_OR_NONE, "transfer_family"):
        if facts[field] is not None and not _is_words(facts[field]):
            yield field, "is one id, or null."
    for field in _LISTS:
        if not isinstance(facts[field], list) or not all(_is_words(value) for value in facts[field]):
            yield field, "is a list of ids or words."
    for field in _COUNTS:
        if not _is_count(facts[field]):
            yield field, "is a whole number, 0 or more."
    sides = facts["demand_sides"]
    if not isinstance(sides, dict) or not all(_is_words(side) for side in sides.values()):
        yield "demand_sides", "gives a side for each demand that has one."
    if not isinstance(facts["home_ok"], bool):
        yield "home_ok", "is true or false."
    if facts["historic_mat_no"] is not None and not _is_count(facts["historic_mat_no"]):
        yield "historic_mat_no", "is a whole number, or null."


def _is_count(value) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and value >= 0


def _numbers(facts: Mapping) -> Iterator[Fault]:
    for field, (low, high) in _RANGES.items():
        if not low <= facts[field] <= high:
            yield field, f"lies between {low} and {high}."
    if facts["reps_min"] > facts["reps_max"]:
        yield "reps_min", "is no more than reps_max."
    seconds = middle_seconds(facts)
    if not _WHOLE_S[0] <= seconds <= _WHOLE_S[1]:
        yield "seconds_per_rep", f"makes {seconds:g} s in all; {_WHOLE_S[0]} to {_WHOLE_S[1]} s are usual."


def middle_seconds(facts: Mapping) -> float:
    """Return the seconds of an exercise in the middle of its repetitions: set-up, work, change of sides."""
    sides = 1 if facts["sides"] == "both_together" else 2
    repetitions = (facts["reps_min"] + facts["reps_max"]) / 2
    return facts["setup_s"] + repetitions * facts["seconds_per_rep"] * sides + facts["switch_s"]


def _sides(facts: Mapping, sided_demands) -> Iterator[Fault]:
    sided = facts["sides"] != "both_together"
    for field in ("side_means", "compare_by"):
        if sided != (facts[field] is not None):
            yield field, "is given for sided work, and only for that."
    if (facts["switch_s"] > 0) != (facts["sides"] == "one_then_other"):
        yield "switch_s", "is given where one side follows the other, and only there."
    sides = facts["demand_sides"]
    for demand in facts["demands"]:
        if (demand in sided_demands) != (demand in sides):
            says = "needs a side" if demand in sided_demands else "has no sides: take its side out"
            yield "demand_sides", f"'{demand}' {says}."
    for demand, side in sides.items():
        if demand not in facts["demands"]:
            yield "demand_sides", f"'{demand}' is not among the demands of this exercise."
        elif not sided and side != "both":
            yield "demand_sides", f"'{demand}' loads both sides where they work together."


def _springs(facts: Mapping, vocab: Mapping) -> Iterator[Fault]:
    grades = closed_ids(vocab, "spring_grade")
    given = [facts[field] for field in ("spring_min", "spring_grade", "spring_max")]
    whole = [*given, facts["spring_role"]]
    if all(value is None for value in [*whole, facts["spring_harder"]]):
        return
    if facts["apparatus"] not in SPRUNG_APPARATUS:
        yield "spring_grade", f"is only for apparatus with springs, and '{facts['apparatus']}' has none."
        return
    if any(grade not in grades for grade in given) or facts["spring_role"] is None:
        yield "spring_grade", "needs a lowest, a usual and a highest grade, and a role."
        return
    if [grades.index(grade) for grade in given] != sorted(grades.index(grade) for grade in given):
        yield "spring_grade", "lies between the lowest and the highest grade."
    if (facts["spring_role"] == "anchor") != (facts["spring_harder"] is None):
        yield "spring_harder", "says which way is harder, except where the spring only anchors."


def _positions(facts: Mapping) -> Iterator[Fault]:
    if facts["position"] == "supine" and facts["apparatus"] == "arc":
        return
    for demand in _POSITION_BRINGS.get(facts["position"], ()):
        if demand not in facts["demands"]:
            yield "demands", f"lacks '{demand}', which the position '{facts['position']}' brings."


def _home(facts: Mapping, vocab: Mapping) -> Iterator[Fault]:
    if not facts["home_ok"]:
        if facts["home_props"]:
            yield "home_props", "is for exercises that may go home, and only for them."
        return
    if facts["apparatus"] in studio_apparatus(vocab):
        yield "home_ok", f"is true, but '{facts['apparatus']}' is only in the studio."
    if facts["level"] == "advanced" and ("inversion" in facts["demands"] or facts["position"] == "inverted"):
        yield "home_ok", "is true, but advanced work with the head low never goes home."


def studio_apparatus(vocab: Mapping) -> list[str]:
    """Return the ids of the apparatus that only a studio has."""
    return [row["id"] for row in vocab.get("apparatus", ()) if row["studio_apparatus"]]
