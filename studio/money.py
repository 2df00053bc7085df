"""Amounts of money: exact, in whole minor units (pence, cents) with the three letters of their currency."""

from decimal import Decimal

from studio.currencies import DIGITS

# What most currencies have, for letters that are not on the list (yet).
USUAL = 2


def places(currency: str) -> int:
    """Return how many digits stand after the point in a currency."""
    return DIGITS.get(currency, USUAL)


def to_minor(amount: Decimal, currency: str) -> int:
    """Return an amount in whole minor units. Raises ValueError when it has more places than its currency."""
    minor = amount.scaleb(places(currency))
    if minor != minor.to_integral_value():
        raise ValueError(f"{currency} has {places(currency)} places")
    return int(minor)


def from_minor(minor: int, currency: str) -> Decimal:
    """Return minor units as an amount with all its places: 62000 in GBP is 620.00."""
    return Decimal(minor).scaleb(-places(currency))
