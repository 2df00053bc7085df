"""The form of the studio's own exercise in words: names of fields, what is wrong, what changed, through gettext."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import facts_wording, fault_wording, figure_wording, pose_wording, vocabulary_wording, wording
from library.body import limits
from library.contents_rules import ONE_OF, ONE_OR_NONE, SOME_OF
from library.own_exercise import TEXT, Slip
from library.versions_apart import CLIENT, POSE, Field

STEPS = {
    "what": gettext_lazy("What it is"),
    "work": gettext_lazy("How much, sides and springs"),
    "figure": gettext_lazy("The figure"),
    "around": gettext_lazy("Home, faults and what stands around it"),
    "words": gettext_lazy("The words"),
    "demands": gettext_lazy("What it asks of the body"),
}
PLAIN_STARTS = {
    "on_back": gettext_lazy("Lying on the back, feet down"),
    "face_down": gettext_lazy("Lying face down"),
    "on_side": gettext_lazy("Lying on the side"),
    "long_sitting": gettext_lazy("Sitting, legs long"),
    "four_point": gettext_lazy("On hands and knees"),
    "tall_kneeling": gettext_lazy("Kneeling upright"),
    "plank": gettext_lazy("Plank on hands and feet"),
    "standing": gettext_lazy("Standing"),
}
FACTS = {
    "name": gettext_lazy("Name"),
    "alt_names": gettext_lazy("Other names"),
    "historic_mat_no": gettext_lazy("Number in the old mat order"),
    "apparatus": gettext_lazy("Apparatus"),
    "position": gettext_lazy("Start position"),
    "accessories": gettext_lazy("What is used with it"),
    "level": gettext_lazy("Level"),
    "families": gettext_lazy("Kinds of movement"),
    "skills": gettext_lazy("Skills it trains"),
    "breath": gettext_lazy("Breath"),
    "reps_min": gettext_lazy("Repetitions, at least"),
    "reps_max": gettext_lazy("Repetitions, at most"),
    "seconds_per_rep": gettext_lazy("Seconds for one"),
    "setup_s": gettext_lazy("Seconds to set up"),
    "sides": gettext_lazy("Sides"),
    "side_means": gettext_lazy("What right means"),
    "compare_by": gettext_lazy("Left and right are compared by"),
    "switch_s": gettext_lazy("Seconds to change sides"),
    "spring_grade": gettext_lazy("Usual springs"),
    "spring_min": gettext_lazy("Lightest springs"),
    "spring_max": gettext_lazy("Heaviest springs"),
    "spring_role": gettext_lazy("What the spring does"),
    "spring_harder": gettext_lazy("Which way is harder"),
    "home_ok": gettext_lazy("It may go home"),
    "home_props": gettext_lazy("What is needed at home"),
    "faults": gettext_lazy("Usual faults"),
    "adaptations": gettext_lazy("Changes that make it easier"),
    "regression_to": gettext_lazy("Easier exercise"),
    "progression_of": gettext_lazy("Grows out of"),
    "transfer_family": gettext_lazy("Idea it carries on"),
    "transfer_stage": gettext_lazy("Stage of that idea"),
    "demands": gettext_lazy("What it asks of the body"),
    "demand_sides": gettext_lazy("Side that is loaded"),
}
TEXTS = {
    "purpose": gettext_lazy("What it is for"),
    "set_up": gettext_lazy("Set-up"),
    "steps": gettext_lazy("Steps"),
    "breath": gettext_lazy("Breath, in words"),
    "cues": gettext_lazy("Cues"),
    "watch": gettext_lazy("What to watch for"),
    "easier": gettext_lazy("An easier way"),
    "harder": gettext_lazy("A harder way"),
    "dose": gettext_lazy("Dose, in words"),
    "cautions": gettext_lazy("Cautions"),
    "client": gettext_lazy("The client’s page"),
}
CLIENTS = {
    "how": gettext_lazy("The client’s page: how it goes"),
    "breath": gettext_lazy("The client’s page: breath"),
    "easier": gettext_lazy("The client’s page: an easier way"),
}
# Field -> [(how the rule's sentence begins, what the form says)]; the first that fits.
_SAID = {
    "name": [("'", gettext_lazy("Another exercise has this name. Give it one of its own."))],
    "alt_names": [("'", gettext_lazy("One of these is already a name of another exercise."))],
    "reps_min": [("is no more", gettext_lazy("The lowest number is no more than the highest."))],
    "seconds_per_rep": [
        (
            "makes",
            gettext_lazy(
                "In all that makes less than 20 or more than 240 seconds. Look at the numbers again."
            ),
        )
    ],
    "side_means": [
        (
            "",
            gettext_lazy(
                "Say what right means where sides are worked apart; leave it empty where they are not."
            ),
        )
    ],
    "compare_by": [
        (
            "",
            gettext_lazy(
                "Say how sides are compared where they are worked apart; leave it empty where they are not."
            ),
        )
    ],
    "switch_s": [
        ("is given", gettext_lazy("Seconds to change sides are for one side, then the other. Else type 0."))
    ],
    "spring_grade": [
        ("is only", gettext_lazy("This apparatus has no springs. Leave all about springs empty.")),
        ("needs", gettext_lazy("Choose the lightest, the usual and the heaviest, and what the spring does.")),
        ("lies", gettext_lazy("The usual springs lie between the lightest and the heaviest.")),
    ],
    "spring_harder": [
        ("", gettext_lazy("Say which way is harder; only where the spring just holds, leave it empty."))
    ],
    "home_props": [
        ("is for", gettext_lazy("This is only for what may go home. Untick it, or let it go home."))
    ],
    "home_ok": [
        ("is true, but advanced", gettext_lazy("Advanced work with the head low never goes home.")),
        ("is true", gettext_lazy("This apparatus stands only in the studio, so it cannot go home.")),
    ],
    "transfer_stage": [("is given", gettext_lazy("Choose an idea and a stage together, or neither."))],
    "demand_sides": [("lists", gettext_lazy("Say which side is loaded."))],
    "steps": [("", gettext_lazy("Write two sentences or more, each on a line of its own."))],
    "cues": [("", gettext_lazy("Write two cues or more, each on a line of its own."))],
    "watch": [
        ("", gettext_lazy("Say for each of its faults what to see and what to say, and for no other."))
    ],
    "client": [("", gettext_lazy("It may go home, so the client’s page needs its words."))],
    "regression_to": [
        ("has no way", gettext_lazy("Name an easier one, from which a way leads down to the mat.")),
        ("leads", gettext_lazy("That would lead round in a circle. Choose another.")),
        ("'", gettext_lazy("Choose an exercise that is of no harder level than this one.")),
    ],
    "progression_of": [
        ("leads", gettext_lazy("That would lead round in a circle. Choose another.")),
        ("'", gettext_lazy("Choose an exercise that is of no harder level than this one.")),
    ],
}


def field_label(field: Field) -> str:
    """Return the name of a field as the form has it."""
    part, name = field
    if part == POSE:
        return _("Drawing")
    return str({"facts": FACTS, "text": TEXTS, CLIENT: CLIENTS}[part].get(name, name))


def sentence(slip: Slip) -> str:
    """Return what is wrong, as a sentence at the field of a form."""
    name = slip.field.partition(" ")[0]
    for begins, said in _SAID.get(name, ()):
        if slip.says.startswith(begins):
            return str(said)
    says = fault_wording.said(slip.says, _id_in_words)
    label = (TEXTS if slip.part == TEXT else FACTS).get(name)
    return f"{label}: {says}" if label else says


def _id_in_words(name: str) -> str:
    for words in vocabulary_wording.LISTS.values():
        if name in words:
            return str(words[name])
    return wording.demand_short(name)


def value_lines(field: Field, value, names: dict[str, str]) -> list[str]:
    """Return a value of a field in words, in lines; none where it is empty. names: exercise key -> name."""
    part, name = field
    if part == POSE:
        return _pose_lines(value)
    if value in (None, "", [], {}):
        return [_("Not yet classified")] if name == "demands" and value is None else []
    if part == "facts":
        return _fact_lines(name, value, names)
    if name == "watch":
        return [
            f"{vocabulary_wording.LISTS['fault'].get(row['fault'], row['fault'])}: {row['see']} “{row['say']}”"
            for row in value
        ]
    return list(value) if isinstance(value, list) else [str(value)]


def _pose_lines(pose) -> list[str]:
    """A drawing in words: its start and its end. Two drawings that differ by little may read alike."""
    if not pose:
        return []
    words = {phase: pose_wording.describe(pose, phase) for phase in ("start", "end")}
    lines = [_("Start: %(words)s") % {"words": words["start"]}, _("End: %(words)s") % {"words": words["end"]}]
    leading = limits.lead(pose)
    if leading:
        values = {
            "what": figure_wording.name(leading.driver),
            "start": round(leading.start),
            "end": round(leading.end),
        }
        lines.append(_("Led by: %(what)s, from %(start)s° to %(end)s°.") % values)
    return lines


def _fact_lines(name, value, names) -> list[str]:
    if name == "demands":
        return [wording.demand_short(one) for one in value]
    if name == "demand_sides":
        return [f"{wording.demand_short(one)}: {side_words(side)}" for one, side in value.items()]
    if name == "transfer_family":
        return [facts_wording.transfer_family(value)]
    if name in ("progression_of", "regression_to"):
        return [names.get(key, key) for key in value]
    if isinstance(value, bool):
        return [_("Yes") if value else _("No")]
    words = vocabulary_wording.LISTS.get({**ONE_OF, **ONE_OR_NONE, **SOME_OF}.get(name, ""), {})
    return [str(words.get(one, one)) for one in (value if isinstance(value, list) else [value])]


def side_words(side: str) -> str:
    """Return which side a demand loads, beside the side in the record."""
    words = {
        "named": _("the side in the record"),
        "other": _("the other side"),
        "both": _("both sides"),
    }
    return words[side]
