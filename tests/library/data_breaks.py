"""Ways to break a copy of the library's data, each with the file, entry and field that must be named."""

from dataclasses import dataclass

from tests.library.data_copy import rewrite, row, rows_in


@dataclass(frozen=True)
class Break:
    """One thing done to one row of a file, and what has to be said of it.

    says: entry, field and words of the sentence, for the broken file; `of` names another file to blame.
    """

    file: str
    row: str
    change: object
    says: tuple[str, str, str]
    of: str = ""


def put(field, value):
    return lambda one: one.__setitem__(field, value)


def take(field):
    return lambda one: one.pop(field)


def more(field, value):
    return lambda one: one[field].append(value)


def less(field, value):
    return lambda one: one[field].remove(value)


MAT, REFORMER, TABLE = "exercises/mat.json", "exercises/reformer.json", "exercises/trapeze_table.json"
VOCAB, FAMILIES, LIFTS = (
    f"exercises/{name}.json" for name in ("vocab", "transfer_families", "adaptation_lifts")
)
WORDS = "en/mat.json"
CLIENT = {"how": "a", "breath": "b", "easier": "c"}
OTHERS_FAULT = [{"fault": "trunk_sags", "see": "a", "say": "b"}]


def mat(field, change, words, key="mat_clam"):
    """A change to one exercise on the mat that is blamed on that very field."""
    return Break(MAT, key, change, (key, field, words))


def words(change, field, says, key="mat_clam"):
    """A change to one text of the mat that is blamed on that very field."""
    return Break(WORDS, key, change, (key, field, says))


