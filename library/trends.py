"""A trend over several dates: median slope with its interval, and an exact test. Plain computation.

Slope and interval after Sen (J Am Stat Assoc 1968;63:1379-1389), the test after Mann (1945) and Kendall. Both work
on the order of the values, so that one bad day moves them little. No library is needed at run time.
"""

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import cache

FEWEST = 4
CALLED_BELOW = Fraction(5, 100)
DAYS_A_WEEK = 7
# 97.5 % quantile of the standard normal distribution, for the ranks of a 95 % interval.
Z = 1.959963984540054


@dataclass(frozen=True, slots=True)
class Trend:
    """What several dates say together: `kind` 'too_few', 'rising', 'falling' or 'none'.

    `slope_per_week` and `interval` (low, high) are in the unit of the measure a week; `s` is the Mann-Kendall sum
    and `p` its exact two-sided probability. All are None, and `s` 0, with too few dates. A straight line has an
    interval of no width: the kind, not the interval, says how sure it is.
    """

    kind: str
    slope_per_week: Decimal | None = None
    interval: tuple[Decimal, Decimal] | None = None
    s: int = 0
    p: Decimal | None = None


def trend(dates: Sequence[date], values: Sequence[Decimal | int]) -> Trend:
    """Judge the trend of values over their dates (rule R8). Dates rise; of two on a day the later given counts.

    Fewer than four dates are too few. ValueError where dates and values do not pair up or dates go back;
    TypeError for binary floats.
    """
    if len(dates) != len(values):
        raise ValueError("Each value needs its date.")
    if any(later < earlier for earlier, later in zip(dates, dates[1:], strict=False)):
        raise ValueError("Dates go from the oldest to the newest.")
    if any(isinstance(value, float) for value in values):
        raise TypeError("Measured values are Decimals or whole numbers.")
    by_day = dict(zip(dates, map(Fraction, values), strict=True))
    if len(by_day) < FEWEST:
        return Trend("too_few")
    days, heights = [day.toordinal() for day in by_day], list(by_day.values())
    slopes = sorted(_slopes(days, heights))
    low, high = _interval(slopes, heights)
    s = mann_kendall_s(heights)
    p = mann_kendall_p(heights)
    kind = "none" if p >= CALLED_BELOW else "rising" if s > 0 else "falling"
    return Trend(kind, _decimal(_median(slopes)), (_decimal(low), _decimal(high)), s, _decimal(p))


def mann_kendall_s(values: Sequence) -> int:
    """Return how many later values are above earlier ones, less how many are below; ties count nothing."""
    return sum(
        (later > earlier) - (later < earlier)
        for place, earlier in enumerate(values)
        for later in values[place + 1 :]
    )


def mann_kendall_p(values: Sequence) -> Fraction:
    """Return the exact two-sided p of S: of all orders of these values, the share with an |S| at least as large.

    Exact for any number of values, with or without ties. See `_orders`.
    """
    sizes = tuple(sorted(Counter(values).values()))
    orders = _orders(sizes)
    s, most = abs(mann_kendall_s(values)), len(orders) - 1
    extreme = sum(count for falling, count in enumerate(orders) if abs(most - 2 * falling) >= s)
    return Fraction(extreme, sum(orders))


@cache
def _orders(sizes: tuple[int, ...]) -> tuple[int, ...]:
    """Return, for falling pairs 0, 1, 2 ..., how many distinct orders of the values have that many.

    sizes: how often each value occurs. The counts are the coefficients of the q-multinomial (1 - q)(1 - q^2)...
    over the same product for each group of equal values (MacMahon), so nothing has to be listed. With m untied
    pairs, of which f fall, S is m - 2f.
    """
    n = sum(sizes)
    untied = math.comb(n, 2) - sum(math.comb(size, 2) for size in sizes)
    counts = [1] + [0] * untied
    for k in range(1, n + 1):
        for place in range(untied, k - 1, -1):
            counts[place] -= counts[place - k]
    for size in sizes:
        for k in range(1, size + 1):
            for place in range(k, untied + 1):
                counts[place] += counts[place - k]
    return tuple(counts)


def _slopes(days: list[int], heights: list[Fraction]) -> list[Fraction]:
    return [
        (heights[j] - heights[i]) * DAYS_A_WEEK / (days[j] - days[i])
        for i in range(len(days))
        for j in range(i + 1, len(days))
    ]


def _interval(slopes: list[Fraction], heights: list[Fraction]) -> tuple[Fraction, Fraction]:
    """The slopes at the ranks that Sen's equation 2.6 gives for 95 %; days differ, so only values can tie."""
    n = len(heights)
    ties = sum(_spread(size) for size in Counter(heights).values())
    reach = Z * math.sqrt((_spread(n) - ties) / 18)
    low = max(round((len(slopes) - reach) / 2) - 1, 0)
    high = min(round((len(slopes) + reach) / 2), len(slopes) - 1)
    return slopes[low], slopes[high]


def _spread(n: int) -> int:
    return n * (n - 1) * (2 * n + 5)


def _median(ordered: list[Fraction]) -> Fraction:
    middle = len(ordered) // 2
    return ordered[middle] if len(ordered) % 2 else (ordered[middle - 1] + ordered[middle]) / 2


def _decimal(value: Fraction) -> Decimal:
    return Decimal(value.numerator) / Decimal(value.denominator)
