"""The open questions for a licensed clinician: the data, the counts, the page and its PDF.

The counts of rules by kind of support were taken from the data by hand on 2026-11-25 and must add up to all rules.
"""

import copy
import json

import pytest

from library import open_questions, question_wording, tables
from library.contents import BrokenLibrary
from sessions import pdf
from sessions.demo import factories as f
from studio.models import Studio
from tests.sessions import pdf_reading as reading

ROWS = json.loads((tables.DATA / "rules" / "open_questions.json").read_text(encoding="utf-8"))[
    "open_questions"
]
PAGE, PDF = "/questions/print/", "/questions/pdf/"


def test_the_shipped_questions_hold():
    found = open_questions.questions()
    assert len(found) == 37
    assert len({one.about for one in found}) == 37


def sizes_of(data: bytes) -> set[tuple[int, int]]:
    """Return the sizes of the pages of a PDF in whole points."""
    boxes = [[float(edge) for edge in page.mediabox] for page in reading.opened(data).pages]
    return {(round(right - left), round(top - bottom)) for left, bottom, right, top in boxes}


BROKEN = {
    "unknown condition": (
        "conditions",
        ["gout_of_the_moon"],
        "Q03, conditions: There is no 'gout_of_the_moon'",
    ),
    "unknown demand": ("demands", ["levitation"], "Q03, demands: There is no 'levitation'"),
    "unknown rule": ("rules", ["R9999"], "Q03, rules: There is no 'R9999'"),
    "unknown adaptation row": ("lifts", ["L99"], "Q03, lifts: There is no 'L99'"),
    "unknown sign": ("red_flags", ["x"], "Q03, red_flags: There is no 'x'"),
    "unknown measure": ("measures", ["x"], "Q03, measures: There is no 'x'"),
    "no list": ("rules", None, "Q03, rules: Give a list"),
    "no words": ("ask", "  ", "Q03, ask: Write it."),
    "a double id": ("id", "Q04", "Q04, id: This id stands twice."),
}


@pytest.mark.parametrize(("field", "value", "says"), BROKEN.values(), ids=BROKEN)
def test_a_broken_row_is_named_with_its_field(field, value, says):
    rows = copy.deepcopy(ROWS)
    rows[2][field] = value
    with pytest.raises(BrokenLibrary) as broken:
        open_questions.read(rows)
    assert f"rules/open_questions.json, {says}" in str(broken.value)


def test_rules_are_those_of_the_conditions_on_the_demands():
    question = next(one for one in open_questions.questions() if one.id == "Q06")
    rules = {rule.id: rule for rule in tables.rule_table().rules}
    assert question.rules
    assert {rules[key].condition for key in question.rules} == set(question.conditions)
    assert {rules[key].demand for key in question.rules} == set(question.demands)


def test_named_rules_speak_of_the_named_conditions():
    rules = {rule.id: rule for rule in tables.rule_table().rules}
    for row in ROWS:
        assert {rules[key].condition for key in row["rules"]} <= set(row["conditions"]), row["id"]
        assert {rules[key].demand for key in row["rules"]} <= set(row["demands"]), row["id"]


def test_counts_add_up():
    counted = open_questions.counts(tables.rule_table())
    assert sum(counted[support] for support in open_questions.SUPPORTS) == counted["rules"] == 886
    assert (counted["practice"], counted["by_extension"]) == (421, 253)
    assert (counted["direct"], counted["from_memory"], counted["studio"]) == (179, 33, 0)
    assert (counted["lifts"], counted["lifts_practice"]) == (42, 34)


def test_the_figures_stand_in_the_first_question():
    first = question_wording.sheet(tables.rule_table())["questions"][0]["ask"]
    assert "Of 886 rules, 421 rest on common practice alone and 253 on" in first


@pytest.mark.django_db
def test_the_page_for_the_browsers_print(as_instructor):
    text = as_instructor.get(PAGE).content.decode()
    assert text.count("Let it stand") == 37
    assert tables.rule_table().version in text and "Signature" in text
    assert "has not been reviewed by a licensed clinician" in text
    assert "Rules of this studio" not in text


@pytest.mark.django_db
def test_rules_of_the_studio_stand_on_it_and_in_its_version(as_owner):
    rule = f.StudioRuleFactory(reason="The <b>floor</b> is hard.")
    text = as_owner.get(PAGE).content.decode()
    assert "Rules of this studio, stricter than the table" in text
    assert "The &lt;b&gt;floor&lt;/b&gt; is hard." in text and rule.by.full_name in text
    assert text.count("Let it stand") == 38


@pytest.mark.django_db
def test_where_no_pdf_can_be_made_the_browser_prints(as_owner, monkeypatch):
    def fails(*args, **kwargs):
        raise pdf.EngineMissing("switched off")

    monkeypatch.setattr(pdf, "make_pdf", fails)
    answer = as_owner.get(PDF)
    assert (answer.status_code, answer.url) == (302, PAGE)


@pytest.mark.django_db
@pytest.mark.parametrize(("paper", "size"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_the_pdf(as_owner, paper, size):
    """ISO 216: A4 is 210 by 297 mm. ANSI/ASME Y14.1: Letter is 8.5 by 11 in. Both here in whole points."""
    Studio.objects.update(paper=paper)
    answer = as_owner.get(PDF)
    assert answer["Content-Type"] == "application/pdf"
    words = " ".join(reading.texts(answer.content))
    assert sizes_of(answer.content) == {size}
    for one in open_questions.questions():
        assert " ".join(one.about.split()) in " ".join(words.split()), one.id
    assert tables.rule_table().version in words
