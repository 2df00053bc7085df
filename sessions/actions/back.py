"""Since when a client has been flat on the back while a session is recorded. Reads, writes nothing."""

import datetime as dt

from library.precautions import chips
from sessions import neighbours
from sessions.actions.records import Standing
from sessions.back_clock import Step, lying_since
from sessions.models import Entry, Record


def on_the_back_since(record: Record, item, at: Standing, adaptations) -> dt.datetime | None:
    """Return since when the client has been flat on the back, at a row that is not put down yet, or None.

    adaptations: those with which the row is being done. None also where no flag of the client makes it
    matter: it does where the table, or a clinician, asks for a change of a long spell.
    """
    rows = {row.pk: row for row in item.plan.items.all()}
    done = at.done | {item.pk: adaptations}
    lying = {pk: neighbours.lying(row.as_judged(), done.get(pk)) for pk, row in rows.items()}
    if item.pk in at.by_row or not lying[item.pk].lies_flat or not _matters(record, at):
        return None
    steps = [
        Step(
            entry.at,
            lying[entry.plan_item_id].lies_flat,
            lying[entry.plan_item_id].ends_spell,
            rows[entry.plan_item_id].pause,
            entry.state == Entry.State.SKIPPED,
        )
        for entry in at.entries
        if entry.plan_item_id in rows
    ]
    return lying_since(steps, record.started_at, break_s=at.table.supine_break_s, down=record.lies_down_at)


def _matters(record: Record, at: Standing) -> bool:
    day, demand = record.attendance.booking.wall_day, at.table.supine_demand
    return any(
        chip.demand == demand and chip.verdict in ("avoid", "modify")
        for chip in chips(at.flags, day, table=at.table)
    )
