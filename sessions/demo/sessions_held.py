"""The demo's bookings, plans and records, each at its time."""

import datetime as dt
import random
import uuid
from functools import partial

from library.models import Exercise
from sessions import judging
from sessions.actions import bookings, plans, records
from sessions.demo.clients_on_file import on_file_at
from sessions.demo.people import BY_KEY, DESK
from sessions.demo.practice import SIGNS, STOPPED, WORK
from sessions.demo.weeks import MISSED
from sessions.models import Attendance, Record
from sessions.models.records import Range

BOOKED_BEFORE = dt.timedelta(days=14)
PLANNED_BEFORE = dt.timedelta(hours=20)
APPROVED_BEFORE = dt.timedelta(hours=2)
# What is left of 55 minutes between check-in and close.
MINUTES_OF_WORK = 46
# A plan with fewer rows is filled up from the client's exercises.
FEWEST_ROWS = 5
# Names of entries, so that the same demo has the same ones.
ENTRIES = uuid.UUID("5d0c8c1e-6a55-4b0e-9d0b-2f6f0b7f5a11")


def plan_for(demo, slot, week: int) -> None:
    """Put down the booking of one slot in one week, and what comes of it for each client."""
    day = demo.day(week, slot.day)
    start = demo.at(day, slot.time)
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
                clients=tuple(demo.clients[key] for key in slot.clients),
            ),
        )

    # Those who are new have not been on file for two weeks yet.
    known = max(on_file_at(demo, BY_KEY[key]) for key in slot.clients) + dt.timedelta(hours=1)
    demo.then(max(start - BOOKED_BEFORE, known), book)
    for key in slot.clients:
        Visit(demo, slot, week, key, start, made).plan()


