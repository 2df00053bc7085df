"""Recording a session: start, entries with sides, undo, stop, close, sign-off, additions."""

import datetime as dt

import pytest

from library.precautions import judge
from sessions.actions import incidents, records
from sessions.demo.factories import (
    EntryFactory,
    FlagFactory,
    FlagStatusFactory,
    InstructionFactory,
    RecordFactory,
)
from sessions.models import Attendance, Entry, Incident, Record
from sessions.recording import CHANGED, DONE, SKIPPED, Done, SideDone
from studio import clock
from studio.actions.audit import Actor
from studio.models import AuditEntry, Stale
from tests.sessions.recorded import DAY, entry_id, make_session

pytestmark = pytest.mark.django_db


@pytest.fixture
def held(instructor, now):
    return make_session(instructor)


def save(held, item, number=1, *, state=CHANGED, answered="", **sides):
    done = Done(entry_id(number), state, sides)
    return records.save_entry(actor=held.actor, record=held.record, item=item, done=done, answered=answered)


def sides_of(entry):
    return {side.side: (side.repetitions, side.seconds) for side in entry.sides.all()}


# start


def test_start_keeps_who_saw_the_flags_and_when(instructor, now):
    held = make_session(instructor, started=False)
    record = records.start(actor=held.actor, attendance=held.attendance, flags_seen=True)
    assert (record.flags_seen_at, record.flags_seen_by, record.author) == (now, instructor, instructor)
    held.attendance.refresh_from_db()
    assert held.attendance.state == "arrived"


def test_starting_twice_gives_the_same_record(instructor, other_instructor, now):
    held = make_session(instructor, started=False)
    first = records.start(actor=held.actor, attendance=held.attendance, flags_seen=False)
    second = records.start(actor=Actor(person=other_instructor), attendance=held.attendance, flags_seen=True)
    assert second == first and second.author == instructor and second.flags_seen_at is None


REFUSED = {
    "cancelled in time": ({"state": "cancelled_in_time"}, "freed"),
    "cancelled late": ({"state": "cancelled_late"}, "freed"),
    "no-show": ({"state": "no_show"}, "no_show"),
}


@pytest.mark.parametrize("changes, reason", REFUSED.values(), ids=REFUSED)
def test_a_place_that_nobody_holds_is_not_started(instructor, now, changes, reason):
    held = make_session(instructor, started=False)
    Attendance.objects.filter(pk=held.attendance.pk).update(**changes)
    held.attendance.refresh_from_db()
    with pytest.raises(records.CannotStart) as refused:
        records.start(actor=held.actor, attendance=held.attendance, flags_seen=True)
    assert refused.value.reason == reason and not Record.objects.exists()


def test_tomorrow_is_not_started_today(instructor, now):
    held = make_session(instructor, started=False, wall_day=DAY + dt.timedelta(days=1))
    with pytest.raises(records.CannotStart) as refused:
        records.start(actor=held.actor, attendance=held.attendance, flags_seen=True)
    assert refused.value.reason == "later"


# entries


def test_left_and_right_are_kept_apart_and_an_empty_side_stays_empty(held):
    entry = save(held, held.scooter, left=SideDone(10, quality=2), right=SideDone(8, quality=4))
    assert sides_of(entry) == {"left": (10, None), "right": (8, None)}
    entry = save(held, held.scooter, left=SideDone(10))
    assert sides_of(entry) == {"left": (10, None)}


def test_nought_is_kept_as_nought(held):
    entry = save(held, held.curl, both=SideDone(0))
    assert sides_of(entry) == {"both": (0, None)}


def test_seconds_are_kept_for_each_side(held):
    entry = save(held, held.stand, left=SideDone(seconds=30), right=SideDone(seconds=12))
    assert sides_of(entry) == {"left": (None, 30), "right": (None, 12)}


AS_PLANNED = {
    "no sides": ("curl", {"both": (8, None)}),
    "both sides": ("scooter", {"left": (8, None), "right": (8, None)}),
    "left only": ("clam", {"left": (8, None)}),
    "held, its own seconds right": ("stand", {"left": (None, 30), "right": (None, 20)}),
}


@pytest.mark.parametrize("name, sides", AS_PLANNED.values(), ids=AS_PLANNED)
def test_as_planned_is_the_plan_for_the_sides_of_the_row(held, name, sides):
    item = getattr(held, name)
    done = records.as_planned(item, entry_id(1))
    entry = records.save_entry(actor=held.actor, record=held.record, item=item, done=done)
    assert (entry.state, sides_of(entry), entry.setting) == (DONE, sides, item.setting)


def test_sent_twice_it_is_one_row(held):
    first = save(held, held.curl, both=SideDone(8))
    again = save(held, held.curl, both=SideDone(8))
    assert again.pk == first.pk and Entry.objects.count() == 1 and first.sides.count() == 1


def test_another_id_for_the_same_plan_row_changes_the_row(held):
    save(held, held.curl, both=SideDone(8))
    entry = save(held, held.curl, 2, both=SideDone(6))
    assert Entry.objects.count() == 1 and sides_of(entry) == {"both": (6, None)}


