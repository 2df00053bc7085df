"""Rows of a plan as they are being done: those that another exercise stands in for, in memory only."""

from sessions import swapping
from sessions.actions.alternatives import Instead
from sessions.views import instead as shown


class NotAmongThem(Exception):
    """The exercise that was touched may not stand in: flags have changed since it was shown."""


def dress(plan, entries) -> None:
    """Let rows whose entry is another exercise stand for that one, but not where the request said otherwise."""
    entry_of = {entry.plan_item_id: entry for entry in entries}
    for item in plan.items.all():
        entry = entry_of.get(item.pk)
        if entry is None or item.is_said or entry.exercise_id == item.exercise_id:
            continue
        version = entry.exercise_version
        values = swapping.values(item, item.content.facts, version.facts)
        item.stand_in(entry.exercise, version, **values, adaptations=entry.adaptations, setting=entry.setting)


def stand_in(request, plan, item, at) -> None:
    """Let the row stand for the exercise that the request names as `instead`, as it was proposed.

    at: what the record stands on. Raises NotAmongThem where it was only touched and is to be avoided by now;
    what was done with it is kept whatever the judge says.
    """
    data = request.POST if request.method == "POST" else request.GET
    dress(plan, at.entries)
    instead = instead_of(request, plan, item, at)
    exercise, adaptations = shown.chosen(instead, data)
    if request.method != "POST" and not instead.may_stand_in(exercise.key, adaptations):
        raise NotAmongThem
    if exercise.pk != item.exercise_id:
        item.stand_in(exercise, **instead.values(exercise.key, adaptations))


def instead_of(request, plan, item, at) -> Instead:
    """Return what may be done instead of a row, from the flags and rules of this moment."""
    others = {pk: codes for pk, codes in at.done.items() if pk != item.pk}
    return Instead(
        person=request.user,
        studio=request.studio,
        plan=plan,
        item=item,
        flags=at.flags,
        table=at.table,
        done=others,
        skipped=at.skipped - {item.pk},
    )
