"""An exercise of the studio's own: what it still lacks, and what is wrong with it by the rules of the shipped ones.

Plain computation. A payload is {"facts", "text", "pose"} as in `library.contents`, with one thing more: facts
whose `demands` are None say that nobody has classified the exercise yet.
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from library import contents_between
from library.contents_rules import TEXT_FIELDS, closed_ids, fact_faults, has_shape, text_faults
from library.contents_transfer import FAMILIES, family_faults

FACTS, TEXT, POSE = "facts", "text", "pose"
OWN_PREFIX = "own_"
# What each step of the form asks: fields of the facts, fields of the text.
STEPS = {
    "what": (
        ("name", "alt_names", "apparatus", "position", "accessories", "level", "families", "skills"),
        (),
    ),
    "work": (
        (
            *("breath", "reps_min", "reps_max", "seconds_per_rep", "setup_s"),
            *("sides", "side_means", "compare_by", "switch_s"),
            *("spring_grade", "spring_min", "spring_max", "spring_role", "spring_harder"),
        ),
        (),
    ),
    "figure": ((), ()),  # the pose, as a whole; an exercise may stay undrawn
    "around": (
        (
            *("home_ok", "home_props", "faults", "adaptations", "regression_to", "progression_of"),
            *("transfer_family", "transfer_stage"),
        ),
        (),
    ),
    "words": ((), (*TEXT_FIELDS[1:], "client")),
    "demands": (("demands", "demand_sides"), ()),
}
# Whoever changes one of these changes what the body is asked: the demands are gone through again.
BEAR_ON_DEMANDS = ("apparatus", "position", "accessories", "sides", "side_means", "spring_max")
# Stands in for what is not filled in yet, so that one step can be checked before the others.
_BLANK = {
    "id": "own",
    "name": "own",
    "alt_names": [],
    "historic_mat_no": None,
    "apparatus": "mat",
    "accessories": [],
    "position": "seated",
    "families": ["balance"],
    "skills": ["balance_control"],
    "level": "building",
    "breath": "free",
    "reps_min": 6,
    "reps_max": 8,
    "seconds_per_rep": 5,
    "setup_s": 15,
    "switch_s": 0,
    "sides": "both_together",
    "side_means": None,
    "compare_by": None,
    "spring_grade": None,
    "spring_min": None,
    "spring_max": None,
    "spring_role": None,
    "spring_harder": None,
    "demands": None,
    "demand_sides": {},
    "progression_of": [],
    "regression_to": [],
    "transfer_family": None,
    "transfer_stage": None,
    "home_ok": False,
    "home_props": [],
    "faults": ["goes_too_fast"],
    "adaptations": ["slower"],
}


class Library(NamedTuple):
    """What an exercise is checked against.

    facts: key -> facts of every exercise. vocab: the closed lists. demands: id -> row of the rule table's list.
    families: the transfer families as shipped.
    """

    facts: Mapping[str, Mapping]
    vocab: Mapping
    demands: Mapping[str, Mapping]
    families: tuple[Mapping, ...]


class Slip(NamedTuple):
    """One thing wrong: in the facts or the text, at which field ('' where it is about another exercise)."""

    part: str
    field: str
    says: str


def blank(key: str) -> dict:
    """Return the payload with which an exercise from nothing begins."""
    facts = {"id": key, "historic_mat_no": None, "demands": None, "demand_sides": {}}
    return {"facts": facts, "text": {"id": key}, "pose": None}


def copied(payload: Mapping, key: str) -> dict:
    """Return the payload with which a new exercise begins that is made from another: unnamed, not classified."""
    facts = {**payload["facts"], "id": key, "name": "", "alt_names": [], "historic_mat_no": None}
    facts |= {"demands": None, "demand_sides": {}}
    pose = {**payload["pose"], "key": key} if payload.get("pose") else None
    return {"facts": facts, "text": {**payload["text"], "id": key}, "pose": pose}


def filled(facts: Mapping) -> dict:
    """Return facts with stand-ins where nothing is filled in yet."""
    return {**_BLANK, **facts}


def steps_to_do(payload: Mapping) -> list[str]:
    """Return the steps of the form of which something is still missing, in order. Demands may wait."""
    facts, text = payload["facts"], payload["text"]
    lacking = [
        step for step, (wanted, _texts) in STEPS.items() if any(field not in facts for field in wanted)
    ]
    if not facts.get("name") and "what" not in lacking:
        lacking.insert(0, "what")
    return [*lacking, *([] if text.get("purpose") else ["words"])]


def step_of(slip: Slip) -> str:
    """Return the step of the form in which a slip is put right."""
    if slip.part == POSE:
        return "figure"
    place = 0 if slip.part == FACTS else 1
    name = slip.field.partition(" ")[0]
    return next((step for step, fields in STEPS.items() if name in fields[place]), "around")


def is_classified(facts: Mapping) -> bool:
    """Return whether somebody has said what the exercise asks of the body, were it nothing on the list."""
    return facts["demands"] is not None


def reopens(before: Mapping, after: Mapping) -> list[str]:
    """Return the fields whose change means that the demands have to be gone through again."""
    if not is_classified(before):
        return []
    return [field for field in BEAR_ON_DEMANDS if field in before and before[field] != after.get(field)]


def lessened(before: Mapping, after: Mapping) -> list[str]:
    """Return the demands that were noted before and are now left out, or lie on another side, in their order."""
    if not is_classified(before) or not is_classified(after):
        return []
    sides, now = before["demand_sides"], after["demand_sides"]
    return [
        name for name in before["demands"] if name not in after["demands"] or sides.get(name) != now.get(name)
    ]


def slips(payload: Mapping, library: Library) -> list[Slip]:
    """Return what is wrong with one exercise, by itself and among the others; nothing where it may be kept."""
    found = list(slips_alone(payload, library))
    if has_shape(_stood_in(payload["facts"])):
        key = payload["facts"]["id"]
        for entry, field, says in between({key: payload["facts"]}, library):
            found.append(
                Slip(FACTS, field if entry == key else "", says if entry == key else f"{entry}: {says}")
            )
    return found


def slips_alone(payload: Mapping, library: Library) -> Iterator[Slip]:
    """Yield what is wrong with one exercise by itself."""
    facts = payload["facts"]
    sided = {key for key, row in library.demands.items() if row["sided"]}
    for field, says in fact_faults(_stood_in(facts), library.vocab, sided):
        if facts.get("demands", ()) is not None or field not in ("demands", "demand_sides"):
            yield Slip(FACTS, field, says)
    for field, says in text_faults(payload["text"], facts):
        yield Slip(TEXT, field, says)


def between(new: Mapping[str, Mapping], library: Library) -> list[tuple[str, str, str]]:
    """Return (entry, field, sentence) of what these facts would break among all, themselves included.

    new: key -> facts that have their shape. What was so before, with other exercises, is not theirs.
    """
    before = {key: _stood_in(facts) for key, facts in library.facts.items()}
    after = {**before, **{key: _stood_in(facts) for key, facts in new.items()}}
    already = set(_among(before, library))
    found = []
    for what, entry, field, says in _among(after, library):
        if entry in new or (what, entry, field, says) not in already:
            found.append((entry, "transfer_stage" if what == FAMILIES else field, says))
    return found


def _among(facts: Mapping[str, Mapping], library: Library) -> Iterator[contents_between.Found]:
    yield from contents_between.faults(facts, library.vocab, library.demands)
    yield from family_faults(families_with(library.families, facts, library.vocab), facts, library.vocab)


def families_with(families, facts: Mapping[str, Mapping], vocab: Mapping) -> list[dict]:
    """Return the transfer families with every exercise that names one in its path, by stage and then level."""
    stages, levels = closed_ids(vocab, "transfer_stage"), closed_ids(vocab, "level")

    def place(key) -> tuple[int, int]:
        one = facts[key]
        known = one["transfer_stage"] in stages and one["level"] in levels
        return (
            (stages.index(one["transfer_stage"]), levels.index(one["level"])) if known else (len(stages), 0)
        )

    whole = []
    for family in families:
        members = [key for key in facts if facts[key]["transfer_family"] == family["id"]]
        path = [key for key in family["path"] if key in members]
        path += [key for key in members if key not in path]
        whole.append({**family, "path": sorted(path, key=place)})
    return whole


def _stood_in(facts: Mapping) -> Mapping:
    """Facts that nobody has classified are looked at as if nothing were asked; the demands are not judged."""
    return facts if facts.get("demands", ()) is not None else {**facts, "demands": [], "demand_sides": {}}
