"""The words of the library held against the outside: a published reading formula, spring ranges, names, promises."""

import re
from statistics import mean

import pytest
import textstat

from library.vocabulary_wording import SPRING_GRADES as GRADES
from tests.library.test_texts import (
    FACTS,
    HOME,
    SET_PHRASES,
    SPRUNG,
    TEXTS,
    WORDS,
    client_page,
    grade,
    lines_of,
)
from tests.rows import each

# Flesch-Kincaid grade level (Kincaid, Fishburne, Rogers and Chissom 1975), as counted by textstat, a general-purpose
# library (MIT); syllables from the CMU Pronouncing Dictionary, where it lacks a word by hyphenation.
# Target: grade 6 or lower on average, none above 8, the grade that guides to plain health texts ask for (from memory).
AVERAGE, MOST = 6, 8


@each("key", HOME)
def test_no_client_page_is_above_grade_eight(key):
    assert textstat.flesch_kincaid_grade(client_page(key)) <= MOST


# A page that is easy on the whole may still hide a hard field.
@pytest.mark.parametrize("field", ["how", "breath", "easier"])
def test_no_field_of_a_client_page_is_above_grade_eight(field):
    grades = {key: textstat.flesch_kincaid_grade(text[field]) for key, text in HOME.items()}
    assert {key: one for key, one in grades.items() if one > MOST} == {}


def test_client_pages_are_of_grade_six_or_lower_on_average():
    assert mean(textstat.flesch_kincaid_grade(client_page(key)) for key in HOME) <= AVERAGE


def test_every_exercise_that_may_go_home_is_counted():
    # 119 entries may go home: the count of the trade's content plan.
    assert set(HOME) == {key for key, facts in FACTS.items() if facts["home_ok"] and key in TEXTS}
    assert sum(facts["home_ok"] for facts in FACTS.values()) == 119


def test_our_own_count_of_syllables_agrees_with_the_library():
    # Two ways of counting, one grade: within one grade for each page, within half a grade over all of them.
    apart = {key: grade(client_page(key)) - textstat.flesch_kincaid_grade(client_page(key)) for key in HOME}
    assert {key: round(by, 2) for key, by in apart.items() if abs(by) > 1} == {}
    assert abs(mean(apart.values())) <= 0.5


# A text known to be hard (the preamble of the constitution of the United States, 1787, in the public domain), so
# that the formula is seen to tell texts apart.
HARD = (
    "We the People of the United States, in Order to form a more perfect Union, establish Justice, insure domestic "
    "Tranquility, provide for the common defence, promote the general Welfare, and secure the Blessings of Liberty "
    "to ourselves and our Posterity, do ordain and establish this Constitution for the United States of America."
)


def test_the_formula_finds_a_hard_text_hard():
    assert textstat.flesch_kincaid_grade(HARD) > 15


# Springs: no step may lead out of the grades that the facts give an exercise.

# What keeps a step inside: it holds only where the setting was moved before, or it names the grade it stops at.
KEPT_IN = r"\b(where|if|after|again|when|back to)\b"


def _said_of_springs(text: str) -> list[str]:
    """Return the clauses of a step, each with the rest of its sentence, that change the spring."""
    return [one for one in re.split(r"(?<=[.;])\s+", text) if re.search(r"\b(lighter|heavier)\b", one, re.I)]


def _runs_out(facts: dict, step: str) -> bool:
    """Return whether a step down or up may lead from the usual grade out of the range, unhindered."""
    ends = {"lighter": facts["spring_min"], "heavier": facts["spring_max"]}
    for said in _said_of_springs(step):
        way = "heavier" if re.search(r"\bheavier\b", said, re.I) else "lighter"
        named = ends[way].replace("_", " ")
        if facts["spring_grade"] == ends[way] and not re.search(rf"{KEPT_IN}|\b{named}\b", said, re.I):
            return True
    return False


@each("key", SPRUNG)
@each("way", ["easier", "harder"])
def test_no_step_by_spring_leads_out_of_the_range(key, way):
    assert not _runs_out(FACTS[key], TEXTS[key][way]), TEXTS[key][way]


NARROW = {"spring_grade": "medium", "spring_min": "medium", "spring_max": "heavy"}


