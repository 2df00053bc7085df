"""The demo's bookings, plans and records, each at its time: the past in bulk, this week and later by the actions."""

import datetime as dt
import random
import uuid
from functools import partial

from sessions import judging
from sessions.actions import bookings, plans, records
from sessions.demo import bought, history
from sessions.demo.cast import BY_KEY
from sessions.demo.clients_on_file import on_file_at
from sessions.demo.course import HARDER, SIDE, SOFTER
from sessions.demo.people import DESK
from sessions.demo.weeks import ABSENT, CLOSED, MISSED
from sessions.models import Attendance, Record

# A plan with fewer rows is filled up from the client's exercises.
FEWEST_ROWS = 5
BOOKED_AHEAD = dt.timedelta(days=28)


def plan_for(demo, slot, week: int) -> None:
    """Put down the booking of one slot in one week, and what comes of it for each client."""
    day = demo.day(week, slot.day)
    keys = [key for key in slot.clients if _comes(demo, key, week, day, slot)]
    if not keys or _shut(day) or any(a <= week <= b for a, b in ABSENT.get(slot.instructor, ())):
        return
    start = demo.at(day, slot.time)
    known = max(on_file_at(demo, BY_KEY[key]) for key in keys) + dt.timedelta(hours=1)
    if week < 0:
        demo.then(
            start + dt.timedelta(minutes=slot.minutes), partial(_past, demo, slot, week, day, keys, known)
        )
        return
    made = {}

    def book():
        made["booking"] = bookings.take(
            actor=demo.actor(DESK),
            studio=demo.studio,
            wish=bookings.Wish(
                day=day,
                time=slot.time,
                minutes=slot.minutes,
                instructor=demo.staff(slot.instructor),
                room=demo.room(slot.room),
                units=tuple(demo.unit(name) for name in slot.units),
                clients=tuple(demo.clients[key] for key in keys),
            ),
        )

    # As far ahead as people book; those who are new have not been on file for so long yet.
    demo.then(max(start - BOOKED_AHEAD, known), book)
    for key in keys:
        Visit(demo, slot, week, key, start, made).plan()


def _comes(demo, key: str, week: int, day: dt.date, slot) -> bool:
    """Return whether a client is booked there at all: known for a day, seen by an instructor, not away."""
    person = BY_KEY[key]
    if demo.at(day, slot.time) < on_file_at(demo, person) + dt.timedelta(hours=36):
        return False
    return not (person.work and any(first <= week <= last for first, last in person.work.away))


def _shut(day: dt.date) -> bool:
    return any((day.month, day.day) == (month, number) for month, number, _why in CLOSED)


def _past(demo, slot, week: int, day: dt.date, keys: list[str], known: dt.datetime) -> None:
    """A booking of the past with what came of it, put on the shelf."""
    row = history.booking(demo, slot, day, known)
    for key in keys:
        client, course = demo.clients[key], demo.courses.get(key)
        outcome = MISSED.get((week, key, slot.day)) or _by_chance(key, week, slot.day)
        if outcome or not course:
            history.missed(demo, row, client, *(outcome or ("cancelled", 48)))
            continue
        demo.last_records[key] = history.held(demo, course, row, client, week)
        stopped = course.stopped(week)
        if stopped and stopped.added:
            _add_later(demo, demo.last_records[key], *stopped.added)


def _add_later(demo, record: Record, week: int, words: str) -> None:
    """Put down a sentence that is added to a record of the past, through its action."""

    def add():
        demo.shelf.write()
        records.add(actor=demo.actor(record.author.sign_in_name), record=record, words=words)

    demo.then(demo.at(demo.day(week, 0), "13:20"), add)


def _by_chance(key: str, week: int, day: int) -> tuple[str, float] | None:
    """Return what became of about one booking in eleven: cancelled in time, cancelled late, nobody came."""
    drawn = random.Random(f"{key} {week} {day} comes").random()
    if drawn < 0.055:
        return "cancelled", 30
    if drawn < 0.08:
        return "cancelled", 4
    return ("no_show", 0) if drawn < 0.092 else None


