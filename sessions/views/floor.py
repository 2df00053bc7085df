"""What the recording screen shows of one plan row: both sides, last time, the judge, what comes next."""

import datetime as dt
import uuid
import zlib
from types import SimpleNamespace

from django.db.models import Q

from clients import glance
from library import vocabulary_wording
from library.models import StudioSpring
from library.templatetags.library import review_words
from sessions import own_limits, own_way_wording, phrases, plan_wording, planning, record_wording, wording
from sessions.actions import records as record_actions
from sessions.actions.back import on_the_back_since
from sessions.forms.records import FREE, peg_values, sides_of
from sessions.models import Entry, OwnWay, Plan, Range
from sessions.recording import planned
from sessions.views.standing_in import dress
from studio import clock
from studio.wording import language

# Flags that ride on the top bar for the whole session; the others stand under the figure they touch.
RIDING = ("avoid", "watch")
RIDES_AT_MOST = 2
# An instructor's newest notes, from which the chips are taken: about a month of work.
NOTES_LOOKED_THROUGH = 400


def plan_of(person, attendance) -> Plan | None:
    return Plan.objects.seen_by(person).with_items().filter(attendance=attendance).first()


def springs_for(person, *items) -> list[StudioSpring]:
    """Return the studio's springs for the apparatus of plan rows, and those that the rows hold already."""
    held = {row["spring"] for item in items for row in item.setting.get("springs", ())}
    in_use = Q(kind__in={item.content.facts["apparatus"] for item in items}, in_use=True)
    return list(StudioSpring.objects.seen_by(person).filter(in_use | Q(public_id__in=held)))


def fitting(springs, item) -> list[StudioSpring]:
    """Return those of some springs that belong to one plan row."""
    held = {row["spring"] for row in item.setting.get("springs", ())}
    kind = item.content.facts["apparatus"]
    return [s for s in springs if (s.kind == kind and s.in_use) or s.public_id in held]


def following(items, item, entered):
    """Return the row after this one that has no entry yet, from the top again at the end; None when none."""
    place = items.index(item)
    return next((row for row in items[place + 1 :] + items[:place] if row.pk not in entered), None)


def _shown_next(row, own: OwnWay | None):
    """Return the row to go on to, with how far the client goes in it; None when none is left."""
    if row:
        row.limits = own_limits.done_on(own.limit if own else {}, (row.sides or "both",))
        row.drawn_sides = own_limits.drawn_sides(row.limits, row.sides, row.first_side)
    return row


def newest_changes(record) -> list:
    """Return at most three changes of flags since they were seen, newest first; asked for only if there are any."""
    changed = record_actions.flags_changed_since(record)
    return list(changed[:3]) if changed.exists() else []


def _cue(content) -> str:
    """Return the first cue; where the words are not written yet, what the exercise is for."""
    return content.text["cues"][0] if content.has_words else content.text["purpose"]


