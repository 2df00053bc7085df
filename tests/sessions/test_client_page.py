"""One client: everything at a glance for instructors; contact, form and bookings for the front desk."""

import datetime as dt
import re

import pytest
from django.urls import reverse

from sessions.demo.factories import (
    AttendanceFactory,
    BookingFactory,
    CareProfileFactory,
    ClientFactory,
    EntryFactory,
    FlagFactory,
    GoalFactory,
    HandoutFactory,
    InstructionFactory,
    RecordFactory,
)
from sessions.views.client_page import _age
from studio.models import AuditEntry
from tests.sessions.planted import leaks, plant
from tests.sessions.recorded import queries_of

DAY = dt.date(2026, 11, 25)


def page_of(browser, client):
    return browser.get(reverse("sessions:client", args=[client.public_id])).content.decode()


def held(client, instructor, days_ago, quality=3, **record):
    booking = BookingFactory(instructor=instructor, wall_day=DAY - dt.timedelta(days=days_ago))
    attendance = AttendanceFactory(client=client, booking=booking, state="done")
    record = RecordFactory(attendance=attendance, finished_at=booking.ends_at, **record)
    springs = {"springs": [{"spring": "s", "name": "Light", "grade": "light", "count": 1}]}
    EntryFactory(
        record=record, exercise__key="mat_clam", setting=springs,
        left={"repetitions": 8, "quality": quality}, right={"repetitions": 8, "quality": 4},
    )  # fmt: skip
    return record


# Calendar: somebody born on 29 February is a year older on 1 March (common practice, no source).
AGES = {
    "the day before": (dt.date(1959, 11, 26), 66),
    "the day itself": (dt.date(1959, 11, 25), 67),
    "leap day, before": (dt.date(2004, 2, 29), 22),
}


@pytest.mark.parametrize("born, age", AGES.values(), ids=AGES)
def test_age_in_whole_years(born, age):
    assert _age(born, DAY) == age


def test_leap_day_birthday():
    assert (
        _age(dt.date(2004, 2, 29), dt.date(2026, 2, 28)),
        _age(dt.date(2004, 2, 29), dt.date(2026, 3, 1)),
    ) == (
        21,
        22,
    )


def test_flags_stand_at_a_glance_with_every_reason_one_touch_away(as_instructor, instructor, now):
    client = ClientFactory()
    FlagFactory(
        client=client, condition="frozen_shoulder", side="left", on=dt.date(2026, 5, 9), created_by=instructor
    )
    FlagFactory(client=client, condition="asthma", created_by=instructor)
    InstructionFactory(client=client, side="left", created_by=instructor)
    page = page_of(as_instructor, client)
    care = page[page.index('class="sheet care"') : page.index('class="sheet goals"')]
    assert "Frozen shoulder (adhesive capsulitis), left" in care and "9 May 2026" in care and "Asthma" in care
    assert "A. Thornquill, physiotherapist" in care and "until 26 May 2027" in care
    assert "<details" in care and "Rule" in care and "Source" in care and "Usual change" in care
    assert "The rule table has not been reviewed by a licensed clinician." in care
    # The mark of the shoulder is left of the midline, and its number stands beside the flag.
    assert [float(x) < 100 for x in re.findall(r'class="body-ring" cx="([\d.]+)"', care)] == [True]
    assert (
        re.search(r'<span class="spot-no">1</span><a class="to-cond" href="[^"]+"><b>Frozen', care)
        and '<span class="spot-no">' not in care[care.index("Asthma") - 60 : care.index("Asthma")]
    )


def test_strictest_first_and_the_rest_behind_one_touch(as_instructor, instructor, now):
    client = ClientFactory()
    FlagFactory(client=client, condition="osteoporosis_vertebral_fracture", created_by=instructor)
    page = page_of(as_instructor, client)
    shown = re.findall(r'flag flag-(avoid|modify|watch) flag-sm"', page[: page.index('class="more-of"')])
    assert shown[:3] == ["avoid"] * 3 and re.search(r"\d+ more", page)


STATES = {
    "proposed": ("proposed", "1 flag waits for you to confirm it."),
    "resting": ("resting", "No flags on file. That is not a permission."),
    "ended": ("ended", "No flags on file. That is not a permission."),
}


