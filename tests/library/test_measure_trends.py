"""Slope, interval and exact p of a trend, against SciPy and against counting every order."""

import datetime as dt
import itertools
import math
from decimal import Decimal as D
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from library.trends import mann_kendall_p, mann_kendall_s, trend

START = dt.date(2026, 1, 5)


def weeks(*numbers):
    return [START + dt.timedelta(weeks=number) for number in numbers]


def test_worked_example():
    """Made up in the measures' paper, its figures from scipy.stats.theilslopes(y, x, 0.95) and an exact count."""
    found = trend(weeks(0, 3, 7, 10, 14, 18), [44, 43, 47, 46, 50, 52])
    assert found.kind == "none"
    assert round(found.slope_per_week, 3) == D("0.444")
    assert [round(end, 3) for end in found.interval] == [D("-0.333"), D("1.000")]
    assert (found.s, round(found.p, 3)) == (11, D("0.056"))


@pytest.mark.parametrize("n", [0, 1, 2, 3])
def test_fewer_than_four_dates_are_too_few(n):
    found = trend(weeks(*range(n)), list(range(n)))
    assert (found.kind, found.slope_per_week, found.interval, found.p) == ("too_few", None, None, None)


# Two-sided critical values of S as counted in the measures' paper, the same as in the table of exact values of
# Kendall's S that the manual of the PAST statistics program points to (after Gilbert 1987).
CRITICAL = [
    pytest.param(5, 10, "0.017", id="5 dates"),
    pytest.param(6, 13, "0.017", id="6 dates"),
    pytest.param(7, 15, "0.030", id="7 dates"),
    pytest.param(8, 18, "0.031", id="8 dates"),
    pytest.param(9, 20, "0.045", id="9 dates"),
    pytest.param(10, 23, "0.047", id="10 dates"),
]


def with_s(n: int, s: int) -> list[int]:
    """Return n different numbers whose Mann-Kendall sum is s: falling pairs are made by moving one to the front."""
    falling, values = (math.comb(n, 2) - s) // 2, []
    rest = list(range(n))
    for left in range(n - 1, -1, -1):
        step = min(falling, left)
        values.append(rest.pop(step))
        falling -= step
    assert mann_kendall_s(values) == s
    return values


@pytest.mark.parametrize(("n", "s", "p"), CRITICAL)
def test_smallest_sum_that_calls_a_trend(n, s, p):
    rising = trend(weeks(*range(n)), with_s(n, s))
    assert (rising.kind, round(rising.p, 3)) == ("rising", D(p))
    assert trend(weeks(*range(n)), [-value for value in with_s(n, s)]).kind == "falling"
    assert trend(weeks(*range(n)), with_s(n, s - 2)).kind == "none"


def test_four_dates_never_make_a_trend():
    """However straight the line: p is 2/24 at best."""
    found = trend(weeks(0, 4, 8, 12), [5, 6, 7, 8])
    assert (found.kind, found.s, round(found.p, 3)) == ("none", 6, D("0.083"))
    assert found.interval == (D("0.25"), D("0.25"))


values_of = st.lists(st.integers(-40, 40), min_size=4, max_size=9)
gaps_of = st.lists(st.integers(1, 60), min_size=9, max_size=9)


@given(values_of, gaps_of)
@settings(max_examples=60, deadline=None)
def test_slope_and_interval_as_scipy(values, gaps):
    days = list(itertools.accumulate(gaps))[: len(values)]
    found = trend([START + dt.timedelta(days=day) for day in days], [D(value) / 2 for value in values])
    slope, _, low, high = stats.theilslopes([value / 2 for value in values], [day / 7 for day in days], 0.95)
    shown = [float(found.slope_per_week), *map(float, found.interval)]
    assert shown == pytest.approx([slope, low, high])


@given(st.lists(st.integers(-40, 40), min_size=4, max_size=12, unique=True))
@settings(max_examples=60, deadline=None)
def test_exact_p_as_scipy_without_ties(values):
    expected = stats.kendalltau(range(len(values)), values, method="exact").pvalue
    assert float(mann_kendall_p(values)) == pytest.approx(expected)


@pytest.mark.parametrize(
    "values",
    [(1, 1, 2, 3), (1, 2, 2, 3, 3), (5, 5, 5, 5), (4, 3, 3, 3, 1, 1), (1, 2, 3, 3, 2, 2), (7, 7, 8, 8, 8, 9)],
    ids=str,
)
def test_exact_p_with_ties_by_counting_every_order(values):
    seen = abs(mann_kendall_s(values))
    orders = list(itertools.permutations(values))
    extreme = sum(abs(mann_kendall_s(order)) >= seen for order in orders)
    assert mann_kendall_p(values) == Fraction(extreme, len(orders))


def test_exact_p_with_many_dates_comes_near_the_normal_one():
    """Five years of monthly tests, with ties: exact by generating function, beside SciPy's approximation."""
    values = [(place + place * place % 17) // 3 for place in range(60)]
    p = float(mann_kendall_p(values))
    assert p == pytest.approx(stats.kendalltau(range(60), values, method="asymptotic").pvalue, abs=0.01)
    flat = [place * 7 % 10 for place in range(40)]
    near = stats.kendalltau(range(40), flat, method="asymptotic").pvalue
    assert float(mann_kendall_p(flat)) == pytest.approx(near, abs=0.02)


@given(st.lists(st.integers(0, 5), min_size=2, max_size=14))
def test_p_is_a_probability_and_the_same_backwards(values):
    p = mann_kendall_p(values)
    assert 0 < p <= 1
    assert p == mann_kendall_p(values[::-1])


def test_all_the_same_is_no_trend():
    found = trend(weeks(*range(8)), [5] * 8)
    assert (found.kind, found.slope_per_week, found.interval, found.p) == ("none", 0, (0, 0), 1)


def test_weeks_are_real_gaps_not_test_numbers():
    """One a week for two weeks, then after half a year: the last pair rises slowly."""
    found = trend(weeks(0, 1, 2, 28), [1, 2, 3, 4])
    slope = stats.theilslopes([1, 2, 3, 4], [0, 1, 2, 28], 0.95).slope
    assert float(found.slope_per_week) == pytest.approx(slope)


def test_of_two_on_a_day_the_later_counts():
    days = [*weeks(0, 1, 2, 3), weeks(3)[0]]
    assert trend(days, [1, 2, 3, 9, 4]) == trend(weeks(0, 1, 2, 3), [1, 2, 3, 4])


@pytest.mark.parametrize(
    ("dates", "values", "error"),
    [
        pytest.param(weeks(0, 1), [1], ValueError, id="a value is missing"),
        pytest.param(weeks(1, 0), [1, 2], ValueError, id="dates go back"),
        pytest.param(weeks(0, 1), [1, 2.5], TypeError, id="a binary float"),
    ],
)
def test_what_is_no_series(dates, values, error):
    with pytest.raises(error):
        trend(dates, values)
