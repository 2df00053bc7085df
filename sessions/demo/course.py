"""How a client's sessions go in the demo: what is planned, how it goes, what is said, what is carried over.

Plain computation, without the database. Chance comes from names and numbers, so the same demo comes out the same.
"""

import random
from dataclasses import dataclass, field

from sessions import planning
from sessions.demo.said import GENTLY, LATER, LIKE, NOTED, NOTED_WELL, SAID, SPRUNG, STILL, TAKEN_UP
from sessions.home_rules import is_held

ROWS, CORE = 7, 5
# Light to heavy for each kind: the studio's own springs with how many are hooked on.
LADDERS = {
    "reformer": (
        (("Thistledown", 1),),
        (("Fleece", 1),),
        (("Tweed", 1),),
        (("Tweed", 1), ("Fleece", 1)),
        (("Tweed", 2),),
        (("Tweed", 2), ("Fleece", 1)),
        (("Blanket", 1), ("Tweed", 2)),
    ),
    "trapeze_table": ((("Reed", 2),), (("Willow", 2),), (("Hazel", 2),), (("Yew", 2),)),
    "chair": (
        (("Spindle", 1),),
        (("Shuttle", 1),),
        (("Shuttle", 1), ("Spindle", 1)),
        (("Shuttle", 2),),
    ),
}
# The rung to begin on, by the grade the library names.
BEGIN = {
    "reformer": {"light": 1, "medium": 3, "heavy": 4},
    "trapeze_table": {"very_light": 0, "light": 1, "medium": 2, "heavy": 3},
    "chair": {"light": 0, "medium": 1, "heavy": 2},
}
HARDER, SOFTER, SIDE, NEW, WORDS = "harder", "softer", "side", "new", "words"


@dataclass
class Carry:
    """What one session leaves for the next: a kind of change, its exercise and side, and the line written."""

    kind: str
    words: str
    exercise: str = ""
    side: str = ""


@dataclass
class Row:
    """One exercise of a session: planned dose and springs, and how each side went."""

    exercise: str
    facts: dict
    sides: str
    first_side: str
    repetitions: int
    seconds: int | None
    rung: int | None
    minutes: int = 0
    went: dict = field(default_factory=dict)
    changed: bool = False
    skipped: bool = False
    note: str = ""


@dataclass(frozen=True)
class Close:
    effort: int
    pain: int | None
    client_words: str
    next_time: str
    leave_out: str = ""


