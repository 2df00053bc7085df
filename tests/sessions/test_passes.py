"""A pass follows what becomes of its client's bookings: used once, given back once, never below nought.

Sources: OWASP verification standard 5.0, 2.3.2 and 2.3.3 (limits of the business logic; all or nothing).
"""

import datetime as dt
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import DatabaseError, connection, transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sessions.actions import bookings, passes, records
from sessions.demo.factories import (
    AttendanceFactory,
    BookingFactory,
    ClientFactory,
    PassFactory,
    RecordFactory,
)
from sessions.models import Attendance, Pass, PassEntry, Record
from studio.actions.audit import Actor
from studio.models import AuditEntry, Stale

pytestmark = pytest.mark.django_db
USES = {"done", "cancelled_late", "no_show"}


@pytest.fixture
def at_desk(house, now, desk):
    """Set the state of an attendance as the front desk does."""

    def set_state(attendance, state):
        row = Attendance.objects.select_related("booking", "client").get(pk=attendance.pk)
        return bookings.set_state(
            actor=Actor(person=desk), studio=house, attendance=row, state=state, expected=row.version
        )

    return set_state


def ledger(sold) -> list[tuple]:
    return list(sold.entries.order_by("number").values_list("kind", "delta", "left"))


def sold_to(client, **values):
    return PassFactory(client=client, **values)


STEPS = {
    "done": (["arrived", "done"], -1),
    "no-show": (["no_show"], -1),
    # The booking of today is cancelled on the day: too late by the studio's 24 hours.
    "cancelled late": (["cancelled"], -1),
    "arrived alone": (["arrived"], 0),
    "done, then booked again": (["done", "booked"], 0),
    "no-show that came after all": (["no_show", "arrived", "done"], -1),
    "from one to another that uses": (["done", "no_show", "cancelled"], -1),
    "done twice with a way back between": (["done", "booked", "done", "arrived", "done"], -1),
}


@pytest.mark.parametrize("states, change", STEPS.values(), ids=STEPS)
def test_states_use_a_session_or_give_it_back(states, change, at_desk):
    attendance = AttendanceFactory()
    sold = sold_to(attendance.client, sessions=3)
    for state in states:
        at_desk(attendance, state)
    assert passes.left_on(sold) == 3 + change
    assert ledger(sold)[-1][2] == 3 + change


def test_cancelled_in_time_uses_none_and_gives_back_exactly_one(at_desk, now):
    """CON-3: cancelling gives back exactly one, however often it is sent."""
    attendance = AttendanceFactory(booking__wall_day=now.date() + dt.timedelta(days=3))
    sold = sold_to(attendance.client, sessions=2)
    at_desk(attendance, "cancelled")
    assert ledger(sold) == [("bought", 2, 2)]
    at_desk(attendance, "done")
    for _ in range(3):
        assert at_desk(attendance, "cancelled").state == "cancelled_in_time"
    assert ledger(sold) == [("bought", 2, 2), ("used", -1, 1), ("given_back", 1, 2)]


def test_a_second_press_on_an_old_page_uses_nothing(at_desk, house, desk):
    attendance = AttendanceFactory()
    sold = sold_to(attendance.client, sessions=2)
    at_desk(attendance, "done")
    with pytest.raises(Stale):
        bookings.set_state(
            actor=Actor(person=desk), studio=house, attendance=attendance, state="done", expected=1
        )
    assert passes.left_on(sold) == 1


def test_closing_a_record_uses_a_session_once(now, instructor, at_desk):
    attendance = AttendanceFactory(state="arrived", booking__instructor=instructor)
    sold = sold_to(attendance.client, sessions=2)
    record = RecordFactory(attendance=attendance, author=instructor)
    values = dict.fromkeys(Record.CLOSE, "") | {"effort": None, "pain": None}
    records.close(actor=Actor(person=instructor), record=record, values=values, expected=record.version)
    at_desk(attendance, "done")
    assert ledger(sold) == [("bought", 2, 2), ("used", -1, 1)]


def test_a_pair_uses_one_of_each(at_desk):
    one, other = ClientFactory(), ClientFactory()
    booking = BookingFactory(clients=[one, other])
    first, second = sold_to(one), sold_to(other)
    for attendance in booking.attendances.all():
        at_desk(attendance, "done")
    assert [passes.left_on(sold) for sold in (first, second)] == [9, 9]


