"""Due dates against calendar arithmetic done elsewhere: python-dateutil and worked dates.

280 days from the last period to the due date is Naegele's rule; the dates of the table are calendar
arithmetic (last period + 280 days), checked with `dateutil`.
"""

import datetime as dt

import pytest
from dateutil.relativedelta import relativedelta

from clients.due_dates import due_from_weeks, long_past, too_far_ahead
from library.precautions import gestation


@pytest.mark.parametrize(
    ("weeks", "days", "on", "due"),
    [
        pytest.param(14, 0, dt.date(2025, 9, 8), dt.date(2026, 3, 9), id="LMP 2025-06-02"),
        pytest.param(28, 0, dt.date(2025, 12, 15), dt.date(2026, 3, 9), id="LMP 2025-06-02, later"),
        pytest.param(39, 5, dt.date(2024, 2, 29), dt.date(2024, 3, 2), id="over a leap day"),
        pytest.param(14, 0, dt.date(2026, 3, 8), dt.date(2026, 9, 6), id="LMP 2025-11-30"),
        pytest.param(0, 0, dt.date(2024, 2, 29), dt.date(2024, 12, 5), id="first day"),
        pytest.param(42, 0, dt.date(2026, 11, 25), dt.date(2026, 11, 11), id="two weeks over"),
    ],
)
def test_due_from_weeks(weeks, days, on, due):
    assert due_from_weeks(weeks, days, on) == due
    assert gestation(due, on) == (weeks, days)
    last_period = on - relativedelta(weeks=weeks, days=days)
    assert due == last_period + relativedelta(days=280)


ON = dt.date(2026, 11, 25)


@pytest.mark.parametrize(
    ("due", "ahead", "past"),
    [
        pytest.param(ON + dt.timedelta(days=280), False, False, id="first day of the pregnancy"),
        pytest.param(ON + dt.timedelta(days=281), True, False, id="a day before it"),
        pytest.param(ON, False, False, id="due today"),
        pytest.param(ON - dt.timedelta(days=14), False, False, id="42 weeks"),
        pytest.param(ON - dt.timedelta(days=15), False, True, id="a day more"),
    ],
)
def test_what_can_be_a_due_date(due, ahead, past):
    assert (too_far_ahead(due, ON), long_past(due, ON)) == (ahead, past)
