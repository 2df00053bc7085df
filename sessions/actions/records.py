"""Recording a session: start, entries, undo, stop, close, sign off, add later."""

import datetime as dt
import uuid
from dataclasses import dataclass, field

from django.db import transaction
from django.db.models import Max

from clients.models import Flag, FlagStatus
from sessions import judging
from sessions.models import (
    STOP_FELT,
    Addition,
    Attendance,
    Entry,
    EntrySide,
    Incident,
    IncidentNote,
    Record,
)
from studio import clock
from studio.actions import audit

audit.register(
    "record.started",
    "record.flags_seen",
    "record.entry_saved",
    "record.entry_undone",
    "record.closed",
    "record.signed_off",
    "record.added_to",
    "record.read",
    "incident.started",
    "incident.noted",
    "incident.read",
)

# How long a record stays open to changes after the session, unless it is signed off before (decisions.md).
OPEN_HOURS = 24


class NotYours(Exception):
    """Only the instructor who wrote the record may change it; others add to it."""


class Shut(Exception):
    """The record is signed off or a day old: it takes dated additions only."""


class SignsUnanswered(Exception):
    """Tingling, numbness, weakness or pain was ticked: the stop sheet must be answered before a save."""

    def __init__(self, sign: str, side: str):
        super().__init__("a stop sign was ticked")
        self.sign, self.side = sign, side


@dataclass(frozen=True)
class SideDone:
    """What one side did. None and '' mean not noted."""

    repetitions: int | None = None
    seconds: int | None = None
    range: str = ""
    quality: int | None = None
    felt: tuple[str, ...] = ()


@dataclass(frozen=True)
class Done:
    """One entry as it went: the device's id, what became of it, and its sides ('left', 'right', 'both')."""

    id: uuid.UUID
    state: str
    sides: dict[str, SideDone] = field(default_factory=dict)
    setting: dict = field(default_factory=dict)
    note: str = ""


def is_open(record: Record, now: dt.datetime) -> bool:
    """Return whether the record may still be changed."""
    if record.signed_off_at:
        return False
    return now < record.attendance.booking.ends_at + dt.timedelta(hours=OPEN_HOURS)


def _writable(record: Record, person) -> None:
    if record.author_id != person.pk:
        raise NotYours
    if not is_open(record, clock.now()):
        raise Shut


def start(*, actor, attendance: Attendance, flags_seen: bool) -> Record:
    """Begin the record of one client's session and return it; one that has begun is returned as it is.

    flags_seen: the instructor has acknowledged the flags as they stand now.
    """
    with transaction.atomic():
        record, made = Record.objects.get_or_create(
            attendance=attendance, defaults={"author": actor.person, "started_at": clock.now()}
        )
        if not made:
            return record
        if flags_seen:
            record.flags_seen_at, record.flags_seen_by = clock.now(), actor.person
            record.save(update_fields=["flags_seen_at", "flags_seen_by"])
        if attendance.state == Attendance.State.BOOKED:
            attendance.state, attendance.state_at = Attendance.State.ARRIVED, clock.now()
            fields = ["state", "state_at"]
            attendance.save_version(attendance.version, fields, by=actor.person, at=clock.now())
        audit.write(actor, "record.started", record)
    return record


def flags_changed_since(record: Record):
    """Return status rows of this client's flags that are newer than the acknowledgement, newest first."""
    since = record.flags_seen_at or record.started_at
    rows = FlagStatus.objects.filter(flag__client=record.attendance.client_id, at__gt=since)
    return rows.select_related("flag", "author").order_by("-id")


def see_flags(*, actor, record: Record) -> None:
    """Keep that the flags as they stand now were seen, by whom and when."""
    with transaction.atomic():
        _writable(record, actor.person)
        record.flags_seen_at, record.flags_seen_by = clock.now(), actor.person
        record.save(update_fields=["flags_seen_at", "flags_seen_by"])
        audit.write(actor, "record.flags_seen", record)


def _stop_sign(sides: dict[str, SideDone]) -> tuple[str, str] | None:
    """Return the gravest sign ticked and its side, or None."""
    for sign in (STOP_FELT[1], STOP_FELT[0], STOP_FELT[2]):
        hit = [name for name, side in sides.items() if sign in side.felt]
        if hit:
            return str(sign), "both" if len(hit) == 2 else hit[0]
    return None


def save_entry(*, actor, record: Record, item, done: Done, answered: str = "") -> Entry:
    """Save one entry of the plan, again if it was saved before, and return it.

    item: the plan row. answered: the incident or the choice by which the stop sheet was answered; without
    it an entry with a stop sign raises SignsUnanswered and nothing is written. Sending the same entry
    twice leaves one row. Raises NotYours and Shut.
    """
    with transaction.atomic():
        _writable(record, actor.person)
        sign = _stop_sign(done.sides)
        if sign and not answered:
            raise SignsUnanswered(*sign)
        entry = _entry_row(record, item, done.id)
        entry.state, entry.note, entry.setting = done.state, done.note, done.setting
        entry.adaptations = item.adaptations
        entry.exercise_version = item.content
        _pin_verdict(entry, item, record)
        entry.author, entry.device, entry.at = actor.person, actor.device, clock.now()
        entry.save()
        entry.sides.all().delete()
        EntrySide.objects.bulk_create(
            EntrySide(
                entry=entry,
                side=name,
                repetitions=side.repetitions,
                seconds=side.seconds,
                range=side.range,
                quality=side.quality,
                felt=list(side.felt),
            )
            for name, side in done.sides.items()
        )
        audit.write(actor, "record.entry_saved", record, fields=[done.state])
    return entry


