"""The demo's past in bulk: bookings, plans, records and incidents as rows of the shapes the actions make.

Fourteen months through the actions would take minutes. So the past weeks are put together here: each session at
its own instant, judged against the flags that were active then, kept in memory and written many at once. Rows are
what the actions would have left, with one exception: the audit log holds no line for them. Nobody did these things
in the program, and a log of invented acts would be worth nothing; one line, `demo.past_laid`, says so. What happens
about clients (forms, flags, goals, handouts, measures) goes through the actions at any time, and so does
everything from this week's Monday on.
"""

import datetime as dt
import random
import uuid

from clients.models import Flag
from library import accessories
from library.models import Exercise
from sessions import diary, judging
from sessions.demo.course import LADDERS, Row
from sessions.demo.people import DESK
from sessions.models import (
    Attendance,
    Booking,
    Entry,
    EntrySide,
    Incident,
    IncidentNote,
    Plan,
    PlanItem,
    Record,
)
from studio.actions import audit

audit.register("demo.past_laid")

# Names of entries, so that the same demo has the same ones.
ENTRIES = uuid.UUID("5d0c8c1e-6a55-4b0e-9d0b-2f6f0b7f5a11")
ORDER = (Booking, Attendance, Plan, PlanItem, Record, Entry, EntrySide, Incident, IncidentNote)
BOOKED_BEFORE = dt.timedelta(days=14)
PLANNED_BEFORE = dt.timedelta(hours=20)
APPROVED_BEFORE = dt.timedelta(hours=2)


class Shelf:
    """Rows that wait to be written, and what is read once: exercises and the flags of each client."""

    def __init__(self):
        self.rows = {model: [] for model in ORDER}
        # Booking (not yet written, so by its public id) -> itself and its units.
        self.units: dict[str, tuple[Booking, tuple]] = {}
        self.exercises = {row.key: row for row in Exercise.objects.with_content()}
        self._flags: dict[int, list[Flag]] = {}
        self.written = 0

    def put(self, row):
        self.rows[type(row)].append(row)
        return row

    def units_booked(self, booking: Booking) -> tuple:
        return self.units[booking.public_id][1]

    def facts(self, key: str) -> dict:
        return self.exercises[key].current.facts

    def flags(self, client) -> list[Flag]:
        """Return the client's active flags as they stand now; read again after `forget`."""
        if client.pk not in self._flags:
            self._flags[client.pk] = list(Flag.objects.active().filter(client=client))
        return self._flags[client.pk]

    def forget(self, client) -> None:
        """The client's flags have changed."""
        self._flags.pop(client.pk, None)

    def write(self) -> None:
        """Write what waits, parents before children."""
        for model in ORDER:
            rows, self.rows[model] = self.rows[model], []
            model._base_manager.bulk_create(rows, batch_size=400)
            self.written += len(rows)
        through = Booking.units.through
        through.objects.bulk_create(
            [
                through(booking_id=booking.pk, apparatusunit_id=unit.pk)
                for booking, units in self.units.values()
                for unit in units
            ],
            batch_size=400,
        )
        self.units = {}


def booking(demo, slot, day: dt.date, known: dt.datetime) -> Booking:
    """Put a booking of the past on the shelf. known: when the client was on file."""
    stretch = diary.slot(day, slot.time, slot.minutes, demo.zone)
    row = Booking(
        starts_at=stretch.start,
        ends_at=stretch.end,
        zone=demo.zone,
        wall_day=day,
        wall_time=slot.time,
        minutes=slot.minutes,
        instructor=demo.staff(slot.instructor),
        room=demo.room(slot.room),
        created_by=demo.staff(DESK),
        created_at=max(stretch.start - BOOKED_BEFORE, known),
    )
    demo.shelf.units[row.public_id] = row, tuple(demo.unit(name) for name in slot.units)
    return demo.shelf.put(row)


