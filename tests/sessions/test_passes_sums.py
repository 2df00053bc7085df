"""Passes as sums, without a database. Days are checked against Python's own calendar (datetime, dateutil)."""

import datetime as dt
from decimal import Decimal

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from sessions import pass_wording as wording
from sessions.passes import Holding, Standing, ahead, balance, standing, state, take_from
from studio import money

DAY = dt.date(2026, 11, 25)


def holding(key=1, left=5, bought=-10, last=None):
    """Return a pass bought so many days before DAY, with its last day so many after."""
    return Holding(
        key,
        left,
        DAY + dt.timedelta(days=bought),
        None if last is None else DAY + dt.timedelta(days=last),
    )


TAKEN = {
    "the one that ends first": ([holding(1, last=30), holding(2, last=20)], 2),
    "one with an end before one without": ([holding(1), holding(2, last=300)], 2),
    "the older of two that end together": ([holding(1, bought=-5, last=9), holding(2, last=9)], 2),
    "an empty one is passed over": ([holding(1, left=0, last=2), holding(2, last=20)], 2),
    "one that ended yesterday is passed over": ([holding(1, last=-1), holding(2)], 2),
    "the last day still counts": ([holding(1, last=0), holding(2)], 1),
    "the day it was bought counts": ([holding(1, bought=0)], 1),
    "not yet bought": ([holding(1, bought=1)], None),
    "none left": ([holding(1, left=0)], None),
    "no pass": ([], None),
}


@pytest.mark.parametrize("held, expected", TAKEN.values(), ids=TAKEN)
def test_which_pass_a_session_is_taken_from(held, expected):
    found = take_from(held, DAY)
    assert (found.key if found else None) == expected


STANDINGS = {
    "several": ([holding(left=4)], Standing("left", 4), "4 left"),
    "two passes together": ([holding(1, left=1), holding(2, left=2, last=3)], Standing("left", 3), "3 left"),
    "one": ([holding(left=1)], Standing("last", 1), "last one"),
    "none": ([holding(left=0)], Standing("none"), "none left"),
    "ended with some unused": ([holding(left=2, last=-1)], Standing("ended"), "pass ended"),
    "never one": ([], Standing("no_pass"), "no pass"),
}


@pytest.mark.parametrize("held, expected, words", STANDINGS.values(), ids=STANDINGS)
def test_how_somebody_stands(held, expected, words):
    assert standing(held, DAY) == expected
    assert wording.left_words(expected) == words


STATES = {
    "running": (holding(), "running"),
    "on its last day": (holding(last=0), "running"),
    "used up before it ended": (holding(left=0, last=-1), "used_up"),
    "ended": (holding(last=-1), "ended"),
    "not begun": (holding(bought=1), "to_begin"),
}


@pytest.mark.parametrize("one, expected", STATES.values(), ids=STATES)
def test_states_of_a_pass(one, expected):
    assert state(one, DAY) == expected


def test_booked_ahead_goes_pass_by_pass_and_the_rest_is_told():
    days = [DAY + dt.timedelta(weeks=n) for n in range(5)]
    counts, beyond = ahead([holding(1, left=2, last=60), holding(2, left=1)], reversed(days))
    assert (counts, beyond) == ({1: 2, 2: 1}, 2)


def test_what_is_booked_after_the_last_day_is_not_on_the_pass():
    counts, beyond = ahead([holding(1, left=9, last=7)], [DAY + dt.timedelta(days=n) for n in (7, 8)])
    assert (counts, beyond) == ({1: 1}, 1)


@given(
    lefts=st.lists(st.integers(0, 6), max_size=4),
    ends=st.lists(st.none() | st.integers(-5, 40), min_size=4, max_size=4),
    days=st.lists(st.integers(0, 60), max_size=20),
)
def test_nothing_is_booked_ahead_twice(lefts, ends, days):
    held = [holding(n, left=left, last=end) for n, (left, end) in enumerate(zip(lefts, ends, strict=False))
            if end is None or end >= -10]  # fmt: skip
    counts, beyond = ahead(held, [DAY + dt.timedelta(days=n) for n in days])
    assert sum(counts.values()) + beyond == len(days)
    assert all(counts[one.key] <= one.left for one in held)


LEAPS = {
    "a year from 29 February": (dt.date(2028, 2, 29), relativedelta(years=1), dt.date(2029, 2, 28)),
    "three months over a leap day": (dt.date(2027, 11, 30), relativedelta(months=3), dt.date(2028, 2, 29)),
    "over the clocks going forward": (dt.date(2027, 3, 27), relativedelta(days=2), dt.date(2027, 3, 29)),
    "over the clocks going back": (dt.date(2027, 10, 30), relativedelta(days=2), dt.date(2027, 11, 1)),
}


@pytest.mark.parametrize("bought, span, last", LEAPS.values(), ids=LEAPS)
def test_last_days_are_plain_dates(bought, span, last):
    """TIM-4, TIM-7: as python-dateutil counts; every day from the first to the last is covered, none after."""
    assert bought + span == last
    one = Holding(1, 1, bought, last)
    for number in range(bought.toordinal(), last.toordinal() + 1):
        assert one.covers(dt.date.fromordinal(number))
    assert not one.covers(dt.date.fromordinal(last.toordinal() + 1))
    assert not one.covers(dt.date.fromordinal(bought.toordinal() - 1))


@given(st.lists(st.integers(-3, 20)))
def test_the_balance_is_the_sum(deltas):
    assert balance(deltas) == sum(deltas)


# ISO 4217's minor units, from memory.
AMOUNTS = {
    "pounds": ("GBP", "620.5", 62050),
    "no small unit": ("JPY", "12000", 12000),
    "three places": ("KWD", "45.125", 45125),
}


@pytest.mark.parametrize("currency, amount, minor", AMOUNTS.values(), ids=AMOUNTS)
def test_money_is_exact_in_minor_units(currency, amount, minor):
    assert money.to_minor(Decimal(amount), currency) == minor
    assert money.from_minor(minor, currency) == Decimal(amount)


@pytest.mark.parametrize("currency, amount", [("GBP", "1.005"), ("JPY", "0.5"), ("KWD", "0.0001")])
def test_money_with_too_many_places_is_refused(currency, amount):
    with pytest.raises(ValueError, match="places"):
        money.to_minor(Decimal(amount), currency)
