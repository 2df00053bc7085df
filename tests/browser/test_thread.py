"""The whole thread by touch: front desk, then instructor, to the printed home practice; from an empty studio too.

The browser is the tablet; every step is a real screen and the database is real. The clock stands at
Wednesday 25 November 2026, 10:15.
"""

import pikepdf
import pytest

from clients.models import Client, Flag
from library.actions.loading import load_library
from sessions.demo.factories import RoomFactory, SpringFactory, UnitFactory
from sessions.models import Attendance, Entry, Handout, Incident, Plan, Record
from tests.browser.steps import Desk, Instructor, Newcomer, Owner

pytestmark = pytest.mark.browser

NAME = "Zoë O'Brien-Oakapple"


@pytest.fixture
def furnished(now, house, instructor, desk):
    """A studio that works already: a room, a reformer with springs, an instructor and a desk, the library."""
    load_library()
    room = RoomFactory(name="Long")
    UnitFactory(name="Reformer 1", room=room)
    SpringFactory(name="Thick", grade="heavy", count=2)
    SpringFactory(name="Thin", grade="light", count=2)
    return house


def walk(tablet, desk_name, instructor_name):
    """Take one client from the front desk to the printed page, and check each step in the database."""
    desk = Desk(tablet)
    tablet.sign_in(desk_name)
    desk.add_client(NAME, call="Zoë", born="1959-03-04", telephone="07700 900123")
    client = Client.objects.get()
    desk.type_paper_form(condition="Osteoporosis, no spinal fracture known", wish="Lift my granddaughter")
    assert [f.condition for f in Flag.objects.all()] == ["osteoporosis"]
    desk.cannot_read_the_form_back(client)
    desk.book(NAME, day="2026-11-25", time="11:00", room="Long", unit="Reformer 1")
    attendance = Attendance.objects.get()
    desk.mark_arrived(NAME)
    attendance.refresh_from_db()
    assert attendance.state == "arrived"
    tablet.sign_out()

    teacher = Instructor(tablet)
    tablet.sign_in(instructor_name)
    teacher.find_client("zoe obrien", NAME)
    teacher.confirm_first_flag(client)
    assert Flag.objects.active().count() == 1
    teacher.sees_on_today(NAME, "Avoid")
    teacher.start_plan(attendance)
    teacher.add_to_plan("Pelvic curl")
    teacher.add_to_plan("Roll-up")
    teacher.add_to_plan("Clam, side-lying")
    teacher.add_to_plan("Footwork, toes parallel")
    teacher.keep_avoid("Roll-up", "Her physiotherapist rang on 24 November: half the way, with the band.")
    teacher.approve()
    plan = Plan.objects.get()
    assert plan.approved_at and {item.table_version for item in plan.items.all()} != {""}
    assert plan.items.get(exercise__key="mat_roll_up").verdict["verdict"] == "avoid"

    teacher.start_session(attendance)
    teacher.as_planned("Pelvic curl")
    teacher.skip("Roll-up")
    teacher.record_sides("Clam, side-lying", left=8, right=10, quality_left=2, quality_right=4)
    teacher.stop_and_go_on("Footwork, toes parallel")
    teacher.close(next_time="Start on the left, fewer.", effort=5)
    record = Record.objects.get()
    clam = Entry.objects.get(exercise__key="mat_clam")
    assert {s.side: (s.repetitions, s.quality) for s in clam.sides.all()} == {
        "left": (8, 2),
        "right": (10, 4),
    }
    assert record.finished_at and record.effort == 5
    assert Incident.objects.count() == 1
    teacher.sees_in_story(client, "Clam, side-lying", "8", "10")

    teacher.put_together(client, ["Pelvic curl", "Clam, side-lying"])
    teacher.issue()
    handout = Handout.objects.get()
    with pikepdf.open(__import__("io").BytesIO(bytes(handout.pdf))) as pdf:
        assert str(pdf.Root.Lang).startswith("en")
    assert "steoporosis" not in str(handout.payload)
    teacher.opens_pdf(handout)


def test_one_client_all_the_way(tablet, furnished):
    walk(tablet, "juniper", "maris")


def test_all_the_way_from_an_empty_studio(open_tablet, now, transactional_db):
    """The first page makes the owner; the owner makes a room, apparatus, springs and people; then the thread."""
    load_library()
    tablet = open_tablet()
    owner = Owner(tablet)
    owner.sets_the_studio_up()
    owner.adds_room("Long")
    owner.adds_unit("Reformer 1", kind="Reformer", room="Long")
    owner.adds_spring("Thick", grade="heavy")
    codes = {
        "maris": owner.adds_person("Maris Fennelcote", "Maris", "maris", instructor=True),
        "juniper": owner.adds_person("Juniper Oakmantle", "Juniper", "juniper", front_desk=True),
    }
    tablet.sign_out()
    for name, code in codes.items():
        Newcomer(tablet).chooses_a_passphrase(name, code)
        tablet.sign_out()
    walk(tablet, "juniper", "maris")
