"""What its neighbours make of a row of a plan: minutes on the back, quick changes of position. Plain computation."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from library import supine, tables, transitions
from sessions import planning

# Adaptations that put the client into another position than the exercise's own.
MOVES_TO = {
    "do_seated": "seated",
    "do_standing": "standing",
    "do_side_lying": "side_lying",
    "do_lying": "supine",
}


@dataclass(frozen=True)
class PlanRow:
    """One row as the judge needs it. time: its count as the sums take it, with its facts.

    sides: '', 'both', 'left' or 'right'.
    """

    time: planning.Row
    sides: str = ""
    adaptations: tuple[str, ...] = ()
    setting: Mapping = field(default_factory=dict)

    @property
    def facts(self) -> dict:
        return self.time.facts

    @property
    def position(self) -> str:
        """Return where the client is: the start position, or where a chosen adaptation puts them."""
        moved = [MOVES_TO[code] for code in self.adaptations if code in MOVES_TO]
        return moved[0] if moved else self.facts["position"]


@dataclass(frozen=True)
class Place:
    """What stands around a row.

    supine_seconds: the spell on the back it stands in; for a row that an adaptation takes off the flat back,
    the one it would stand in without; None for every other row. together: the places (from 0) of all rows of
    that spell, this one among them; empty where it stands in none. added: demands that the way from the row
    before it adds.
    """

    supine_seconds: int | None = None
    together: tuple[int, ...] = ()
    added: tuple[str, ...] = ()


def places(rows: Sequence[PlanRow], pace: planning.Pace) -> list[Place]:
    """Return the place of each row: planned seconds at the pace, in the order they stand in."""
    return timed(rows, [planning.row_seconds(row.time, pace) for row in rows])


def on_a_sheet(places: Iterable[Place]) -> list[Place]:
    """Return the places of exercises on a sheet for home: nothing is added by going from one to the next.

    Who is alone reads the next one first, so the way there is slow (common practice, no source).
    """
    return [replace(place, added=()) for place in places]


def timed(rows: Sequence[PlanRow], seconds: Sequence[float]) -> list[Place]:
    """Return the place of each row by the seconds that each takes."""
    steps = _steps(rows, seconds)
    # Every row makes two steps: itself and the rest after it.
    lengths, spells = supine.spells(steps)[::2], _numbered(steps)[::2]
    together: dict[int, tuple[int, ...]] = {}
    for place, (length, spell) in enumerate(zip(lengths, spells, strict=True)):
        if length is not None:
            together[spell] = (*together.get(spell, ()), place)
    changes = [(), *map(_change, rows, rows[1:])]
    found = []
    for place, (row, length) in enumerate(zip(rows, lengths, strict=True)):
        others = together[spells[place]] if length is not None else ()
        if length is None and is_off_the_back(row):
            plain = supine.row(row.facts, seconds[place], ())
            length = supine.spells([*steps[: 2 * place], plain, *steps[2 * place + 1 :]])[2 * place]
        found.append(Place(length, others, changes[place]))
    return found


def lies_on_the_back(row: PlanRow) -> bool:
    """Return whether the exercise is done flat on the back, as it is written."""
    return tables.rule_table().supine_demand in (row.facts["demands"] or ())


def is_off_the_back(row: PlanRow) -> bool:
    """Return whether a chosen adaptation takes a row off the flat back."""
    return lies_on_the_back(row) and not supine.row(row.facts, 0, row.adaptations).lies_flat


def is_on_the_back(row: PlanRow) -> bool:
    """Return whether a row is done on the back, flat or with the trunk raised."""
    step = lying(row)
    return step.lies_flat or (lies_on_the_back(row) and not step.ends_spell)


def lying(row: PlanRow, adaptations: Iterable[str] | None = None) -> supine.Row:
    """Return whether a row is flat on the back, or off it, as it is done: with these adaptations, else its own."""
    return supine.row(row.facts, 0, row.adaptations if adaptations is None else adaptations)


def at_the_end(rows: Sequence[PlanRow], row: PlanRow, pace: planning.Pace, *, before: int = 0) -> Place:
    """Return the place a row would have after these.

    before: how many rows stand before these, where they are only the tail of more: `together` counts them.
    """
    place = places([*rows, row], pace)[-1]
    return replace(place, together=tuple(before + other for other in place.together))


def tail(rows: Sequence[PlanRow], pace: planning.Pace) -> list[PlanRow]:
    """Return those of the last rows that decide the place of one more: the running spell, the last row."""
    steps = _steps(rows, [planning.row_seconds(row.time, pace) for row in rows])
    numbers = _numbered(steps)[::2]
    running = next((n for n, number in enumerate(numbers) if number == numbers[-1]), 0)
    return list(rows[running:])


def _steps(rows: Sequence[PlanRow], seconds: Sequence[float]) -> list[supine.Row]:
    steps = []
    for row, taken in zip(rows, seconds, strict=True):
        steps += [supine.row(row.facts, taken, row.adaptations), supine.pause(row.time.pause)]
    return steps


def _numbered(steps: Sequence[supine.Row]) -> list[int]:
    """Return for each step how many breaks stand before it: steps of one number are one spell at most."""
    least, breaks, found = tables.rule_table().supine_break_s, 0, []
    for step in steps:
        found.append(breaks)
        breaks += step.ends_spell and step.seconds >= least
    return found


def _change(before: PlanRow, after: PlanRow) -> tuple[str, ...]:
    return transitions.added(before.position, after.position, before.time.pause)
