"""Rows of the progress page as plain values: each kind in one query, however many there are."""

import json
from functools import lru_cache
from zoneinfo import ZoneInfo

from django.db.models import TextField
from django.db.models.functions import Cast

from clients.models import Flag, Goal
from clients.models.measures import Measurement
from library import measures
from library.models import Exercise
from sessions import chart_paints, chart_wording
from sessions import progress as sums
from sessions.models import Attendance, Entry, Incident, Record


def readings(person, client) -> dict[str, list[sums.Reading]]:
    """Return the readings that stand, oldest first, by measure."""
    found = {key: [] for key in measures.all_measures()}
    rows = Measurement.objects.seen_by(person).filter(client=client).standing()
    for row in rows.order_by("on", "id"):
        if row.measure not in found:
            continue
        way = f"{row.protocol} {' '.join(row.setup.casefold().split())}".strip()
        for side, value in (("left", row.left_value), ("right", row.right_value)):
            if value is not None:
                found[row.measure].append(sums.Reading(row.on, side, value, way))
    return found


def strips(person, client) -> list[dict]:
    """Return what a client's page shows of left and right: every measure that was taken, newest against first."""
    taken, lines = readings(person, client), goal_lines(person, client)
    return [
        chart_wording.strip(
            sums.progress(of, taken[of.id]),
            chart_paints.PAGE,
            {side: goal.target_value for side, goal in lines.get(of.id, {}).items()},
        )
        for of in measures.all_measures().values()
        if taken[of.id]
    ]


def session_days(person, client) -> list:
    """Return the days of sessions that were held, oldest first."""
    held = Attendance.objects.seen_by(person).filter(client=client, state="done")
    return list(held.order_by("booking__starts_at").values_list("booking__wall_day", flat=True))


def flag_rows(person, client, zone: str, until) -> tuple[list[sums.Stretch], list[sums.Happened]]:
    """Return the stretches of flags that come and go, and what happened with clinicians' words."""
    here, stretches, notes = ZoneInfo(zone), [], []
    flags = Flag.objects.seen_by(person).filter(client=client).prefetch_related("statuses", "replaced_by")
    for flag in flags:
        steps = [(step.at.astimezone(here).date(), step.state) for step in flag.statuses.all()]
        if not steps or flag.replaced_by.all():
            continue
        if flag.is_instruction:
            if any(state == "active" for _day, state in steps):
                thing = {"clinician": flag.clinician, "words": flag.words, "side": flag.side}
                notes.append(sums.Happened(flag.dated or steps[0][0], "note", thing))
            continue
        stretch = sums.flare_up(flag.condition, flag.side, flag.event_on or steps[0][0], steps, until)
        if stretch:
            stretches.append(stretch)
    return stretches, notes


def pain_spells(person, client) -> list[sums.Spell]:
    """Return the spells of more pain that the client's own numbers tell."""
    records = Record.objects.seen_by(person).filter(attendance__client=client, pain__isnull=False)
    by_day = records.order_by("attendance__booking__starts_at")
    return sums.pain_spells(by_day.values_list("attendance__booking__wall_day", "pain", "client_words"))


def incidents(person, client, zone: str) -> list[sums.Happened]:
    here = ZoneInfo(zone)
    rows = Incident.objects.seen_by(person).filter(attendance__client=client)
    return [
        sums.Happened(
            row.at.astimezone(here).date(),
            "flare",
            {"what": "incident", "sign": row.sign, "side": row.side, "stopped": row.session_stopped},
        )
        for row in rows
    ]


def goal_lines(person, client) -> dict[str, dict[str, Goal]]:
    """Return the open goals that have a number, by measure and side; of two for a side the newer counts."""
    found = {}
    for goal in Goal.objects.seen_by(person).filter(client=client, state="open").exclude(measure=""):
        for side in sums.SIDES if goal.side == "both" else (goal.side,):
            found.setdefault(goal.measure, {})[side] = goal
    return found


def goals(person, client) -> list[sums.Happened]:
    """Return goals set, reached and put aside, each on its day."""
    found = []
    for goal in Goal.objects.seen_by(person).filter(client=client):
        found.append(sums.Happened(goal.set_on, "goal", {"what": "set", "words": goal.words}))
        if goal.closed_on:
            found.append(sums.Happened(goal.closed_on, "goal", {"what": goal.state, "words": goal.words}))
    return found


def done(person, client, first, last) -> list[sums.Done]:
    """Return what was done between two days, oldest first: springs, and quality on each side."""
    entries = Entry.objects.seen_by(person).filter(
        record__attendance__client=client, record__attendance__booking__wall_day__range=(first, last)
    )
    rows = (
        entries.exclude(state=Entry.State.SKIPPED)
        .order_by("record__attendance__booking__starts_at", "sequence", "pk")
        .values_list(
            "record_id",
            "sequence",
            "record__attendance__booking__wall_day",
            "exercise_id",
            Cast("setting", TextField()),
            "sides__side",
            "sides__quality",
        )
    )
    found = {}
    for record, place, day, exercise, setting, side, quality in rows:
        one = found.setdefault(
            (record, place, exercise), {"on": day, "exercise": exercise, "springs": _springs(setting)}
        )
        if side:
            one[side] = quality
    return [sums.Done(**one) for one in found.values()]


@lru_cache(maxsize=512)
def _springs(setting: str) -> tuple[tuple[str, int], ...]:
    """Return the springs of a setting, heaviest first: most settings of a studio are the same few."""
    springs = (json.loads(setting) or {}).get("springs", ()) if setting else ()
    hooked = [(spring["grade"], spring["count"]) for spring in springs if spring.get("count")]
    return tuple(sorted(hooked, key=lambda one: -sums.GRADES.index(one[0])))


def exercise_names(person, keys) -> dict[int, str]:
    """Return the current name of each exercise by its key."""
    rows = Exercise.objects.seen_by(person).filter(pk__in=set(keys)).select_related("current")
    return {row.pk: str(row) for row in rows}
