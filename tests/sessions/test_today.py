"""Today: an instructor's sheet of who comes, and the front desk's list of times, names, places and states."""

import datetime as dt
import re

import pytest
from django.urls import reverse

from sessions.demo.factories import (
    AttendanceFactory,
    BookingFactory,
    ClientFactory,
    FlagFactory,
    HandoutFactory,
    PlanFactory,
    RecordFactory,
    RoomFactory,
    SubmissionFactory,
    UnitFactory,
)
from studio.models import AuditEntry
from tests.sessions.planted import leaks, plant
from tests.sessions.recorded import queries_of

DAY = dt.date(2026, 11, 25)
TODAY = reverse("sessions:today")


def comes(instructor, time, name="", state="booked", **client):
    booking = BookingFactory(instructor=instructor, wall_day=DAY, wall_time=time)
    person = ClientFactory(**({"full_name": name} if name else {}), **client)
    return AttendanceFactory(booking=booking, client=person, state=state)


def sheet(browser, **query):
    return browser.get(TODAY, query).content.decode()


def test_who_comes_when_and_where_in_order(as_instructor, instructor, now):
    room = RoomFactory(name="Garden")
    unit = UnitFactory(kind="chair", name="Chair", room=room)
    booking = BookingFactory(
        instructor=instructor, wall_day=DAY, wall_time=dt.time(14), room=room, units=[unit]
    )
    AttendanceFactory(booking=booking, client=ClientFactory(full_name="Wenna Oakapple"))
    comes(instructor, dt.time(11), "Bashir Lanternby")
    page = sheet(as_instructor)
    assert page.index("11:00") < page.index("Bashir Lanternby") < page.index("14:00") < page.index("Wenna")
    assert "Chair, Garden" in page
    assert AuditEntry.objects.filter(action="today.read").count() == 1


def test_mine_and_everyones(as_instructor, instructor, other_instructor, as_owner, now):
    comes(instructor, dt.time(11), "Bashir Lanternby")
    comes(other_instructor, dt.time(12), "Wenna Oakapple")
    assert "Wenna" not in sheet(as_instructor) and "Wenna" in sheet(as_instructor, whose="all")
    assert "Corin" in sheet(as_instructor, whose="all")


def test_flags_at_a_glance_with_their_place_and_last_times_note(as_instructor, instructor, now):
    here = comes(instructor, dt.time(11), "Ottoline Brackwater", state="arrived")
    FlagFactory(client=here.client, condition="frozen_shoulder", side="right", created_by=instructor)
    FlagFactory(client=here.client, condition="pregnancy", created_by=instructor, state="proposed")
    before = AttendanceFactory(
        client=here.client, state="done",
        booking=BookingFactory(instructor=instructor, wall_day=DAY - dt.timedelta(days=7)),
    )  # fmt: skip
    RecordFactory(attendance=before, finished_at=now, next_time="Very light spring first.")
    PlanFactory(attendance=here, exercises=["mat_pelvic_curl"])
    page = sheet(as_instructor)
    row = page[page.index('<article class="appt') :].split("</article>")[0]
    assert row.count('<summary><span class="flag flag-') == 3 and re.search(r"\d+ more: ", row)
    assert "1 flag to confirm" in row and "Very light spring first." in row and "session 2" in row
    assert [float(x) > 100 for x in re.findall(r'class="body-spot" cx="([\d.]+)"', row)] == [True]
    assert re.search(r"Plan, \d+ min", row) and "arrived 10:15" in row and "Start" in row


def test_a_flag_that_rests_is_not_shown(as_instructor, instructor, now):
    here = comes(instructor, dt.time(11))
    FlagFactory(client=here.client, condition="osteoporosis", created_by=instructor, state="resting")
    assert "flag-avoid" not in sheet(as_instructor)


STATES = {
    "done with a record": ("done", True, "Recorded"),
    "done without": ("done", False, "Done, nothing recorded"),
    "cancelled late": ("cancelled_late", False, "cancelled late"),
    "cancelled in time": ("cancelled_in_time", False, "cancelled in time"),
    "no-show": ("no_show", False, "no-show"),
}


@pytest.mark.parametrize("state, record, words", STATES.values(), ids=STATES)
def test_what_is_over_shrinks_to_a_line(as_instructor, instructor, now, state, record, words):
    here = comes(instructor, dt.time(8), "Bashir Lanternby", state=state)
    if record:
        RecordFactory(attendance=here)
    page = sheet(as_instructor)
    line = page[page.index('class="past') :].split("</div>")[0]
    assert words in line and "Bashir Lanternby" in line and '<article class="appt' not in page


