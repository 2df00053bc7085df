"""Putting one exercise in the place of another in a plan, and taking that back."""

from sessions.actions import plans as plan_actions
from sessions.actions.alternatives import Instead
from sessions.models import PlanItem, PlanSwap
from studio import clock
from studio.actions import audit

audit.register("plan.item_swapped", "plan.swap_taken_back")

# What is kept of a row while another exercise stands in it. The pause belongs to the place and stays.
KEPT = (
    "sides",
    "first_side",
    "repetitions",
    "seconds",
    "repetitions_right",
    "seconds_right",
    "unit_id",
    "setting",
    "minutes",
    "adaptations",
    "note",
    "keep_reason",
    "keep_by_id",
    "keep_at",
    "verdict",
)
NO_REASON = {"keep_reason": "", "keep_by": None, "keep_at": None, "verdict": None}


class NotInstead(Exception):
    """The exercise may not take the place: it is judged 'avoid' by now, or is the one that stands there."""


def swap(*, actor, instead: Instead, exercise, adaptations=(), expected: int) -> PlanItem:
    """Put an exercise in the place of a row, with its usual dose and last springs; keep what stood there.

    instead: the row and what may take its place, fetched for this request. adaptations: those the verdict
    rests on. Raises NotInstead, and Stale or Closed like every change of a plan.
    """
    item = instead.item
    with plan_actions.changing(actor.person, item.plan, expected):
        if not instead.may_stand_in(exercise.key, adaptations):
            raise NotInstead
        PlanSwap.objects.create(
            item=item,
            exercise=item.exercise,
            values={name: _plain(getattr(item, name)) for name in KEPT},
            by=actor.person,
            at=clock.now(),
        )
        values = instead.values(exercise.key, adaptations) | NO_REASON
        item.exercise = exercise
        for name, value in values.items():
            setattr(item, name, value)
        item.save(update_fields=["exercise", *values])
        audit.write(actor, "plan.item_swapped", item, fields=["exercise"])
    return item


def take_back(*, actor, item: PlanItem, expected: int) -> PlanItem:
    """Put back what stood in a row before its newest swap, as it was; nothing where there is no swap."""
    newest = PlanSwap.objects.filter(item=item).select_related("exercise__current").first()
    if newest is None:
        return item
    with plan_actions.changing(actor.person, item.plan, expected):
        item.exercise = newest.exercise
        for name in KEPT:
            if name in newest.values:
                setattr(item, name, newest.values[name])
        item.save(update_fields=["exercise", *(name.removesuffix("_id") for name in KEPT)])
        newest.delete()
        audit.write(actor, "plan.swap_taken_back", item, fields=["exercise"])
    return item


def _plain(value):
    """Return a value as JSON keeps it; a moment as its text."""
    return value.isoformat() if hasattr(value, "isoformat") else value
