"""The client's story by date."""

from zoneinfo import ZoneInfo

from django.shortcuts import render
from django.utils.translation import gettext as _

from clients.models import Client, FlagStatus, Goal
from library import limit_wording
from sessions import own_limits, plan_wording, record_wording, wording
from sessions.models import Handout, Incident, Record
from sessions.timeline import Event, in_order
from sessions.views.bookings import day_in_address
from studio.access import opens
from studio.actions import audit
from studio.roles import INSTRUCTOR, OWNER

audit.register("timeline.read")

SIDES = ("left", "right", "both")
# So many sessions stand open; the rows of the others are one touch away.
OPEN_SESSIONS = 3
# And so many a page; what came before them is on the next.
SESSIONS = 12


@opens(OWNER, INSTRUCTOR)
def timeline(request, client):
    client = Client.objects.get_seen(request.user, client)
    until = day_in_address(request, "until")
    records = list(_records(request.user, client, until))
    # The day of the first session that is left out: the page about what came earlier begins there.
    earlier = records[SESSIONS].attendance.booking.wall_day if len(records) > SESSIONS else None
    others = [
        *_flags(request, client),
        *_goals(request.user, client),
        *_handouts(request.user, client),
        *_incidents(request, client),
    ]
    others = [e for e in others if (not until or e.on <= until) and (not earlier or e.on > earlier)]
    events = in_order([*_sessions(records[:SESSIONS]), *others])
    audit.write(request.actor, "timeline.read", client)
    context = {"client": client, "events": events, "until": until, "earlier": earlier, "at": "clients"}
    return render(request, "sessions/timeline.html", context)


def _records(person, client, until):
    """Return the newest recorded sessions up to a day, one more than a page shows."""
    rows = Record.objects.seen_by(person).filter(attendance__client=client)
    if until:
        rows = rows.filter(attendance__booking__wall_day__lte=until)
    rows = rows.select_related("attendance__booking__instructor").order_by("-attendance__booking__starts_at")
    return rows.with_story().prefetch_related("additions__author")[: SESSIONS + 1]


def _sessions(records):
    """Return recorded sessions, newest first, with what was done on each side."""
    for place, record in enumerate(records):
        shown = {**session_shown(record), "folded": place >= OPEN_SESSIONS}
        yield Event(record.attendance.booking.wall_day, "session", shown)


def session_shown(record) -> dict:
    """Return a record with its entries as the templates show them."""
    return {"record": record, "rows": [entry_shown(entry) for entry in record.entries.all()]}


def entry_shown(entry) -> dict:
    """Return one entry as the table shows it: springs and each side's numbers; empty is never zero."""
    sides = {side.side: side for side in entry.sides.all()}
    row = {
        "entry": entry,
        "skipped": entry.state == entry.State.SKIPPED,
        **_told(entry),
        "setting": wording.setting_words(entry.setting),
        "changes": plan_wording.changes_words(entry.adaptations),
        "how_far": limit_wording.limits_words(own_limits.done_on(entry.limit, sides)),
        "pause": plan_wording.pause_words(_rest(entry) or 0),
        "sided": not set(sides) <= {"both"},
        **{name: sides.get(name) for name in SIDES},
        "quality": {name: sides[name].quality if name in sides else None for name in SIDES},
        "felt": record_wording.felt_lines(sides),
    }
    return {**row, "lines": _lines(row)}


def _lines(row: dict) -> list[str]:
    """Return what stands below the name of an exercise, a line each, before what it felt like."""
    done = not row["skipped"]
    changes = f"{row['changes']} ({row['without']})" if row["without"] else row["changes"]
    lines = (
        _("instead of %(name)s") % {"name": row["instead_of"]} if row["instead_of"] else "",
        row["setting"],
        changes if done and row["changes"] else "",
        _("as far as: %(far)s") % {"far": row["how_far"]} if row["how_far"] else "",
        _("After it: %(pause)s") % {"pause": row["pause"]} if done and row["pause"] else "",
    )
    return [line for line in lines if line]


def _rest(entry) -> int | None:
    """Return the seconds of rest planned after an entry, told or whole."""
    if hasattr(entry, "rest"):
        return entry.rest
    return entry.plan_item.pause if entry.plan_item else None


def _told(entry) -> dict:
    """Return the names in an entry and what its verdict rests on: of an entry as told, or of a whole one."""
    if hasattr(entry, "called"):
        rests = {"carries": entry.carries, "without": entry.without}
        return _names(entry.called, entry.instead, rests)
    before = entry.instead_of.planned.name if hasattr(entry, "instead_of") else ""
    return _names(entry.exercise_version.name, before, entry.verdict or {})


def _names(name: str, before: str | None, rests: dict) -> dict:
    return {"name": name, "instead_of": before or "", "without": plan_wording.without_words(rests)}


def _flags(request, client):
    zone = ZoneInfo(request.studio.zone)
    statuses = FlagStatus.objects.filter(flag__in=client.flags.seen_by(request.user)).select_related(
        "flag", "author"
    )
    for status in statuses:
        yield Event(status.at.astimezone(zone).date(), "flag", status)


def _goals(person, client):
    for goal in Goal.objects.seen_by(person).filter(client=client).prefetch_related("ratings"):
        yield Event(goal.set_on, "goal", {"goal": goal, "what": "set"})
        if goal.closed_on:
            yield Event(goal.closed_on, "goal", {"goal": goal, "what": goal.state})
        for rating in goal.ratings.all():
            yield Event(rating.on, "goal", {"goal": goal, "what": "rated", "value": rating.value})


def _handouts(person, client):
    handouts = Handout.objects.seen_by(person).filter(client=client).defer("pdf", "payload")
    for handout in handouts.select_related("author"):
        yield Event(handout.issued_on, "handout", handout)


def _incidents(request, client):
    zone = ZoneInfo(request.studio.zone)
    incidents = Incident.objects.seen_by(request.user).filter(attendance__client=client)
    for incident in incidents.select_related("exercise__current", "author"):
        yield Event(incident.at.astimezone(zone).date(), "incident", incident)
