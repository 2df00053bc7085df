"""Wall-clock sums of the diary.

The changes of the clocks are those of the European summer time arrangements (Directive 2000/84/EC: last
Sunday of March and of October, 01:00 UTC), read through the IANA time zone data.
"""

import datetime as dt

import pytest
from dateutil import tz
from hypothesis import given
from hypothesis import strategies as st

from sessions import diary

LONDON = "Europe/London"
UTC = dt.UTC


def at(text):
    return dt.datetime.fromisoformat(text).replace(tzinfo=UTC)


@pytest.mark.parametrize(
    "day, time, instant",
    [
        ("2026-03-28", "18:00", "2026-03-28T18:00"),
        ("2026-03-31", "18:00", "2026-03-31T17:00"),
        ("2026-10-24", "18:00", "2026-10-24T17:00"),
        ("2026-10-27", "18:00", "2026-10-27T18:00"),
        ("2026-10-25", "01:30", "2026-10-25T00:30"),
    ],
    ids=["before spring", "after spring", "before autumn", "after autumn", "the hour shown twice: the first"],
)
def test_wall_clock_to_instant(day, time, instant):
    slot = diary.slot(dt.date.fromisoformat(day), dt.time.fromisoformat(time), 55, LONDON)
    assert slot.start == at(instant)
    assert slot.end - slot.start == dt.timedelta(minutes=55)


def test_an_hour_the_clock_skips_is_refused():
    with pytest.raises(diary.NoSuchTime):
        diary.slot(dt.date(2026, 3, 29), dt.time(1, 30), 55, LONDON)


@given(st.datetimes(dt.datetime(2020, 1, 1), dt.datetime(2037, 12, 31)))
def test_instants_agree_with_dateutil(moment):
    """The reference is python-dateutil's own reading of the zone data."""
    moment = moment.replace(second=0, microsecond=0)
    there = tz.gettz(LONDON)
    if not tz.datetime_exists(moment, there):
        return
    slot = diary.slot(moment.date(), moment.time(), 55, LONDON)
    assert slot.start == moment.replace(tzinfo=there).astimezone(UTC)


@pytest.mark.parametrize(
    "told, late",
    [
        ("2026-03-28T08:30", False),
        ("2026-03-28T09:00", False),
        ("2026-03-28T09:01", True),
        ("2026-03-29T07:59", True),
    ],
    ids=["24.5 h by the clock", "exactly 24 h", "a minute late", "an hour before"],
)
def test_notice_over_the_change_of_clocks(told, late):
    """A session on Sunday 29 March 2026, 09:00; the night before is an hour short (worked by hand)."""
    start = diary.slot(dt.date(2026, 3, 29), dt.time(9), 55, LONDON).start
    assert diary.notice_is_late(start, at(told), 24, LONDON) is late


HOURS = [(dt.time(7), dt.time(12)), (dt.time(13), dt.time(20))]


@pytest.mark.parametrize(
    "time, minutes, inside",
    [("07:00", 55, True), ("06:59", 55, False), ("11:05", 55, True), ("11:06", 55, False), ("19:05", 55, True),
     ("19:06", 55, False), ("12:30", 20, False), ("11:30", 120, False)],
)  # fmt: skip
def test_opening_hours(time, minutes, inside):
    assert diary.within_hours(dt.time.fromisoformat(time), minutes, HOURS) is inside


def test_back_to_back_does_not_overlap():
    first = diary.slot(dt.date(2026, 5, 4), dt.time(10), 55, LONDON)
    second = diary.slot(dt.date(2026, 5, 4), dt.time(10, 55), 55, LONDON)
    assert not first.overlaps(second) and not second.overlaps(first)
    assert first.overlaps(diary.slot(dt.date(2026, 5, 4), dt.time(10, 54), 1, LONDON))


def test_most_at_once_counts_the_busiest_moment():
    day = dt.date(2026, 5, 4)
    slots = [diary.slot(day, dt.time(9, m), 30, LONDON) for m in (0, 20, 30, 40)]
    assert diary.most_at_once(slots, diary.slot(day, dt.time(9), 90, LONDON)) == 3
    assert diary.most_at_once(slots, diary.slot(day, dt.time(9), 10, LONDON)) == 1
    assert diary.most_at_once([], slots[0]) == 0
