"""Due dates: from weeks told on a day, and whether a date can be one. Plain computation.

A pregnancy counts 280 days from the first day of the last period to the due date (Naegele's rule). After
42 completed weeks it is called post-term (ACOG Committee Opinion 579, from memory): a due date further
back than that is asked about again.
"""

import datetime as dt

from library.flag_dates import PREGNANCY_DAYS

LAST_WEEK = 42
DAYS_OVERDUE = LAST_WEEK * 7 - PREGNANCY_DAYS


def due_from_weeks(weeks: int, days: int, on: dt.date) -> dt.date:
    """Return the due date of somebody who is `weeks` weeks and `days` days pregnant on a date."""
    return on + dt.timedelta(days=PREGNANCY_DAYS - (7 * weeks + days))


def too_far_ahead(due: dt.date, on: dt.date) -> bool:
    """Return whether the pregnancy would not have begun on this date."""
    return (due - on).days > PREGNANCY_DAYS


def long_past(due: dt.date, on: dt.date) -> bool:
    """Return whether more than 42 weeks would have gone by on this date."""
    return (on - due).days > DAYS_OVERDUE
