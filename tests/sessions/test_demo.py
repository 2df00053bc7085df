"""The demo studio breaks none of the house's own rules, whatever the day it is laid on.

The telephone ranges are those kept free for drama by the British regulator: 01632 960000 to 960999 for no area and
07700 900000 to 900999 for mobiles (from memory).
"""

import datetime as dt
import re
from collections import Counter, defaultdict

import pytest
from django.contrib.auth import authenticate
from django.contrib.auth.password_validation import validate_password
from django.db import connection
from django.db.models import Count, Prefetch
from django.test import Client as Browser
from django.urls import reverse

from clients import measuring
from clients.models import Client, Flag, FlagStatus, Measurement, Submission
from library import measures
from library.models import ApparatusUnit, ExerciseVersion
from sessions import judging, own_limits, own_way_wording
from sessions.demo import laying
from sessions.demo.cast import CLIENTS
from sessions.demo.people import SIGN_INS
from sessions.models import (
    Entry,
    EntrySide,
    Handout,
    OwnWay,
    Plan,
    PlanItem,
    Record,
    open_call_backs,
)
from studio import clock, guards
from studio.models import AuditEntry, Staff, Studio
from tests.demo_laid import NOW, fill_from, laid_rows, put_back
from tests.sessions.demo_bookings import TestBookings
from tests.sessions.demo_passes import TestPasses
from tests.sessions.demo_variety import TestVariety

__all__ = ["TestBookings", "TestPasses", "TestVariety", "laid_rows"]

pytestmark = pytest.mark.django_db
FICTION = re.compile(r"01632 960\d{3}|07700 900\d{3}")


@pytest.fixture(scope="module")
def demo(laid_rows, django_db_blocker):
    """The demo laid at NOW, for this file; taken away again at the end."""
    with django_db_blocker.unblock(), put_back():
        fill_from(laid_rows)
        with clock.at(NOW):
            demo = laying.Demo(NOW)
            by_name = {client.full_name: client for client in Client.objects.all()}
            demo.clients = {person.key: by_name[person.full_name] for person in CLIENTS}
            yield demo


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
        assert not Plan.objects.alias(rows=Count("items")).filter(rows__lt=4).exists()

    def test_every_unit_has_the_parts_that_its_exercise_asks_for(self, demo, facts):
        parts = dict(ApparatusUnit.objects.values_list("pk", "accessories"))
        asked = {row["id"]: set(row["accessories"]) for row in facts.values()}
        rows = PlanItem.objects.exclude(unit=None).order_by().values_list("exercise__key", "unit").distinct()
        assert rows
        for key, unit in rows:
            assert asked[key] <= set(parts[unit]), (key, unit)

    def test_plans_keep_to_the_booked_time(self, demo, facts):
        """Rows as typed, five minutes of check-in, four of close, 75 s for each change of apparatus."""
        floor = {"mat", "standing", "small_prop"}
        plans = Plan.objects.select_related("attendance__booking").prefetch_related(
            Prefetch("items", PlanItem.objects.select_related("exercise").defer("verdict"))
        )
        apparatus = {row["id"]: row["apparatus"] for row in facts.values()}
        for plan in plans:
            rows = list(plan.items.all())
            places = [apparatus[r.exercise.key] for r in rows]
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

    def test_handouts_follow_one_another(self, demo):
        for client in Client.objects.all():
            rows = list(client.handouts.order_by("number"))
            assert [row.version for row in rows] == list(range(1, len(rows) + 1))
            assert [row.replaces for row in rows] == [None, *rows][: len(rows)]

    def test_one_handout_is_called_back_by_a_later_flag_and_one_by_a_lower_limit(self, demo):
        found = open_call_backs(Staff.objects.get(sign_in_name="linnet"), NOW.date())
        flagged, limited = [one for one in found if one.exercises], [one for one in found if one.shortened]
        assert [one.client.full_name for one in flagged] == ["Sunniva Thistlewick"]
        assert [one.client.full_name for one in limited] == ["Elowen Marlpit"]
        assert len(found) == 2

    def test_left_and_right_are_kept_apart_where_they_work_apart(self, demo, facts):
        rows = EntrySide.objects.values_list("side", "entry__exercise_version").order_by().distinct()
        assert rows
        for side, version in rows:
            apart = facts[version]["sides"] != "both_together"
            assert side in ({"left", "right"} if apart else {"both"})


@pytest.fixture(scope="module")
def lives(demo):
    """Client -> [(flag, [(at, state), …])]."""
    found = defaultdict(list)
    for flag in Flag.objects.prefetch_related("statuses").order_by("pk"):
        found[flag.client_id].append((flag, [(s.at, s.state) for s in flag.statuses.all()]))
    return found


