"""What the recording screen shows of one plan row: both sides, last time, the judge, what comes next."""

import uuid

from clients.models import Flag
from library.models import StudioSpring
from sessions import judging, planning, wording
from sessions.forms.records import peg_values
from sessions.models import Entry, Plan, Range
from studio import clock


def plan_of(person, attendance) -> Plan | None:
    return Plan.objects.seen_by(person).with_items().filter(attendance=attendance).first()


def springs_for(item):
    """Return the studio's springs for the kind of apparatus of a plan row."""
    return StudioSpring.objects.filter(kind=item.content.facts["apparatus"], in_use=True)


def floor(request, record, plan, item, *, typed=None, errors=None) -> dict:
    """Return the context of the recording screen at one plan row.

    typed: what was posted and could not be saved; it is shown instead of what is on file.
    """
    attendance = record.attendance
    items = list(plan.items.all())
    entries = {e.plan_item_id: e for e in record.entries.all()}
    entry = entries.get(item.pk)
    place = items.index(item)
    after = [row for row in items[place + 1 :] + items[:place] if row.pk not in entries]
    flags = list(Flag.objects.seen_by(request.user).active().filter(client=attendance.client_id))
    return {
        "record": record,
        "attendance": attendance,
        "client": attendance.client,
        "item": item,
        "content": item.content,
        "facts": item.content.facts,
        "cue": (item.content.text.get("cues") or [""])[0],
        "entry": entry,
        "entry_id": entry.pk if entry else uuid.uuid4(),
        "place": place + 1,
        "items": items,
        "total": len(items),
        "trail": [_mark(row, entries.get(row.pk), plan.pace(request.studio)) for row in items],
        "next": after[0] if after else None,
        "values": typed or _values(entry, item),
        "errors": errors or {},
        "last": _last(request.user, attendance, item.exercise),
        "sheets": _sheets(flags, item, attendance.booking.wall_day),
        "glance": wording.glance(flags, attendance.booking.wall_day),
        "pegs": _pegs(item),
        "ranges": Range.choices,
        "minutes_in": int((clock.now() - record.started_at).total_seconds() // 60),
        "held": bool(item.seconds) or item.content.facts["compare_by"] == "seconds",
    }


def _mark(item, entry, pace) -> dict:
    return {
        "minutes": planning.whole_minutes(planning.row_seconds(item.as_row(), pace)),
        "done": bool(entry) and entry.state != Entry.State.SKIPPED,
        "skipped": bool(entry) and entry.state == Entry.State.SKIPPED,
    }


def _pegs(item) -> list[tuple[str, str, str]]:
    """Return a peg for every single spring: value, grade, the studio's name."""
    return [(value, s.grade, s.name) for s in springs_for(item) for value in peg_values(s)]


def _values(entry, item) -> dict:
    """Return what the controls begin with: what was recorded, or the plan's own numbers and springs."""
    setting = entry.setting if entry else item.setting
    hooked = [
        f"{s['spring']}:{n}" for s in setting.get("springs", []) for n in range(1, (s.get("count") or 0) + 1)
    ]
    values = {"springs": hooked, "note": entry.note if entry else "", "felt": set()}
    values.update({name: setting.get(name, "") for name in ("gear", "bar", "strap", "box")})
    if entry:
        for side in entry.sides.all():
            values.update(_side_values(side))
            values["felt"] |= {f"{felt}_{side.side}" for felt in side.felt}
        return values
    right = item.repetitions if item.repetitions_right is None else item.repetitions_right
    held = item.seconds if item.seconds_right is None else item.seconds_right
    values.update(reps_both=item.repetitions, reps_left=item.repetitions, reps_right=right)
    values.update(secs_both=item.seconds, secs_left=item.seconds, secs_right=held)
    return values


def _side_values(side) -> dict:
    return {
        f"reps_{side.side}": side.repetitions,
        f"secs_{side.side}": side.seconds,
        f"quality_{side.side}": side.quality,
        f"range_{side.side}": side.range,
    }


def _last(person, attendance, exercise) -> dict:
    """Return the sides of this exercise the last time this client did it, by side; nothing when never."""
    before = (
        Entry.objects.filter(
            exercise=exercise,
            record__attendance__client=attendance.client_id,
            record__attendance__booking__starts_at__lt=attendance.booking.starts_at,
        )
        .exclude(state=Entry.State.SKIPPED)
        .order_by("-record__attendance__booking__starts_at", "-sequence")
        .prefetch_related("sides")
        .first()
    )
    return {side.side: side for side in before.sides.all()} if before else {}


def _sheets(flags, item, day) -> dict:
    """Return the judge's sheet for each side the row works on."""
    sides = {"": ("both",), "both": ("left", "right")}.get(item.sides, (item.sides,))
    facts = item.content.facts
    return {
        side: wording.sheet(judging.stored(judging.judge_facts(flags, facts, day, sides=side)))
        for side in sides
    }
