"""The demo's diary. Its tests run with those of test_demo, which lays it once and takes these in.

The rules about clashes are worked out here again from the rows alone, without the code that books.
"""

import datetime as dt
from collections import Counter, defaultdict

import pytest

from sessions.demo import laying
from sessions.demo.places import HOURS
from sessions.models import Attendance, Booking
from studio.models import Absence, ClosedDay, Studio
from tests.sessions.demo_variety import NOW


def holding(bookings):
    return [b for b in bookings if any(a.state in Attendance.HOLDING for a in b.attendances.all())]


class TestBookings:
    @pytest.fixture
    def pairs(self, demo):
        """Every two bookings that overlap and still hold their time."""
        days = defaultdict(list)
        for row in holding(Booking.objects.with_people()):
            days[row.wall_day].append(row)
        return [
            (a, b)
            for rows in days.values()
            for n, a in enumerate(rows)
            for b in rows[n + 1 :]
            if a.starts_at < b.ends_at and b.starts_at < a.ends_at
        ]

    def test_they_go_fourteen_months_back_and_weeks_ahead(self, demo):
        days = Booking.objects.values_list("wall_day", flat=True)
        assert min(days) < dt.date(2025, 10, 12)
        assert max(days) > dt.date(2026, 12, 14)
        assert {day.weekday() for day in days if day >= demo.monday} == set(range(7))

    def test_nobody_teaches_twice_at_once(self, pairs):
        assert not [pair for pair in pairs if pair[0].instructor_id == pair[1].instructor_id]

    def test_no_client_is_in_two_places(self, pairs):
        clients = [[{a.client_id for a in b.attendances.all()} for b in pair] for pair in pairs]
        assert not [pair for pair in clients if pair[0] & pair[1]]

    def test_no_unit_is_used_twice_at_once(self, pairs):
        units = [[{u.pk for u in b.units.all()} for b in pair] for pair in pairs]
        assert not [pair for pair in units if pair[0] & pair[1]]

    def test_no_room_holds_more_than_it_can(self, demo):
        days = defaultdict(list)
        for row in holding(Booking.objects.with_people()):
            days[row.wall_day, row.room_id].append(row)
        for rows in days.values():
            for row in rows:
                here = [other for other in rows if other.starts_at <= row.starts_at < other.ends_at]
                assert len(here) <= row.room.holds

    def test_all_lie_within_opening_hours(self, demo):
        for row in Booking.objects.all():
            opens, closes = HOURS[row.wall_day.weekday()]
            end = dt.datetime.combine(row.wall_day, row.wall_time) + dt.timedelta(minutes=row.minutes)
            assert opens <= row.wall_time and end.time() <= closes

    def test_nothing_is_held_while_the_studio_is_shut_or_the_instructor_away(self, demo):
        shut = set(ClosedDay.objects.values_list("day", flat=True))
        assert not [row for row in Booking.objects.all() if row.wall_day in shut]
        for away in Absence.objects.all():
            days = (away.first_day, away.last_day)
            assert not Booking.objects.filter(instructor=away.staff_id, wall_day__range=days).exists()

    def test_wall_clock_and_instant_agree(self, demo):
        """10:30 in the studio is 10:30 in winter and in summer (the zone database's offsets, by zoneinfo)."""
        offsets = set()
        for row in Booking.objects.all():
            local = row.starts_at.astimezone(laying.ZONE)
            assert (local.date(), local.time()) == (row.wall_day, row.wall_time)
            offsets.add(local.utcoffset())
        assert offsets == {dt.timedelta(0), dt.timedelta(hours=1)}

    def test_a_pair_comes_together(self, demo):
        pairs = Counter(
            tuple(sorted(a.client.call_name for a in row.attendances.all()))
            for row in Booking.objects.with_people()
        )
        assert pairs["Dov", "Yusra"] > 20

    def test_late_is_late_by_the_notice_of_the_studio(self, demo):
        hours = Studio.objects.get().cancel_hours
        for row in Attendance.objects.filter(state__startswith="cancelled").select_related("booking"):
            late = row.booking.starts_at - row.state_at < dt.timedelta(hours=hours)
            assert row.state == ("cancelled_late" if late else "cancelled_in_time")

    def test_units_stand_in_the_room_that_is_booked(self, demo):
        for row in Booking.objects.with_people():
            assert {unit.room_id for unit in row.units.all()} == {row.room_id}

    def test_what_is_over_has_an_outcome_and_what_is_to_come_has_none(self, demo):
        over = Attendance.objects.filter(booking__ends_at__lte=NOW)
        to_come = Attendance.objects.filter(booking__starts_at__gt=NOW + dt.timedelta(minutes=10))
        assert not over.filter(state__in=["booked", "arrived"]).exists()
        assert not to_come.filter(state__in=["arrived", "done", "no_show"]).exists()
        assert to_come.filter(state="booked").count() > 20

    def test_every_state_is_to_be_seen(self, demo):
        assert set(Attendance.objects.values_list("state", flat=True)) == set(Attendance.State.values)
