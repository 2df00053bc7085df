"""Measures in words: what is said of a change, a gap and a trend, and that nothing is praised."""

import datetime as dt
import re
from decimal import Decimal as D

import pytest

from library import measure_wording as wording
from library import measures
from library.measures import all_measures, change, gap, gap_change, measure, trend

KNEE = measure("knee_to_wall_lunge")
REACH = measure("back_saver_sit_and_reach")
BRIDGE = measure("side_bridge")


@pytest.mark.parametrize(
    ("of", "before", "now", "short", "long"),
    [
        (KNEE, "6", "9", "up 3.0 cm", "Up 3.0 cm: more than noise, better."),
        (KNEE, "9", "6", "down 3.0 cm", "Down 3.0 cm: more than noise, less than before."),
        (KNEE, "6", "6.5", "up 0.5 cm, within noise", "Up 0.5 cm: within noise, which reaches to 1.9 cm."),
        (REACH, "-8.5", "-4.5", "up 4.0 cm", "Up 4.0 cm: more than noise, better."),
        (BRIDGE, "44", "50", "up 6 s, within noise", "Up 6 s: within noise, which reaches to 30.4 s."),
        (BRIDGE, "44", "44", "the same", "The same as before."),
    ],
)
def test_change_in_words(of, before, now, short, long):
    found = change(of, D(before), D(now))
    assert wording.change_words(of, found) == short
    assert wording.change_sentence(of, found) == long


@pytest.mark.parametrize(
    ("of", "left", "right", "short", "long"),
    [
        (KNEE, "9", "11.5", "left 2.5 cm behind", "Left is 78 % of right."),
        (KNEE, "11.5", "9", "right 2.5 cm behind", "Right is 78 % of left."),
        (
            BRIDGE,
            "44",
            "50",
            "6 s apart, within noise",
            "Right 6 s more than left. A gap under 30.4 s is within noise.",
        ),
        (BRIDGE, "44", "44", "even", "Both sides the same."),
        (BRIDGE, "0", "0", "cannot tell", "Cannot tell. Both sides are at nought"),
        (BRIDGE, "0", "12", "12 s apart, within noise", "One side is at nought, so there is no percentage."),
        (REACH, "-12", "-4", "left 8.0 cm behind", "Right 8.0 cm more than left. A gap under 4 cm"),
    ],
)
def test_gap_in_words(of, left, right, short, long):
    found = gap(of, D(left), D(right))
    assert wording.gap_words(of, found) == short
    assert long in wording.gap_sentence(of, found)


def test_reach_never_says_per_cent_of_a_side():
    assert "%" not in wording.gap_sentence(REACH, gap(REACH, D(-2), D(6)))


def test_reasons_are_told():
    found = change(KNEE, D(6), D(9), protocol_same=False)
    assert wording.change_words(KNEE, found) == "cannot tell"
    assert wording.change_sentence(KNEE, found) == "Cannot tell. They were not taken in the same way."
    assert wording.reason_words("") == ""


@pytest.mark.parametrize(
    ("before", "now", "said"),
    [
        (("6", "11"), ("9", "11"), "gap 3.0 cm narrower"),
        (("9", "10"), ("9", "13"), "gap 3.0 cm wider"),
        (("9", "11"), ("12", "9"), "the sides changed places"),
        (("9", "11"), ("9.5", "11"), "gap within noise of what it was"),
    ],
)
def test_gap_change_in_words(before, now, said):
    found = gap_change(KNEE, tuple(map(D, before)), tuple(map(D, now)))
    assert wording.gap_change_words(KNEE, found) == said


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ([5, 6, 7], "too few tests for a trend"),
        ([5, 6, 7, 8], "no clear trend"),
        ([5, 6, 7, 8, 9, 10], "rising, about 0.25 cm a week"),
        ([10, 9, 8, 7, 6, 5], "falling, about 0.25 cm a week"),
    ],
)
def test_trend_in_words(values, said):
    days = [dt.date(2026, 1, 5) + dt.timedelta(weeks=4 * place) for place in range(len(values))]
    assert wording.trend_words(KNEE, trend(days, values)) == said


def test_limits_say_whose_they_are_and_how_sure():
    assert "1.9 cm" in wording.limit_words(KNEE)
    assert "level not stated" in wording.limit_words(KNEE)
    assert wording.limit_words(BRIDGE).endswith("Found in: 24 active women, a week apart, 95 % level.")


def test_sources_say_how_much_was_read():
    assert wording.source_words("Powden2015").endswith("(read in the abstract)")
    assert wording.source_words("LopezMinarro2009").endswith("(read in its table)")


def test_numbers_keep_the_decimals_of_their_measure():
    assert wording.value_words(KNEE, D("9")) == "9.0 cm"
    assert wording.value_words(REACH, D("-2.5"), signed=True) == "−2.5 cm"
    assert wording.value_words(REACH, D("2.5"), signed=True) == "+2.5 cm"
    assert wording.plain(REACH, D("-2.5")) == "-2.5"
    assert wording.plain(BRIDGE, D("44.0")) == "44"


def test_no_word_gives_a_permission_or_praise():
    forbidden = re.compile(r"\b(safe|clear to|allowed|ok|normal|great|well done|success\w*)\b|!", re.I)
    for of in all_measures().values():
        said = measures.words(of.id)
        for line in (
            said.name,
            said.short,
            said.what,
            said.kit,
            *said.how,
            said.same,
            said.stop,
            said.bottom,
        ):
            assert line
            assert not forbidden.search(line), line
