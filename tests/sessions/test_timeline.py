"""The client's story by date: sessions, left and right as steps, flags, goals, handouts, incidents."""

import datetime as dt
import re

import pytest
from django.urls import reverse

from sessions.demo.factories import (
    AttendanceFactory,
    BookingFactory,
    ClientFactory,
    EntryFactory,
    FlagFactory,
    FlagStatusFactory,
    GoalFactory,
    HandoutFactory,
    IncidentFactory,
    RecordFactory,
)
from sessions.timeline import Event, Gap, in_order
from studio import clock
from studio.models import AuditEntry
from tests.sessions.recorded import queries_of

DAY = dt.date(2026, 11, 25)


def on(days_ago):
    return DAY - dt.timedelta(days=days_ago)


# the order, as plain computation

SAME_DAY = [Event(DAY, kind, kind) for kind in ("handout", "session", "flag", "incident", "goal")]


def test_on_one_day_what_was_known_comes_before_what_was_done():
    told = [event.kind for event in in_order(SAME_DAY, newest_first=False)]
    assert told == ["flag", "goal", "session", "incident", "handout"]
    assert [event.kind for event in in_order(SAME_DAY)] == told[::-1]


def test_the_day_comes_first():
    events = [Event(on(1), "handout", None), Event(on(3), "flag", None), Event(on(2), "session", None)]
    assert [event.on for event in in_order(events)] == [on(1), on(2), on(3)]


GAPS = {
    "left behind": (Gap(2, 4), "left"),
    "right behind": (Gap(4, 2), "right"),
    "even": (Gap(3, 3), ""),
    "left not noted": (Gap(None, 2), ""),
    "nothing noted": (Gap(None, None), ""),
}


@pytest.mark.parametrize("gap, behind", GAPS.values(), ids=GAPS)
def test_which_side_is_behind(gap, behind):
    assert gap.behind == behind


# the page


def recorded(client, instructor, days_ago, **entry):
    booking = BookingFactory(instructor=instructor, wall_day=on(days_ago))
    attendance = AttendanceFactory(booking=booking, client=client, state="done")
    record = RecordFactory(attendance=attendance, finished_at=booking.ends_at, next_time=f"Line {days_ago}")
    springs = [{"spring": "s", "name": "Light", "grade": "light", "count": 2}]
    values = {"left": {"repetitions": 8, "quality": 2}, "right": {"repetitions": 10, "quality": 4}, **entry}
    EntryFactory(record=record, exercise__key="mat_clam", setting={"springs": springs}, **values)
    return record


def story(browser, client):
    return browser.get(reverse("sessions:timeline", args=[client.public_id])).content.decode()


def row_of(page, name):
    """Return the cells of a row: left, quality (as it is read out), right."""
    row = page[page.index(name) :].split("</tr>", 1)[0]
    left = re.search(r'<td class="l">(.*?)</td>', row, re.S)[1]
    right = re.search(r'<td class="r">(.*?)</td>', row, re.S)[1]
    steps = re.search(r'aria-label="([^"]+)"', row[row.index('<td class="mid">') :])[1]
    return re.sub(r"<[^>]+>|\s+", " ", left).strip(), steps, re.sub(r"<[^>]+>|\s+", " ", right).strip()


SIDES = {
    "both noted": (
        {"left": {"repetitions": 8, "quality": 2}, "right": {"repetitions": 10, "quality": 4}},
        ("8", "Left 2 of 5, Shaky; Right 4 of 5, Clean", "10"),
    ),
    "right left empty": (
        {"left": {"repetitions": 8}, "right": None},
        ("8", "Left not noted; Right not noted", "– not noted"),
    ),
    "nought is not empty": (
        {"left": {"repetitions": 0, "quality": 1}, "right": {"repetitions": 10}},
        ("0", "Left 1 of 5, Lost; Right not noted", "10"),
    ),
    "held": (
        {"left": {"seconds": 30, "range": "small"}, "right": {"seconds": 12}},
        ("30 s small", "Left not noted; Right not noted", "12 s"),
    ),
}


# Story J09 of the working day: 10 and 8 on the right lines.
@pytest.mark.parametrize("entry, cells", SIDES.values(), ids=SIDES)
def test_left_stands_left_and_right_stands_right(as_instructor, instructor, now, entry, cells):
    client = ClientFactory()
    recorded(client, instructor, 7, **entry)
    page = story(as_instructor, client)
    left, steps, right = row_of(page, "Clam")
    assert (" ".join(left.split()), steps, " ".join(right.split())) == cells
    assert "2 Light" in page and "Line 7" in page