def test_given_back_to_the_pass_it_came_from_even_after_its_last_day(at_desk, now):
    attendance = AttendanceFactory()
    old = sold_to(attendance.client, sessions=1, last_day=now.date())
    new = sold_to(attendance.client)
    at_desk(attendance, "done")
    assert [passes.left_on(sold) for sold in (old, new)] == [0, 10]
    at_desk(attendance, "booked")
    assert [passes.left_on(sold) for sold in (old, new)] == [1, 10]


def test_without_a_session_left_the_state_stands_and_it_is_to_pay(at_desk):
    client = ClientFactory()
    sold = sold_to(client, sessions=1)
    first = AttendanceFactory(client=client)
    second = AttendanceFactory(client=client, booking__wall_time=dt.time(12))
    assert at_desk(first, "done").pass_came == "used"
    came = at_desk(second, "done")
    assert (came.state, came.pass_came) == ("done", "none_left")
    assert passes.left_on(sold) == 0
    assert at_desk(AttendanceFactory(), "done").pass_came == "no_pass"


def test_the_day_of_the_session_decides_not_the_day_it_is_marked(at_desk, now):
    """TIM-7: a pass that ended yesterday pays for yesterday's session when it is marked today."""
    yesterday = now.date() - dt.timedelta(days=1)
    attendance = AttendanceFactory(booking__wall_day=yesterday)
    sold = sold_to(attendance.client, last_day=yesterday)
    assert at_desk(attendance, "done").pass_came == "used"
    assert at_desk(AttendanceFactory(client=attendance.client), "done").pass_came == "none_left"
    assert passes.left_on(sold) == 9


def test_what_is_done_to_a_pass_is_written_down(at_desk, desk):
    attendance = AttendanceFactory()
    sold = passes.sell(
        actor=Actor(person=desk),
        client=attendance.client,
        sessions=2,
        bought_on=dt.date(2026, 11, 1),
        token="t",
    )
    at_desk(attendance, "done")
    at_desk(attendance, "booked")
    passes.correct(actor=Actor(person=desk), sold=sold, delta=-1, reason="miscount", seen=3)
    rows = AuditEntry.objects.filter(action__startswith="pass.").order_by("pk")
    assert list(rows.values_list("action", flat=True)) == [
        "pass.sold",
        "pass.used",
        "pass.given_back",
        "pass.corrected",
    ]
    assert set(rows.values_list("thing_id", flat=True)) == {sold.public_id}
    assert set(rows.values_list("person", flat=True)) == {desk.pk}


def test_the_same_form_sells_once(desk, now):
    values = {"client": ClientFactory(), "sessions": 5, "bought_on": now.date(), "token": "one form"}
    first = passes.sell(actor=Actor(person=desk), **values)
    assert passes.sell(actor=Actor(person=desk), **values) == first
    assert Pass.objects.count() == PassEntry.objects.count() == 1


def test_a_correction_stops_at_nought_and_notices_newer_lines(desk, now):
    sold, actor = PassFactory(sessions=2), Actor(person=desk)
    with pytest.raises(passes.BelowZero):
        passes.correct(actor=actor, sold=sold, delta=-3, reason="miscount", seen=1)
    passes.correct(actor=actor, sold=sold, delta=-2, reason="paid_back", seen=1)
    with pytest.raises(passes.Moved):
        passes.correct(actor=actor, sold=sold, delta=1, reason="gift", seen=1)
    assert ledger(sold) == [("bought", 2, 2), ("corrected", -2, 0)]


BROKEN = {
    "below nought": {"number": 2, "kind": "used", "delta": -1, "left": -1, "turn": 1},
    "a use of two": {"number": 2, "kind": "used", "delta": -2, "left": 0, "turn": 1},
    "a use for nobody": {"number": 2, "kind": "used", "delta": -1, "left": 0, "turn": None},
    "a use in the turn of a return": {"number": 2, "kind": "used", "delta": -1, "left": 0, "turn": 2},
    "a return in the turn of a use": {"number": 2, "kind": "given_back", "delta": 1, "left": 2, "turn": 1},
    "a correction without a reason": {"number": 2, "kind": "corrected", "delta": 1, "left": 2, "turn": None},
    "a place that is taken": {"number": 1, "kind": "used", "delta": -1, "left": 0, "turn": 1},
}


