"""What one row of a plan could be instead, for this client on this day in this room. Reads, writes nothing."""

from collections.abc import Collection
from dataclasses import replace
from functools import cached_property

from library import alternatives
from library.models import ApparatusUnit
from library.models.shelf import shelf_of
from sessions import judging, planning, swapping
from sessions.models import Booking, Entry, OwnWay, Plan

MOST_SHOWN = 6


class Instead:
    """One row of a plan, and what may take its place. Everything is fetched once, whatever the number found.

    plan: with its rows, as they are to be done. flags: those that count. table: the rule table in force.
    done, skipped: what became of other rows by now (see Plan.placed).
    """

    def __init__(self, *, person, studio, plan: Plan, item, flags, table, done=None, skipped=()):
        self.person, self.plan, self.item, self.table = person, plan, item, table
        self.flags = list(flags)
        self.booking = plan.attendance.booking
        self.pace = Plan.pace(studio)
        placed = plan.placed(studio, done=done, skipped=skipped)
        self.which = [one.pk for one, _row, _place in placed].index(item.pk)
        self.rows = [row for _one, row, _place in placed]

    @cached_property
    def shelf(self) -> dict:
        return {one.key: one for one in shelf_of(self.person)}

    @cached_property
    def facts(self) -> dict:
        """The facts of everything on the shelf, by id; the row's own as it is planned."""
        own = {self.item.exercise.key: self.item.content.facts}
        return {key: one.current.facts for key, one in self.shelf.items()} | own

    @cached_property
    def booked(self) -> list:
        return [unit for unit in self.booking.units.all() if unit.in_use]

    @cached_property
    def free(self) -> list:
        """Units in the room that nobody holds at that time."""
        busy = Booking.objects.holding().filter(
            starts_at__lt=self.booking.ends_at, ends_at__gt=self.booking.starts_at
        )
        units = ApparatusUnit.objects.seen_by(self.person).filter(room=self.booking.room_id, in_use=True)
        return list(units.exclude(bookings__in=busy))

    @cached_property
    def at_hand(self) -> dict[str, str]:
        free = {unit.kind: "free" for unit in self.free}
        return free | {unit.kind: "booked" for unit in self.booked}

    @cached_property
    def settings(self) -> dict[str, dict]:
        """Springs and gear to begin with, by key of the exercise: those this client prefers, else the last."""
        done = Entry.objects.filter(record__attendance__client=self.plan.attendance.client_id)
        done = done.exclude(state=Entry.State.SKIPPED).exclude(setting={}).order_by("at")
        kept = OwnWay.objects.filter(client=self.plan.attendance.client_id).exclude(setting={})
        rows = [*done.values_list("exercise__key", "setting"), *kept.values_list("exercise__key", "setting")]
        return dict(rows)

    def values(self, key: str, adaptations: Collection[str] = ()) -> dict:
        """Return what the row says when this exercise stands in it, in the names of PlanItem."""
        new = self.facts[key]
        sides = [flag.side for flag in self.flags]
        kind = new["apparatus"]
        return {
            **swapping.values(self.item, self.item.content.facts, new, affected=sides),
            "unit": swapping.the_only(kind, self.booked) or swapping.the_only(kind, self.free),
            "setting": self.settings.get(key, {}),
            "adaptations": list(adaptations),
        }

    def judgement(self, key: str, adaptations: Collection[str] = ()):
        """Judge an exercise in the place of the row, as it would be done there."""
        rows = list(self.rows)
        if key != self.item.exercise.key:
            rows[self.which] = self._row(key, adaptations)
        place = judging.places(rows, self.pace)[self.which]
        day = self.booking.wall_day
        return judging.judge_placed(self.flags, rows[self.which], place, day, table=self.table)

    def _row(self, key, adaptations) -> judging.PlanRow:
        values, facts = self.values(key, adaptations), self.facts[key]
        count = values["repetitions"]
        sides = {"": ("both",), "both": ("left", "right")}.get(values["sides"], (values["sides"],))
        time = planning.Row(facts, pause=self.item.pause, **dict.fromkeys(sides, count))
        return replace(
            self.rows[self.which],
            time=time,
            sides=values["sides"],
            adaptations=tuple(adaptations),
            setting=values["setting"],
        )

    @cached_property
    def found(self) -> list[alternatives.Alternative]:
        """The nearest, at most as many as are shown; those already in the plan are left out."""
        return alternatives.nearest(
            self.item.exercise.key,
            self.judgement,
            judge_changed=self.judgement,
            exercises=self.facts,
            at_hand=self.at_hand,
            leave_out={one.exercise.key for one in self.plan.items.all()},
            limit=MOST_SHOWN,
        )

    def may_stand_in(self, key: str, adaptations: Collection[str] = ()) -> bool:
        """Return whether this exercise may take the place now: it is another one, and not judged 'avoid'."""
        if key not in self.facts or key == self.item.exercise.key:
            return False
        if self.facts[key]["demands"] is None or not set(adaptations) <= set(self.facts[key]["adaptations"]):
            return False
        return self.judgement(key, adaptations).verdict != "avoid"
