"""Minutes on the back: how long each spell of a plan is. Plain computation.

Neighbouring entries flat on the back add up to one spell. It ends with at least a minute off the
back, as one entry or as one pause that is written into the plan. A shorter one does not end it and
its own time is not added; two short ones in a row are not added up either. The three minutes that
part short from long and the minute that ends a spell stand in the rule table (`supine_spell`, with
how sure they are); the rest is common practice, no source. In doubt the reading is the stricter one.

What is off the back: side-lying, sitting, kneeling and standing, as the table names them, and what
is plainly face down: prone, four-point and plank. Upside-down work is not: it begins and ends on
the back. Nor is lying over an arc, which carries no demand for the flat back but is still lying.
A trunk raised on a wedge is neither: its time is not added, and it does not end a spell.
"""

import math
from collections.abc import Iterable
from typing import NamedTuple

from library import lifts, tables

OFF_THE_BACK = frozenset(
    {"side_lying", "seated", "kneeling", "standing", "prone", "quadruped", "plank_support"}
)
# Adaptations that change the position itself.
GETS_OFF = frozenset({"do_seated", "do_standing", "do_side_lying"})
LIES_DOWN = "do_lying"


class Row(NamedTuple):
    """One entry or pause: planned seconds, whether it is flat on the back, whether it is off the back."""

    seconds: float
    lies_flat: bool
    ends_spell: bool


def pause(seconds: float) -> Row:
    """A pause written into the plan, spent off the back."""
    return Row(seconds, False, True)


def row(facts, seconds: float, adaptations: Iterable[str] = ()) -> Row:
    """One entry of a plan, from the exercise's facts (a mapping), planned seconds, chosen adaptations.

    Flat on the back is an entry that carries the demand and has it not lifted, and one whose lying
    version was chosen. A lifted one gets off the back where every adaptation that lifts it is another
    position: sitting, standing, the side.
    """
    codes, demand = lifts.codes(adaptations), tables.rule_table().supine_demand
    if LIES_DOWN in codes:
        return Row(seconds, True, False)
    if demand not in (facts["demands"] or ()):
        return Row(seconds, False, facts["position"] in OFF_THE_BACK)
    held = lifts.chosen(facts["id"], codes, listed=facts.get("adaptations"))
    if not lifts.lifts_demand(held, demand):
        return Row(seconds, True, False)
    return Row(seconds, False, {way.adaptation for way in held if demand in way.lifts} <= GETS_OFF)


def spells(rows: Iterable, *, break_s: float | None = None) -> list[int | None]:
    """Per row the seconds of the spell it stands in; None for a row that is not flat on the back.

    `rows`: `Row`, or any object or tuple with seconds, lies_flat, ends_spell, in their order. An
    entry shown alone is a plan of one row. `break_s`: how long off the back ends a spell; None takes
    the table's. Seconds are rounded up, so that a spell never counts as shorter than it is.
    """
    least = tables.rule_table().supine_break_s if break_s is None else break_s
    rows = [_row(given) for given in rows]
    found, spell, total = [None] * len(rows), [], 0.0
    for place, (seconds, lies_flat, ends_spell) in enumerate(rows):
        if lies_flat:
            spell.append(place)
            total += seconds
        elif ends_spell and seconds >= least:
            _close(found, spell, total)
            spell, total = [], 0.0
    _close(found, spell, total)
    return found


def lengths(rows: Iterable, *, break_s: float | None = None) -> list[int]:
    """Seconds of each spell, in the order of the plan."""
    least = tables.rule_table().supine_break_s if break_s is None else break_s
    rows = [_row(given) for given in rows]
    found, open_spell = [], False
    for (seconds, lies_flat, ends_spell), length in zip(rows, spells(rows, break_s=least), strict=True):
        if lies_flat and not open_spell:
            found.append(length)
        open_spell = lies_flat or (open_spell and not (ends_spell and seconds >= least))
    return found


def planned_seconds(facts, repetitions: int | None, pace: float) -> float:
    """Planned seconds of one entry: (set-up + repetitions x seconds x sides + switch) x pace.

    `repetitions` are per side; None is the middle of the usual range, rounded up.
    """
    both = facts["sides"] != "both_together"
    if repetitions is None:
        repetitions = -(-(facts["reps_min"] + facts["reps_max"]) // 2)
    moving = repetitions * facts["seconds_per_rep"] * (2 if both else 1)
    return (facts["setup_s"] + moving + facts["switch_s"]) * pace


def _row(given) -> Row:
    if isinstance(given, tuple):
        return Row(*given[:3])
    return Row(given.seconds, given.lies_flat, given.ends_spell)


def _close(found: list, spell: list[int], total: float) -> None:
    length = math.ceil(round(total, 6))
    for place in spell:
        found[place] = length