@pytest.mark.parametrize("values", BROKEN.values(), ids=BROKEN)
def test_the_database_itself_refuses_a_ledger_that_cannot_be(values, desk, now):
    attendance = AttendanceFactory() if values["turn"] else None
    sold = PassFactory(sessions=1)
    with pytest.raises(DatabaseError) as refused, transaction.atomic():
        PassEntry.objects.create(of=sold, author=desk, at=now, attendance=attendance, **values)
    assert any(word in str(refused.value) for word in ("constraint", "UNIQUE", "only ever added"))


def test_one_attendance_is_never_used_twice_at_once(desk, now):
    sold, attendance = PassFactory(), AttendanceFactory()
    values = {"of": sold, "author": desk, "at": now, "attendance": attendance, "kind": "used", "delta": -1}
    PassEntry.objects.create(number=2, left=9, turn=1, **values)
    with pytest.raises(DatabaseError, match="UNIQUE|only ever added"), transaction.atomic():
        PassEntry.objects.create(number=3, left=8, turn=1, **values)


@settings(
    max_examples=25,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(
    sizes=st.lists(st.integers(1, 3), min_size=0, max_size=2),
    steps=st.lists(
        st.tuples(st.integers(0, 2), st.sampled_from(["booked", "arrived", "done", "cancelled", "no_show"])),
        max_size=14,
    ),
)
def test_any_sequence_of_states_keeps_the_sum(sizes, steps, at_desk):
    """The balance is what was bought less the uses that stand, and no line is ever below nought."""
    with transaction.atomic():
        client = ClientFactory()
        sold = [sold_to(client, sessions=size) for size in sizes]
        rows = [AttendanceFactory(client=client, booking__wall_time=dt.time(9 + n)) for n in range(3)]
        paid = set()
        for place, state in steps:
            before, came = sum(map(passes.left_on, sold)), at_desk(rows[place], state)
            # A model of one's own: who holds a session, and whether there was one to take.
            if came.state not in USES:
                paid.discard(place)
            elif place not in paid and before:
                paid.add(place)
            assert sum(map(passes.left_on, sold)) == sum(sizes) - len(paid)
        for one in sold:
            lines = ledger(one)
            assert [left for _k, _d, left in lines] == [
                sum(delta for _kind, delta, _left in lines[: n + 1]) for n in range(len(lines))
            ]
            assert all(left >= 0 for _kind, _delta, left in lines)
        transaction.set_rollback(True)


@pytest.mark.django_db(transaction=True)
def test_two_desks_and_one_session(house, now, desk):
    """CON-3: of many who mark at once one gets the last session; the others are marked and told it is to pay."""
    client = ClientFactory()
    sold = sold_to(client, sessions=1)
    rows = [AttendanceFactory(client=client, booking__wall_time=dt.time(8 + n)) for n in range(6)]

    def mark(pk):
        try:
            row = Attendance.objects.select_related("booking", "client").get(pk=pk)
            return bookings.set_state(
                actor=Actor(person=desk), studio=house, attendance=row, state="done", expected=1
            ).pass_came
        finally:
            connection.close()

    with ThreadPoolExecutor(6) as pool:
        came = sorted(pool.map(mark, [row.pk for row in rows]))
    assert came == ["none_left"] * 5 + ["used"]
    assert ledger(sold) == [("bought", 1, 1), ("used", -1, 0)]
    assert set(Attendance.objects.values_list("state", flat=True)) == {"done"}


@pytest.mark.django_db(transaction=True)
def test_the_same_button_at_once_uses_one(house, now, desk):
    """CON-6: of the same press sent many times at once one counts, the others are told it has moved on."""
    attendance = AttendanceFactory()
    sold = sold_to(attendance.client, sessions=4)

    def mark(_number):
        try:
            row = Attendance.objects.select_related("booking", "client").get(pk=attendance.pk)
            row.version = 1
            bookings.set_state(
                actor=Actor(person=desk), studio=house, attendance=row, state="done", expected=1
            )
            return "set"
        except Stale:
            return "stale"
        finally:
            connection.close()

    with ThreadPoolExecutor(6) as pool:
        assert sorted(pool.map(mark, range(6))) == ["set"] + ["stale"] * 5
    assert passes.left_on(sold) == 3