class Visit:
    """One client in one booking of this week or later: missed, or planned, held and recorded by the actions."""

    def __init__(self, demo, slot, week, key, start, made):
        self.demo, self.slot, self.week, self.key, self.start = demo, slot, week, key, start
        self.made = made
        self.end = start + dt.timedelta(minutes=slot.minutes)

    @property
    def course(self):
        """Return the client's course; None for somebody who has not begun."""
        return self.demo.courses.get(self.key)

    def plan(self) -> None:
        """Put down every step of this visit."""
        then = self.demo.then
        missed = MISSED.get((self.week, self.key, self.slot.day))
        if missed:
            state, hours = missed
            then(self.start - dt.timedelta(hours=hours, minutes=-15), lambda: self._state(state))
            return
        then(
            self.start - bought.BEFORE,
            lambda: bought.renew(self.demo, self.key, self.made["booking"].wall_day),
        )
        then(self.start - dt.timedelta(minutes=6), lambda: self._state("arrived"))
        if not BY_KEY[self.key].work:
            return
        then(self.start - history.PLANNED_BEFORE, self._plan)
        then(self.start - history.APPROVED_BEFORE, self._approve)
        then(self._minute(2), self._begin)
        then(self.end + dt.timedelta(hours=20), self._sign_off)

    # what happens

    @property
    def attendance(self) -> Attendance:
        """Return the row as it stands now."""
        rows = Attendance.objects.select_related("booking__instructor", "booking__room", "client")
        return rows.get(booking=self.made["booking"], client=self.demo.clients[self.key])

    @property
    def actor(self):
        return self.demo.actor(self.slot.instructor)

    def _state(self, state: str) -> None:
        attendance = self.attendance
        bookings.set_state(
            actor=self.demo.actor(DESK),
            studio=self.demo.studio,
            attendance=attendance,
            state=state,
            expected=attendance.version,
        )

    # planning

    def _plan(self) -> None:
        """Plan as last time, with what last time's line asks for; the first time, from the client's exercises."""
        self.demo.shelf.write()
        plan = plans.start(
            actor=self.actor, attendance=self.attendance, record=self.demo.last_records.get(self.key)
        )
        if plan.items.count() < FEWEST_ROWS:
            self._fill(plan)
        self._take_up(plan)
        self._write_in(plan)
        for item, verdict in plans.judged(plan, plans.active_flags(plan)):
            if verdict["verdict"] == "avoid":
                self._settle(item, plan)

    def _may(self, key: str) -> bool:
        shelf, units = self.demo.shelf, [self.demo.unit(name) for name in self.slot.units]
        flags, day = shelf.flags(self.demo.clients[self.key]), self.made["booking"].wall_day
        return history.may(shelf, self.course, flags, units, day, key)

    def _fill(self, plan) -> None:
        """Add the client's exercises that are not in the plan: all of a session's the first time."""
        kinds = {self.demo.unit(name).kind for name in self.slot.units}
        there = {item.exercise.key for item in plan.items.select_related("exercise")}
        for row in self.course.plan(self.week, kinds, self._may):
            if row.exercise in there:
                continue
            exercise = self.demo.shelf.exercises[row.exercise]
            item = plans.add_item(actor=self.actor, plan=plan, exercise=exercise, expected=plan.version)
            values = {"setting": history.setting_of(self.demo, row), "minutes": row.minutes}
            plans.change_item(actor=self.actor, item=item, expected=plan.version, values=values)

    def _take_up(self, plan) -> None:
        """Do what last time's line asked for, through the plan."""
        carry, self.course.carry = self.course.carry, None
        if not carry or carry.kind not in (HARDER, SOFTER, SIDE):
            return
        for item in plan.items.select_related("exercise__current").filter(exercise__key=carry.exercise):
            item.plan = plan
            values = {}
            if carry.kind == SIDE and item.sides == "both":
                values = {"first_side": carry.side}
            elif carry.kind != SIDE:
                values = {"setting": self._moved(item, 1 if carry.kind == HARDER else -1)}
            plans.change_item(actor=self.actor, item=item, expected=plan.version, values=values)

    def _write_in(self, plan) -> None:
        """Write in the adaptations that a demand needs, and the rests."""
        work = self.course.work
        for item, verdict in plans.judged(plan, plans.active_flags(plan)):
            item.plan = plan
            key, values = item.exercise.key, {}
            if key in work.lifts and verdict["verdict"] in ("avoid", "modify"):
                values["adaptations"] = list(work.lifts[key])
            if key in work.rests:
                values["pause"] = work.rests[key]
            plans.change_item(actor=self.actor, item=item, expected=plan.version, values=values)

    def _moved(self, item, steps: int) -> dict:
        row = self.course.moved_row(item.exercise.key, self.week, steps)
        return history.setting_of(self.demo, row) if row else item.setting

    def _settle(self, item, plan) -> None:
        """Keep what is to be avoided where there is a reason for it, and take it out where there is none."""
        item.plan = plan
        reason = self.course.work.kept.get(item.exercise.key)
        if reason:
            plans.keep_avoid(actor=self.actor, item=item, expected=plan.version, reason=reason)
        else:
            plans.remove_item(actor=self.actor, item=item, expected=plan.version)

    def _approve(self) -> None:
        plan = self.attendance.plan
        rows = plans.judged(plan, plans.active_flags(plan))
        seen = judging.mark(verdict for _item, verdict in rows)
        plans.approve(actor=self.actor, plan=plan, expected=plan.version, seen=seen)

    # recording

    def _minute(self, minute: int) -> dt.datetime:
        return self.start + dt.timedelta(minutes=minute)

    def _begin(self) -> None:
        """Start the record and put down its entries, one every few minutes, and the close."""
        attendance = self.attendance
        record = records.start(actor=self.actor, attendance=attendance, flags_seen=True)
        items = list(attendance.plan.items.select_related("exercise__current", "exercise_version"))
        rows = [self.course.row_of(item) for item in items]
        self.course.hold(rows, self.week)
        for place, (item, row) in enumerate(zip(items, rows, strict=True)):
            self.demo.then(self._minute(6 + 6 * place), partial(self._entry, record, item, row))
        self.demo.then(self._minute(self.slot.minutes - 1), partial(self._close, record, rows))

    def _entry(self, record: Record, item, row) -> None:
        name = f"{self.key} {self.start.isoformat()} {row.exercise}"
        planned = records.as_planned(item, uuid.uuid5(history.ENTRIES, name))
        if row.skipped:
            done = records.Done(planned.id, "skipped", note=row.note)
        else:
            sides = {
                side: records.SideDone(**{**values, "felt": tuple(values["felt"])})
                for side, values in row.went.items()
            }
            state = "changed" if row.changed else "done"
            done = records.Done(planned.id, state, sides, item.setting, row.note)
        records.save_entry(actor=self.actor, record=record, item=item, done=done)

    def _close(self, record: Record, rows) -> None:
        close = self.course.close(rows, self.week)
        values = dict.fromkeys(Record.CLOSE, "") | {
            "effort": close.effort,
            "pain": close.pain,
            "client_words": close.client_words,
            "next_time": close.next_time,
        }
        records.close(actor=self.actor, record=record, values=values, expected=record.version)
        self.demo.last_records[self.key] = record

    def _sign_off(self) -> None:
        records.sign_off(actor=self.actor, record=self.attendance.record)