TEXTS = {
    "no cautions": words(take("cautions"), "cautions", "is missing"),
    "one cue only": words(put("cues", ["One."]), "cues", "a list of two"),
    "cues that are no list": words(put("cues", "One. Two."), "cues", "a list of two"),
    "blank purpose": words(put("purpose", "  "), "purpose", "needs words"),
    "unknown field": words(put("colour", "x"), "colour", "is not a field"),
    "home without client": words(take("client"), "client", "this exercise may go home"),
    "client not for home": words(put("client", CLIENT), "client", "is not a field", "mat_leg_pull_front"),
    "client without breath": words(lambda text: text["client"].pop("breath"), "client breath", "is missing"),
    "fault of another": words(put("watch", OTHERS_FAULT), "watch", "the exercise's own faults"),
    "half written": words(
        lambda text: [text.pop(field) for field in set(text) - {"id", "purpose", "steps"}],
        "set_up",
        "is missing",
    ),
    "no text at all": Break(
        WORDS, "", lambda rows: rows.remove(row(rows, "mat_clam")), ("mat_clam", "purpose", "what it is for")
    ),
    "text of nothing": Break(WORDS, "mat_clam", put("id", "mat_no"), ("mat_no", "id", "no exercise has")),
    "text twice": Break(
        WORDS, "", lambda rows: rows.append(dict(row(rows, "mat_clam"))), ("mat_clam", "id", "is there twice")
    ),
    "pose of nothing": Break("poses/mat.json", "mat_plank", put("key", "mat_no"), ("mat_no", "key", "no ex")),
}
SHAPES = {
    "field left out": mat("breath", take("breath"), "is missing"),
    "field of its own": mat("colour", put("colour", "x"), "is not a field"),
    "name without words": mat("name", put("name", " "), "needs words"),
    "demands that are no list": mat("demands", put("demands", "side_lying"), "is a list"),
    "repetitions in words": mat("reps_min", put("reps_min", "eight"), "is a whole number"),
    "home in words": mat("home_ok", put("home_ok", "yes"), "is true or false"),
    "number that is a truth": mat("setup_s", put("setup_s", True), "is a whole number"),
    "sides of demands as a list": mat("demand_sides", put("demand_sides", []), "gives a side for each"),
    "mat number in words": mat("historic_mat_no", put("historic_mat_no", "1"), "is a whole number"),
    "named twice": mat("skills", lambda one: one["skills"].append(one["skills"][0]), "names something twice"),
    "no fault named": mat("faults", put("faults", []), "names at least one"),
}
LISTS = {
    "breath outside the list": mat("breath", put("breath", "hold_it"), "'hold_it' is not in the closed list"),
    "demand outside the list": mat("demands", more("demands", "flying"), "'flying' is not in"),
    "skill outside the list": mat("skills", more("skills", "juggling"), "'juggling' is not in"),
    "adaptation outside the list": mat("adaptations", more("adaptations", "nap"), "'nap' is not in"),
    "side outside the list": mat(
        "demand_sides", lambda one: one["demand_sides"].update(side_lying="upper"), "'upper' is not in"
    ),
    "list gone": Break(VOCAB, "", lambda data: data["vocab"].pop("fault"), ("fault", "", "is a list")),
    "list with a row twice": Break(
        VOCAB,
        "",
        lambda data: data["vocab"]["fault"].append("belly_domes"),
        ("fault", "belly_domes", "twice"),
    ),
    "word that nothing uses": Break(
        VOCAB,
        "",
        lambda data: data["vocab"]["fault"].append("sulks"),
        ("fault", "sulks", "used by no exercise"),
    ),
    "apparatus that says not where": Break(
        VOCAB,
        "",
        lambda data: data["vocab"]["apparatus"][0].pop("studio_apparatus"),
        ("apparatus", "studio_apparatus", "is true or false"),
    ),
    "demand the rules do not know": Break(
        "rules/demands.json",
        "",
        lambda data: data["demands"].remove(row(data["demands"], "jump_impact")),
        ("demand", "jump_impact", "stands in this list and in rules"),
        of=VOCAB,
    ),
}
NUMBERS = {
    "repetitions upside down": mat("reps_min", put("reps_min", 20), "is no more than reps_max"),
    "too many repetitions": mat("reps_max", put("reps_max", 31), "lies between 1 and 30"),
    "no repetition": mat("reps_min", put("reps_min", 0), "lies between 1 and 30"),
    "too slow": mat("seconds_per_rep", put("seconds_per_rep", 31), "lies between 1 and 30"),
    "no set-up": mat("setup_s", put("setup_s", 0), "lies between 5 and 120"),
    "too long in all": mat("seconds_per_rep", put("seconds_per_rep", 20), "s in all"),
}
SIDES = {
    "sided without a meaning": mat("side_means", put("side_means", None), "given for sided work"),
    "sided without a way to compare": mat("compare_by", put("compare_by", None), "given for sided work"),
    "meaning without sides": mat(
        "side_means", put("side_means", "working_leg"), "given for sided", "mat_plank"
    ),
    "no time to change sides": mat("switch_s", put("switch_s", 0), "is given where one side follows"),
    "sided demand without a side": mat(
        "demand_sides", lambda one: one["demand_sides"].pop("side_lying"), "'side_lying' needs a side"
    ),
    "side of a demand without sides": mat(
        "demand_sides",
        lambda one: (one["demands"].append("inversion"), one["demand_sides"].update(inversion="both")),
        "'inversion' has no sides",
    ),
    "side of a demand not there": mat(
        "demand_sides",
        lambda one: one["demand_sides"].update(overhead_reach="named"),
        "not among the demands",
    ),
    "one side where both work": mat(
        "demand_sides",
        lambda one: one["demand_sides"].update(wrist_weight_bearing="named"),
        "loads both sides",
        "mat_plank",
    ),
}
SPRINGS = {
    "spring on the mat": mat(
        "spring_grade",
        lambda one: one.update(
            spring_min="light",
            spring_grade="light",
            spring_max="light",
            spring_role="resist",
            spring_harder="heavier",
        ),
        "'mat' has none",
    ),
    "spring upside down": Break(
        REFORMER, "ref_frog", put("spring_max", "very_light"), ("ref_frog", "spring_grade", "lies between")
    ),
    "spring without a role": Break(
        REFORMER, "ref_frog", put("spring_role", None), ("ref_frog", "spring_grade", "and a role")
    ),
    "spring that does not say what is harder": Break(
        REFORMER, "ref_frog", put("spring_harder", None), ("ref_frog", "spring_harder", "says which way")
    ),
    "anchor that gets harder": Break(
        REFORMER,
        "ref_short_box_side",
        put("spring_harder", "heavier"),
        ("ref_short_box_side", "spring_harder", "only anchors"),
    ),
}
# The catalogue's second rule of demands: what each start position brings of itself.
POSITIONS = {
    f"{position} without {demand}": Break(
        f"exercises/{file}.json", key, less("demands", demand), (key, "demands", f"lacks '{demand}'")
    )
    for position, demand, file, key in [
        ("prone", "prone_lying", "mat", "mat_dart"),
        ("side_lying", "side_lying", "mat", "mat_clam"),
        ("kneeling", "kneeling_load", "mat", "mat_thigh_stretch"),
        ("quadruped", "kneeling_load", "mat", "mat_bird_dog"),
        ("quadruped", "wrist_weight_bearing", "mat", "mat_bird_dog"),
        ("quadruped", "shoulder_weight_bearing", "mat", "mat_bird_dog"),
        ("plank_support", "wrist_weight_bearing", "mat", "mat_plank"),
        ("plank_support", "shoulder_weight_bearing", "mat", "mat_plank"),
        ("supine", "supine_lying_long", "mat", "mat_knee_fold"),
        ("inverted", "inversion", "mat", "mat_bicycle"),
    ]
}
HOME = {
    "reformer at home": Break(
        REFORMER, "ref_frog", put("home_ok", True), ("ref_frog", "home_ok", "in the studio")
    ),
    "advanced and head down at home": mat(
        "home_ok", put("home_ok", True), "with the head low", "mat_jackknife"
    ),
    "things at home for the studio": mat(
        "home_props", more("home_props", "band"), "may go home", "mat_jackknife"
    ),
}
BETWEEN = {
    "leads nowhere": mat("regression_to", put("regression_to", ["mat_none"]), "'mat_none' is no exercise"),
    "grows from nowhere": mat("progression_of", put("progression_of", ["mat_none"]), "'mat_none' is no ex"),
    "leads to itself": mat("progression_of", more("progression_of", "mat_clam"), "round in a circle"),
    "two in a circle": mat(
        "regression_to", more("regression_to", "mat_hundred_tabletop"), "in a circle", "mat_hundred_prep"
    ),
    "harder as a regression": mat(
        "regression_to", more("regression_to", "mat_jackknife"), "of a harder level"
    ),
    "grows from a harder one": mat(
        "progression_of", more("progression_of", "mat_jackknife"), "of a harder level"
    ),
    "no way down": mat(
        "regression_to",
        lambda one: one.update(progression_of=[], regression_to=[]),
        "no way down",
        "mat_jackknife",
    ),
    "a name twice": mat("name", put("name", "PLANK"), "is already a name of", "mat_push_up"),
    "another's other name": mat(
        "alt_names", more("alt_names", "Plank"), "is already a name of", "mat_push_up"
    ),
    "mat number twice": mat("historic_mat_no", put("historic_mat_no", 1), "is already the number", "mat_saw"),
    "mat number beyond the book": mat("historic_mat_no", put("historic_mat_no", 35), "is 1 to 34"),
    "mat number off the mat": Break(
        REFORMER, "ref_frog", put("historic_mat_no", 34), ("ref_frog", "historic_mat_no", "on the mat")
    ),
    "mat number missing": Break(
        MAT, "mat_saw", put("historic_mat_no", None), ("mat order", "historic_mat_no", "given to no exercise")
    ),
    "in the wrong file": mat("apparatus", put("apparatus", "arc"), "belongs in exercises/arc.json"),
    "twice": Break(
        MAT,
        "",
        lambda data: data["exercises"].append(data["exercises"][0]),
        ("mat_breath_supine", "id", "twice"),
    ),
    "without an id": Break(MAT, "mat_clam", take("id"), ("entry", "id", "needs an id")),
}


