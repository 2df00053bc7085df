"""Verdicts and reasons in words: no word that permits, nothing left blank."""

import re
from datetime import date
from types import SimpleNamespace

import pytest
from django.utils import translation

from library import wording
from library.precautions import chips, judge
from library.tables import rule_data, rule_table

ON = date(2026, 11, 25)
PERMITS = {"safe", "clear", "cleared", "allowed", "ok", "okay", "fine", "permitted"}


def flag(condition=None, **kwargs):
    return SimpleNamespace(condition=condition, **kwargs)


@pytest.mark.parametrize(
    ("verdict", "word"),
    [("avoid", "Avoid"), ("modify", "Modify"), ("watch", "Watch"), ("none", "No rule")],
)
def test_the_word_of_a_verdict(verdict, word):
    assert wording.verdict_word(verdict) == word
    said = wording.verdict_meaning(verdict).lower().replace(".", " ").replace(",", " ").split()
    assert not PERMITS & set(said)


def test_every_demand_condition_group_level_and_support_has_words():
    for demand in rule_table().demands:
        assert 1 <= len(wording.demand_short(demand).split()) <= 4
        assert wording.demand_label(demand) != demand
    for condition in rule_table().conditions:
        assert wording.condition_label(condition) != condition
    for group in rule_data()["condition_groups"]:
        assert wording.condition_group_label(group["id"]) == group["label"]
    for row in rule_data()["conditions"]:
        assert wording.level_words(row["clearance"]["level"])
    for row in rule_data()["rules"]:
        assert wording.support_words(row["support"])


def test_the_short_words_of_the_demands_are_forty_different_ones():
    """Read beside a client: two demands must not look alike, also without their verdict and in small letters."""
    words = [wording.demand_short(demand).casefold() for demand in rule_table().demands]
    assert len(set(words)) == len(words) == 40
    assert all(re.fullmatch(r"[a-z, -]+", word) for word in words)


def test_what_is_not_in_the_table_shows_what_was_written():
    assert wording.condition_label("Gout of the moon") == "Gout of the moon"
    assert wording.demand_short("levitation") == "levitation"


def test_a_rule_in_words():
    hip = flag("hip_replacement_posterior", side="left", on=date(2026, 3, 2))
    exercise = SimpleNamespace(id="x", demands=["jump_impact"], demand_sides={})
    (reason,) = judge([hip], exercise, date(2026, 5, 24)).reasons
    with translation.override("en-gb"):
        assert wording.reason_title(reason).endswith("(or approach unknown), left")
        assert wording.reason_text(reason) == reason.text
        assert wording.until_words(reason.last_day).startswith("last day 30 Aug")
    assert all(map(wording.source_words, reason.sources))


def test_a_clinicians_word_in_words():
    said = flag(instruction="inversion", verdict="watch", words="head level", by="Dr Osei")
    exercise = SimpleNamespace(id="x", demands=["inversion"], demand_sides={})
    first, lifted = judge([said, flag("glaucoma")], exercise, ON).reasons
    assert wording.reason_title(first) == "Dr Osei says"
    assert wording.reason_text(first) == "head level"
    assert (wording.until_words(first.last_day), wording.outranked_words(first)) == ("", "")
    assert wording.outranked_words(lifted) == "A clinician's word stands in its place."


def test_a_condition_outside_the_table_in_words():
    (reason,) = judge([flag("Gout of the moon", side="left")], "sc_seated_cat", ON).reasons
    assert wording.reason_title(reason) == "Gout of the moon, left"
    assert wording.reason_text(reason) == "Not in the table: ask."
    (chip,) = chips([flag("Gout of the moon")], ON)
    assert wording.chip_label(chip) == "Gout of the moon"


def test_a_source_from_memory_says_so():
    from_memory = [row["id"] for row in rule_data()["sources"] if row["kind"] == "from_memory"]
    assert from_memory
    assert all(wording.source_words(key).endswith("(from memory)") for key in from_memory)
