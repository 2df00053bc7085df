"""The demo studio breaks none of the house's own rules, whatever the day it is laid on.

The telephone ranges are those kept free for drama by the British regulator: 01632 960000 to 960999 for no area and
07700 900000 to 900999 for mobiles (from memory). The rules about clashes are worked out here again from the rows
alone, without the code that books.
"""

import datetime as dt
import re
from itertools import combinations

import pytest
from django.contrib.auth import authenticate
from django.contrib.auth.password_validation import validate_password
from django.db import connection, transaction
from django.forms.models import model_to_dict
from django.test import Client as Browser
from django.urls import reverse

from clients.models import Client, Flag, FlagStatus, Goal, Submission
from sessions import pdf
from sessions.demo import laying
from sessions.demo.people import CLIENTS, SIGN_INS
from sessions.demo.places import HOURS
from sessions.models import Attendance, Booking, Entry, Handout, Plan, PlanItem, Record, open_call_backs
from studio import clock, guards
from studio.models import AuditEntry, Staff, Studio

# A Wednesday, shortly before half past ten: somebody has arrived and one session has just ended.
NOW = dt.datetime(2026, 11, 25, 10, 26, tzinfo=dt.UTC)
FICTION = re.compile(r"01632 960\d{3}|07700 900\d{3}")


@pytest.fixture(scope="module")
def demo(django_db_setup, django_db_blocker):
    """The demo laid once for this file, at NOW, and taken away again at the end."""
    with django_db_blocker.unblock(), transaction.atomic():
        laid = laying.lay(NOW)
        with clock.at(NOW):
            yield laid
        transaction.set_rollback(True)


def holding(bookings):
    return [b for b in bookings if any(a.state in Attendance.HOLDING for a in b.attendances.all())]


class TestBookings:
    @pytest.fixture
    def pairs(self, demo):
        """Every two bookings that overlap and still hold their time."""
        rows = holding(Booking.objects.with_people())
        return [
            (a, b) for a, b in combinations(rows, 2) if a.starts_at < b.ends_at and b.starts_at < a.ends_at
        ]

    def test_there_are_six_weeks_of_them(self, demo):
        days = Booking.objects.values_list("wall_day", flat=True)
        assert min(days) == dt.date(2026, 10, 26)
        assert max(days) == dt.date(2026, 12, 6)
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
        rows = holding(Booking.objects.with_people())
        for row in rows:
            here = [b for b in rows if b.room_id == row.room_id and b.starts_at <= row.starts_at < b.ends_at]
            assert len(here) <= row.room.holds

    def test_all_lie_within_opening_hours(self, demo):
        for row in Booking.objects.all():
            opens, closes = HOURS[row.wall_day.weekday()]
            end = dt.datetime.combine(row.wall_day, row.wall_time) + dt.timedelta(minutes=row.minutes)
            assert opens <= row.wall_time and end.time() <= closes

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


class TestCare:
    def test_no_plan_holds_an_avoid_without_a_reason(self, demo):
        kept = PlanItem.objects.filter(verdict__verdict="avoid")
        assert kept.exists()
        assert not kept.filter(keep_reason="").exists()
        assert not kept.filter(keep_by=None).exists()

    def test_approved_plans_are_pinned(self, demo):
        rows = PlanItem.objects.filter(plan__approved_at__isnull=False)
        assert rows.exists()
        assert not rows.filter(exercise_version=None).exists()
        assert not rows.filter(table_version="").exists()

    def test_nothing_was_done_against_an_avoid_without_a_reason(self, demo):
        done = Entry.objects.exclude(state="skipped").filter(verdict__verdict="avoid")
        assert not done.filter(plan_item__keep_reason="").exists()

    def test_plans_are_worth_an_hour(self, demo):
        for plan in Plan.objects.all():
            assert plan.items.count() >= 4

    def test_plans_keep_to_the_booked_time(self, demo):
        """Rows as typed, five minutes of check-in, four of close, 75 s for each change of apparatus."""
        floor = {"mat", "standing", "small_prop"}
        for plan in Plan.objects.select_related("attendance__booking"):
            rows = list(plan.items.select_related("exercise__current"))
            places = [r.exercise.current.facts["apparatus"] for r in rows]
            places = ["floor" if place in floor else place for place in places]
            changes = sum(1 for before, after in zip(places, places[1:], strict=False) if before != after)
            seconds = 540 + sum(row.minutes * 60 for row in rows) + changes * 75
            assert seconds <= plan.attendance.booking.minutes * 60

    def test_flags_were_confirmed_by_somebody_who_teaches(self, demo):
        for status in FlagStatus.objects.exclude(state="proposed").select_related("author"):
            assert status.author.is_instructor

    def test_forms_were_typed_by_the_desk(self, demo):
        for submission in Submission.objects.select_related("typed_by"):
            assert submission.typed_by.is_front_desk

    def test_no_handout_went_out_with_an_avoid(self, demo):
        for handout in Handout.objects.all():
            assert {item["verdict"]["verdict"] for item in handout.verdicts} <= {"none", "watch", "modify"}
            assert handout.pdf.startswith(b"%PDF-")

    def test_one_handout_is_called_back_by_a_later_flag(self, demo):
        [found] = open_call_backs(Staff.objects.get(sign_in_name="linnet"), NOW.date())
        assert found.client.full_name == "Sunniva Thistlewick"

    def test_left_and_right_are_kept_apart_where_they_work_apart(self, demo):
        for entry in Entry.objects.select_related("exercise_version").prefetch_related("sides"):
            sides = {row.side for row in entry.sides.all()}
            apart = entry.exercise_version.facts["sides"] != "both_together"
            assert sides <= ({"left", "right"} if apart else {"both"})