def test_everything_stands_by_its_date(as_instructor, instructor, now):
    client = ClientFactory()
    recorded(client, instructor, 7)
    with clock.at(now - dt.timedelta(days=20)):
        flag = FlagFactory(client=client, condition="frozen_shoulder", side="left", created_by=instructor)
    with clock.at(now - dt.timedelta(days=1)):
        FlagStatusFactory(flag=flag, state="resting", reason="Quiet since summer")
    GoalFactory(client=client, words="Reach the shelf", set_on=on(15), ratings=[(on(14), 3), (on(2), 6)])
    HandoutFactory(client=client, number=7, issued_on=on(6), author=instructor)
    IncidentFactory(attendance=AttendanceFactory(client=client), sign="pain", at=now - dt.timedelta(days=4))
    page = story(as_instructor, client)
    dates = re.findall(r'<time datetime="([0-9-]+)">', page)
    assert dates == sorted(dates, reverse=True)
    found = re.findall(r'<li class="tl-([a-z]+)"><time datetime="([0-9-]+)"', page)
    assert found == [
        ("flag", str(on(1))), ("goal", str(on(2))), ("incident", str(on(4))), ("handout", str(on(6))),
        ("session", str(on(7))), ("goal", str(on(14))), ("goal", str(on(15))), ("flag", str(on(20))),
    ]  # fmt: skip
    for words in ("Quiet since summer", "6 of 10", "Handout 7, version 1", "Frozen shoulder"):
        assert words in page


def test_the_day_of_a_flag_is_that_of_the_studio(as_instructor, instructor, house):
    """Half past midnight in Auckland is the day before in UTC."""
    house.zone = "Pacific/Auckland"
    house.save()
    client = ClientFactory()
    with clock.at(dt.datetime(2026, 11, 24, 11, 30, tzinfo=dt.UTC)):
        FlagFactory(client=client, created_by=instructor)
    assert '<time datetime="2026-11-25">' in story(as_instructor, client)


def test_a_skipped_exercise_and_names_as_they_are(as_instructor, instructor, now):
    client = ClientFactory(full_name="<b>O'Brien</b> 王", call_name="=SUM(1)")
    recorded(client, instructor, 7, state="skipped", left=None, right=None)
    page = story(as_instructor, client)
    assert "skipped" in page and "&lt;b&gt;O&#x27;Brien&lt;/b&gt; 王" in page


def test_an_empty_story_says_what_will_stand_here(as_instructor, now):
    assert "The first session will stand here" in story(as_instructor, ClientFactory())


def test_queries_do_not_grow_from_two_sessions_to_twelve(as_instructor, instructor, now):
    client = ClientFactory()

    def add(number):
        recorded(client, instructor, 7 * (number + 1))
        FlagFactory(client=client, created_by=instructor)
        GoalFactory(client=client, ratings=[(on(number), 4)])
        HandoutFactory(client=client, author=instructor)
        IncidentFactory(attendance=AttendanceFactory(client=client))

    for number in range(2):
        add(number)
    two = queries_of(lambda: story(as_instructor, client))
    for number in range(2, 12):
        add(number)
    assert story(as_instructor, client).count("tl-session") == 12
    assert queries_of(lambda: story(as_instructor, client)) == two


def test_the_story_is_for_instructors_and_reading_it_is_on_file(as_instructor, as_desk, now):
    client = ClientFactory()
    story(as_instructor, client)
    assert AuditEntry.objects.filter(action="timeline.read", thing_id=client.public_id).count() == 1
    assert as_desk.get(reverse("sessions:timeline", args=[client.public_id])).status_code == 403


def test_a_long_story_comes_in_pages_and_loses_nothing(as_instructor, instructor, house, now):
    """Thirty weekly sessions: each stands on exactly one page, and every page leads to the one before it."""
    from sessions.demo.factories import AttendanceFactory, ClientFactory, RecordFactory

    client = ClientFactory()
    days = [dt.date(2026, 11, 24) - dt.timedelta(weeks=n) for n in range(30)]
    for day in days:
        attendance = AttendanceFactory(client=client, booking__wall_day=day, booking__instructor=instructor)
        RecordFactory(attendance=attendance, author=instructor, finished_at=now)
    address, seen = reverse("sessions:timeline", args=[client.public_id]), []
    while True:
        answer = as_instructor.get(address)
        seen += [event.on for event in answer.context["events"] if event.kind == "session"]
        earlier = answer.context["earlier"]
        if earlier is None:
            break
        address = f"{reverse('sessions:timeline', args=[client.public_id])}?until={earlier}"
    assert seen == days
    assert as_instructor.get(f"{address}&until=no-day").status_code == 200
