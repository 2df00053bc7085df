"""How a measure went over time: tests, change of each side, gap, flare-ups, quality. Plain computation.

Rows of the database come in as plain values and leave as series and codes; `sessions.progress_wording` turns
codes into sentences, `sessions.charts` draws. Exact decimals; the verdicts are those of `library.measures`.
"""

import datetime as dt
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from statistics import median_low

from library import measures
from library.measures import Change, Gap, Measure, Trend

SIDES = ("left", "right")
# Conditions that come and go: their stretch is hatched. Which ones count as that, and for how long, is ours.
FLARE_UPS = ("acute_low_back_pain", "ankle_sprain", "whiplash", "wrist_hand_injury_acute")
FLARE_UP_DAYS = 84
GRADES = ("very_light", "light", "medium", "heavy", "very_heavy")


@dataclass(frozen=True)
class Reading:
    """One side's value on a day, in the unit of the measure; `protocol` is how it was taken."""

    on: dt.date
    side: str
    value: Decimal
    protocol: str = ""


@dataclass(frozen=True)
class Test:
    """One day of testing: its number among all the client's tests of the measure, and the sides taken."""

    number: int
    on: dt.date
    left: Decimal | None
    right: Decimal | None
    protocol: str = ""

    def side(self, name: str) -> Decimal | None:
        return getattr(self, name)


@dataclass(frozen=True)
class SideStory:
    """One side over the tests on which it was taken: its change since the first, and whether that is confirmed."""

    side: str
    tests: tuple[Test, ...]
    change: Change | None
    confirmed: bool

    @property
    def first(self) -> Test:
        return self.tests[0]

    @property
    def last(self) -> Test:
        return self.tests[-1]

    @cached_property
    def trend(self) -> Trend:
        """The trend over all its tests; worked out only where it is asked for, since it compares every pair."""
        return measures.trend([t.on for t in self.tests], [t.side(self.side) for t in self.tests])

    @property
    def value(self) -> Decimal:
        return self.last.side(self.side)

    @property
    def was(self) -> Decimal:
        return self.first.side(self.side)


@dataclass(frozen=True)
class Progress:
    """A measure over the tests shown. `gaps`: (test, gap) of the days on which both sides were taken.

    `older`: tests taken in another way than the newest; they stand in the table and are not drawn.
    """

    measure: Measure
    tests: tuple[Test, ...]
    older: tuple[Test, ...]
    sides: dict[str, SideStory]
    gaps: tuple[tuple[Test, Gap], ...]
    gap_change: Change | None


def progress(
    of: Measure, readings: Iterable[Reading], first: dt.date | None = None, last: dt.date | None = None
):
    """Return how a measure went between two dates, both included; None stands for no end."""
    every = tests(readings)
    inside = [t for t in every if (first is None or t.on >= first) and (last is None or t.on <= last)]
    newest = inside[-1].protocol if inside else ""
    shown = tuple(t for t in inside if t.protocol == newest)
    gaps = tuple((t, measures.gap(of, t.left, t.right)) for t in shown if None not in (t.left, t.right))
    gap_change = None
    if len(gaps) > 1:
        ends = [(test.left, test.right) for test, _gap in (gaps[0], gaps[-1])]
        gap_change = measures.gap_change(of, *ends)
    return Progress(
        measure=of,
        tests=shown,
        older=tuple(t for t in inside if t.protocol != newest),
        sides={side: story for side in SIDES if (story := _story(of, shown, side))},
        gaps=gaps,
        gap_change=gap_change,
    )


def tests(readings: Iterable[Reading]) -> list[Test]:
    """Return the days of testing in order, numbered from 1; of two values for a side on a day the later counts."""
    days = defaultdict(dict)
    for reading in readings:
        days[reading.on][reading.side] = reading
    return [
        Test(
            number=number,
            on=day,
            left=found["left"].value if "left" in found else None,
            right=found["right"].value if "right" in found else None,
            protocol=next(reversed(found.values())).protocol,
        )
        for number, (day, found) in enumerate(sorted(days.items()), start=1)
    ]