def missed(demo, row: Booking, client, state: str, hours: float) -> None:
    """A booking that came to nothing: cancelled so many hours before, or nobody came."""
    at = row.starts_at + dt.timedelta(minutes=15) - dt.timedelta(hours=hours)
    if state == "cancelled":
        late = diary.notice_is_late(row.starts_at, at, demo.studio.cancel_hours, row.zone)
        state = Attendance.State.CANCELLED_LATE if late else Attendance.State.CANCELLED_IN_TIME
    _attendance(demo, row, client, state, at, steps=1, by=demo.staff(DESK))


def _attendance(demo, row, client, state, at, *, steps, by) -> Attendance:
    values = {"version": 1 + steps, "changed_at": at, "changed_by": by}
    return demo.shelf.put(Attendance(booking=row, client=client, state=state, state_at=at, **values))


def may(shelf, course, flags, units, day: dt.date, key: str) -> bool:
    """Return whether a plan may hold an exercise: the unit has its parts, and it is not to be left out."""
    facts = shelf.facts(key)
    if any(
        accessories.lacking(facts["accessories"], u.accessories)
        for u in units
        if u.kind == facts["apparatus"]
    ):
        return False
    lifts = course.work.lifts.get(key, ())
    return (
        key in course.work.kept
        or judging.judge_facts(flags, facts, day, adaptations=lifts).verdict != "avoid"
    )


def held(demo, course, row: Booking, client, week: int) -> Record:
    """A session of the past, from its plan to its close."""
    shelf, flags = demo.shelf, demo.shelf.flags(client)
    units = shelf.units_booked(row)
    kinds = {unit.kind for unit in units}

    rows = course.plan(week, kinds, lambda key: may(shelf, course, flags, units, row.wall_day, key))
    course.hold(rows, week)
    stopped = course.stopped(week)
    happened = course.stop(rows, stopped) if stopped else rows
    attendance = _attendance(
        demo,
        row,
        client,
        Attendance.State.DONE,
        row.ends_at - dt.timedelta(minutes=1),
        steps=2,
        by=row.instructor,
    )
    items = _plan(demo, course, attendance, rows, flags, units)
    record = _record(demo, course, attendance, happened, week)
    for place, (one, item) in enumerate(zip(happened, items, strict=False)):
        _entry(demo, course, record, item, one, place)
    if stopped:
        _incident(demo, attendance, items[len(happened) - 1], stopped, record, len(happened))
    return record


def _plan(demo, course, attendance, rows: list[Row], flags, units) -> list[PlanItem]:
    shelf, booking_row = demo.shelf, attendance.booking
    instructor, approved = booking_row.instructor, booking_row.starts_at - APPROVED_BEFORE
    plan = shelf.put(
        Plan(
            attendance=attendance,
            approved_at=approved,
            approved_by=instructor,
            version=2 + len(rows),
            changed_at=approved,
            changed_by=instructor,
        )
    )
    items = []
    for position, row in enumerate(rows, 1):
        exercise = shelf.exercises[row.exercise]
        mine = [unit for unit in units if unit.kind == row.facts["apparatus"]]
        items.append(
            PlanItem(
                plan=plan,
                position=position,
                exercise=exercise,
                sides=row.sides,
                first_side=row.first_side,
                repetitions=row.repetitions,
                seconds=row.seconds,
                unit=mine[0] if len(mine) == 1 else None,
                setting=setting_of(demo, row),
                minutes=row.minutes,
                pause=course.work.rests.get(row.exercise, 0),
                exercise_version=exercise.current,
            )
        )
    _judge(demo, course, attendance, items, flags)
    return [shelf.put(item) for item in items]


