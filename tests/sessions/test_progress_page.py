"""The progress page: what it shows, to whom, in how many queries. Its PDF: test_progress_pdf."""

import datetime as dt
import re
import xml.etree.ElementTree as ET
from html.parser import HTMLParser

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from sessions.demo import factories as f
from studio.models import AuditEntry

pytestmark = pytest.mark.django_db

DAYS = [dt.date(2026, 4, 8) + dt.timedelta(weeks=6 * n) for n in range(6)]
LEFT, RIGHT = [55, 65, 75, 85, 60, 85], [105, 100, 110, 105, 110, 110]


@pytest.fixture
def client_of(instructor, library, now):
    """A client with six tests of the lunge, as in the design, and a few sessions."""
    client = f.ClientFactory(full_name="Ottoline Brackwater")
    for day, left, right in zip(DAYS, LEFT, RIGHT, strict=True):
        f.MeasurementFactory(client=client, on=day, left=left, right=right, author=instructor)
    for week in range(4):
        session(client, instructor, DAYS[0] + dt.timedelta(weeks=week), quality=1 + week, heavy=1 + week // 2)
    return client


def session(client, instructor, day, *, quality=3, heavy=1, pain=2):
    booking = f.BookingFactory(instructor=instructor, wall_day=day)
    attendance = f.AttendanceFactory(client=client, booking=booking, state="done")
    record = f.RecordFactory(attendance=attendance, author=instructor, finished_at=booking.ends_at, pain=pain)
    springs = [{"spring": "x", "name": "Heavy", "grade": "heavy", "count": heavy}]
    sides = {"left": {"quality": quality}, "right": {"quality": 4}}
    f.EntryFactory(
        record=record, exercise__key="mat_clam", setting={"springs": springs}, author=instructor, **sides
    )
    return attendance


def place(client, rest=""):
    return f"/clients/{client.public_id}/progress/{rest}"


def drawings(html: str) -> list[ET.Element]:
    """Return the drawings of the charts; each must be sound by itself."""
    return [ET.fromstring(text) for text in re.findall(r'<svg xmlns="http[^>]*>.*?</svg>', html, re.S)]


class Text(HTMLParser):
    """Collects the words of a page."""

    def __init__(self, html):
        super().__init__()
        self.words = []
        self.feed(html)

    def handle_data(self, data):
        self.words.append(data)

    def __str__(self):
        return " ".join(" ".join(self.words).split())


def test_page_says_the_change_of_each_side_and_the_gap(as_instructor, client_of):
    html = as_instructor.get(place(client_of)).content.decode()
    text = str(Text(html))
    for words in (
        "up 3.0 cm",
        "up 0.5 cm, within noise",
        "Gap, 5.0 to 2.5 cm",
        "Within noise, 1.9 cm either way",
    ):
        assert words in text
    assert "Even, under 1.9 cm" in text
    assert "Test 6" in text


def test_drawings_are_sound_titled_and_without_style(as_instructor, client_of):
    for rest in ("", "print/"):
        html = as_instructor.get(place(client_of, rest)).content.decode()
        found = drawings(html)
        assert len(found) >= 4
        assert " style=" not in html
        named = [svg for svg in found if svg.get("role") == "img"]
        assert all(svg[0].tag.endswith("title") and svg[1].tag.endswith("desc") for svg in named)
        ids = re.findall(r'\bid="([^"]+)"', html)
        assert len(ids) == len(set(ids))


def test_table_gives_the_numbers_that_are_drawn(as_instructor, client_of):
    html = as_instructor.get(place(client_of)).content.decode()
    rows = re.findall(r'<td class="l">([^<]*)</td><td class="r">([^<]*)</td>', html)
    assert rows == [
        (f"{left / 10:.1f} cm", f"{right / 10:.1f} cm") for left, right in zip(LEFT, RIGHT, strict=True)
    ]
    line = next(svg for svg in drawings(html) if "wide-left" in svg.get("aria-labelledby", ""))
    discs = next(p.get("d") for p in line.iter() if p.get("class") == "ch-half is-left")
    assert discs.count("M") == len(rows)


def test_quality_is_drawn_as_steps_and_never_joined(as_instructor, client_of):
    html = as_instructor.get(place(client_of)).content.decode()
    stairs = [svg for svg in drawings(html) if svg.get("aria-labelledby", "").startswith("steps-")]
    assert len(stairs) == 1
    assert {p.get("class") for p in stairs[0].iter() if p.get("class", "").startswith("ch-line")} == set()
    assert "Lost to Clean" in str(Text(html))


def test_story_line_is_oldest_first(as_instructor, client_of, instructor):
    f.InstructionFactory(
        client=client_of, clinician="R. Tindlewell", dated=dt.date(2026, 6, 1), created_by=instructor
    )
    f.GoalFactory(client=client_of, words="The harbour steps", set_on=dt.date(2026, 7, 1))
    session(client_of, instructor, dt.date(2026, 8, 1), heavy=2, pain=7)
    html = as_instructor.get(place(client_of)).content.decode()
    kinds = re.findall(r'<li class="ev-(\w+)">', html)
    assert kinds == ["load", "note", "goal", "flare", "test"]
    assert "ch-hatch" in html


def test_flare_up_of_one_side_is_hatched_on_that_side(as_instructor, client_of, instructor):
    flag = f.FlagFactory(
        client=client_of, condition="ankle_sprain", side="left", on=dt.date(2026, 6, 1), created_by=instructor
    )
    f.FlagStatusFactory(flag=flag, state="ended", at=dt.datetime(2026, 6, 20, 12, tzinfo=dt.UTC))
    html = as_instructor.get(place(client_of)).content.decode()
    panels = {svg.get("aria-labelledby", ""): ET.tostring(svg, encoding="unicode") for svg in drawings(html)}
    assert "Flare-up" in panels["wide-left-t"]
    assert "Flare-up" not in panels["wide-right-t"]
    assert "1 Jun to 20 Jun" in str(Text(html))


def test_a_corrected_test_is_shown_as_corrected(as_instructor, client_of, instructor):
    wrong = client_of.measurements.get(on=DAYS[5])
    f.MeasurementFactory(client=client_of, on=DAYS[5], left=80, right=110, replaces=wrong, author=instructor)
    text = str(Text(as_instructor.get(place(client_of)).content.decode()))
    assert "up 2.5 cm" in text
    assert "8.5 cm on" not in text


def test_dates_in_the_address_choose_the_tests(as_instructor, client_of):
    answer = as_instructor.get(place(client_of), {"from": DAYS[3].isoformat(), "to": DAYS[5].isoformat()})
    html = answer.content.decode()
    assert len(re.findall(r'<td class="l">', html)) == 3
    assert "the same" in str(Text(html))


def test_dates_the_wrong_way_round_are_said_at_the_field_and_kept(as_instructor, client_of):
    answer = as_instructor.get(place(client_of), {"from": "2026-07-01", "to": "2026-06-01"})
    html = answer.content.decode()
    assert answer.status_code == 422
    assert "This day is before the first one. Choose a later day." in html
    assert 'value="2026-06-01"' in html


@pytest.mark.parametrize(
    "asked, status",
    [
        ({"measure": "nonsense"}, 200),
        ({"from": "not a day"}, 422),
        ({"from": "0001-01-01"}, 422),
        ({"to": "9999-12-31"}, 422),
        ({}, 200),
    ],
    ids=str,
)
def test_odd_addresses_still_answer_with_a_page(as_instructor, client_of, asked, status):
    answer = as_instructor.get(place(client_of), asked)
    assert answer.status_code == status
    assert "Knee-to-wall lunge" in answer.content.decode()
    assert as_instructor.get(place(client_of) + "print/", asked).status_code == 200


def test_without_a_test_the_page_says_so(as_instructor, client_of):
    text = str(Text(as_instructor.get(place(client_of), {"measure": "side_bridge"}).content.decode()))
    assert "Not tested yet" in text


def test_one_test_alone_is_a_page_too(as_instructor, client_of, instructor):
    f.MeasurementFactory(
        client=client_of, measure="side_bridge", on=DAYS[0], left=None, right=200, author=instructor
    )
    text = str(Text(as_instructor.get(place(client_of), {"measure": "side_bridge"}).content.decode()))
    assert "one test so far" in text
    assert "not taken" in text


@pytest.mark.parametrize("rest", ["", "pdf/", "print/"], ids=["page", "pdf", "printed"])
def test_the_desk_is_refused(as_desk, client_of, rest):
    assert as_desk.get(place(client_of, rest)).status_code == 403


def test_the_desks_client_page_holds_nothing_of_it(as_desk, client_of):
    html = as_desk.get(f"/clients/{client_of.public_id}/").content.decode()
    assert "Knee-to-wall" not in html
    assert "progress" not in html


@pytest.mark.parametrize("rest", ["", "pdf/", "print/"], ids=["page", "pdf", "printed"])
def test_reading_is_audited_once(as_instructor, client_of, rest):
    before = AuditEntry.objects.filter(action="progress.read").count()
    as_instructor.get(place(client_of, rest))
    assert AuditEntry.objects.filter(action="progress.read").count() == before + 1


def test_somebody_elses_measures_stay_out(as_instructor, client_of, instructor):
    other = f.ClientFactory()
    f.MeasurementFactory(client=other, on=DAYS[0], left=240, right=245, author=instructor)
    assert "24.0" not in str(Text(as_instructor.get(place(client_of)).content.decode()))


def queries(browser, address) -> int:
    browser.get(address)
    with CaptureQueriesContext(connection) as caught:
        assert browser.get(address).status_code == 200
    return len(caught)


@pytest.mark.parametrize("rest", ["progress/", "progress/print/", ""], ids=["page", "printed", "client"])
def test_queries_do_not_grow_with_the_rows(as_instructor, client_of, instructor, rest):
    address = f"/clients/{client_of.public_id}/{rest}"
    f.FlagFactory(client=client_of, condition="ankle_sprain", side="left", on=DAYS[0], created_by=instructor)
    f.GoalFactory(client=client_of, set_on=DAYS[0])
    f.IncidentFactory(attendance=session(client_of, instructor, DAYS[1]), author=instructor)
    few = queries(as_instructor, address)
    for n in range(12):
        day = DAYS[1] + dt.timedelta(weeks=1 + n)
        f.FlagFactory(client=client_of, condition="ankle_sprain", side="right", on=day, created_by=instructor)
        f.GoalFactory(client=client_of, set_on=day)
        attendance = session(client_of, instructor, day, heavy=1 + n % 3)
        f.IncidentFactory(attendance=attendance, author=instructor)
        f.MeasurementFactory(client=client_of, on=day + dt.timedelta(days=1), author=instructor)
    assert queries(as_instructor, address) == few


def test_strips_of_the_client_page_say_the_gap_in_a_line(as_instructor, client_of):
    html = as_instructor.get(f"/clients/{client_of.public_id}/").content.decode()
    text = str(Text(html))
    assert "left 2.5 cm behind, was 5.0" in text
    assert "was 5.5 cm" in text
    strip = next(svg for svg in drawings(html) if svg.get("aria-labelledby", "").startswith("strip-"))
    assert {"ch-step is-left", "ch-step is-right", "ch-was"} <= {p.get("class") for p in strip.iter()}