def _story(of: Measure, shown: Sequence[Test], side: str) -> SideStory | None:
    own = tuple(test for test in shown if test.side(side) is not None)
    if not own:
        return None
    changes = [measures.change(of, own[0].side(side), test.side(side)) for test in own[1:]]
    return SideStory(
        side=side,
        tests=own,
        change=changes[-1] if changes else None,
        confirmed=measures.confirmed(changes),
    )


def behind(of: Measure, gap: Gap) -> str:
    """Return the side that reaches less, whether or not the gap is more than noise; '' when level."""
    if not gap.amount or of.direction == "neutral":
        return ""
    return "left" if (gap.amount > 0) == (of.direction == "higher") else "right"


# Flare-ups


@dataclass(frozen=True)
class Stretch:
    """Days on which something held: both ends included, `ended` False while it goes on."""

    key: str
    side: str
    first: dt.date
    last: dt.date
    ended: bool

    @property
    def hatched_to(self) -> dt.date:
        """Return its last day as a flare-up: twelve weeks at most, since what lasts longer is none."""
        return min(self.last, self.first + dt.timedelta(days=FLARE_UP_DAYS))


def flare_up(
    key: str, side: str, began: dt.date, steps: Sequence[tuple[dt.date, str]], until: dt.date
) -> Stretch | None:
    """Return the stretch of a flag that comes and goes, or None for other conditions and unconfirmed flags.

    began: the day it happened. steps: the flag's states with their days, oldest first. It ends when the flag
    rests or ends; until then it reaches to `until`.
    """
    if key not in FLARE_UPS or not any(state == "active" for _day, state in steps):
        return None
    day, state = steps[-1]
    ended = state in ("resting", "ended")
    last = max(day, began) if ended else until
    return Stretch(key, side, began, last, ended) if began <= last else None


# A rise of two points on 0 to 10 is more than error: Childs et al., Spine 2005;30:1331-1334 (level not stated).
# That it counts from the middle of the last six times, and only from 3 of 10 on, is ours.
PAIN_RISE = 2
PAIN_LEAST = 3
PAIN_BEFORE = 6
PAIN_FEWEST = 3


@dataclass(frozen=True)
class Spell:
    """Sessions in a row in which the client's own number for pain stood well above the times before."""

    first: dt.date
    last: dt.date
    most: int
    before: int
    said: str
    ended: bool


def pain_spells(noted: Sequence[tuple[dt.date, int, str]]) -> list[Spell]:
    """Return the spells of more pain among sessions with a number noted: (day, 0 to 10, sentence), oldest first."""
    spells, usual, spell = [], [], []
    for one in noted:
        base = median_low(usual[-PAIN_BEFORE:]) if len(usual) >= PAIN_FEWEST else None
        if base is not None and one[1] >= max(base + PAIN_RISE, PAIN_LEAST):
            spell.append(one)
            continue
        if spell:
            spells.append(_spell(spell, base, ended=True))
            spell = []
        usual.append(one[1])
    if spell:
        spells.append(_spell(spell, median_low(usual[-PAIN_BEFORE:]), ended=False))
    return spells


def _spell(rows, before: int, *, ended: bool) -> Spell:
    said = next((words for _day, _pain, words in rows if words), "")
    return Spell(rows[0][0], rows[-1][0], max(pain for _day, pain, _words in rows), before, said, ended)


# Quality and springs


@dataclass(frozen=True)
class Done:
    """One exercise as it was done on a day; quality 1 to 5 for each side or both, None where not noted."""

    on: dt.date
    exercise: int
    springs: tuple[tuple[str, int], ...]
    left: int | None = None
    right: int | None = None
    both: int | None = None


@dataclass(frozen=True)
class QualityRow:
    """An exercise over its times, oldest first; (day, left, right)."""

    exercise: int
    times: tuple[tuple[dt.date, int | None, int | None], ...]


def quality_rows(done: Iterable[Done], most: int = 4, fewest: int = 2) -> list[QualityRow]:
    """Return the exercises noted most often with a side, the most often first; at least `fewest` times."""
    rows = defaultdict(list)
    for one in done:
        if one.left is not None or one.right is not None:
            rows[one.exercise].append((one.on, one.left, one.right))
    often = sorted(rows.items(), key=lambda row: (-len(row[1]), row[0]))
    return [QualityRow(key, tuple(times)) for key, times in often[:most] if len(times) >= fewest]


