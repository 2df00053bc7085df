"""Saving one row that people edit: a new one, or the next version of one."""

from django.db import transaction

from studio import clock
from studio.actions import audit


def save_row(*, actor, row, values: dict, expected: int | None, action: str):
    """Write values to a row and log it once; return the row.

    expected: the version the values were made from; not needed for a new row. Raises Stale when somebody
    else saved it meanwhile.
    """
    with transaction.atomic():
        new = row._state.adding
        for name, value in values.items():
            setattr(row, name, value)
        if new:
            row.save()
        else:
            row.save_version(expected, list(values), by=actor.person, at=clock.now())
        audit.write(actor, action, row, fields=list(values))
    return row
