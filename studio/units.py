"""Lengths and masses between what the database keeps (whole millimetres, whole grams) and what is typed.

An inch is 25.4 mm and a pound 453.59237 g, both exactly: the international yard and pound agreement of
1959, as in NIST Special Publication 811 (2008), appendix B.8.
"""

from decimal import ROUND_HALF_UP, Decimal

MM_PER_CM = Decimal(10)
MM_PER_INCH = Decimal("25.4")
INCHES_PER_FOOT = 12
GRAMS_PER_KG = Decimal(1000)
GRAMS_PER_POUND = Decimal("453.59237")
_TENTH = Decimal("0.1")


def _whole(value: Decimal) -> int:
    return int(value.quantize(Decimal(1), ROUND_HALF_UP))


def _tenths(value: Decimal) -> Decimal:
    return value.quantize(_TENTH, ROUND_HALF_UP)


def mm_from_cm(cm: Decimal) -> int:
    """Return whole millimetres from centimetres."""
    return _whole(cm * MM_PER_CM)


def cm_from_mm(mm: int) -> Decimal:
    """Return centimetres with one decimal, which loses nothing."""
    return _tenths(Decimal(mm) / MM_PER_CM)


def mm_from_feet(feet: int, inches: Decimal) -> int:
    """Return whole millimetres from feet and inches."""
    return _whole((feet * INCHES_PER_FOOT + inches) * MM_PER_INCH)


def feet_from_mm(mm: int) -> tuple[int, Decimal]:
    """Return whole feet and the inches left, to a tenth of an inch; never twelve inches."""
    inches = _tenths(Decimal(mm) / MM_PER_INCH)
    feet = int(inches // INCHES_PER_FOOT)
    return feet, inches - feet * INCHES_PER_FOOT


def g_from_kg(kg: Decimal) -> int:
    """Return whole grams from kilograms."""
    return _whole(kg * GRAMS_PER_KG)


def kg_from_g(g: int) -> Decimal:
    """Return kilograms to a tenth."""
    return _tenths(Decimal(g) / GRAMS_PER_KG)


def g_from_pounds(pounds: Decimal) -> int:
    """Return whole grams from pounds."""
    return _whole(pounds * GRAMS_PER_POUND)


def pounds_from_g(g: int) -> Decimal:
    """Return pounds to a tenth."""
    return _tenths(Decimal(g) / GRAMS_PER_POUND)