def untrained(skill, keeps):
    """Take one skill away from every exercise that `keeps` does not spare."""

    def change(folder):
        for file in sorted((folder / "exercises").glob("*.json")):

            def strip(data):
                for one in data.get("exercises", ()):
                    if skill in one["skills"] and not keeps(one):
                        one["skills"] = [name for name in one["skills"] if name != skill] or [
                            "balance_control"
                        ]

            rewrite(folder, f"exercises/{file.name}", strip)

    return change


SKILLS = {
    "no foundation on the mat": (lambda one: one["apparatus"] != "mat", "no foundation exercise on the mat"),
    "nothing for home without things": (
        lambda one: not one["home_ok"] or one["home_props"],
        "for home that needs",
    ),
    "one studio apparatus only": (
        lambda one: one["apparatus"] in ("mat", "standing", "chair"),
        "fewer than two kinds",
    ),
}
TRANSFER = {
    "family that is not there": mat(
        "transfer_family", put("transfer_family", "tf_none"), "is no transfer family"
    ),
    "family without a stage": mat("transfer_stage", put("transfer_stage", None), "with a transfer family"),
    "path with a stranger": Break(
        FAMILIES, "tf_breath", more("path", "mat_clam"), ("tf_breath", "path", "does not name this family")
    ),
    "path with nothing": Break(
        FAMILIES, "tf_breath", more("path", "mat_none"), ("tf_breath", "path", "is no exercise")
    ),
    "path that leaves one out": Break(
        FAMILIES, "tf_breath", less("path", "arc_breath"), ("tf_breath", "path", "lacks 'arc_breath'")
    ),
    "path out of order": Break(
        FAMILIES, "tf_breath", lambda one: one["path"].reverse(), ("tf_breath", "path", "goes by stage")
    ),
    "path with one twice": Break(
        FAMILIES, "tf_breath", more("path", "tt_breathing"), ("tf_breath", "path", "twice")
    ),
    "family without words": Break(
        FAMILIES, "tf_breath", put("label", ""), ("tf_breath", "label", "needs words")
    ),
    "skill nobody trains": Break(
        FAMILIES,
        "tf_breath",
        put("main_skills", ["foot_strength"]),
        ("tf_breath", "main_skills", "trained by none"),
    ),
    "family twice": Break(
        FAMILIES, "", lambda data: rows_in(data).append(dict(rows_in(data)[0])), ("tf_breath", "id", "twice")
    ),
    "preparing with springs": Break(
        REFORMER,
        "ref_breath_straps",
        put("transfer_stage", "prepare"),
        ("tf_breath", "path", "prepares, so it has no springs"),
        of=FAMILIES,
    ),
    "helped by nothing": Break(
        MAT,
        "mat_breath_supine",
        put("transfer_stage", "support"),
        ("tf_breath", "path", "where the apparatus helps"),
        of=FAMILIES,
    ),
}
LIFTED = {
    "lift of an unlisted adaptation": Break(
        LIFTS,
        "L17",
        put("adaptation", "slower"),
        ("L17", "only_for", "does not list the adaptation 'slower'"),
    ),
    "lift of an adaptation outside the list": Break(
        LIFTS, "L17", put("adaptation", "nap"), ("L17", "adaptation", "is not in the closed list")
    ),
    "lift of a demand not carried": Break(
        LIFTS,
        "L17",
        put("lifts", ["jump_impact"]),
        ("L17", "lifts", "'jump_impact' is no demand of 'mat_plank'"),
    ),
    "lift of nothing": Break(LIFTS, "L17", put("lifts", []), ("L17", "lifts", "with at least one")),
    "lift for nobody": Break(
        LIFTS, "L17", put("only_for", ["mat_none"]), ("L17", "only_for", "is no exercise")
    ),
    "lift that brings what it lifts": Break(
        LIFTS, "L17", put("adds", ["breath_hold_strain"]), ("L17", "adds", "is lifted by this row")
    ),
    "lift that brings what no list holds": Break(
        LIFTS, "L17", put("adds", ["flying"]), ("L17", "adds", "'flying' is not in")
    ),
    "lift against an unknown condition": Break(
        LIFTS,
        "L18",
        more("not_for_conditions", "hiccups"),
        ("L18", "not_for_conditions", "'hiccups' is no cond"),
    ),
    "lift for a start position": Break(
        LIFTS, "L17", put("only_for", ["supine"]), ("L17", "only_for", "'supine' is no exercise")
    ),
    "lift that names no exercise": Break(LIFTS, "L17", take("only_for"), ("L17", "only_for", "is missing")),
    "lift without a note": Break(LIFTS, "L17", take("note"), ("L17", "note", "is missing")),
    "lift without a source": Break(LIFTS, "L17", put("source", " "), ("L17", "source", "needs words")),
    "lift to another side": Break(
        LIFTS, "L14", put("sides_become", "other"), ("L14", "sides_become", "is 'both'")
    ),
    "lift twice": Break(
        LIFTS, "", lambda data: rows_in(data).append(dict(row(rows_in(data), "L17"))), ("L17", "id", "twice")
    ),
    "lift with a field of its own": Break(
        LIFTS, "L17", put("colour", "x"), ("L17", "colour", "is not a field")
    ),
}
BREAKS = {
    **TEXTS, **SHAPES, **LISTS, **NUMBERS, **SIDES, **SPRINGS, **POSITIONS, **HOME, **BETWEEN, **TRANSFER, **LIFTED,
}  # fmt: skip