@pytest.fixture(scope="module")
def facts(demo):
    """Version -> its facts, read once."""
    return {row.pk: row.facts for row in ExerciseVersion.objects.all()}


@pytest.fixture(scope="module")
def again(lives):
    answers = {}

    def judge(client, at, day, facts, row, place):
        flags = []
        for flag, steps in lives[client]:
            states = [state for when, state in steps if when <= at]
            if states and states[-1] == "active":
                flags.append(flag)
        heavy, chosen = judging.setting_demands(row.setting), row.adaptations
        key = (client, tuple(flag.pk for flag in flags), day, facts["id"], row.sides, heavy, chosen, place)
        if key not in answers:
            answers[key] = judging.judged(flags, row, place, day)
        return answers[key]

    return judge


@pytest.fixture(scope="module")
def placed(demo, facts):
    """Key of a plan row -> the row as the judge takes it, and its place among its neighbours."""
    plans = defaultdict(list)
    for item in PlanItem.objects.select_related("exercise_version").order_by("plan_id", "position"):
        plans[item.plan_id].append(item)
    found, pace = {}, Plan.pace(Studio.objects.get())
    for items in plans.values():
        rows = [
            item.as_judged(facts.get(item.exercise_version_id)) for item in items if item.exercise_version
        ]
        for item, row, place in zip(items, rows, judging.places(rows, pace), strict=False):
            found[item.pk] = row, place
    return found


class TestVerdicts:
    """Every pinned judgement against the judge, asked again with the flags as they stood at that instant."""

    def test_plans(self, demo, again, facts, placed):
        rows = PlanItem.objects.filter(plan__approved_at__isnull=False)
        rows = rows.select_related("plan__attendance__booking")
        assert rows.count() > 4000
        for row in rows:
            attendance = row.plan.attendance
            now = (attendance.client_id, row.plan.approved_at, attendance.booking.wall_day)
            assert row.verdict == again(*now, facts[row.exercise_version_id], *placed[row.pk])
            assert row.table_version == row.verdict["table_version"]

    def test_entries(self, demo, again, facts, placed):
        rows = Entry.objects.select_related("record__attendance__booking")
        assert rows.count() > 4000
        for row in rows:
            attendance = row.record.attendance
            now = (attendance.client_id, row.at, attendance.booking.wall_day)
            assert row.verdict == again(*now, facts[row.exercise_version_id], *placed[row.plan_item_id])

    def test_changes_that_lift_are_written_in_and_rests_between(self, demo):
        lifted = PlanItem.objects.exclude(verdict=None).filter(verdict__without="avoid")
        keys = set(lifted.values_list("plan__attendance__client__call_name", "exercise__key"))
        assert {("Imaru", "mat_chest_lift"), ("Wenna", "mat_spine_twist")} <= keys
        for item in lifted:
            assert set(item.verdict["carries"]) <= set(item.adaptations)
        assert set(PlanItem.objects.exclude(pause=0).values_list("pause", flat=True)) == {30}

    def test_measures_that_the_flags_hold_back_were_not_taken(self, demo, lives):
        for row in Measurement.objects.all():
            flags = [
                flag
                for flag, steps in lives[row.client_id]
                if [state for when, state in steps if when <= row.at][-1:] == ["active"]
            ]
            held = measuring.judged(flags, measures.measure(row.measure), row.on)
            for side in ("left", "right"):
                assert not (held[side].back and getattr(row, side) is not None)


