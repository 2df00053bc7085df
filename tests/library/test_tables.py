"""The data files of the library: whole, consistent, and every id resolves."""

import json
from collections import Counter

import pytest

from library import tables

DATA = tables.rule_data()
RULES = DATA["rules"]
DEMANDS = {row["id"]: row for row in DATA["demands"]}
CONDITIONS = {row["id"]: row for row in DATA["conditions"]}
SOURCES = {row["id"]: row for row in DATA["sources"]}
EXERCISES = tables.exercises()
VERDICTS = {"avoid", "modify", "watch"}
BASES = {"ongoing", "event_days", "gestation_days"}
SUPPORT = {"direct", "by_extension", "from_memory", "practice"}


def unique(rows):
    return max(Counter(row["id"] for row in rows).values()) == 1


# The rule table.


def test_the_counts_written_in_the_data_are_those_of_the_rows():
    counts = DATA["counts"]
    assert counts["rules"] == len(RULES) == 886
    assert counts["conditions"] == len(CONDITIONS) == 80
    assert counts["demands"] == len(DEMANDS) == 40
    assert counts["sources"] == len(SOURCES)
    assert counts["red_flags"] == len(DATA["red_flags"])
    assert counts["acsm_rows"] == len(DATA["acsm"]["decision_table"])
    assert counts["screening_only_conditions"] == len(DATA["screening_only_conditions"])
    assert counts["verdicts"] == Counter(rule["verdict"] for rule in RULES)
    assert counts["support"] == Counter(rule["support"] for rule in RULES)
    assert counts["sources_by_kind"] == Counter(row["kind"] for row in SOURCES.values())
    # A rule of a spell on the back is limited in time by weeks and by minutes; the count is of weeks.
    assert counts["time_limited_rules"] == sum(rule["window"]["to_day"] is not None for rule in RULES)


@pytest.mark.parametrize(
    "name",
    [
        "demands",
        "condition_groups",
        "conditions",
        "rules",
        "sources",
        "red_flags",
        "screening_only_conditions",
        "wording",
    ],
)
def test_ids_are_given_once(name):
    assert unique(DATA[name])


def test_every_rule_speaks_of_a_known_condition_demand_and_source():
    for rule in RULES:
        where = rule["id"]
        assert rule["condition"] in CONDITIONS, where
        assert rule["demand"] in DEMANDS, where
        assert rule["sources"], where
        assert set(rule["sources"]) <= set(SOURCES), where
        assert set(rule["by_extension"]) <= set(rule["sources"]), where


def test_every_rule_uses_the_closed_lists_and_gives_a_reason():
    for rule in RULES:
        where = rule["id"]
        assert rule["verdict"] in VERDICTS, where
        assert rule["support"] in SUPPORT, where
        assert rule.get("spell") in (None, "short", "long"), where
        assert "spell" not in rule or rule["demand"] == DATA["supine_spell"]["demand"], where
        assert rule["reason"].endswith("."), where
        assert rule["adaptation"].endswith("."), where


def test_every_window_has_an_order_and_fits_its_condition():
    for rule in RULES:
        window, where = rule["window"], rule["id"]
        basis = CONDITIONS[rule["condition"]]["window_basis"]
        assert window["basis"] in BASES, where
        if window["basis"] == "ongoing":
            assert window["from_day"] is window["to_day"] is None, where
        else:
            assert window["basis"] == basis, where
            assert isinstance(window["from_day"], int), where
            assert window["from_day"] >= 0, where
            assert window["to_day"] is None or window["to_day"] > window["from_day"], where