@dataclass(frozen=True)
class StepsMoved:
    """What a row of steps says: first, newest, the middle one, and how often it went up, stayed, went down.

    `changed`: 'up', 'down' or '': two steps or more away from the first, or one step seen twice running.
    """

    first: int
    last: int
    middle: int
    up: int
    same: int
    down: int
    changed: str


def steps_moved(values: Sequence[int | None]) -> StepsMoved | None:
    """Return what noted steps say, or None with fewer than two. Order only: no mean, no percentage."""
    noted = [value for value in values if value is not None]
    if len(noted) < 2:
        return None
    ways = Counter(
        (later > earlier) - (later < earlier) for earlier, later in zip(noted, noted[1:], strict=False)
    )
    moved = noted[-1] - noted[0]
    twice = len(noted) > 2 and (noted[-2] - noted[0]) * moved > 0
    changed = ("up" if moved > 0 else "down") if abs(moved) >= 2 or (moved and twice) else ""
    return StepsMoved(noted[0], noted[-1], median_low(noted), ways[1], ways[0], ways[-1], changed)


@dataclass(frozen=True)
class SpringsMoved:
    """Springs of an exercise that differ from the time before."""

    on: dt.date
    exercise: int
    before: tuple[tuple[str, int], ...]
    after: tuple[tuple[str, int], ...]

    @property
    def way(self) -> str:
        """Return 'up' or 'down' where one setting plainly holds more than the other, else 'other'.

        Plainly: from the heaviest grade down, no count is smaller and one is larger, or the other way round.
        """
        mine, theirs = _ladder(self.after), _ladder(self.before)
        if all(a >= b for a, b in zip(mine, theirs, strict=True)):
            return "up"
        return "down" if all(a <= b for a, b in zip(mine, theirs, strict=True)) else "other"


def _ladder(springs) -> list[int]:
    """Return how many springs are of a grade or heavier, from the heaviest grade down."""
    counts = Counter()
    for grade, count in springs:
        counts[grade] += count
    total, ladder = 0, []
    for grade in reversed(GRADES):
        total += counts[grade]
        ladder.append(total)
    return ladder


def springs_moved(done: Iterable[Done]) -> list[SpringsMoved]:
    """Return the changes of springs between one time of an exercise and the next, oldest first."""
    last, moves = {}, []
    for one in done:
        before = last.get(one.exercise)
        if one.springs and before and before != one.springs:
            moves.append(SpringsMoved(one.on, one.exercise, before, one.springs))
        if one.springs:
            last[one.exercise] = one.springs
    return moves


def missed_weeks(sessions: Sequence[dt.date], first: dt.date, last: dt.date) -> int:
    """Return the whole weeks, Monday to Sunday, between first and last session shown that had no session."""
    inside = sorted(day for day in sessions if first <= day <= last)
    if len(inside) < 2:
        return 0
    weeks = {day - dt.timedelta(days=day.weekday()) for day in inside}
    return (max(weeks) - min(weeks)).days // 7 + 1 - len(weeks)


# The story line

KINDS = ("flare", "note", "load", "test", "goal")


@dataclass(frozen=True)
class Happened:
    """Something on the story line; `until` where it lasted."""

    on: dt.date
    kind: str
    thing: object
    until: dt.date | None = None


def story(events: Iterable[Happened], first: dt.date, last: dt.date) -> list[Happened]:
    """Return what happened from first to last, oldest first, on one day in the order of KINDS."""
    inside = [one for one in events if one.on <= last and (one.until or one.on) >= first]
    return sorted(inside, key=lambda one: (one.on, KINDS.index(one.kind)))


def picked(happened: Sequence[Happened], most: int) -> list[Happened]:
    """Return at most so many points in order: the newest of each kind, then whatever is newest."""
    return [happened[place] for place in sorted(by_weight([one.kind for one in happened])[:most])]


def by_weight(kinds: Sequence[str]) -> list[int]:
    """Return the places of points, given by their kinds, oldest first: the newest of each kind, then the newest."""
    newest = {kind: place for place, kind in enumerate(kinds)}
    chosen = sorted(newest.values(), reverse=True)
    return chosen + [place for place in range(len(kinds) - 1, -1, -1) if place not in chosen]
