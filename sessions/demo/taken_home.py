"""The demo's home practice: handouts over the months, the newest with their PDF, and a draft.

A handout keeps its bytes for ever; making fifty PDFs for the past would keep whoever starts the demo waiting for
half a minute. So older ones are rows without bytes, as on a machine that makes none: they print from the browser,
with the same words and figures. Those of the last weeks are issued with their PDF.
"""

import datetime as dt

from library.models import Exercise
from sessions import handout as paper
from sessions import home_rules, judging, pdf
from sessions.actions import handouts, home_practice
from sessions.demo.cast import CLIENTS
from sessions.demo.weeks import SLOTS
from sessions.models import Attendance, Handout, HomePractice
from studio import clock
from studio.actions import audit

# From this week on the PDF is made.
WITH_PDF_FROM = -3
EASILY = "Only as far as it stays easy."


def plan_for(demo) -> None:
    """Put down the sheets, each at the end of the client's first session of its week."""
    # It takes a while to be ready; by the time the first PDF is wanted it is.
    pdf.warm()
    for person in CLIENTS:
        for sheet in person.sheets:
            slot = next(one for one in SLOTS if person.key in one.clients and one.comes_in(sheet.week))
            day = demo.day(sheet.week, slot.day)
            end = demo.at(day, slot.time) + dt.timedelta(minutes=slot.minutes + 2)
            demo.then(end, lambda person=person, sheet=sheet, day=day: _sheet(demo, person, sheet, day))


def _sheet(demo, person, sheet, today: dt.date) -> None:
    demo.shelf.write()
    actor, client = demo.actor(person.instructor), demo.clients[person.key]
    practice = HomePractice.objects.filter(client=client).first()
    version = practice.version if practice else 0
    for exercise in _not_told_again(practice, sheet):
        practice = home_practice.remove_item(
            actor=actor, client=client, exercise_id=exercise, expected=version
        )
        version = practice.version
    flags = demo.shelf.flags(client)
    for told in sheet.items:
        exercise = demo.shelf.exercises[told.exercise]
        item = _item(exercise, told, flags, today)
        practice = home_practice.save_item(
            actor=actor, client=client, exercise=exercise, item=item, expected=version, today=today
        )
        version = practice.version
    practice = home_practice.save_whole(
        actor=actor,
        client=client,
        moment=sheet.moment,
        look_again_on=today + dt.timedelta(weeks=4),
        large_print=_older(person, today),
        expected=version,
    )
    if sheet.issued and sheet.week >= WITH_PDF_FROM:
        handouts.issue(actor=actor, studio=demo.studio, client=client, expected=practice.version, today=today)
    elif sheet.issued:
        _issued_without_bytes(demo, actor, client, practice, today)


def _older(person, today: dt.date) -> bool:
    """Return whether the sheet is in large print: from about seventy-five on."""
    return (today - person.born).days > 75 * 365


def _not_told_again(practice, sheet) -> list[str]:
    """Return the exercises of the sheet as it stands that the new one leaves out."""
    keys = [told.exercise for told in sheet.items]
    ids = set(Exercise.objects.filter(key__in=keys).values_list("public_id", flat=True))
    return [item["exercise"] for item in practice.items if item["exercise"] not in ids] if practice else []


def _item(exercise, told, flags, today: dt.date) -> dict:
    facts = exercise.current.facts
    verdict = judging.judge_facts(flags, facts, today).verdict
    item = {
        **home_rules.usual(exercise.public_id, facts),
        "per_week": told.per_week,
        "change": told.change or (EASILY if verdict == "modify" else ""),
        "cue": told.cue,
        "taught_on": today.isoformat(),
        "has_it": True,
    }
    return item | ({"repetitions": told.repetitions} if told.repetitions else {})


def _issued_without_bytes(demo, actor, client, practice, today: dt.date) -> None:
    """Keep a handout as `handouts.issue` keeps one where no PDF can be made."""
    made = handouts.draft(studio=demo.studio, client=client, today=today)
    here = Attendance.objects.filter(client=client, booking__wall_day=today, state__in=Attendance.HOLDING)
    handout = Handout.objects.create(
        client=client,
        attendance=here.order_by("booking__starts_at").first(),
        number=made.payload.number,
        version=made.payload.version,
        issued_on=today,
        issued_at=clock.now(),
        author=actor.person,
        replaces=Handout.objects.current().filter(client=client).first(),
        payload=paper.as_json(made.payload),
        verdicts=[
            {
                "exercise": row.exercise.key,
                "version_id": row.exercise.current_id,
                "sides": row.item["sides"],
                "adaptations": row.item["adaptations"],
                "verdict": row.verdict,
            }
            for row in made.rows
        ],
        table_version=made.rows[0].verdict["table_version"],
    )
    practice.save_version(practice.version, [], by=actor.person, at=clock.now())
    audit.write(actor, "handout.issued", handout)