def _entry_row(record: Record, item, entry_id: uuid.UUID) -> Entry:
    """Return the entry with this id, or that of this plan row, or a new one at the end."""
    found = Entry.objects.filter(record=record, pk=entry_id).first()
    found = found or Entry.objects.filter(record=record, plan_item=item).first()
    if found:
        return found
    last = Entry.objects.filter(record=record).aggregate(last=Max("sequence"))["last"] or 0
    return Entry(id=entry_id, record=record, sequence=last + 1, plan_item=item, exercise=item.exercise)


def _pin_verdict(entry: Entry, item, record: Record) -> None:
    """Keep what the judge says of the exercise on the day it is done, from the flags as they stand."""
    attendance = record.attendance
    flags = list(Flag.objects.active().filter(client=attendance.client_id))
    day = attendance.booking.wall_day
    judgement = judging.judge_facts(flags, item.content.facts, day, sides=item.sides)
    entry.verdict = judging.stored(judgement)
    entry.table_version = judgement.table_version


def as_planned(item, entry_id: uuid.UUID) -> Done:
    """Return a plan row as done exactly so: its numbers for its sides, nothing said about quality."""
    right = item.repetitions if item.repetitions_right is None else item.repetitions_right
    held = item.seconds if item.seconds_right is None else item.seconds_right
    left_side = SideDone(repetitions=item.repetitions, seconds=item.seconds)
    right_side = SideDone(repetitions=right, seconds=held)
    sides = {
        "": {"both": left_side},
        "both": {"left": left_side, "right": right_side},
        "left": {"left": left_side},
        "right": {"right": right_side},
    }[item.sides]
    return Done(id=entry_id, state=Entry.State.DONE, sides=sides, setting=item.setting)


def undo(*, actor, record: Record):
    """Take back the newest entry and return its plan row, or None when there is none."""
    with transaction.atomic():
        _writable(record, actor.person)
        entry = record.entries.order_by("-at", "-sequence").select_related("plan_item").first()
        if entry is None:
            return None
        item = entry.plan_item
        entry.delete()
        audit.write(actor, "record.entry_undone", record)
    return item


def stop(*, actor, attendance: Attendance, sign: str, side: str, item, session: bool) -> Incident:
    """Start an incident with the time already in it. session: the whole session was stopped."""
    with transaction.atomic():
        incident = Incident.objects.create(
            attendance=attendance,
            exercise=item.exercise if item else None,
            unit=item.unit if item else None,
            sign=sign,
            side=side,
            session_stopped=session,
            author=actor.person,
            at=clock.now(),
        )
        audit.write(actor, "incident.started", incident)
    return incident


def note_incident(*, actor, incident: Incident, words: str) -> IncidentNote:
    """Add a dated note to an incident."""
    with transaction.atomic():
        note = IncidentNote.objects.create(
            incident=incident, words=words, author=actor.person, at=clock.now()
        )
        audit.write(actor, "incident.noted", incident)
    return note


def close(*, actor, record: Record, values: dict, expected: int) -> Record:
    """Write the close of a session and mark the attendance done. Everything may be empty.

    values: the fields of Record.CLOSE. Raises Stale when somebody else saved the close first.
    """
    with transaction.atomic():
        _writable(record, actor.person)
        for name in Record.CLOSE:
            setattr(record, name, values[name])
        record.finished_at = record.finished_at or clock.now()
        record.save_version(expected, [*Record.CLOSE, "finished_at"], by=actor.person, at=clock.now())
        attendance = record.attendance
        if attendance.state in (Attendance.State.BOOKED, Attendance.State.ARRIVED):
            attendance.state, attendance.state_at = Attendance.State.DONE, clock.now()
            fields = ["state", "state_at"]
            attendance.save_version(attendance.version, fields, by=actor.person, at=clock.now())
        audit.write(actor, "record.closed", record, fields=[n for n in Record.CLOSE if values[n]])
    return record


def sign_off(*, actor, record: Record) -> None:
    """Shut the record for good; from now on it takes dated additions."""
    with transaction.atomic():
        _writable(record, actor.person)
        record.signed_off_at = clock.now()
        record.save(update_fields=["signed_off_at"])
        audit.write(actor, "record.signed_off", record)


def add(*, actor, record: Record, words: str) -> Addition:
    """Add a dated sentence to a record, whoever wrote it."""
    with transaction.atomic():
        addition = Addition.objects.create(record=record, words=words, author=actor.person, at=clock.now())
        audit.write(actor, "record.added_to", record)
    return addition