def test_the_windows_of_one_condition_and_demand_never_grow_laxer_towards_the_event():
    """Healing (event): the later window is never stricter. Pregnancy: the later one is never laxer."""
    rank = {"watch": 1, "modify": 2, "avoid": 3}
    rows = {}
    for rule in RULES:
        if rule["window"]["basis"] != "ongoing":
            rows.setdefault((rule["condition"], rule["demand"], rule.get("spell")), []).append(rule)
    for found in rows.values():
        found.sort(key=lambda rule: rule["window"]["from_day"])
        for earlier, later in zip(found, found[1:], strict=False):
            assert earlier["window"]["to_day"] == later["window"]["from_day"], later["id"]
            grows = rank[later["verdict"]] - rank[earlier["verdict"]]
            assert grows >= 0 if later["window"]["basis"] == "gestation_days" else grows <= 0, later["id"]


def test_conditions_use_their_closed_lists():
    groups = {row["id"] for row in DATA["condition_groups"]}
    for row in CONDITIONS.values():
        clearance, where = row["clearance"], row["id"]
        assert row["group"] in groups, where
        assert row["window_basis"] in BASES, where
        assert isinstance(row["sided"], bool), where
        assert row["acsm_disease"] in (None, "cv", "metabolic", "renal"), where
        assert clearance["level"] in ("none", "ask", "written_before_start"), where
        assert clearance["until_day"] is None or clearance["until_day"] > 0, where
        assert clearance.get("then_level") in (None, "none", "ask"), where
        assert any(rule["condition"] == where for rule in RULES), where


def test_dated_conditions_say_which_date_they_mean():
    for row in CONDITIONS.values():
        if row["window_basis"] != "ongoing":
            assert row["event_label"], row["id"]


def test_every_demand_has_a_label_of_at_most_four_words():
    shorts = [row["short"] for row in DEMANDS.values()]
    assert all(1 <= len(short.split()) <= 4 for short in shorts)
    assert all(len(short) <= 28 for short in shorts)
    assert len(set(shorts)) == len(shorts)


def test_a_verdict_is_nowhere_called_a_permission():
    for row in DATA["verdicts"]:
        words = row["meaning"].lower().replace(";", " ").replace(".", " ").split()
        assert not {"allowed", "safe", "clear", "ok", "fine"} & set(words), row["id"]


def test_the_files_name_no_paper_they_were_made_from():
    for path in tables.DATA.rglob("*.json"):
        if path.parent.name in ("rules", "exercises"):
            text = path.read_text(encoding="utf-8")
            assert ".md" not in text, path.name
            assert json.loads(text), path.name


@pytest.mark.parametrize("key", ["rules", "demands", "conditions"])
def test_the_version_changes_with_the_content(key):
    row = {**DATA[key][0], "note": "changed"}
    changed = {**DATA, key: [row, *DATA[key][1:]]}
    assert tables.version_of(changed) != tables.version_of(DATA)


def test_the_version_does_not_change_with_what_is_no_rule():
    assert tables.version_of({**DATA, "wording": []}) == tables.version_of(DATA)
    shuffled = {**DATA, "rules": [dict(reversed(rule.items())) for rule in RULES]}
    assert tables.version_of(shuffled) == tables.version_of(DATA)


def test_the_version_is_the_schema_number_and_eight_hex_digits():
    schema, digits = tables.rule_table().version.split("-")
    assert schema == str(DATA["schema_version"])
    assert len(digits) == 8
    assert int(digits, 16) >= 0


# Exercise facts.


def test_there_are_287_exercises_each_in_the_file_of_its_apparatus():
    assert len(EXERCISES) == 287
    for apparatus in tables.closed_list("apparatus"):
        path = tables.DATA / "exercises" / f"{apparatus}.json"
        rows = json.loads(path.read_text(encoding="utf-8"))["exercises"]
        assert rows
        assert {row["apparatus"] for row in rows} == {apparatus}
    assert len({fact["name"] for fact in EXERCISES.values()}) == 287


ONE_OF = [
    ("apparatus", "apparatus"),
    ("position", "position"),
    ("level", "level"),
    ("breath", "breath"),
    ("sides", "sides"),
    ("side_means", "side_means"),
    ("compare_by", "compare_by"),
    ("spring_grade", "spring_grade"),
    ("spring_role", "spring_role"),
    ("spring_harder", "spring_harder"),
    ("transfer_stage", "transfer_stage"),
]
SOME_OF = [
    ("accessories", "accessories"),
    ("families", "family"),
    ("skills", "skill"),
    ("demands", "demand"),
    ("home_props", "home_prop"),
    ("faults", "fault"),
    ("adaptations", "adaptation"),
]


