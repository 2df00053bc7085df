"""Recording a session: start, entries, undo, stop, close, sign off, add later."""

import copy
import datetime as dt
import uuid
from dataclasses import dataclass, replace

from django.db import transaction

from clients.models import Flag, FlagStatus
from library.models import table_in_force
from library.tables import Table
from sessions import judging
from sessions.actions import passes
from sessions.models import (
    Addition,
    Attendance,
    Entry,
    EntryInstead,
    EntrySide,
    Incident,
    OwnWay,
    Record,
)
from sessions.recording import Done, SideDone, as_planned, gravest, signs_of
from studio import clock
from studio.actions import audit
from studio.models import Studio

# An entry is made ready by sessions.recording; these names belong to whoever records.
__all__ = ["Done", "SideDone", "as_planned"]

audit.register(
    "record.started",
    "record.flags_seen",
    "record.entry_saved",
    "record.entry_undone",
    "record.lies_down",
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


class CannotStart(Exception):
    """Nothing is recorded for a place that is freed, for a no-show, or before the day."""

    def __init__(self, reason: str):
        super().__init__(reason)
        self.reason = reason


class FlagsMoved(Exception):
    """The flags changed after the page that was acknowledged had been made."""


@dataclass
class Standing:
    """What a record stands on, fetched once: its entries in their order, its client's active flags, the rules.

    studio: for the pace at which minutes on the back are reckoned. table: the rule table in force.
    """

    entries: list[Entry]
    flags: list[Flag]
    studio: Studio
    table: Table

    @property
    def by_row(self) -> dict[int, Entry]:
        """Return the entries by the key of their plan row."""
        return {entry.plan_item_id: entry for entry in self.entries}

    @property
    def done(self) -> dict[int, list[str]]:
        """Return the changes with which rows were done, by the key of the plan row."""
        return {entry.plan_item_id: entry.adaptations for entry in self.entries}

    @property
    def skipped(self) -> set[int]:
        """Return the keys of plan rows that were skipped."""
        return {entry.plan_item_id for entry in self.entries if entry.state == Entry.State.SKIPPED}


class SignsUnanswered(Exception):
    """Tingling, numbness, weakness or pain was ticked: the stop sheet must be answered before a save."""

    def __init__(self, sign: str, side: str):
        super().__init__("a stop sign was ticked")
        self.sign, self.side = sign, side


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

    flags_seen: the instructor has acknowledged the flags as they stand now. Raises CannotStart.
    """
    with transaction.atomic():
        _may_start(attendance)
        record, made = Record.objects.get_or_create(
            attendance=attendance, defaults={"author": actor.person, "started_at": clock.now()}
        )
        if not made:
            return record
        if flags_seen:
            record.flags_seen_at, record.flags_seen_by = clock.now(), actor.person
            record.save(update_fields=["flags_seen_at", "flags_seen_by"])
        _move_on(attendance, Attendance.State.ARRIVED, when=(Attendance.State.BOOKED,), actor=actor)
        audit.write(actor, "record.started", record)
    return record


def _may_start(attendance: Attendance) -> None:
    if not attendance.holds:
        raise CannotStart("freed")
    if attendance.state == Attendance.State.NO_SHOW:
        raise CannotStart("no_show")
    if attendance.booking.wall_day > clock.today(attendance.booking.zone):
        raise CannotStart("later")


def _move_on(attendance: Attendance, state: str, *, when: tuple, actor) -> None:
    """Set the state where it still is one of `when`, from the row as it stands now; the pass follows."""
    current = Attendance.objects.select_related("booking").get(pk=attendance.pk)
    if current.state in when:
        current.state, current.state_at = state, clock.now()
        current.save_version(current.version, ["state", "state_at"], by=actor.person, at=clock.now())
        passes.follow(actor=actor, attendance=current)


def flags_changed_since(record: Record):
    """Return status rows of this client's flags that are newer than the acknowledgement, newest first."""
    since = record.flags_seen_at or record.started_at
    rows = FlagStatus.objects.filter(flag__client=record.attendance.client_id, at__gt=since)
    return rows.select_related("flag", "author").order_by("-id")


def see_flags(*, actor, record: Record, shown_until: dt.datetime | None) -> None:
    """Keep that the changed flags were seen, by whom and when.

    shown_until: the time of the newest change that was shown. Raises FlagsMoved when there is a newer one
    by now: that one was not seen. Raises NotYours and Shut.
    """
    with transaction.atomic():
        _writable(record, actor.person)
        changed = flags_changed_since(record)
        if shown_until is None or changed.filter(at__gt=shown_until).exists():
            raise FlagsMoved
        record.flags_seen_at, record.flags_seen_by = clock.now(), actor.person
        record.save(update_fields=["flags_seen_at", "flags_seen_by"])
        audit.write(actor, "record.flags_seen", record)


def standing(record: Record, studio: Studio | None = None) -> Standing:
    """Return the entries of a record and the flags and rules that count for it as they stand now."""
    flags = Flag.objects.active().filter(client=record.attendance.client_id)
    studio = studio or Studio.objects.first()
    return Standing(list(record.entries.all()), list(flags), studio, table_in_force())


def save_entry(
    *, actor, record: Record, item, done: Done, answered: str = "", at: Standing | None = None
) -> Entry:
    """Save one entry of the plan, again if it was saved before, and return it.

    item: the plan row. answered: the choice by which the stop sheet was answered; without it an entry with
    a stop sign that is not on file yet raises SignsUnanswered and nothing is written. Sending the same
    entry twice leaves one row. at: what the record stands on, fetched in the same transaction; a new entry is
    added to it. Raises NotYours and Shut.
    """
    with transaction.atomic():
        _writable(record, actor.person)
        at = at or standing(record)
        entry = _of_the_row(at, item) or _new_entry(record, item, done.id, at)
        new = entry._state.adding
        answered_before = set() if new else _signs_on_file(entry)
        new_signs = signs_of((name, side.felt) for name, side in done.sides.items()) - answered_before
        if new_signs and not answered:
            raise SignsUnanswered(*gravest(new_signs))
        _pin_limit(entry, record, item, done, new=new)
        entry.state, entry.note, entry.setting = done.state, done.note, done.setting
        entry.adaptations = item.adaptations if done.adaptations is None else list(done.adaptations)
        entry.exercise, entry.exercise_version = item.exercise, item.content
        if item.instead_of and done.state == Entry.State.DONE:
            entry.state = Entry.State.CHANGED
        _pin_verdict(entry, item, record, at)
        entry.author, entry.device, entry.at = actor.person, actor.device, clock.now()
        entry.save()
        if new:
            at.entries.append(entry)
        else:
            entry.sides.all().delete()
        _write_sides(entry, done)
        _write_instead(entry, item.instead_of, new=new)
        audit.write(actor, "record.entry_saved", record, fields=[entry.state])
    return entry


def lies_down(*, actor, record: Record) -> None:
    """Keep that the client lies down only now: the clock of the time on the back begins anew.

    Raises NotYours and Shut.
    """
    with transaction.atomic():
        _writable(record, actor.person)
        record.lies_down_at = clock.now()
        record.save(update_fields=["lies_down_at"])
        audit.write(actor, "record.lies_down", record)


def _write_sides(entry: Entry, done: Done) -> None:
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


def _of_the_row(at: Standing, item) -> Entry | None:
    """Return the entry of a plan row, to be written over.

    One with a stop sign is never written over by another exercise: it stays in the record as a line of its own.
    """
    entry = at.by_row.get(item.pk)
    if entry and entry.exercise_id != item.exercise_id and _signs_on_file(entry):
        entry.plan_item = None
        entry.save(update_fields=["plan_item"])
        return None
    return entry


def _write_instead(entry: Entry, planned, *, new: bool) -> None:
    """Keep what was planned where something else was done; planned: its content, or None."""
    if not new:
        EntryInstead.objects.filter(entry=entry).delete()
    if planned:
        EntryInstead.objects.create(entry=entry, planned=planned)


def _signs_on_file(entry: Entry) -> set[tuple[str, str]]:
    return signs_of((side.side, side.felt) for side in entry.sides.all())


def _new_entry(record: Record, item, entry_id: uuid.UUID, at: Standing) -> Entry:
    """Return a new entry at the end for a plan row that has none: one plan row has one entry."""
    if Entry.objects.filter(pk=entry_id).exists():
        entry_id = uuid.uuid4()  # the id of another row's entry: that one is left alone
    last = max((entry.sequence for entry in at.entries), default=0)
    return Entry(id=entry_id, record=record, sequence=last + 1, plan_item=item, exercise=item.exercise)


def _pin_limit(entry: Entry, record: Record, item, done: Done, *, new: bool) -> None:
    """Keep how far the client was to go when it was done: saving the same entry again later changes nothing."""
    if done.state == Entry.State.SKIPPED:
        entry.limit = {}
    elif new or entry.state == Entry.State.SKIPPED or entry.exercise_id != item.exercise_id:
        own = OwnWay.objects.of(record.attendance.client_id, item.exercise)
        entry.limit = own.limit if own else {}


def _pin_verdict(entry: Entry, item, record: Record, at: Standing) -> None:
    """Keep what the judge says of the exercise as it was done that day, from the flags as they stand."""
    verdict = judged(item, record, at, adaptations=entry.adaptations, setting=entry.setting)
    entry.verdict, entry.table_version = verdict, verdict["table_version"]


def judged(item, record: Record, at: Standing, *, adaptations, setting, sides: str | None = None) -> dict:
    """Return the stored judgement of a plan row as it is done: in its place, with these changes and springs.

    sides: one side only, else those of the row. Rows that were skipped are no neighbours.
    """
    done = at.done | {item.pk: adaptations}
    placed = item.plan.placed(at.studio, done=done, skipped=at.skipped - {item.pk})
    _item, row, place = next(one for one in placed if one[0].pk == item.pk)
    row = replace(row, setting=setting, sides=row.sides if sides is None else sides)
    day = record.attendance.booking.wall_day
    return judging.judged(at.flags, row, place, day, table=at.table)


def undo(*, actor, record: Record) -> Entry | None:
    """Take back the newest entry and return it as it was, or None when there is none."""
    with transaction.atomic():
        _writable(record, actor.person)
        entry = (
            record.entries.order_by("-at", "-sequence")
            .select_related("plan_item", "exercise_version")
            .first()
        )
        if entry is None:
            return None
        copy.copy(entry).delete()
        audit.write(actor, "record.entry_undone", record)
    return entry


def stop(*, actor, attendance: Attendance, sign: str, side: str, item, session: bool) -> Incident:
    """Start an incident with client, machine and time already in it. session: the whole session was stopped.

    sign: the code of a sign, or ''. item: the plan row that was on, or None.
    """
    with transaction.atomic():
        incident = Incident.objects.create(
            attendance=attendance,
            exercise=item.exercise if item else None,
            unit=_machine(attendance, item),
            sign=sign,
            side=side,
            session_stopped=session,
            author=actor.person,
            at=clock.now(),
        )
        audit.write(actor, "incident.started", incident)
    return incident


def _machine(attendance: Attendance, item):
    """Return the machine in use: the plan row's own, or the one booked unit it can have been."""
    if item and item.unit:
        return item.unit
    units = list(attendance.booking.units.all())
    if item:
        units = [unit for unit in units if unit.kind == item.content.facts["apparatus"]]
    return units[0] if len(units) == 1 else None


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
        coming = (Attendance.State.BOOKED, Attendance.State.ARRIVED)
        _move_on(record.attendance, Attendance.State.DONE, when=coming, actor=actor)
        audit.write(
            actor, "record.closed", record, fields=[n for n in Record.CLOSE if values[n] not in ("", None)]
        )
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


def is_recording(person, day: dt.date) -> bool:
    """Return whether this person has a session of that day (in the time zone in force) begun and not closed."""
    return Record.objects.filter(author=person, finished_at=None, started_at__date=day).exists()
