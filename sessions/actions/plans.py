"""Making a plan: starting it, changing its rows, keeping what is to be avoided, approving, reopening.

Every change of a row counts the plan's version up, so that two people at one plan never overwrite each
other. Approving pins what each exercise said and what the judge said of it.
"""

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import transaction

from clients.models import Flag
from library.models import table_in_force
from sessions import judging, planning
from sessions.actions import own_ways
from sessions.models import Entry, Plan, PlanItem
from studio import clock
from studio.actions import audit
from studio.models import Studio

audit.register(
    "plan.started",
    "plan.item_added",
    "plan.item_changed",
    "plan.item_moved",
    "plan.item_removed",
    "plan.avoid_kept",
    "plan.approved",
    "plan.reopened",
)

# What the side sheet changes of a row.
CHANGED = (
    "sides",
    "first_side",
    "repetitions",
    "seconds",
    "repetitions_right",
    "seconds_right",
    "unit",
    "setting",
    "minutes",
    "adaptations",
    "pause",
    "note",
)


class Closed(Exception):
    """The plan is approved: it is reopened before its rows change."""


class NotClassified(Exception):
    """Nobody has said yet what the exercise asks of the body: the judge would know nothing of it."""


class NothingToKeep(Exception):
    """The row is not marked Avoid, so there is nothing to keep against it."""


class Unsettled(Exception):
    """The plan cannot be approved yet. `numbers` are the rows marked Avoid without a reason."""

    def __init__(self, numbers: list[int]):
        super().__init__(f"rows to settle: {numbers}")
        self.numbers = numbers


class MovedOn(Exception):
    """The judgements are no longer those that were on the page when it was approved."""


def active_flags(plan: Plan) -> list[Flag]:
    """Return the flags that count for the plan's client."""
    return list(Flag.objects.active().filter(client=plan.attendance.client_id))


def judged(plan: Plan, flags: list[Flag], *, studio=None, table=None) -> list[tuple[PlanItem, dict]]:
    """Return each row with today's judgement of it in its place. See judged_in_place."""
    return [row[:2] for row in judged_in_place(plan, flags, studio=studio, table=table)]


def judged_in_place(
    plan: Plan, flags: list[Flag], *, studio=None, table=None
) -> list[tuple[PlanItem, dict, judging.Place]]:
    """Return each row with its judgement, by its current content on the booking's day, and its place.

    The place is what its neighbours make of it. studio: for the pace at which minutes on the back are
    reckoned; table: the rule table in force. Either is looked up where it is not given.
    """
    day, table = plan.attendance.booking.wall_day, table or table_in_force()
    found = []
    for item, row, place in plan.placed(studio or Studio.objects.first(), current=True):
        found.append((item, judging.judged(flags, row, place, day, table=table), place))
    return found


def is_settled(item: PlanItem, verdict: dict) -> bool:
    """Return whether a row may be approved: no 'avoid', or one whose every reason has been answered."""
    if verdict["verdict"] != "avoid":
        return True
    return bool(item.keep_reason) and judging.answers(item.verdict, verdict)


def start(*, actor, attendance, record=None) -> Plan:
    """Start the plan of an attendance, empty or from the record of last time, and return it.

    Somebody else may have started it meanwhile: then theirs is returned and nothing is written.
    """
    with transaction.atomic():
        found = Plan.objects.filter(attendance=attendance).first()
        if found:
            return found
        plan = Plan.objects.create(attendance=attendance, changed_by=actor.person, changed_at=clock.now())
        if record:
            PlanItem.objects.bulk_create(_from_record(plan, record))
        audit.write(actor, "plan.started", plan, fields=["from_last_time"] if record else [])
    return plan


def _from_record(plan: Plan, record) -> list[PlanItem]:
    """Return rows for what was done last time, in its order, with preferred settings. Skipped ones are left out."""
    flags, booked = active_flags(plan), list(plan.attendance.booking.units.all())
    preferred = own_ways.preferred(plan.attendance.client_id)
    entries = record.entries.exclude(state=Entry.State.SKIPPED).filter(exercise__current__isnull=False)
    entries = entries.select_related("exercise__current", "plan_item").prefetch_related("sides")
    rows = [_once_more(plan, n, entry, flags, booked) for n, entry in enumerate(entries, 1)]
    for row in rows:
        row.setting = preferred.get(row.exercise_id, row.setting)
    return rows


def _once_more(plan, position, entry, flags, booked) -> PlanItem:
    facts, planned = entry.exercise.current.facts, entry.plan_item
    if planned and planned.exercise_id != entry.exercise_id:
        planned = None  # done instead of what was planned: those minutes and sides were for the other one
    done = {side.side: (side.repetitions, side.seconds) for side in entry.sides.all()}
    apart = planned is not None and (planned.repetitions_right, planned.seconds_right) != (None, None)
    dose = planning.again(facts, done, apart=apart)
    usual_first = planned.first_side if planned and dose["sides"] == "both" else ""
    booked_before = [unit for unit in booked if planned and unit.pk == planned.unit_id]
    return PlanItem(
        plan=plan,
        position=position,
        exercise=entry.exercise,
        first_side=usual_first or _first_side(dose["sides"], flags),
        unit=booked_before[0] if booked_before else _only_unit(facts, booked),
        setting=entry.setting,
        minutes=planned.minutes if planned else None,
        pause=planned.pause if planned else 0,
        adaptations=[code for code in entry.adaptations if code in facts["adaptations"]],
        **dose,
    )


def _first_side(sides: str, flags) -> str:
    """Return which side goes first: the only one affected, else the left; '' for work without sides."""
    if sides != PlanItem.Sides.BOTH:
        return sides
    return planning.one_side_affected(flag.side for flag in flags) or "left"