class TestRecords:
    def test_entries_are_in_order_and_inside_the_hour(self, demo):
        entries = defaultdict(list)
        for record, number, at in Entry.objects.values_list("record", "sequence", "at"):
            entries[record].append((number, at))
        for record in Record.objects.select_related("attendance__booking"):
            rows, booking = sorted(entries[record.pk]), record.attendance.booking
            assert [number for number, _at in rows] == list(range(1, len(rows) + 1))
            times = [record.started_at, *(at for _number, at in rows), record.finished_at or NOW]
            assert times == sorted(times)
            assert booking.starts_at <= times[0] and times[-1] <= max(booking.ends_at, NOW)

    def test_times_of_a_past_session_follow_one_another(self, demo):
        rows = Record.objects.select_related("attendance__booking", "attendance__plan")
        for record in rows.filter(finished_at__isnull=False):
            booking, plan = record.attendance.booking, record.attendance.plan
            assert booking.created_at < plan.approved_at <= booking.starts_at < record.started_at
            assert record.attendance.state == "done"
            assert record.signed_off_at is None or booking.ends_at < record.signed_off_at <= NOW

    def test_done_means_as_planned(self, demo):
        rows = EntrySide.objects.filter(entry__state="done").order_by()
        planned = ("entry__plan_item__repetitions", "entry__plan_item__seconds")
        found = list(rows.values_list("repetitions", "seconds", *planned))
        assert len(found) > 2000
        assert not [row for row in found if row[:2] != row[2:]]

    def test_springs_went_up_and_down_where_less_is_harder(self, demo):
        """Bottom lift: the library says that lighter is harder, so progress is fewer or lighter springs."""
        weights = {"very_light": 1, "light": 2, "medium": 3, "heavy": 4}
        steps = Counter()
        for client in Client.objects.all():
            rows = Entry.objects.filter(
                record__attendance__client=client, exercise__key="ref_bottom_lift"
            ).order_by("at")
            sums = [sum(weights[s["grade"]] * s["count"] for s in r.setting["springs"]) for r in rows]
            for before, after in zip(sums, sums[1:], strict=False):
                steps["harder"] += after < before
                steps["easier"] += after > before
        assert steps["harder"] > steps["easier"] > 0

    def test_a_line_for_next_time_is_taken_up(self, demo):
        assert Entry.objects.filter(note__endswith="as written last time.").count() > 100

    def test_a_missed_week_and_longer_breaks_are_there(self, demo):
        gaps = []
        for client in Client.objects.all():
            days = client.attendances.filter(state="done").order_by("booking__wall_day")
            days = list(days.values_list("booking__wall_day", flat=True))
            gaps += [(after - before).days for before, after in zip(days, days[1:], strict=False)]
        assert sum(gap > 10 for gap in gaps) > 50
        assert max(gaps) > 56

    def test_quality_moves_up_and_down_on_each_side(self, demo):
        """Of the one who runs, right ankle: the right side begins behind, comes up, and falls back between."""
        sides = EntrySide.objects.filter(entry__record__attendance__client__call_name="Teodor", quality__gt=0)
        right = list(sides.filter(side="right").order_by("entry__at").values_list("quality", flat=True))
        left = list(sides.filter(side="left").order_by("entry__at").values_list("quality", flat=True))
        early, late = slice(None, len(right) // 3), slice(-len(right) // 3, None)

        def mean(values):
            return sum(values) / len(values)

        assert mean(left[early]) - mean(right[early]) > mean(left[late]) - mean(right[late])
        assert mean(right[late]) > mean(right[early])
        assert any(after < before for before, after in zip(right, right[1:], strict=False))


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
        assert len(rows) > 500
        ids = AuditEntry.objects.exclude(thing_id="").values_list("thing_id", flat=True)
        assert not [key for key in ids if not re.fullmatch(r"[\w-]{16}|\d+", key)]
        for person in CLIENTS:
            for word in (person.full_name, person.call_name):
                assert word.casefold() not in text
        for flag in Flag.objects.all():
            for word in (flag.condition, flag.words, flag.clinician, flag.note):
                assert not word or word.casefold() not in text

    def test_the_log_says_that_the_past_was_laid_and_nothing_else_of_it(self, demo):
        """Bulk rows have no lines: nobody did those things in the program (sessions.demo.history)."""
        assert AuditEntry.objects.filter(action="demo.past_laid").count() == 1
        monday = dt.datetime.combine(demo.monday, dt.time(), laying.ZONE)
        acts = ("record.started", "record.closed", "record.entry_saved")
        assert not AuditEntry.objects.filter(action__in=acts, at__lt=monday).exists()
        closed = Record.objects.filter(finished_at__gte=monday).count()
        assert AuditEntry.objects.filter(action="record.closed").count() == closed > 0

    def test_nine_clients_have_ways_of_their_own_some_springs_to_begin_with_and_some_a_limit(self, demo):
        kept = OwnWay.objects.all()
        assert len({row.client_id for row in kept}) == 9
        assert all(row.cues or row.limit for row in kept)
        assert sum(bool(row.setting.get("springs")) for row in kept) >= 5
        assert sum(bool(row.range) for row in kept) >= 6
        far = [row for row in kept if row.limit]
        assert len(far) >= 6 and any("both" in row.limit for row in far)
        assert any(own_limits.differ(row.limit) for row in far)
        # Each is one that stops the movement on its way, and the picture shows it.
        for row in far:
            shown = own_way_wording.pictures(row.exercise.current.pose, row.limit, row.limit)
            assert [one["about"] for one in shown] == [""] * len(shown)

    def test_the_guards_stand_after_the_demo(self, demo):
        assert guards.missing(connection) == []


ADDRESSES = ["sessions:today", "sessions:bookings", "clients:list", "library:list", "studio:help"]


@pytest.mark.parametrize("name", [name for _role, name, _passphrase in SIGN_INS])
def test_every_first_page_opens_for_everybody(name, demo):
    browser = Browser()
    browser.force_login(Staff.objects.get(sign_in_name=name))
    for address in ADDRESSES:
        assert browser.get(reverse(address)).status_code == 200, address