@pytest.mark.parametrize("state, words", STATES.values(), ids=STATES)
def test_only_active_flags_count(as_instructor, instructor, now, state, words):
    client = ClientFactory()
    FlagFactory(client=client, condition="osteoporosis", created_by=instructor, state=state)
    page = page_of(as_instructor, client)
    assert words in page and "flag-avoid" not in page


# Story J15 of the working day: whoever takes over sees flags, three sessions, springs, next line, home practice.
def test_the_last_three_sessions_with_springs_and_the_line_for_next_time(
    as_other_instructor, instructor, now
):
    client = ClientFactory()
    for days_ago in (7, 14, 21, 28):
        held(client, instructor, days_ago, next_time=f"Line of {days_ago}")
    page = page_of(as_other_instructor, client)
    lines = re.findall(r"Line of (\d+)", page)
    assert lines == ["7", "14", "21"]
    assert page.count("Left 3 of 5, Steady; Right 4 of 5, Clean") == 3 and page.count("1 Light") == 3
    assert AuditEntry.objects.filter(action="client.read", person__call_name="Corin").count() == 1


def test_goals_in_their_own_words_with_the_newest_number(as_instructor, now):
    client = ClientFactory()
    GoalFactory(client=client, words="Take the harbour steps", ratings=[(DAY - dt.timedelta(9), 3), (DAY, 6)])
    GoalFactory(client=client, words="Old one", state="reached")
    page = page_of(as_instructor, client)
    assert "Take the harbour steps" in page and "6 of 10" in page and "Old one" not in page


def test_the_page_says_what_can_be_done_now(as_instructor, instructor, now):
    client = ClientFactory()
    assert "Start session" not in page_of(as_instructor, client)
    coming = AttendanceFactory(client=client, booking=BookingFactory(wall_day=DAY, instructor=instructor))
    page = page_of(as_instructor, client)
    assert "Start session" in page and reverse("sessions:record", args=[coming.public_id]) in page
    RecordFactory(attendance=coming)
    assert "Go on" in page_of(as_instructor, client)


def test_queries_do_not_grow_from_two_rows_to_twelve(as_instructor, instructor, now):
    client = ClientFactory()
    CareProfileFactory(client=client)
    HandoutFactory(client=client, payload={"items": []})

    def add(number):
        held(client, instructor, 7 * (number + 1))
        FlagFactory(client=client, condition="osteoporosis", created_by=instructor)
        GoalFactory(client=client, ratings=[(DAY, 4)])
        AttendanceFactory(client=client, booking=BookingFactory(wall_day=DAY + dt.timedelta(days=number)))

    for number in range(2):
        add(number)
    two = queries_of(lambda: page_of(as_instructor, client))
    for number in range(2, 12):
        add(number)
    assert queries_of(lambda: page_of(as_instructor, client)) == two


# the front desk


def test_the_desk_sees_contact_form_and_bookings_and_nothing_of_health(as_desk, instructor, now):
    client = plant(instructor, DAY, now, full_name="Ottoline Brackwater", telephone="07700 900123")
    page = page_of(as_desk, client)
    assert leaks(page) == []
    for words in ("07700 900123", "The form is on file. An instructor reads it.", "done", "booked"):
        assert words in page
    assert "Ask an instructor before booking" in page


def test_the_planted_words_are_really_there(as_instructor, instructor, now):
    client = plant(instructor, DAY, now)
    assert len(leaks(page_of(as_instructor, client))) > 5


def test_the_neutral_line_is_the_same_whatever_the_reason(as_desk, instructor, now):
    def line(condition, state):
        client = ClientFactory()
        FlagFactory(client=client, condition=condition, state=state, created_by=instructor)
        page = page_of(as_desk, client)
        return page[page.index("Ask an instructor") - 80 :][:200].split("</p>")[0].rpartition(">")[2]

    lines = {line("osteoporosis", "active"), line("pregnancy", "proposed"), line("asthma", "active")}
    assert lines == {"Ask an instructor before booking"}


def test_without_a_form_the_desk_may_type_it_unless_the_owner_says_no(as_desk, house, now):
    client = ClientFactory()
    assert "Type the paper form" in page_of(as_desk, client)
    house.desk_types_intake = False
    house.save()
    page = page_of(as_desk, client)
    assert "Form missing" in page and "Type the paper form" not in page