def _only_unit(facts: dict, booked):
    """Return the booked unit of the exercise's kind where there is exactly one."""
    units = [unit for unit in booked if unit.kind == facts["apparatus"]]
    return units[0] if len(units) == 1 else None


@contextmanager
def changing(person, plan: Plan, expected: int) -> Iterator[None]:
    """Hold the transaction of one change. Raises Stale or Closed before anything is written."""
    with transaction.atomic():
        plan.save_version(expected, [], by=person, at=clock.now())
        if plan.approved_at:
            raise Closed
        yield


def add_item(*, actor, plan: Plan, exercise, expected: int) -> PlanItem:
    """Add an exercise at the end, with its usual dose, first side, unit and last springs; return the row.

    Raises NotClassified where nobody has said yet what the exercise asks of the body.
    """
    if not exercise.current.is_classified:
        raise NotClassified
    with changing(actor.person, plan, expected):
        facts = exercise.current.facts
        item = PlanItem.objects.create(
            plan=plan,
            position=plan.items.count() + 1,
            exercise=exercise,
            **usual(exercise, active_flags(plan)),
            unit=_only_unit(facts, plan.attendance.booking.units.all()),
            setting=own_ways.setting_for(plan.attendance.client_id, exercise),
        )
        _number(plan)
        audit.write(actor, "plan.item_added", item)
    return item


def usual(exercise, flags) -> dict:
    """Return the sides and the dose with which an exercise comes into a plan."""
    facts = exercise.current.facts
    sides = "both" if planning.is_sided(facts) else ""
    return {
        "sides": sides,
        "first_side": _first_side(sides, flags),
        "repetitions": planning.usual_repetitions(facts),
    }


def change_item(*, actor, item: PlanItem, expected: int, values: dict) -> PlanItem:
    """Set the values of a row (names of CHANGED). Nothing is written where nothing differs."""
    if not set(values) <= set(CHANGED):
        raise ValueError(f"not of the side sheet: {set(values) - set(CHANGED)}")
    changed = [name for name, value in values.items() if getattr(item, name) != value]
    if not changed:
        return item
    with changing(actor.person, item.plan, expected):
        for name in changed:
            setattr(item, name, values[name])
        item.save(update_fields=changed)
        audit.write(actor, "plan.item_changed", item, fields=changed)
    return item


def move_item(*, actor, item: PlanItem, expected: int, by: int) -> PlanItem:
    """Move a row one place earlier (-1) or later (1). At the end of the list it stays where it is."""
    with changing(actor.person, item.plan, expected):
        rows = list(item.plan.items.all())
        place = rows.index(item)
        other = place + by
        if 0 <= other < len(rows):
            rows[place], rows[other] = rows[other], rows[place]
        _number(item.plan, rows)
        audit.write(actor, "plan.item_moved", item)
    return item


def remove_item(*, actor, item: PlanItem, expected: int) -> None:
    """Take a row out of the plan."""
    with changing(actor.person, item.plan, expected):
        audit.write(actor, "plan.item_removed", item)
        item.delete()
        _number(item.plan)


def _number(plan: Plan, rows: list[PlanItem] | None = None) -> None:
    """Bring the positions to 1, 2, 3 … in order."""
    rows = list(PlanItem.objects.filter(plan=plan)) if rows is None else rows
    for position, row in enumerate(rows, 1):
        row.position = position
    PlanItem.objects.bulk_update(rows, ["position"])


def keep_avoid(*, actor, item: PlanItem, expected: int, reason: str) -> PlanItem:
    """Keep a row that is marked Avoid, with the reason, who and when, and the judgement it answers."""
    with changing(actor.person, item.plan, expected):
        rows = judged(item.plan, active_flags(item.plan))
        verdict = next(verdict for row, verdict in rows if row.pk == item.pk)
        if verdict["verdict"] != "avoid":
            raise NothingToKeep
        item.keep_reason, item.keep_by, item.keep_at = reason, actor.person, clock.now()
        item.verdict = verdict
        item.save(update_fields=["keep_reason", "keep_by", "keep_at", "verdict"])
        audit.write(actor, "plan.avoid_kept", item)
    return item


def approve(*, actor, plan: Plan, expected: int, seen: str) -> Plan:
    """Approve a plan: pin each row's content, its judgement and the version of the rule table.

    seen: the mark (sessions.judging.mark) of the judgements that were on the page. Raises MovedOn where
    they are others by now, Unsettled while a row marked Avoid has no reason or the plan has no rows.
    """
    with changing(actor.person, plan, expected):
        rows = judged(plan, active_flags(plan))
        if judging.mark(verdict for _item, verdict in rows) != seen:
            raise MovedOn
        waiting = [n for n, (item, verdict) in enumerate(rows, 1) if not is_settled(item, verdict)]
        if waiting or not rows:
            raise Unsettled(waiting)
        for item, verdict in rows:
            item.exercise_version = item.exercise.current
            item.verdict, item.table_version = verdict, verdict["table_version"]
        PlanItem.objects.bulk_update(
            [item for item, _verdict in rows], ["exercise_version", "verdict", "table_version"]
        )
        plan.approved_at, plan.approved_by = clock.now(), actor.person
        plan.save(update_fields=["approved_at", "approved_by"])
        audit.write(actor, "plan.approved", plan)
    return plan


def reopen(*, actor, plan: Plan, expected: int) -> Plan:
    """Take the approval back, so that rows may change. Judgements are run live again."""
    with transaction.atomic():
        plan.approved_at = plan.approved_by = None
        plan.save_version(expected, ["approved_at", "approved_by"], by=actor.person, at=clock.now())
        plan.items.update(exercise_version=None, table_version="")
        plan.items.filter(keep_reason="").update(verdict=None)
        audit.write(actor, "plan.reopened", plan)
    return plan
