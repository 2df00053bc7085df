"""The data files held together: a copy is broken on purpose, in many ways, and each is noticed and named.

What is checked is the list the catalogue of exercises gives for its own checker.
"""

import json

import pytest

from library import contents, tables
from library.contents_rules import FACT_FIELDS, fact_faults, has_shape
from tests.library.data_breaks import BREAKS, MAT, SKILLS, VOCAB, WORDS, untrained
from tests.library.data_copy import rewrite, row, rows_in


def problems_of(folder):
    with pytest.raises(contents.BrokenLibrary) as refused:
        contents.payloads(folder)
    return refused.value.problems


def test_the_shipped_files_hold_together(shelf):
    # The catalogue's own count, and its own number of ways to break it.
    assert len(contents.payloads(shelf)) == 287
    assert len(BREAKS) + len(SKILLS) >= 43


@pytest.mark.parametrize("broken", BREAKS.values(), ids=BREAKS.keys())
def test_a_break_is_named_by_file_entry_and_field(shelf, broken):
    def edit(data):
        broken.change(row(rows_in(data), broken.row) if broken.row else data)

    rewrite(shelf, broken.file, edit)
    entry, field, says = broken.says
    found = [
        problem
        for problem in problems_of(shelf)
        if says in problem.says and problem.field == field and problem.entry.startswith(entry)
    ]
    assert found, [str(problem) for problem in problems_of(shelf)]
    assert {problem.file for problem in found} == {f"library/data/{broken.of or broken.file}"}
    assert all(problem.says.endswith(".") for problem in found)


@pytest.mark.parametrize(("keeps", "says"), SKILLS.values(), ids=SKILLS.keys())
def test_a_skill_without_its_exercises_is_named(shelf, keeps, says):
    untrained("lateral_trunk_control", keeps)(shelf)
    said = [str(problem) for problem in problems_of(shelf)]
    assert any(
        line.startswith(f"library/data/{VOCAB}, skill, lateral_trunk_control: ") and says in line
        for line in said
    )


def test_one_break_is_reported_alone(shelf):
    rewrite(shelf, MAT, lambda data: row(data["exercises"], "mat_clam").update(setup_s=0))
    assert [str(problem) for problem in problems_of(shelf)] == [
        "library/data/exercises/mat.json, mat_clam, setup_s: lies between 5 and 120."
    ]


def test_everything_wrong_is_reported_at_once(shelf):
    rewrite(shelf, MAT, lambda data: row(data["exercises"], "mat_clam").update(setup_s=0, breath="hold_it"))
    rewrite(shelf, WORDS, lambda rows: row(rows, "mat_plank").update(dose=""))
    assert [(problem.entry, problem.field) for problem in problems_of(shelf)] == [
        ("mat_clam", "breath"),
        ("mat_clam", "setup_s"),
        ("mat_plank", "dose"),
    ]


def test_a_text_in_the_file_of_another_apparatus_is_sent_home(shelf):
    moved = []
    rewrite(shelf, "en/arc.json", lambda rows: moved.append(rows.pop(0)))
    rewrite(shelf, WORDS, lambda rows: rows.extend(moved))
    assert [str(problem) for problem in problems_of(shelf)] == [
        f"library/data/{WORDS}, {moved[0]['id']}, id: belongs in en/arc.json, where its facts say."
    ]


@pytest.mark.parametrize("file", ["en/arc.json", "exercises/vocab.json", "rules/demands.json"])
def test_a_file_that_is_no_json_says_its_line(shelf, file):
    (shelf / file).write_text('[\n {"id": "arc_breath",,}\n]')
    (problem,) = [one for one in problems_of(shelf) if "JSON" in one.says]
    assert str(problem).startswith(f"library/data/{file}, line 2: is not valid JSON")


@pytest.mark.parametrize("file", ["exercises/adaptation_lifts.json", "rules/conditions.json"])
def test_a_file_that_is_not_there_is_named(shelf, file):
    (shelf / file).unlink()
    assert f"library/data/{file}: is missing: the program came without this file." in map(
        str, problems_of(shelf)
    )


def test_a_file_that_nothing_reads_is_named(shelf):
    (shelf / "en/hammock.json").write_text("[]")
    (problem,) = problems_of(shelf)
    assert str(problem) == "library/data/en/hammock.json: has no name that is read: no such apparatus."


def test_lists_that_are_no_lists_are_named(shelf):
    (shelf / VOCAB).write_text(json.dumps({"vocab": []}))
    assert problems_of(shelf)[0].says == "holds the closed lists by their names."


@pytest.mark.parametrize(
    "value", [None, [], "", "x", 7, -1, True, {}, {"a": 1}, [None], ["x", "x"]], ids=repr
)
def test_no_value_of_any_kind_breaks_the_checks_themselves(value):
    """A row of any shape is answered with sentences, never with an error of the program."""
    clam, sided = tables.exercise("mat_clam"), {"side_lying"}
    for field in FACT_FIELDS:
        for row_ in ({**clam, field: value}, dict.fromkeys(clam, value), {field: value}):
            faults = list(fact_faults(row_, tables.vocab(), sided))
            assert all(says.endswith(".") for _field, says in faults)
            assert faults or has_shape(row_)
