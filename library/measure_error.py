"""How large the error of a measure is, from what studies and repeats say. Plain computation, exact decimals.

`sem` below is the standard error of measurement: the spread of repeated readings on one person who did not
change, in the unit of the measure. 95 % of the differences between two such readings lie within
1.96 x root 2 x SEM: J. M. Bland, note on the repeatability coefficient, University of York, 2005.
"""

from collections.abc import Sequence
from decimal import Decimal

# Standard normal quantiles as the papers on measurement error print them.
QUANTILES = {90: Decimal("1.645"), 95: Decimal("1.96")}
TWO = Decimal(2)


def sem_from_reliability(sd: Decimal, icc: Decimal) -> Decimal:
    """Return the SEM from the spread between people and the reliability (ICC, 0 to 1): SD x root(1 - ICC)."""
    if not 0 <= icc <= 1:
        raise ValueError("A reliability lies between 0 and 1.")
    return sd * (1 - icc).sqrt()


def change_limit(sem: Decimal, *, level: int = 95, tries: tuple[int, int] = (1, 1)) -> Decimal:
    """Return the smallest change beyond error. level: 90 or 95 per cent.

    tries: of how many tries each of the two values is the mean. Their number helps against the error from try to
    try, not against a bad day.
    """
    first, second = tries
    return QUANTILES[level] * sem * (1 / Decimal(first) + 1 / Decimal(second)).sqrt()


def gap_change_limit(limit: Decimal, sem: Decimal | None = None) -> Decimal:
    """Return the limit for a change of the gap between sides: four readings, 1.96 x 2 x SEM.

    Where no SEM is known it is root 2 times the limit of one side, which is the same thing.
    """
    if sem is not None:
        return QUANTILES[95] * TWO * sem
    return limit * TWO.sqrt()


def within_person_sd(pairs: Sequence[tuple[Decimal | int, Decimal | int]]) -> Decimal:
    """Return the SEM from people tested twice: root(sum of squared differences / 2n).

    Bland and Altman, Statistics notes: measurement error, BMJ 1996;313:744. ValueError without a pair.
    """
    if not pairs:
        raise ValueError("At least one pair of readings is needed.")
    squares = sum((Decimal(second) - Decimal(first)) ** 2 for first, second in pairs)
    return (squares / (2 * len(pairs))).sqrt()