class TestVariety:
    def test_states_of_flags(self, demo):
        states = {flag.state for flag in Flag.objects.with_state()}
        assert states == {"proposed", "active", "resting", "ended"}

    def test_a_clinicians_instruction_is_in_force(self, demo):
        [flag] = [flag for flag in Flag.objects.active() if flag.is_instruction]
        assert flag.client.call_name == "Ottoline"
        assert flag.until_on > NOW.date()

    def test_one_is_about_twenty_weeks_pregnant(self, demo):
        """280 days from the first day of the last period to the due date: the standard calendar's 40 weeks."""
        flag = Flag.objects.active().get(condition="pregnancy")
        assert 19 <= (280 - (flag.due_on - NOW.date()).days) / 7 <= 21

    def test_one_has_no_flag_and_one_no_form(self, demo):
        assert not Flag.objects.filter(client__call_name="Hollis").exists()
        assert not Submission.objects.filter(client__call_name="Zoë").exists()

    def test_goals_have_numbers(self, demo):
        assert all(goal.ratings.exists() for goal in Goal.objects.all())

    def test_an_incident_stopped_a_session(self, demo):
        [record] = Record.objects.filter(attendance__incidents__session_stopped=True)
        assert record.entries.count() < record.attendance.plan.items.count()

    def test_somebody_left_a_line_for_next_time_everywhere(self, demo):
        assert not Record.objects.filter(finished_at__isnull=False, next_time="").exists()


class TestInvented:
    def test_telephone_numbers_are_from_the_ranges_for_fiction(self, demo):
        numbers = [*Studio.objects.values_list("telephone", flat=True)]
        for names in Client.objects.values_list("telephone", "emergency_telephone"):
            numbers += names
        assert len(numbers) > 20
        assert [number for number in numbers if not FICTION.fullmatch(number)] == []

    def test_everybody_can_sign_in_as_the_console_says(self, demo):
        for _role, name, passphrase in SIGN_INS:
            validate_password(passphrase)
            assert authenticate(None, username=name, password=passphrase) is not None

    def test_the_log_holds_no_name_and_no_health_word(self, demo):
        rows = AuditEntry.objects.values_list("action", "thing_kind", "outcome", "fields", "device", "role")
        text = " ".join(str(row) for row in rows).casefold()
        assert len(rows) > 1000
        ids = AuditEntry.objects.exclude(thing_id="").values_list("thing_id", flat=True)
        assert not [key for key in ids if not re.fullmatch(r"[\w-]{16}|\d+", key)]
        for person in CLIENTS:
            for word in (person.full_name, person.call_name):
                assert word.casefold() not in text
        for flag in Flag.objects.all():
            for word in (flag.condition, flag.words, flag.clinician, flag.note):
                assert not word or word.casefold() not in text


ADDRESSES = ["sessions:today", "sessions:bookings", "clients:list", "library:list", "studio:help"]


@pytest.mark.parametrize("name", [name for _role, name, _passphrase in SIGN_INS])
def test_every_first_page_opens_for_everybody(name, demo):
    browser = Browser()
    browser.force_login(Staff.objects.get(sign_in_name=name))
    for address in ADDRESSES:
        assert browser.get(reverse(address)).status_code == 200, address


# Small demos of two weeks, to see that any day will do.


@pytest.fixture
def small(monkeypatch, db):
    """Lay less, without making PDFs."""
    monkeypatch.setattr(laying, "FIRST_WEEK", 0)
    pdf.switch_off("not for this test")
    yield laying.lay
    pdf.switch_off("")


@pytest.mark.parametrize(
    "now",
    [
        dt.datetime(2026, 11, 23, 0, 0, tzinfo=dt.UTC),
        dt.datetime(2026, 11, 29, 23, 59, tzinfo=dt.UTC),
        dt.datetime(2027, 3, 28, 12, tzinfo=dt.UTC),
        dt.datetime(2027, 10, 31, 12, tzinfo=dt.UTC),
    ],
    ids=["monday-midnight", "sunday-night", "clock-goes-forward", "clock-goes-back"],
)
def test_any_day_will_do(small, now):
    demo = small(now)
    assert demo.monday.weekday() == 0
    assert 0 <= (now.date() - demo.monday).days <= 7
    assert not Attendance.objects.filter(booking__ends_at__lte=demo.until, state="booked").exists()
    today = Attendance.objects.filter(booking__wall_day=now.date(), state__in=["booked", "arrived"])
    assert today.exists(), "something is left to do at any hour"


def rows_without_chance() -> list:
    """Return what the demo wrote, without public ids and hashes, which differ by design."""
    found = []
    for model in (Client, Booking, Attendance, PlanItem, Record, Goal):
        for row in model._base_manager.order_by("pk"):
            values = model_to_dict(row, exclude=["public_id", "setting", "verdict", "units"])
            found.append({name: value for name, value in values.items() if not name.endswith("id")})
    return found


def without_keys(rows: list) -> list:
    """Leave out primary and foreign keys: numbers of a database that has been filled before."""
    return [{name: value for name, value in row.items() if not isinstance(value, int)} for row in rows]


def test_the_same_moment_makes_the_same_demo(small):
    made = []
    for _turn in range(2):
        with transaction.atomic():
            small(NOW)
            made.append(without_keys(rows_without_chance()))
            transaction.set_rollback(True)
    assert len(made[0]) > 100
    assert made[0] == made[1]


def test_the_guards_stand_after_the_demo(small):
    small(NOW)
    assert guards.missing(connection) == []
