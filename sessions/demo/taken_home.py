"""The demo's home practice: handouts over the months, each with its PDF as one that was really issued, and a draft."""

import datetime as dt
from concurrent.futures import ThreadPoolExecutor

from library.models import Exercise
from sessions import home_rules, pdf
from sessions.actions import handouts, home_practice
from sessions.demo.cast import CLIENTS
from sessions.demo.weeks import SLOTS
from sessions.models import Gates, HomePractice
from studio import clock
from studio.actions import audit

# Seconds for one PDF: nobody stands waiting for it, and on a busy machine the worker gives way.
PATIENCE = 120.0
EASILY = "Only as far as it stays easy."


def plan_for(demo) -> None:
    """Put down the sheets, each at the end of the client's first session of its week."""
    # It takes a while to be ready; by the time the first PDF is wanted it is.
    pdf.warm()
    press = Press()
    for person in CLIENTS:
        for sheet in person.sheets:
            slot = next(one for one in SLOTS if person.key in one.clients and one.comes_in(sheet.week))
            day = demo.day(sheet.week, slot.day)
            end = demo.at(day, slot.time) + dt.timedelta(minutes=slot.minutes + 2)
            demo.then(
                end, lambda person=person, sheet=sheet, day=day: _sheet(demo, press, person, sheet, day)
            )
    demo.then(demo.until, press.close)


def _sheet(demo, press, person, sheet, today: dt.date) -> None:
    demo.shelf.write()
    actor, client = demo.actor(person.instructor), demo.clients[person.key]
    practice = HomePractice.objects.filter(client=client).first()
    version = practice.version if practice else 0
    for exercise in _not_told_again(practice, sheet):
        practice = home_practice.remove_item(
            actor=actor, client=client, exercise_id=exercise, expected=version
        )
        version = practice.version
    gates = Gates.of(client, today)
    for told in sheet.items:
        exercise = demo.shelf.exercises[told.exercise]
        item = _item(exercise, told, practice, gates)
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
    if sheet.issued:
        press.issue(demo, actor, client, practice, today)


def _older(person, today: dt.date) -> bool:
    """Return whether the sheet is in large print: from about seventy-five on."""
    return (today - person.born).days > 75 * 365


def _not_told_again(practice, sheet) -> list[str]:
    """Return the exercises of the sheet as it stands that the new one leaves out."""
    keys = [told.exercise for told in sheet.items]
    ids = set(Exercise.objects.filter(key__in=keys).values_list("public_id", flat=True))
    return [item["exercise"] for item in practice.items if item["exercise"] not in ids] if practice else []


def _item(exercise, told, practice, gates: Gates) -> dict:
    item = {
        **home_rules.usual(exercise.public_id, exercise.current.facts),
        "per_week": told.per_week,
        "change": told.change,
        "cue": told.cue,
        "taught_on": gates.on.isoformat(),
        "has_it": True,
    }
    item |= {"repetitions": told.repetitions} if told.repetitions else {}
    items = home_rules.placed(practice.items if practice else [], item)
    weighed = next(r for r in gates.rows(items) if r.exercise.pk == exercise.pk)
    return item | ({"change": EASILY} if home_rules.CHANGE in weighed.needs else {})


class Press:
    """Makes the PDFs next door while the laying goes on. A handout is never changed once it is in the database,
    so its row waits for its bytes: until the next one is issued, which counts on from it.
    """

    def __init__(self):
        self._turn = ThreadPoolExecutor(max_workers=1, thread_name_prefix="demo-press")
        self._waiting = None

    def issue(self, demo, actor, client, practice, today: dt.date) -> None:
        """Issue a sheet at this instant, as `handouts.issue` does."""
        self.write()
        made = handouts.draft(studio=demo.studio, client=client, today=today)
        row = handouts.row_of(author=actor.person, client=client, made=made, today=today)
        self._waiting = row, self._turn.submit(handouts.pdf_of, made.html(), timeout=PATIENCE)
        practice.save_version(practice.version, [], by=actor.person, at=clock.now())
        audit.write(actor, "handout.issued", row)

    def write(self) -> None:
        """Write the row that waits, with its bytes."""
        if self._waiting:
            row, bytes_of = self._waiting
            row.pdf = bytes_of.result()
            row.save(force_insert=True)
            self._waiting = None

    def close(self) -> None:
        self.write()
        self._turn.shutdown()