@pytest.mark.parametrize(("field", "name"), ONE_OF, ids=[field for field, _ in ONE_OF])
def test_a_field_takes_one_word_of_its_list(field, name):
    allowed = {None, *tables.closed_list(name)}
    assert {fact[field] for fact in EXERCISES.values()} <= allowed


@pytest.mark.parametrize(("field", "name"), SOME_OF, ids=[field for field, _ in SOME_OF])
def test_a_field_takes_words_of_its_list_and_no_word_is_left_over(field, name):
    used = {word for fact in EXERCISES.values() for word in fact[field]}
    assert used == set(tables.closed_list(name))


def test_the_demands_of_the_exercises_are_the_forty_of_the_table():
    assert tables.closed_list("demand") == tuple(DEMANDS)


def test_every_sided_demand_says_which_side_it_loads_and_no_other_does():
    for fact in EXERCISES.values():
        sided = {demand for demand in fact["demands"] if DEMANDS[demand]["sided"]}
        assert set(fact["demand_sides"]) == sided, fact["id"]
        assert set(fact["demand_sides"].values()) <= {"named", "other", "both"}, fact["id"]
        if fact["side_means"] is None:
            assert set(fact["demand_sides"].values()) <= {"both"}, fact["id"]


def test_start_positions_bring_their_demands():
    """Common practice, no source: what lying, kneeling or leaning there loads in any case."""
    brings = {
        "prone": {"prone_lying"},
        "side_lying": {"side_lying"},
        "kneeling": {"kneeling_load"},
        "quadruped": {"kneeling_load", "wrist_weight_bearing", "shoulder_weight_bearing"},
    }
    for fact in EXERCISES.values():
        assert brings.get(fact["position"], set()) <= set(fact["demands"]), fact["id"]


def test_progressions_and_families_lead_to_exercises_of_the_library():
    families = {family["id"]: family for family in tables.transfer_families()}
    for fact in EXERCISES.values():
        for other in (*fact["progression_of"], *fact["regression_to"]):
            assert other in EXERCISES, fact["id"]
            assert other != fact["id"]
        if fact["transfer_family"]:
            assert fact["id"] in families[fact["transfer_family"]]["path"]
    for family in families.values():
        assert set(family["path"]) <= set(EXERCISES)
        assert set(family["main_skills"]) <= set(tables.closed_list("skill"))


def test_home_exercises_need_no_studio_apparatus():
    studio = {row["id"] for row in tables.vocab()["apparatus"] if row["studio_apparatus"]}
    for fact in EXERCISES.values():
        assert not (fact["home_ok"] and fact["apparatus"] in studio), fact["id"]


def test_the_34_places_of_the_historic_mat_order_are_taken_once_each():
    """34 exercises in the mat order of the originator's 1945 book (from memory)."""
    numbers = [fact["historic_mat_no"] for fact in EXERCISES.values() if fact["historic_mat_no"]]
    assert sorted(numbers) == list(range(1, 35))


def test_adaptation_rows_name_what_is_there():
    for row in tables.adaptation_lifts():
        where = row["id"]
        assert row["adaptation"] in tables.closed_list("adaptation"), where
        assert set(row["lifts"]) | set(row.get("adds", ())) <= set(DEMANDS), where
        assert set(row.get("not_for_conditions", ())) <= set(CONDITIONS), where
        assert row["only_for"], where
        assert set(row["only_for"]) <= set(EXERCISES), where
        assert row["note"], where
        assert row["source"], where


def test_an_unknown_exercise_is_refused_in_a_sentence():
    with pytest.raises(LookupError, match=r"There is no exercise 'mat_flying' in the library\."):
        tables.exercise("mat_flying")