def test_an_id_of_another_record_changes_nothing_there(held, instructor):
    other = EntryFactory(record=RecordFactory(), id=entry_id(1), both={"repetitions": 3})
    entry = save(held, held.curl, 1, both=SideDone(8))
    assert entry.record == held.record and entry.pk != other.pk
    other.refresh_from_db()
    assert other.record != held.record and sides_of(other) == {"both": (3, None)}


def test_an_id_of_another_row_changes_nothing_there(held):
    first = save(held, held.curl, 1, both=SideDone(8))
    second = save(held, held.scooter, 1, left=SideDone(6))
    assert second.pk != first.pk and sides_of(first) == {"both": (8, None)}
    assert [e.exercise.key for e in held.record.entries.all()] == ["mat_pelvic_curl", "ref_scooter"]


def test_rows_are_counted_in_the_order_they_were_done(held):
    save(held, held.scooter, 1, left=SideDone(8))
    save(held, held.curl, 2, both=SideDone(8))
    assert [e.exercise.key for e in held.record.entries.all()] == ["ref_scooter", "mat_pelvic_curl"]


def test_an_entry_pins_the_version_and_what_the_judge_says_that_day(held):
    FlagFactory(client=held.client, condition="osteoporosis", created_by=held.instructor)
    entry = save(held, held.curl, both=SideDone(8))
    assert entry.exercise_version == held.curl.exercise.current
    flag = held.client.flags.get()
    verdict = judge([flag], "mat_pelvic_curl", DAY)
    assert entry.verdict["verdict"] == verdict.verdict
    assert entry.table_version == verdict.table_version == entry.verdict["table_version"]


# signs


SIGNS = {
    "tingling": ("tingling", "left"),
    "numb or weak": ("numb_or_weak", "right"),
    "pain": ("pain", "left"),
}


@pytest.mark.parametrize("sign, side", SIGNS.values(), ids=SIGNS)
def test_a_sign_is_not_saved_before_the_stop_sheet_is_answered(held, sign, side):
    with pytest.raises(records.SignsUnanswered) as asked:
        save(held, held.scooter, **{side: SideDone(8, felt=(sign,))})
    assert (asked.value.sign, asked.value.side) == (sign, side)
    assert not Entry.objects.exists()


def test_what_was_answered_is_not_asked_again_but_another_side_is(held):
    save(held, held.scooter, answered="lighter_spring", left=SideDone(8, felt=("pain",)))
    entry = save(held, held.scooter, left=SideDone(6, felt=("pain",)))
    assert sides_of(entry) == {"left": (6, None)}
    with pytest.raises(records.SignsUnanswered) as asked:
        save(held, held.scooter, left=SideDone(6, felt=("pain",)), right=SideDone(6, felt=("pain",)))
    assert asked.value.side == "right"


MACHINES = {
    "the row's own": ("scooter", "Reformer 1"),
    "none for the mat": ("curl", None),
    "the only one booked, without a row": (None, "Reformer 1"),
}


@pytest.mark.parametrize("name, machine", MACHINES.values(), ids=MACHINES)
def test_an_incident_has_client_machine_author_and_time_in_it(held, now, name, machine):
    item = getattr(held, name) if name else None
    incident = records.stop(
        actor=held.actor, attendance=held.attendance, sign="pain", side="left", item=item, session=False
    )
    assert (incident.unit.name if incident.unit else None) == machine
    assert (incident.attendance.client, incident.author, incident.at) == (held.client, held.instructor, now)


def test_an_incident_is_never_rewritten(held):
    incident = records.stop(
        actor=held.actor, attendance=held.attendance, sign="", side="", item=None, session=True
    )
    incidents.write(actor=held.actor, incident=incident, words={"happened": "Sat down."}, due_on=None)
    incident.sign = "pain"
    with pytest.raises(TypeError):
        incident.save()
    assert Incident.objects.get().sign == ""


# taking back


def test_undo_takes_back_the_last_touch_only(held, now):
    save(held, held.curl, 1, both=SideDone(8))
    with clock.at(now + dt.timedelta(minutes=5)):
        save(held, held.scooter, 2, left=SideDone(8))
        taken = records.undo(actor=held.actor, record=held.record)
    assert taken.plan_item == held.scooter
    assert [e.exercise.key for e in held.record.entries.all()] == ["mat_pelvic_curl"]
    records.undo(actor=held.actor, record=held.record)
    assert records.undo(actor=held.actor, record=held.record) is None


# who, and until when


def attempts(held, actor):
    done = Done(entry_id(9), DONE, {"both": SideDone(8)})
    values = dict.fromkeys(Record.CLOSE, "") | {"effort": None, "pain": None}
    version = held.record.version
    return {
        "entry": lambda: records.save_entry(actor=actor, record=held.record, item=held.curl, done=done),
        "undo": lambda: records.undo(actor=actor, record=held.record),
        "close": lambda: records.close(actor=actor, record=held.record, values=values, expected=version),
        "sign off": lambda: records.sign_off(actor=actor, record=held.record),
        "flags seen": lambda: records.see_flags(actor=actor, record=held.record, shown_until=clock.now()),
    }