def _judge(demo, course, attendance, items: list[PlanItem], flags) -> None:
    """Judge the rows in their places, as approving does, and write in the adaptations they need."""
    day, instructor = attendance.booking.wall_day, attendance.booking.instructor
    for item, verdict in _judged(demo, items, flags, day):
        lifts = course.work.lifts.get(item.exercise.key, ())
        if verdict["verdict"] in ("avoid", "modify"):
            item.adaptations = list(lifts) or item.content.facts["adaptations"][:1]
    for item, verdict in _judged(demo, items, flags, day):
        item.verdict, item.table_version = verdict, verdict["table_version"]
        if verdict["verdict"] == "avoid":
            item.keep_reason, item.keep_by = course.work.kept[item.exercise.key], instructor
            item.keep_at = attendance.booking.starts_at - PLANNED_BEFORE


def _judged(demo, items: list[PlanItem], flags, day) -> list[tuple[PlanItem, dict]]:
    rows = [item.as_judged() for item in items]
    placed = zip(items, rows, judging.places(rows, Plan.pace(demo.studio)), strict=True)
    return [(item, judging.judged(flags, row, place, day)) for item, row, place in placed]


def _record(demo, course, attendance, rows: list[Row], week: int) -> Record:
    close, booking_row = course.close(rows, week), attendance.booking
    author, begun = booking_row.instructor, booking_row.starts_at + dt.timedelta(minutes=2)
    finished = booking_row.ends_at - dt.timedelta(minutes=1)
    # Most sign off the next morning; now and then somebody forgets, and the record shuts by itself.
    signed = booking_row.ends_at + dt.timedelta(hours=20)
    forgot = random.Random(f"{course.person.key} {course.number} sign").random() < 0.08
    return demo.shelf.put(
        Record(
            attendance=attendance,
            author=author,
            started_at=begun,
            flags_seen_at=begun,
            flags_seen_by=author,
            finished_at=finished,
            signed_off_at=None if forgot or signed > demo.until else signed,
            effort=close.effort,
            pain=close.pain,
            client_words=close.client_words,
            next_time=close.next_time,
            leave_out=close.leave_out,
            version=2,
            changed_at=finished,
            changed_by=author,
        )
    )


def _entry(demo, course, record, item, row: Row, place: int) -> None:
    author = record.author
    state = Entry.State.SKIPPED if row.skipped else Entry.State.CHANGED if row.changed else Entry.State.DONE
    name = f"{course.person.key} {record.started_at.isoformat()} {row.exercise}"
    entry = demo.shelf.put(
        Entry(
            id=uuid.uuid5(ENTRIES, name),
            record=record,
            sequence=place + 1,
            plan_item=item,
            exercise=item.exercise,
            exercise_version=item.exercise_version,
            state=state,
            setting=item.setting,
            adaptations=item.adaptations,
            note=row.note,
            verdict=item.verdict,
            table_version=item.table_version,
            author=author,
            device="demo",
            at=record.started_at + dt.timedelta(minutes=4 + 6 * place),
        )
    )
    for side, values in row.went.items():
        demo.shelf.put(EntrySide(entry=entry, side=side, **values))


def _incident(demo, attendance, item, stopped, record, place: int) -> None:
    at = record.started_at + dt.timedelta(minutes=4 + 6 * (place - 1))
    author = record.author
    incident = demo.shelf.put(
        Incident(
            attendance=attendance,
            exercise=item.exercise,
            unit=item.unit,
            sign=stopped.sign,
            side=stopped.side,
            session_stopped=True,
            author=author,
            at=at,
        )
    )
    note = {"author": author, "at": at + dt.timedelta(minutes=10)}
    demo.shelf.put(IncidentNote(incident=incident, words=stopped.words, **note))


def setting_of(demo, row: Row) -> dict:
    """Return the row's springs as plans and entries keep them, with the bar where there is one."""
    if row.rung is None:
        return {}
    kind = row.facts["apparatus"]
    there = {spring.name: spring for spring in demo.springs(kind)}
    springs = [
        {"spring": there[name].public_id, "name": name, "grade": there[name].grade, "count": count}
        for name, count in LADDERS[kind][row.rung]
    ]
    bar = {"bar": "middle"} if "footbar" in row.facts["accessories"] else {}
    return {"springs": springs, **bar}
