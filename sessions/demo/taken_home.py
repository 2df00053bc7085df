"""The demo's home practice: two handouts issued, one of them overtaken by a later flag, and a draft."""

import datetime as dt

from clients.actions import flags
from library.models import Exercise
from sessions import home_rules
from sessions.actions import handouts, home_practice
from sessions.demo.practice import HOME, LATER_FLAGS
from sessions.models import HomePractice


def plan_for(demo) -> None:
    """Put down the sheets and the later flags."""
    for key, sheet in HOME.items():
        day = demo.day(sheet.week, sheet.day)
        demo.then(
            demo.at(day, sheet.time), lambda key=key, sheet=sheet, day=day: _sheet(demo, key, sheet, day)
        )
    for key, later in LATER_FLAGS.items():
        day = demo.day(later["week"], later["day"])
        demo.then(
            demo.at(day, later["time"]), lambda key=key, later=later, day=day: _flag(demo, key, later, day)
        )


def _sheet(demo, key: str, sheet, today: dt.date) -> None:
    actor, client = demo.actor(sheet.instructor), demo.clients[key]
    version = 0
    for told in sheet.items:
        exercise = Exercise.objects.with_content().get(key=told.exercise)
        item = {
            "exercise": exercise.public_id,
            "per_week": told.per_week,
            "change": told.change,
            "cue": told.cue,
            "taught_on": today.isoformat(),
        }
        if told.repetitions:
            item["repetitions"] = told.repetitions
        item = {**home_rules.usual(exercise.public_id, exercise.current.facts), **item}
        practice = home_practice.save_item(
            actor=actor, client=client, exercise=exercise, item=item, expected=version, today=today
        )
        version = practice.version
    practice = home_practice.save_whole(
        actor=actor,
        client=client,
        moment=sheet.moment,
        look_again_on=today + dt.timedelta(weeks=4),
        large_print=False,
        expected=version,
    )
    if sheet.issued:
        version = HomePractice.objects.get(client=client).version
        handouts.issue(actor=actor, studio=demo.studio, client=client, expected=version, today=today)


def _flag(demo, key: str, later: dict, today: dt.date) -> None:
    flags.add(
        actor=demo.actor(later["instructor"]),
        client=demo.clients[key],
        fields={
            "condition": later["condition"],
            "side": later["side"],
            "when": "date",
            "event_on": today - dt.timedelta(days=later["days_before"]),
            "note": later["note"],
        },
    )