class Course:
    """One client's sessions so far, and the next."""

    def __init__(self, person, facts_of):
        self.person, self.work, self.facts_of = person, person.work, facts_of
        self.number = 0
        self.rungs: dict[str, int] = {}
        self.well: dict[str, int] = {}
        self.known: set[str] = set()
        self.carry: Carry | None = None
        self.left_out: dict[str, int] = {}
        self.last_week = -person.form_weeks_ago
        self.rested = 0
        order = random.Random(f"say {person.key}")
        self.say = order.sample(SAID, len(SAID))
        self.still, self.gently = order.sample(STILL, len(STILL)), order.sample(GENTLY, len(GENTLY))
        self.ordinary = order.sample([*person.work.later, *LATER], len(person.work.later) + len(LATER))
        self.spells: set = set()
        self.own_said = 0

    # where the client stands

    def progress(self, week: int) -> float:
        """Return how far along the client is, 0 in the first week and 1 at the Monday of the demo."""
        weeks = self.person.form_weeks_ago
        return min(max((week + weeks) / weeks, 0.0), 1.0)

    def flare(self, week: int):
        return next((one for one in self.work.flares if one.first <= week <= one.last), None)

    def stopped(self, week: int):
        return next((one for one in self.work.stopped if one.week == week), None)

    # planning

    def plan(self, week: int, kinds: set[str], may) -> list[Row]:
        """Return the rows of the next session. kinds: apparatus booked; may: whether an exercise may be done."""
        if week - self.last_week > 3:
            # After weeks away one goes back a step (common practice, no source).
            self.rungs = {key: self._moved(key, rung, -1) for key, rung in self.rungs.items()}
            self.rested = 2
        keys = [key for key in self._in_turn(kinds) if may(key) and not self._is_left_out(key)]
        keys = self._with_new(keys)[:ROWS]
        order = {}
        for key in keys:
            order.setdefault(planning.place(self.facts_of(key)), len(order))
        keys.sort(key=lambda key: order[planning.place(self.facts_of(key))])
        rows = [self._row(key, week) for key in keys]
        self._take_up(rows)
        minutes = minutes_each(rows)
        for row in rows:
            row.minutes = minutes
        return rows

    def _in_turn(self, kinds: set[str]) -> list[str]:
        here = [k for k in self.work.exercises if planning.place(self.facts_of(k)) in kinds | {"floor"}]
        core, others = here[:CORE], here[CORE:]
        turn = self.number % max(len(others), 1)
        return [*core, *others[turn:], *others[:turn]]

    def _is_left_out(self, key: str) -> bool:
        return self.left_out.get(key, -1) >= self.number

    def _with_new(self, keys: list[str]) -> list[str]:
        """Let what was announced last time come in."""
        carry = self.carry
        if not carry or carry.kind != NEW or carry.exercise not in keys:
            return keys
        keys = [key for key in keys if key != carry.exercise]
        return [*keys[:CORE], carry.exercise, *keys[CORE:]]

    def _row(self, key: str, week: int) -> Row:
        facts, along = self.facts_of(key), self.progress(week)
        sided = planning.is_sided(facts)
        low, high = facts["reps_min"], facts["reps_max"]
        seconds = None
        if facts["compare_by"] == "hold_s":
            seconds = 10 + 5 * round(3 * along)
        elif is_held(facts):
            seconds = facts["seconds_per_rep"]
        return Row(
            exercise=key,
            facts=facts,
            sides="both" if sided else "",
            first_side=(self.work.behind or "left") if sided else "",
            repetitions=low + round((high - low) * min(along + 0.25, 1)),
            seconds=seconds,
            rung=self._rung(key, facts),
        )

    def _rung(self, key: str, facts: dict) -> int | None:
        begin = BEGIN.get(facts["apparatus"], {}).get(facts["spring_grade"])
        return None if begin is None else self.rungs.setdefault(key, begin)

    def _moved(self, key: str, rung: int, steps: int) -> int:
        """Return the rung so many steps harder for this exercise; the same where nothing says what is harder."""
        facts = self.facts_of(key)
        way = {"heavier": 1, "lighter": -1}.get(facts["spring_harder"], 0)
        return min(max(rung + way * steps, 0), len(LADDERS[facts["apparatus"]]) - 1)

    def _take_up(self, rows: list[Row]) -> None:
        """Do what last time's line asked for, and say so in the note of the row."""
        carry, self.carry = self.carry, None
        for row in rows:
            if not carry or row.exercise != carry.exercise:
                continue
            if carry.kind in (HARDER, SOFTER) and row.rung is not None:
                row.rung = self._moved(row.exercise, row.rung, 1 if carry.kind == HARDER else -1)
                self.rungs[row.exercise] = row.rung
            if carry.kind == SIDE and row.sides:
                row.first_side = carry.side
            row.note = TAKEN_UP[carry.kind]

    def moved_row(self, key: str, week: int, steps: int) -> Row | None:
        """Return a row of this exercise so many steps harder, and stay there; None where it has no springs."""
        row = self._row(key, week)
        if row.rung is None:
            return None
        row.rung = self.rungs[key] = self._moved(key, row.rung, steps)
        return row

    def row_of(self, item) -> Row:
        """Return a row of a plan made by hand as the next session's."""
        facts = item.exercise.current.facts
        dose = {"repetitions": item.repetitions or 1, "seconds": item.seconds}
        return Row(item.exercise.key, facts, item.sides, item.first_side, rung=None, note=item.note, **dose)

    # how it goes

    def hold(self, rows: list[Row], week: int) -> None:
        """Let the session happen: quality, range, what was felt, fewer repetitions on a bad day."""
        flare = self.flare(week)
        for row in rows:
            chance = random.Random(f"{self.person.key} {self.number} {row.exercise}")
            names = ("left", "right") if row.sides else ("both",)
            row.went = {name: self._side(name, row, week, flare, chance) for name in names}
            counts = {(side["repetitions"], side["seconds"]) for side in row.went.values()}
            row.changed = counts != {(row.repetitions, row.seconds)}
            row.note = row.note or self._noted(row)
            self._count(row)
        if len(rows) > CORE and random.Random(f"{self.person.key} {self.number} late").random() < 0.12:
            last = rows[-1]
            last.skipped, last.went, last.note = True, {}, "No time left."
        self.rested = max(self.rested - 1, 0)

    def _noted(self, row: Row) -> str:
        """Return a short note now and then, one of those that the instructor uses again and again."""
        chance = random.Random(f"{self.person.key} {self.number} {row.exercise} noted")
        if chance.random() > 0.09:
            return ""
        went = [side["quality"] for side in row.went.values() if side["quality"]]
        return chance.choice(NOTED_WELL if went and min(went) >= 4 else NOTED)

    def _side(self, name: str, row: Row, week: int, flare, chance: random.Random) -> dict:
        along, work = self.progress(week), self.work
        level = work.quality[0] + (work.quality[1] - work.quality[0]) * along
        if name == work.behind:
            level -= work.gap[0] + (work.gap[1] - work.gap[0]) * along
        if row.exercise not in self.known:
            level -= 0.7
        level -= (1.1 if flare else 0) + 0.4 * self.rested + chance.gauss(0, 0.45)
        quality = min(max(round(level), 1), 5)
        weak = quality <= 2 and name != "both"
        noted = chance.random() < (0.9 if row.sides else 0.55)
        felt = ()
        if chance.random() < 0.4:
            felt = (chance.choice(("muscle_work", "muscle_work", "stretch")),)
        if flare and name == work.behind and chance.random() < 0.2:
            felt = ("pinch",)
        return {
            "repetitions": max(row.repetitions - (1 + (quality == 1)) * weak, 1),
            "seconds": row.seconds and max(row.seconds - (5 if weak else 0), 5),
            "range": ("", "small", "medium", "medium", "full", "full")[quality] if noted else "",
            "quality": quality if noted else None,
            "felt": list(felt),
        }

    def _count(self, row: Row) -> None:
        """Remember how often in a row an exercise went steadily on every side."""
        self.known.add(row.exercise)
        steady = all((side["quality"] or 3) >= 3 for side in row.went.values())
        self.well[row.exercise] = self.well.get(row.exercise, 0) + 1 if steady else 0

    def stop(self, rows: list[Row], stopped) -> list[Row]:
        """Return the rows as far as they came before a sign stopped the session."""
        place = next((n for n, row in enumerate(rows) if row.exercise == stopped.exercise), 2)
        rows = rows[: place + 1]
        last = rows[-1]
        last.skipped, last.changed, last.note = False, True, "Stopped."
        sides = (stopped.side,) if stopped.side and last.sides else tuple(last.went) or ("both",)
        felt = [stopped.sign] if stopped.sign in ("tingling", "numb_or_weak", "pain") else []
        last.went = {
            side: {"repetitions": 3, "seconds": None, "range": "", "quality": None, "felt": felt}
            for side in sides
        }
        self.left_out[stopped.exercise] = self.number + 3
        return rows

    # the close

    def close(self, rows: list[Row], week: int) -> Close:
        """Return the close of the session and move on to the next."""
        chance = random.Random(f"{self.person.key} {self.number} close")
        flare, stopped, along = self.flare(week), self.stopped(week), self.progress(week)
        words = self._client_words(flare, along, chance)
        self.carry = self._carry(rows, week, chance)
        effort = self.work.effort + chance.choice((-1, 0, 0, 1)) + bool(flare)
        close = Close(
            effort=min(max(effort, 1), 9),
            pain=self._pain(along, flare, chance),
            client_words="Better now that I sit." if stopped else words,
            next_time=stopped.next_time if stopped else self.carry.words,
            leave_out=stopped.leave_out if stopped else "",
        )
        if stopped:
            self.carry = Carry(WORDS, stopped.next_time)
        self.number += 1
        self.last_week = week
        return close

    def _pain(self, along: float, flare, chance: random.Random) -> int | None:
        if self.work.pain is None or chance.random() < 0.12:
            return None
        first, last = self.work.pain
        level = first + (last - first) * along + (2.5 if flare else 0) + chance.gauss(0, 0.5)
        return min(max(round(level), 0), 9)

    def _client_words(self, flare, along: float, chance: random.Random) -> str:
        if flare:
            return flare.said if flare not in self.spells else self.still[self.number % len(self.still)]
        if chance.random() < 0.2:
            return ""
        said = self.work.said
        if self.own_said < len(said) and along * len(said) > self.own_said + chance.random() / 2:
            self.own_said += 1
            return said[self.own_said - 1]
        return self.say[self.number % len(self.say)]

    def _carry(self, rows: list[Row], week: int, chance: random.Random) -> Carry:
        """Choose the one line for next time: a step back in a bad spell, a step on, a side, or a word of care."""
        flare = self.flare(week)
        done = [row for row in rows if not row.skipped]
        if flare:
            sprung = [row for row in done if self._can_move(row, -1)]
            if flare in self.spells:
                return Carry(WORDS, self.gently[self.number % len(self.gently)])
            self.spells.add(flare)
            return (
                Carry(SOFTER, flare.next_time, sprung[0].exercise)
                if sprung
                else Carry(WORDS, flare.next_time)
            )
        ready = [r for r in done if self.well.get(r.exercise, 0) >= 4 and self._can_move(r, 1)]
        if ready and self.number % 3 == 0:
            row = chance.choice(ready)
            self.well[row.exercise] = -3
            return Carry(HARDER, self._spring_words(row, chance), row.exercise)
        new = [k for k in self.work.exercises if k not in self.known]
        if new and self.number % 4 == 1:
            name = self.facts_of(new[0])["name"]
            return Carry(NEW, f"{name} for the first time, if nothing hurts.", new[0])
        apart = [row for row in done if self._lags(row)]
        if apart and chance.random() < 0.6:
            row = chance.choice(apart)
            side, name = self._lags(row), row.facts["name"]
            return Carry(
                SIDE,
                chance.choice(LIKE).format(name=name, side=side, Side=side.capitalize()),
                row.exercise,
                side,
            )
        return Carry(WORDS, self.ordinary[self.number % len(self.ordinary)])

    def _can_move(self, row: Row, steps: int) -> bool:
        return row.rung is not None and self._moved(row.exercise, row.rung, steps) != row.rung

    def _lags(self, row: Row) -> str:
        left, right = (row.went.get(side, {}).get("quality") for side in ("left", "right"))
        if left is None or right is None or left == right:
            return ""
        return "left" if left < right else "right"

    def _spring_words(self, row: Row, chance: random.Random) -> str:
        rung = self._moved(row.exercise, row.rung, 1)
        way = "Heavier" if rung > row.rung else "Lighter"
        hooked = LADDERS[row.facts["apparatus"]][rung]
        springs = " and ".join(f"{count} {name}" for name, count in hooked)
        return chance.choice(SPRUNG).format(way=way, name=row.facts["name"], springs=springs)


def minutes_each(rows: list[Row]) -> int:
    """Return the minutes of each row, so that 55 minutes hold check-in, changes of apparatus and close."""
    places = [planning.place(row.facts) for row in rows]
    changes = sum(1 for before, after in zip(places, places[1:], strict=False) if before != after)
    free = 55 * 60 - 540 - changes * 75
    return free // 60 // max(len(rows), 1)