class Visit:
    """One client in one booking: missed, or planned, held and recorded."""

    def __init__(self, demo, slot, week, key, start, made):
        self.demo, self.slot, self.week, self.key, self.start = demo, slot, week, key, start
        self.made = made
        self.end = start + dt.timedelta(minutes=slot.minutes)
        self.work = WORK.get(key)

    def plan(self) -> None:
        """Put down every step of this visit."""
        then = self.demo.then
        missed = MISSED.get((self.week, self.key, self.slot.day))
        if missed:
            state, hours = missed
            then(self.start - dt.timedelta(hours=hours, minutes=-15), lambda: self._state(state))
            return
        then(self.start - dt.timedelta(minutes=6), lambda: self._state("arrived"))
        if not self.work:
            return
        then(self.start - PLANNED_BEFORE, self._plan)
        then(self.start - APPROVED_BEFORE, self._approve)
        then(self._minute(2), self._begin)
        then(self.end + dt.timedelta(hours=20), self._sign_off)

    @property
    def attendance(self) -> Attendance:
        rows = Attendance.objects.select_related("booking", "client")
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
        last = self.demo.last_records.get(self.key)
        plan = plans.start(actor=self.actor, attendance=self.attendance, record=last)
        if last and last.leave_out:
            self._leave_out(plan)
        if plan.items.count() < FEWEST_ROWS:
            self._fill(plan)
        if self._number() == 4:
            self._harder(plan)
        for item, verdict in plans.judged(plan, plans.active_flags(plan)):
            if verdict["verdict"] == "avoid":
                self._settle(item, plan)

    def _number(self) -> int:
        """Return how many sessions this client has had."""
        return self.demo.sessions_of.get(self.key, 0)

    def _leave_out(self, plan) -> None:
        """Take out what a sign came up in, as the line of last time asks."""
        signs = [sign[0] for (_week, key, _day), sign in SIGNS.items() if key == self.key]
        for item in plan.items.filter(exercise__key__in=signs):
            item.plan = plan
            plans.remove_item(actor=self.actor, item=item, expected=plan.version)

    def _fill(self, plan) -> None:
        """Add the client's exercises that are not in the plan: all of them the first time."""
        last = self.demo.last_records.get(self.key)
        signs = {sign[0] for (_w, key, _d), sign in SIGNS.items() if key == self.key and last}
        there = {item.exercise.key for item in plan.items.select_related("exercise")}
        for key in self.work.exercises:
            if key not in there | signs:
                self._add(plan, key)

    def _add(self, plan, key: str) -> None:
        exercise = Exercise.objects.with_content().get(key=key)
        item = plans.add_item(actor=self.actor, plan=plan, exercise=exercise, expected=plan.version)
        # With talking, looking and hands, so that the rows fill the booked time and leave room for changes.
        minutes = MINUTES_OF_WORK // len(self.work.exercises)
        values = {"setting": setting_for(self.demo, exercise.current.facts), "minutes": minutes}
        plans.change_item(actor=self.actor, item=item, expected=plan.version, values=values)

    def _harder(self, plan) -> None:
        """One spring more in the first exercise that has one to spare, as one would after a few weeks."""
        for item in plan.items.select_related("exercise__current"):
            item.plan = plan
            for place, spring in enumerate(item.setting.get("springs", ())):
                if spring["grade"] == "medium" and spring["count"] == 1:
                    springs = [dict(s) for s in item.setting["springs"]]
                    springs[place]["count"] = 2
                    values = {"setting": {**item.setting, "springs": springs}}
                    plans.change_item(actor=self.actor, item=item, expected=plan.version, values=values)
                    return

    def _settle(self, item, plan) -> None:
        """Keep what is to be avoided where there is a reason for it, and take it out where there is none."""
        item.plan = plan
        reason = (self.work.kept or {}).get(item.exercise.key)
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
        sign = SIGNS.get((self.week, self.key, self.slot.day))
        for place, item in enumerate(items):
            stops = sign and item.exercise.key == sign[0]
            step = self._stopped if stops else self._entry
            self.demo.then(self._minute(6 + 6 * place), partial(step, record, item))
            if stops:
                break
        self.demo.then(self._minute(self.slot.minutes - 1), partial(self._close, record, bool(sign)))

    def _entry(self, record: Record, item) -> None:
        records.save_entry(actor=self.actor, record=record, item=item, done=self._done(item))

    def _id(self, item) -> uuid.UUID:
        return uuid.uuid5(ENTRIES, f"{self.key} {self.week} {self.slot.day} {item.exercise.key}")

    def _done(self, item) -> records.Done:
        """Return how an exercise went: mostly as planned, now and then with what was seen on each side."""
        planned = records.as_planned(item, self._id(item))
        chance = random.Random(f"{self.key} {self._number()} {item.exercise.key}")
        if not item.sides and chance.random() < 0.6:
            return planned
        sides = {name: self._side(name, side, chance) for name, side in planned.sides.items()}
        return records.Done(id=planned.id, state="changed", sides=sides, setting=planned.setting)

    def _side(self, name: str, planned: records.SideDone, chance: random.Random) -> records.SideDone:
        number, lags = self._number(), name == self.work.behind
        quality = min(2 + number // 5, 4) if lags else min(3 + number // 6, 5)
        fewer = self.work.weak if lags and number % 3 == 1 else 0
        felt = chance.choice(((), (), ("muscle_work",), ("stretch",)))
        return records.SideDone(
            repetitions=max(planned.repetitions - fewer, 1) if planned.repetitions else None,
            seconds=planned.seconds,
            range=Range.MEDIUM if lags and number < 6 else Range.FULL,
            quality=quality,
            felt=felt,
        )

    def _stopped(self, record: Record, item) -> None:
        """A sign came up: the incident first, then what had been done of the exercise; the session ends."""
        _exercise, felt, side, words = SIGNS[self.week, self.key, self.slot.day]
        incident = records.stop(
            actor=self.actor,
            attendance=record.attendance,
            sign=felt,
            side=side,
            item=item,
            session=True,
        )
        sides = {side: records.SideDone(repetitions=3, felt=(felt,))}
        done = records.Done(id=self._id(item), state="changed", sides=sides, setting=item.setting)
        records.save_entry(actor=self.actor, record=record, item=item, done=done, answered="stop")
        records.note_incident(actor=self.actor, incident=incident, words=words)

    def _close(self, record: Record, stopped: bool) -> None:
        work, number = self.work, self._number()
        values = dict.fromkeys(Record.CLOSE, "") | {
            "effort": min(work.effort + number % 2, 10),
            "pain": None if work.pain is None else max(work.pain - number // 5, 0),
            "client_words": work.said[number % len(work.said)],
            "next_time": work.later[number % len(work.later)],
        }
        if stopped:
            values |= STOPPED
        records.close(actor=self.actor, record=record, values=values, expected=record.version)
        self.demo.last_records[self.key] = record
        self.demo.sessions_of[self.key] = number + 1

    def _sign_off(self) -> None:
        records.sign_off(actor=self.actor, record=self.attendance.record)


def setting_for(demo, facts: dict) -> dict:
    """Return springs to begin with: the grade the library starts from, or the next lighter one there is."""
    grades = ("very_light", "light", "medium", "heavy", "very_heavy")
    grade = facts["spring_grade"]
    springs = {spring.grade: spring for spring in demo.springs(facts["apparatus"])}
    if grade not in grades or not springs:
        return {}
    wanted = grades[: grades.index(grade) + 1]
    chosen = springs[[g for g in wanted if g in springs][-1]]
    row = {"spring": chosen.public_id, "name": chosen.name, "grade": chosen.grade, "count": 1}
    setting = {"springs": [row]}
    if "footbar" in facts["accessories"]:
        setting["bar"] = "middle"
    return setting