@pytest.mark.parametrize("act", ["entry", "undo", "close", "sign off", "flags seen"])
def test_only_its_author_changes_a_record(held, other_instructor, owner, act):
    for person in (other_instructor, owner):
        with pytest.raises(records.NotYours):
            attempts(held, Actor(person=person))[act]()


# The booking ends at 10:55 London time; a record stays open for 24 hours after that (the house's rule).
END = dt.datetime(2026, 11, 25, 10, 55, tzinfo=dt.UTC)
LIMITS = {
    "a minute before": (dt.timedelta(hours=24, minutes=-1), True),
    "at the limit": (dt.timedelta(hours=24), False),
    "the day after": (dt.timedelta(hours=30), False),
}


@pytest.mark.parametrize("after, open_then", LIMITS.values(), ids=LIMITS)
def test_a_record_is_open_for_a_day(held, after, open_then):
    with clock.at(END + after):
        assert records.is_open(held.record, clock.now()) is open_then
        for act in ("entry", "close"):
            if open_then:
                attempts(held, held.actor)[act]()
            else:
                with pytest.raises(records.Shut):
                    attempts(held, held.actor)[act]()


def test_signed_off_it_takes_dated_additions_only(held, other_instructor, now):
    records.sign_off(actor=held.actor, record=held.record)
    with pytest.raises(records.Shut):
        attempts(held, held.actor)["entry"]()
    for person in (held.instructor, other_instructor):
        records.add(actor=Actor(person=person), record=held.record, words="The knee was fine.")
    rows = held.record.additions.values_list("author__call_name", "at")
    assert list(rows) == [("Maris", now), ("Corin", now)]


# the close


def test_the_close_carries_over_and_marks_done(held):
    values = {
        "effort": 0,
        "pain": 2,
        "client_words": "My arm felt lighter.",
        "next_time": "Start with the very light spring.",
        "bring_back": "Scooter",
        "leave_out": "",
        "next_apparatus": "chair",
    }
    record = records.close(actor=held.actor, record=held.record, values=values, expected=held.record.version)
    record.refresh_from_db()
    assert {name: getattr(record, name) for name in values} == values
    assert record.finished_at
    held.attendance.refresh_from_db()
    assert held.attendance.state == "done"
    # Names of the fields, never what stands in them.
    fields = AuditEntry.objects.get(action="record.closed").fields
    assert fields == ["bring_back", "client_words", "effort", "next_apparatus", "next_time", "pain"]


def test_everything_may_be_blank_and_the_session_still_closes(held):
    attempts(held, held.actor)["close"]()
    held.record.refresh_from_db()
    assert held.record.finished_at and held.record.effort is None and held.record.next_time == ""


def test_a_cancelled_place_is_not_brought_back_by_the_close(held):
    Attendance.objects.filter(pk=held.attendance.pk).update(state="no_show")
    attempts(held, held.actor)["close"]()
    held.attendance.refresh_from_db()
    assert held.attendance.state == "no_show"


def test_a_close_that_came_second_is_refused(held):
    first = held.record.version
    attempts(held, held.actor)["close"]()
    values = dict.fromkeys(Record.CLOSE, "") | {"effort": 5, "pain": None}
    with pytest.raises(Stale):
        records.close(actor=held.actor, record=held.record, values=values, expected=first)
    held.record.refresh_from_db()
    assert held.record.effort is None


# flags while a session runs


def test_flags_that_change_are_noticed_until_they_are_seen(held, now):
    held.record.flags_seen_at = now
    held.record.save()
    FlagFactory(client=held.client, created_by=held.instructor, state=None)
    assert not records.flags_changed_since(held.record)
    flag = held.client.flags.get()
    with clock.at(now + dt.timedelta(minutes=3)):
        FlagStatusFactory(flag=flag, state="active")
        changed = records.flags_changed_since(held.record)
        assert [status.flag for status in changed] == [flag]
        records.see_flags(actor=held.actor, record=held.record, shown_until=changed[0].at)
        assert not records.flags_changed_since(held.record)
    assert held.record.flags_seen_by == held.instructor


def test_a_change_that_was_not_shown_is_not_seen(held, now):
    held.record.flags_seen_at = now
    held.record.save()
    with clock.at(now + dt.timedelta(minutes=3)):
        flag = InstructionFactory(client=held.client, created_by=held.instructor)
    shown = now + dt.timedelta(minutes=3)
    with clock.at(now + dt.timedelta(minutes=4)):
        FlagStatusFactory(flag=flag, state="ended")
        with pytest.raises(records.FlagsMoved):
            records.see_flags(actor=held.actor, record=held.record, shown_until=shown)
    assert records.flags_changed_since(held.record)


def test_skipping_is_kept_as_skipped_without_sides(held):
    entry = save(held, held.scooter, state=SKIPPED)
    assert (entry.state, sides_of(entry)) == (SKIPPED, {})
