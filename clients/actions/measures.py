"""Measures: writing down what was measured, and putting a slip right with a further row."""

import datetime as dt
from collections.abc import Mapping, Sequence

from django.db import transaction

from clients.models import Measurement
from clients.models.measures import TENTHS
from library.measures import Measure
from studio import clock
from studio.actions import audit

audit.register("measure.taken", "measure.corrected", "measure.taken_back", "measures.read")


class AlreadyReplaced(Exception):
    """Somebody else corrected the row first."""


def take(
    *,
    actor: audit.Actor,
    client,
    measure: Measure,
    on: dt.date,
    tries: Mapping[str, Sequence],
    first: str = Measurement.First.LEFT,
    setup: str = "",
    note: str = "",
    replaces: Measurement | None = None,
) -> Measurement:
    """Write down one day's measure of both sides and return the row.

    tries: side -> its tries as exact numbers in the unit of the measure; an empty or missing side was not taken.
    The score of a side is its only try or its best one, as the measure says. `replaces` makes it a correction:
    raises AlreadyReplaced when that row was corrected meanwhile.
    """
    kept = {side: [int(one * TENTHS) for one in tries.get(side, ())] for side in ("left", "right")}
    with transaction.atomic():
        _still_standing(replaces)
        row = Measurement.objects.create(
            client=client,
            measure=measure.id,
            protocol=measure.protocol,
            on=on,
            left=_score(measure, kept["left"]),
            right=_score(measure, kept["right"]),
            tries={side: values for side, values in kept.items() if values},
            first=first,
            setup=setup,
            note=note,
            replaces=replaces,
            author=actor.person,
            at=clock.now(),
        )
        audit.write(actor, "measure.corrected" if replaces else "measure.taken", row)
    return row


def take_back(*, actor: audit.Actor, row: Measurement, note: str) -> Measurement:
    """Take a row back that should not be there, with the reason. Raises AlreadyReplaced like `take`."""
    with transaction.atomic():
        _still_standing(row)
        gone = Measurement.objects.create(
            client=row.client,
            measure=row.measure,
            protocol=row.protocol,
            on=row.on,
            first=row.first,
            setup=row.setup,
            note=note,
            replaces=row,
            author=actor.person,
            at=clock.now(),
        )
        audit.write(actor, "measure.taken_back", gone)
    return gone


def _still_standing(row: Measurement | None) -> None:
    if row is not None and Measurement.objects.filter(replaces=row).exists():
        raise AlreadyReplaced


def _score(measure: Measure, tries: Sequence[int]) -> int | None:
    if not tries:
        return None
    return min(tries) if measure.direction == "lower" else max(tries)