@pytest.mark.parametrize(
    ("step", "out"),
    [
        ("A lighter setting at the same beat.", True),
        ("A heavier setting, three only.", False),
        ("A lighter setting where it was raised.", False),
        ("A lighter setting, medium at the lowest.", False),
        ("Lift higher if it is easy. A lighter setting.", True),
    ],
)
def test_the_check_of_the_range_finds_what_leads_out(step, out):
    assert _runs_out(NARROW, step) is out


def _grades_named(words: str) -> set[str]:
    by_length = sorted(GRADES, key=len, reverse=True)
    pattern = r"(?<!\bas )\b(" + "|".join(grade.replace("_", " ") for grade in by_length) + r")\b"
    return {found.replace(" ", "_") for found in re.findall(pattern, words.lower())}


@each("key", SPRUNG)
def test_every_grade_that_is_named_lies_in_the_range(key):
    facts, text = FACTS[key], TEXTS[key]
    order = list(GRADES)
    inside = set(order[order.index(facts["spring_min"]) : order.index(facts["spring_max"]) + 1])
    for field in ("easier", "harder"):
        # "light" and "heavy" also say how something feels: a grade is one where a setting is spoken of.
        said = " ".join(one for one in re.split(r"(?<=[.;])\s+", text[field]) if "setting" in one)
        assert _grades_named(said) <= inside, text[field]


# Sides.


ON_EACH = r"\b(on|to|with) each (side|leg|arm)\b|\bchange sides\b|\bswap sides\b|\bdo all on one side\b"


def test_what_both_sides_do_at_once_names_no_change_of_sides():
    together = [key for key in TEXTS if FACTS[key]["sides"] == "both_together"]
    fields = {
        key: [TEXTS[key]["dose"], *TEXTS[key]["steps"], HOME.get(key, {}).get("how", "")] for key in together
    }
    assert [key for key, said in fields.items() if re.search(ON_EACH, " ".join(said), re.I)] == []


def test_the_clients_page_of_a_sided_exercise_names_the_other_side():
    other = (
        r"\b(other|change|swap|turn over|each (side|leg|arm|foot|hand|way)|take turns|in turn|both ways)\b"
    )
    sided = [key for key in HOME if FACTS[key]["sides"] != "both_together"]
    assert [key for key in sided if not re.search(other, HOME[key]["how"], re.I)] == []


# Beyond tests.library.test_texts.FORBIDDEN: further words for what no text may say. The house's own list, no source.
NEVER = {
    "a colour": r"\b(pink|brown|gold(en)?|silver|violet|turquoise|beige|colou?red|colou?r-coded)\b",
    "a weight": r"\b(kilos?|grams?|ounces?)\b|\bkg\b",
    "a promise of healing": r"\b(treats?|therap\w+|remed\w+|relieves?|restores?|rehab\w*|detox\w*|"
    r"recover\w*|good for (the|your) \w+ (pain|injur\w+)|gets? rid)\b",
}


@pytest.mark.parametrize("pattern", NEVER.values(), ids=NEVER.keys())
def test_no_text_says(pattern):
    found = [
        (key, field, words)
        for key, text in WORDS.items()
        for field, words in lines_of(text)
        if re.search(pattern, words, re.IGNORECASE)
    ]
    assert found == []


def test_no_text_holds_a_name():
    # A maker, a make or a person would stand as a capital inside a sentence, or behind a mark of trade.
    # Names of exercises of this library are ours.
    ours = {word for payload in FACTS.values() for word in payload["name"].split()}
    inside = re.compile(r"(?<=[a-z0-9,] )[A-Z]\w+|[™®©]")
    found = [
        (key, field, inside.findall(words))
        for key, text in WORDS.items()
        for field, words in lines_of(text)
        if set(inside.findall(words)) - ours
    ]
    assert found == []


def test_the_list_of_set_phrases_stays_short_and_in_use():
    # Beside the test of runs of eight words: each phrase let through is shared, and there are few.
    assert len(SET_PHRASES) <= 6
    said = {
        key: [" ".join(re.findall(r"[a-z'-]+", words.lower())) for _field, words in lines_of(text)]
        for key, text in WORDS.items()
    }
    for phrase in SET_PHRASES:
        runs = [" ".join(phrase.split()[at : at + 8]) for at in range(len(phrase.split()) - 7)]
        users = {key for key, lines in said.items() if any(run in line for run in runs for line in lines)}
        assert len(users) > 1, phrase
