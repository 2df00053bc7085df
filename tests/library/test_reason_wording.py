"""One reason in words: how it was read, what it rests on, who made it stricter or lifted it.

How sure a source is follows the table's own column (direct, by extension, from memory, common practice); a paper read
on somebody's copy of it says so.
"""

import re
from datetime import date
from types import SimpleNamespace

import pytest

from library import reason_wording, tables
from library.precautions import judge
from library.reason_wording import reason_row, source_short

ON = date(2026, 11, 25)
SOURCES = tables.rule_table().sources


def flag(condition=None, **kwargs):
    return SimpleNamespace(condition=condition, **kwargs)


def rows(flags, exercise, on=ON, **kwargs):
    return [reason_row(reason) for reason in judge(flags, exercise, on, **kwargs).reasons]


@pytest.mark.parametrize(
    ("key", "words"),
    [
        # Named after the paper; the address of the copy is left to the page of the condition.
        ("S51", "Osteoporosis Canada leaflet and page (checked on a secondary copy)"),
        ("S33", "ACOG Committee Opinion 804 (checked on a secondary copy)"),
        ("M10", "NICE guideline NG59, low back pain and sciatica (from memory)"),
        ("S61", "Frozen-shoulder pages"),
    ],
)
def test_a_source_by_its_short_name(key, words):
    assert source_short(key).startswith(words.split(" (")[0])
    assert (
        source_short(key).endswith(words[words.index(" (") :])
        if " (" in words
        else source_short(key) == words
    )


def test_every_source_of_a_rule_has_a_short_name_without_an_address():
    used = {key for rule in tables.rule_table().rules for key in rule.sources}
    assert used <= set(SOURCES)
    for key in used:
        assert source_short(key).strip(), key
        assert not re.search(r"\([^)]*\.[a-z]{2,}", source_short(key)), key
    assert source_short("X99") == "X99"


def test_what_has_no_source_says_so_once():
    (row,) = rows([flag("pregnancy", due=date(2027, 4, 12))], _asks("neck_shoulder_weight_bearing"))
    assert row["sources"] == []
    assert row["sure"] == "Common practice, no source."


def _asks(*demands):
    return SimpleNamespace(id="x", demands=demands, demand_sides={})


def test_a_reason_that_an_adaptation_softens_names_it_and_what_holds_without_it():
    """Rows of adaptation_lifts say which adaptation takes which demand from which exercise."""
    lift = next(
        row
        for row in tables.adaptation_lifts()
        if "supine_lying_long" in row["lifts"] and "pregnancy" not in row.get("not_for_conditions", ())
    )
    exercise = lift["only_for"][0]
    late = [flag("pregnancy", due=date(2027, 1, 20))]
    held = [row for row in rows(late, exercise, adaptations=(lift["adaptation"],)) if row["held"]]
    assert [(row["verdict"], row["held"].split("”. ")[1]) for row in held] == [
        ("modify", "Without it: Avoid.")
    ]
    assert "wedge" in held[0]["held"].casefold()
    assert not any(row["held"] for row in rows(late, exercise))


def test_a_reason_that_stays_modify_says_to_keep_the_change():
    reason = SimpleNamespace(lifted_by="trunk_raised_on_wedge", before_lift="modify")
    assert reason_wording.held_words(reason).endswith("Keep it.")


def test_what_a_clinician_lifted_is_shown_with_who_did():
    told = flag(
        instruction="inversion", verdict="watch", by="Dr Osei", words="head level", until=date(2026, 12, 24)
    )
    first, lifted = rows([flag("glaucoma"), told], _asks("inversion"))
    assert (first["flag"], first["by"], first["until"]) == (
        "Dr Osei says",
        "Dr Osei",
        "last day 24 Dec 2026",
    )
    assert lifted["outranked"] == "A clinician's word stands in its place."
    assert (lifted["condition"], first["condition"]) == ("glaucoma", "")


def test_a_condition_outside_the_table_leads_nowhere():
    row = rows([flag("gout_of_the_moon")], _asks("inversion"))[0]
    assert row["condition"] == ""


def test_a_reason_as_it_was_stored_reads_the_same():
    hip = flag("hip_replacement_posterior", side="left", on=date(2026, 9, 5))
    for reason in judge([hip], _asks("jump_impact"), ON).reasons:
        names = ("kind", "code", "verdict", "demand", "exercise", "condition", "rule", "text", "adaptation")
        names += ("sources", "support", "side", "by", "words", "outranked")
        kept = {name: getattr(reason, name) for name in names}
        old = SimpleNamespace(**kept, until=reason.last_day.isoformat() if reason.last_day else None)
        assert reason_row(old) == reason_row(reason)
    assert reason_wording.held_words(old) == ""
