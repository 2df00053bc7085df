"""Conversions against NIST Special Publication 811 (2008), appendix B: 1 in = 2.54 cm, 1 lb = 0.45359237 kg, exact.

Rows marked 'table' are those factors times a whole number; the rest is arithmetic with them.
"""

from decimal import Decimal

import pytest

from studio import units
from tests.rows import each


@pytest.mark.parametrize(
    ("feet", "inches", "mm"),
    [
        pytest.param(1, "0", 305, id="table: a foot is 304.8 mm"),
        pytest.param(0, "1", 25, id="table: an inch is 25.4 mm"),
        pytest.param(5, "6", 1676, id="five foot six"),
        pytest.param(6, "0", 1829, id="six foot"),
        pytest.param(5, "11.5", 1816, id="half an inch"),
    ],
)
def test_mm_from_feet(feet, inches, mm):
    assert units.mm_from_feet(feet, Decimal(inches)) == mm


@pytest.mark.parametrize(
    ("pounds", "grams"),
    [
        pytest.param("1", 454, id="table: a pound is 453.59237 g"),
        pytest.param("100", 45359, id="a hundred pounds"),
        pytest.param("150.5", 68266, id="half a pound"),
    ],
)
def test_g_from_pounds(pounds, grams):
    assert units.g_from_pounds(Decimal(pounds)) == grams


def test_metric_loses_nothing():
    assert units.mm_from_cm(Decimal("168.5")) == 1685
    assert units.cm_from_mm(1685) == Decimal("168.5")
    assert units.g_from_kg(Decimal("68.4")) == 68400
    assert units.kg_from_g(68400) == Decimal("68.4")


@each("mm", range(1200, 2101, 7))
def test_feet_and_inches_come_back(mm):
    feet, inches = units.feet_from_mm(mm)
    assert 0 <= inches < 12
    # A tenth of an inch is 2.54 mm: half of it either way, and the rounding to whole millimetres.
    assert abs(units.mm_from_feet(feet, inches) - mm) <= 2


def test_eleven_and_almost_twelve_inches_are_the_next_foot():
    assert units.feet_from_mm(1828) == (6, Decimal("0.0"))


@each("g", range(40_000, 130_000, 1717))
def test_pounds_come_back(g):
    assert abs(units.g_from_pounds(units.pounds_from_g(g)) - g) <= 23
