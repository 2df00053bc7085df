"""The conditions of the rule table to read in: every one of the eighty, whoever has it.

What a page must say is read from the table by other means than the page's own; windows in words and the counts of
the library are worked out here by hand or by asking the judge exercise by exercise.
"""

import datetime as dt
import re
from collections import Counter
from html import unescape
from types import SimpleNamespace

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from library import condition_page, condition_wording, tables
from library.precautions import judge

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now", "house")]
TABLE = tables.rule_table()


def page_of(browser, condition):
    answer = browser.get(reverse("library:condition", args=[condition]))
    assert answer.status_code == 200, condition
    return unescape(answer.content.decode())


def found(browser, words):
    page = browser.get(reverse("library:conditions"), {"words": words}).content.decode()
    return re.findall(r'href="/library/conditions/(\w+)/"', page)


def test_every_condition_has_a_page_that_says_all_its_rules_and_its_standing_caution(as_instructor):
    for condition, row in TABLE.conditions.items():
        page = page_of(as_instructor, condition)
        for rule in TABLE.rules_of.get(condition, ()):
            assert rule.reason in page, (condition, rule.id)
            assert rule.adaptation in page, (condition, rule.id)
            assert rule.id in page
        for words in (row["note"], row["clearance"]["note"], *row["session_notes"]):
            assert words in page, condition
        assert "has not been reviewed by a licensed clinician" in page
        assert "does not diagnose" in page and "is not a permission" in page
        assert page.count('class="signs"') == 1 and "Chest pain or pressure, or in jaw, neck, arm" in page


def test_an_unknown_condition_is_not_found(as_instructor):
    assert as_instructor.get(reverse("library:condition", args=["gout_of_the_moon"])).status_code == 404


@pytest.mark.parametrize(
    ("words", "first", "not_among"),
    [
        ("hip repl", "hip_replacement_posterior", "whiplash"),
        ("HÍP", "hip_replacement_posterior", "whiplash"),
        ("caesarean", "postnatal_caesarean", "pregnancy"),
        ("acl", "acl_reconstruction", "knee_replacement"),
        ("glaucoma", "glaucoma", "osteoporosis"),
    ],
)
def test_search_by_the_beginnings_of_words(as_instructor, words, first, not_among):
    keys = found(as_instructor, words)
    assert first in keys and not_among not in keys


def test_without_words_all_eighty_stand_under_their_groups(as_instructor):
    keys = found(as_instructor, "")
    assert len(keys) == len(set(keys)) == 80
    assert found(as_instructor, "nothing like it") == []
    page = as_instructor.get(reverse("library:conditions"), {"words": "nothing like it"}).content.decode()
    assert "No condition by that name" in page


def test_the_search_gives_only_the_found_part_to_the_page_itself(as_instructor):
    answer = as_instructor.get(
        reverse("library:conditions"), {"words": "knee"}, headers={"HX-Request": "true"}
    )
    assert answer.content.decode().lstrip().startswith('<div id="found"')


def test_windows_after_a_birth_are_told_in_weeks(as_instructor):
    """Six and twelve weeks are the limits of the rules after a birth in the table (42 and 84 days)."""
    page = page_of(as_instructor, "postnatal_vaginal")
    assert "In the first 6 weeks" in page and "From 6 weeks to 12 weeks" in page
    strips = re.findall(r'class="band" viewBox="0 0 720 30" role="img" aria-label="([^"]+)"', page)
    assert any(strip.startswith("in the first 6 weeks: Avoid") for strip in strips)


def test_a_condition_without_dates_has_no_picture_of_time(as_instructor):
    assert condition_wording.picture("osteoporosis", TABLE) is None
    assert "Through time" not in page_of(as_instructor, "osteoporosis")


def test_the_clinic_is_asked_for_as_long_as_the_table_says():
    """A vertebral fracture: a written word for 84 days, then the level that follows."""
    rows = condition_wording.clinic(TABLE.conditions["osteoporosis_vertebral_fracture"])["rows"]
    assert [(row["level"], row["when"]) for row in rows] == [
        ("written_before_start", "in the first 12 weeks"),
        ("ask", "from 12 weeks on"),
    ]
    silent = condition_wording.clinic(TABLE.conditions["reflux"])["rows"]
    assert [row["words"] for row in silent] == [
        "The table asks for no word of a clinic. Ask when something has changed."
    ]


@pytest.mark.parametrize(
    ("condition", "values"),
    [
        ("osteoporosis", {}),
        ("pregnancy", {}),
        ("knee_replacement", {"side": "both"}),
        ("hip_replacement_posterior", {"side": "both"}),
    ],
)
def test_the_library_is_counted_as_the_judge_judges_it(condition, values):
    """Counted here exercise by exercise; the day is not known, so the strictest of all windows counts."""
    flag = SimpleNamespace(condition=condition, **values)
    verdicts = {key: judge([flag], key, dt.date(2026, 11, 25)).verdict for key in tables.exercises()}
    shown = condition_page.stages(condition, TABLE)[0]
    assert shown.all == Counter(verdicts.values())
    home = [verdict for key, verdict in verdicts.items() if tables.exercise(key)["home_ok"]]
    assert shown.home == Counter(home)
    assert sum(sum(counts.values()) for counts in shown.by_apparatus.values()) == len(verdicts) == 287


def test_time_after_an_operation_gives_more_of_the_library_back():
    """By extension of the windows of the table: what is left out in the first weeks is not left out at a year."""
    stages = condition_page.stages("acl_reconstruction", TABLE)
    avoided = [stage.all.get("avoid", 0) for stage in stages[1:]]
    assert avoided[0] == max(avoided) > avoided[-1]
    assert stages[0].all.get("avoid", 0) >= avoided[0]


def test_a_source_says_how_it_was_read(as_instructor):
    page = page_of(as_instructor, "osteoporosis")
    assert "Osteoporosis Canada leaflet and page (paperzz.com 7790346; osteoporosis.ca)" in page
    assert "(checked on a secondary copy)" in page
    assert "Too Fit To Fracture" in page


def test_the_lists_make_few_queries(as_instructor):
    for url in (reverse("library:conditions"), reverse("library:condition", args=["pregnancy"])):
        as_instructor.get(url)
        with CaptureQueriesContext(connection) as seen:
            as_instructor.get(url)
        assert len(seen) < 12, url
