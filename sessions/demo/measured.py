"""The demo's measures: both sides every few weeks, some with real change, some with nothing but noise."""

import datetime as dt
import random
from decimal import Decimal

from clients import measuring
from clients.actions import measures as actions
from library import measures
from sessions.demo.cast import CLIENTS
from sessions.demo.weeks import ABSENT, SLOTS

# Where the tape lay and on what, so that later tests are taken in the same way.
SET_UP = {
    "knee_to_wall_lunge": "barefoot, tape by the long window",
    "back_saver_sit_and_reach": "small box against the wall, shoes off",
    "side_bridge": "folded mat under the elbow",
}


def plan_for(demo) -> None:
    """Put down every test, at the end of the check-in of the client's first session of its week."""
    for person in CLIENTS:
        for number, taken in enumerate(person.measures):
            # The second measure of a client comes a week after the first.
            first = -person.form_weeks_ago + 1 + number
            weeks = [week for week in range(first, 1, taken.every) if not _away(person, week)]
            for week in weeks:
                slot = next(one for one in SLOTS if person.key in one.clients and one.comes_in(week))
                if any(a <= week <= b for a, b in ABSENT.get(slot.instructor, ())):
                    continue
                day = demo.day(week, slot.day)
                at = demo.at(day, slot.time) + dt.timedelta(minutes=8)
                demo.then(
                    at,
                    lambda person=person, taken=taken, week=week, day=day, slot=slot: _take(
                        demo, person, taken, week, day, slot
                    ),
                )


def _away(person, week: int) -> bool:
    return any(first <= week <= last for first, last in person.work.away)


def _take(demo, person, taken, week: int, day: dt.date, slot) -> None:
    of = measures.measure(taken.measure)
    client = demo.clients[person.key]
    held = measuring.judged(demo.shelf.flags(client), of, day)
    along = min(max((week + person.form_weeks_ago) / person.form_weeks_ago, 0), 1)
    tries = {}
    for side in ("left", "right"):
        if held[side].back:
            continue
        chance = random.Random(f"{person.key} {taken.measure} {week} {side}")
        first, last = getattr(taken, side)
        tries[side] = [
            _reading(of, first + (last - first) * along + chance.gauss(0, taken.wobble) - dip)
            for dip in _dips(of, person.work, week, chance)
        ]
    if tries:
        actions.take(
            actor=demo.actor(slot.instructor),
            client=client,
            measure=of,
            on=day,
            tries=tries,
            first="right" if person.work.behind == "left" and of.timed else "left",
            setup=SET_UP[taken.measure],
        )


def _dips(of, work, week: int, chance: random.Random) -> list[float]:
    """Return how far each try stays below what could be had: less in a bad spell, and no two tries alike."""
    bad = 1.0 if any(one.first <= week <= one.last for one in work.flares) else 0.0
    if of.timed:
        bad *= 8
    return [bad + chance.choice((0, 0.5)) * (turn + 1) for turn in range(of.tries)]


def _reading(of, value: float) -> Decimal:
    """Return a value as it is read off: whole steps of the measure, inside its limits."""
    steps = round(value / float(of.step))
    return min(max(steps * of.step, of.minimum), of.maximum)