def floor(request, record, plan, item, *, at, springs=None, typed=None, errors=None) -> dict:
    """Return the context of the recording screen at one plan row.

    at: what the record stands on (actions.records.standing). springs: those of all rows, if at hand.
    typed: what was posted and is not saved; it is shown instead of what is on file.
    """
    attendance, request.rule_table = record.attendance, at.table
    dress(plan, at.entries)
    items = list(plan.items.all())
    entries = at.by_row
    entry = entries.get(item.pk)
    if entry and entry.exercise_id != item.exercise_id:
        entry = None  # what is on file is of the exercise that this one takes the place of, or the other way
    place = items.index(item)
    facts = item.content.facts
    springs = springs_for(request.user, item) if springs is None else fitting(springs, item)
    done = _done_so_far(item, entry, typed)
    verdict = _verdict(record, item, at, done)
    values = typed or _values(entry, item)
    after = None if record.finished_at else following(items, item, entries)
    own_ways = _own_ways(request.user, attendance, item, after)
    own = own_ways.get(item.exercise_id)
    limits = _limits(entry, own)
    chips = wording.glance(at.flags, attendance.booking.wall_day, table=at.table)
    cares = glance.care(at.flags, attendance.booking.wall_day, table=at.table)
    around = f"{language()} {review_words(request)}"
    cares_mark = f"{cares['mark']} {zlib.crc32(around.encode())}"
    return {
        "record": record,
        "attendance": attendance,
        "client": attendance.client,
        "item": item,
        "content": item.content,
        "planned": item.instead_of,
        "facts": facts,
        "cue": _cue(item.content),
        "own": own_way_wording.shown(own),
        "limits": limits,
        "how_far": _how_far(item, limits),
        "dose": wording.dose(item),
        "entry": entry,
        "set_up": item.content.text["set_up"] if item.instead_of and item.content.has_words else "",
        "entry_id": (typed or {}).get("id") or (entry.pk if entry else uuid.uuid4()),
        "place": place + 1,
        "total": len(items),
        "trail": [_mark(row, entries.get(row.pk), plan.pace(request.studio)) for row in items],
        "next": _shown_next(after, own_ways.get(after.exercise_id) if after else None),
        **_phrases(request.user, values),
        "errors": errors or {},
        "unsaved": typed is not None,
        "last": _last(request.user, attendance, item.exercise),
        "sheets": _sheets(record, item, at, done),
        "changes": _changes(record, item, at, done, verdict),
        "lift": plan_wording.lift_words(verdict),
        "pause": plan_wording.pause_words(item.pause),
        "back": _back_clock(record, item, at, done),
        "glance": chips,
        "cares": cares,
        "cares_mark": cares_mark,
        "cares_stand": bool(request.htmx) and request.headers.get("X-Cares") == cares_mark,
        "rides": [chip for chip in chips if chip["verdict"] in RIDING][:RIDES_AT_MOST],
        "springs": springs,
        "pegs": [(value, s.grade, s.name) for s in springs for value in peg_values(s)],
        "ranges": Range.choices,
        "minutes_in": int((clock.now() - record.started_at).total_seconds() // 60),
        "held": bool(item.seconds) or facts["compare_by"] == "hold_s",
        "counted": bool(item.repetitions) or not item.seconds,
        "changed": newest_changes(record),
        "signs": record_wording.stop_signs(),
        "now": clock.now(),
    }


def typed_values(data) -> dict:
    """Return what was posted in the shape of `values`, so that the screen shows it again."""
    typed = {name: data.get(name, "") for name in data if not name.startswith("felt_")}
    typed["springs"] = data.getlist("springs")
    typed["phrases"] = data.getlist("phrases")
    typed["adaptations"] = data.getlist("adaptations")
    typed["felt"] = {name.removeprefix("felt_") for name in data if name.startswith("felt_")}
    return typed


def _mark(item, entry, pace) -> dict:
    return {
        "minutes": planning.whole_minutes(planning.row_seconds(item.as_row(), pace)),
        "done": bool(entry) and entry.state != Entry.State.SKIPPED,
        "skipped": bool(entry) and entry.state == Entry.State.SKIPPED,
    }


def _values(entry, item) -> dict:
    """Return what the controls begin with: what was recorded, or the plan's own numbers and springs."""
    setting = entry.setting if entry else item.setting
    hooked = [
        f"{s['spring']}:{n}" for s in setting.get("springs", []) for n in range(1, (s.get("count") or 0) + 1)
    ]
    values = {"springs": hooked, "note": entry.note if entry else "", "felt": set()}
    values.update({name: setting.get(name, "") for name in FREE})
    if entry and entry.state != Entry.State.SKIPPED:
        for side in entry.sides.all():
            values.update(_side_values(side))
            values["felt"] |= {f"{felt}_{side.side}" for felt in side.felt}
        return values
    for side, (count, seconds) in planned(item).items():
        values.update({f"reps_{side}": count, f"secs_{side}": seconds})
    return values


def _own_ways(person, attendance, *rows) -> dict[int, OwnWay]:
    """Return what worked for this client in the exercises of some rows, by key of the exercise; one query."""
    ids = [row.exercise_id for row in rows if row]
    kept = OwnWay.objects.seen_by(person).filter(client=attendance.client_id, exercise__in=ids)
    return {own.exercise_id: own for own in kept}


def _limits(entry, own: OwnWay | None) -> dict:
    """Return how far the client goes: as it was when the entry was saved, else as it is kept now."""
    if entry and entry.state != Entry.State.SKIPPED:
        return entry.limit
    return own.limit if own else {}


def _how_far(item, limits: dict) -> dict[str, dict]:
    """Return how far it goes on each side the row works on, in words, by side; nothing without a limit."""
    if not limits or not item.content.pose:
        return {}
    sides = sides_of(item)
    return {row["side"]: row for row in own_way_wording.pictures(item.content.pose, sides, limits)}


def _phrases(person, values: dict) -> dict:
    """Return the values with their note parted, and the chips: this person's most used notes; one query."""
    entries = Entry.objects.seen_by(person).filter(author=person).exclude(state=Entry.State.SKIPPED)
    notes = (
        entries.exclude(note="")
        .order_by("-at")
        .values_list("note", "record__attendance__client")[:NOTES_LOOKED_THROUGH]
    )
    offered = phrases.most_used(notes, record_wording.program_words())
    ticked, note = values.get("phrases"), values.get("note", "")
    if ticked is None:
        ticked, note = phrases.parted(note, offered)
    chips = [*offered, *(one for one in ticked if one not in offered)]
    return {"values": {**values, "note": note, "phrases": ticked}, "phrases": [(one, one) for one in chips]}


def _side_values(side) -> dict:
    return {
        f"reps_{side.side}": side.repetitions,
        f"secs_{side.side}": side.seconds,
        f"quality_{side.side}": side.quality,
        f"range_{side.side}": side.range,
    }


def _last(person, attendance, exercise) -> dict:
    """Return the sides of this exercise the last time this client did it, by side; nothing when never."""
    before = Entry.objects.seen_by(person).sides_last_time(attendance, exercise)
    return {side.side: side for side in before}


def _done_so_far(item, entry, typed):
    """Return the changes and the springs that the screen shows: what was typed, is on file, or is planned."""
    shown = entry if entry and entry.state != Entry.State.SKIPPED else item
    adaptations = shown.adaptations
    if typed and typed.get("changes"):
        known = {*item.content.facts["adaptations"], *item.adaptations}
        adaptations = [code for code in typed["adaptations"] if code in known]
    return SimpleNamespace(adaptations=adaptations, setting=shown.setting)


def _verdict(record, item, at, done) -> dict:
    return record_actions.judged(item, record, at, adaptations=done.adaptations, setting=done.setting)


def _changes(record, item, at, done, verdict) -> dict:
    """Return the changes for this client to tick, those that are, and what the row becomes without or with them."""
    listed = item.content.facts["adaptations"]
    differ, becomes = set(done.adaptations) != set(item.adaptations), ""
    if differ:
        as_planned = SimpleNamespace(adaptations=item.adaptations, setting=done.setting)
        becomes = plan_wording.becomes_words(_verdict(record, item, at, as_planned), verdict)
    return {
        "choices": [(code, vocabulary_wording.adaptation(code)) for code in listed],
        "ticked": done.adaptations,
        "words": plan_wording.changes_words(done.adaptations),
        "differ": differ,
        "becomes": becomes,
    }


def _back_clock(record, item, at, done) -> dict | None:
    """Return since when the client lies flat on the back and when that has been long; None where it says nothing."""
    since = on_the_back_since(record, item, at, done.adaptations)
    if since is None or record.finished_at:
        return None
    limit = at.table.supine_limit_s
    return {
        "since": since,
        "limit": limit,
        "minutes": planning.whole_minutes(limit),
        "long_from": since + dt.timedelta(seconds=limit),
        "seconds": max(int((clock.now() - since).total_seconds()), 0),
        "long": clock.now() > since + dt.timedelta(seconds=limit),
    }


def _sheets(record, item, at, done) -> dict:
    """Return the judge's sheet for each side the row works on. done: anything with adaptations and setting."""
    return {
        side: wording.sheet(
            record_actions.judged(
                item, record, at, adaptations=done.adaptations, setting=done.setting, sides=side
            )
        )
        for side in sides_of(item)
    }