def test_the_next_one_holds_the_only_main_button(as_instructor, instructor, now):
    comes(instructor, dt.time(8), state="done")
    following = comes(instructor, dt.time(11))
    comes(instructor, dt.time(12))
    page = sheet(as_instructor)
    assert page.count("btn-primary") == 1
    link = re.search(r'btn-primary[^>]*href="([^"]+)"', page)[1]
    assert link == reverse("sessions:record", args=[following.public_id])


def test_the_line_of_now_and_the_pause(as_instructor, instructor, now):
    comes(instructor, dt.time(9), "Bashir Lanternby", state="done")
    comes(instructor, dt.time(11), "Wenna Oakapple")
    comes(instructor, dt.time(14), "Petra Windrow")
    page = sheet(as_instructor)
    order = [page.index(words) for words in ("Bashir", "10:15", "Wenna", "Free until 14:00", "Petra")]
    assert order == sorted(order)
    assert page.count("Free until") == 2  # before Wenna too: from 09:55 to 11:00


def test_a_place_that_was_freed_is_no_session(as_instructor, instructor, now):
    comes(instructor, dt.time(10), state="cancelled_in_time")
    comes(instructor, dt.time(11))
    assert "1 person today" in sheet(as_instructor)


EMPTY = {"instructor": "as_instructor", "desk": "as_desk"}


@pytest.mark.parametrize("who", EMPTY.values(), ids=EMPTY)
def test_an_empty_day_says_when_the_next_thing_is(request, who, instructor, now):
    browser = request.getfixturevalue(who)
    assert "Nothing is booked after today either." in sheet(browser)
    AttendanceFactory(booking=BookingFactory(instructor=instructor, wall_day=DAY + dt.timedelta(days=1)))
    page = sheet(browser)
    assert "Nobody booked today" in page and "Thursday 26 November starts at 10:00 with Maris." in page
    instructor.call_name = "D'Arcy & co"
    instructor.save()
    assert "starts at 10:00 with D&#x27;Arcy &amp; co." in sheet(browser)


@pytest.mark.parametrize("who", ["as_instructor", "as_desk"], ids=["instructor", "desk"])
def test_queries_do_not_grow_from_two_rows_to_twelve(request, instructor, now, who):
    browser = request.getfixturevalue(who)

    def add(number):
        here = comes(instructor, dt.time(7 + number), state="booked" if number % 2 else "done")
        FlagFactory(client=here.client, condition="osteoporosis", created_by=instructor)
        PlanFactory(attendance=here, exercises=["mat_pelvic_curl", "mat_clam"])
        RecordFactory(attendance=here)
        HandoutFactory(client=here.client, author=instructor)
        booking = BookingFactory(instructor=instructor, wall_day=DAY - dt.timedelta(days=7))
        before = AttendanceFactory(client=here.client, state="done", booking=booking)
        RecordFactory(attendance=before, finished_at=now, next_time="Slowly")

    for number in range(2):
        add(number)
    two = queries_of(lambda: sheet(browser))
    for number in range(2, 12):
        add(number)
    assert len(re.findall(r'<article class="appt|class="past|<li class="dkrow', sheet(browser))) == 12
    assert queries_of(lambda: sheet(browser)) == two


def test_the_desk_sees_no_word_of_anybodys_health(as_desk, instructor, now):
    plant(instructor, DAY, now, full_name="Ottoline Brackwater")
    missing = comes(instructor, dt.time(11), "Teodor Quillfeather")
    HandoutFactory(client=missing.client)
    page = sheet(as_desk)
    assert leaks(page) == [] and "madder" not in page
    assert page.count("Ask an instructor before booking") >= 1 and "Form missing" in page


def test_the_same_words_stand_on_the_instructors_sheet(as_instructor, instructor, now):
    plant(instructor, DAY, now)
    assert "plantnexttime" in sheet(as_instructor)


def test_the_desk_reads_nothing_that_is_written_down_as_health(as_desk, instructor, now):
    plant(instructor, DAY, now)
    sheet(as_desk)
    assert not AuditEntry.objects.filter(action__in=("today.read", "flags.read", "record.read")).exists()


def test_a_client_with_a_form_has_no_mark(as_desk, instructor, now):
    here = comes(instructor, dt.time(11))
    SubmissionFactory(client=here.client)
    assert "Form missing" not in sheet(as_desk)
