"""Passes: selling one, using a session, giving it back, correcting. All of it under the write lock.

A transaction begins with the lock (IMMEDIATE), so what is read of a ledger here is what it is when its next
line is written: of two that want the last session one gets it.
"""

import datetime as dt

from django.db import transaction
from django.db.models import Max

from sessions.models import Attendance, Pass, PassEntry, holdings
from sessions.passes import USING, balance, take_from
from studio import clock
from studio.actions import audit

audit.register("pass.sold", "pass.used", "pass.given_back", "pass.corrected")


class NoneLeft(Exception):
    """No pass of the client covers the day and holds a session. had_pass: whether there ever was one."""

    def __init__(self, had_pass: bool):
        super().__init__("no session is left")
        self.had_pass = had_pass


class BelowZero(Exception):
    """A correction would take off more than is left."""

    def __init__(self, left: int):
        super().__init__(f"only {left} left")
        self.left = left


class Moved(Exception):
    """Something came on or went off since the page was made."""


def sell(
    *,
    actor,
    client,
    sessions: int,
    bought_on: dt.date,
    last_day: dt.date | None = None,
    price_minor: int | None = None,
    currency: str = "",
    token: str,
) -> Pass:
    """Sell a client a pass and return it; a form sent twice (the same token) returns what it sold."""
    with transaction.atomic():
        twin = Pass.objects.filter(token=token, client=client).first()
        if twin:
            return twin
        sold = Pass.objects.create(
            client=client,
            sessions=sessions,
            bought_on=bought_on,
            last_day=last_day,
            price_minor=price_minor,
            currency=currency if price_minor is not None else "",
            token=token,
            sold_by=actor.person,
            sold_at=clock.now(),
        )
        _write(actor, sold, PassEntry.Kind.BOUGHT, sessions)
        audit.write(actor, "pass.sold", sold)
    return sold


def use(*, actor, attendance: Attendance) -> PassEntry:
    """Take one session off the client's pass for an attendance and return the line.

    An attendance that has one used already keeps that one. Raises NoneLeft, and nothing is written then.
    """
    with transaction.atomic():
        last = _last_turn(attendance)
        if last and last.kind == PassEntry.Kind.USED:
            return last
        held = holdings(actor.person, [attendance.client_id]).get(attendance.client_id, [])
        found = take_from(held, attendance.booking.wall_day)
        if found is None:
            raise NoneLeft(bool(held))
        sold = Pass.objects.get(pk=found.key)
        entry = _write(actor, sold, PassEntry.Kind.USED, -1, attendance=attendance, turn=_next(last))
        audit.write(actor, "pass.used", sold)
    return entry


def give_back(*, actor, attendance: Attendance) -> PassEntry | None:
    """Put the session used for an attendance back on the pass it came from; None where none was used."""
    with transaction.atomic():
        last = _last_turn(attendance)
        if not last or last.kind != PassEntry.Kind.USED:
            return None
        entry = _write(actor, last.of, PassEntry.Kind.GIVEN_BACK, 1, attendance=attendance, turn=_next(last))
        audit.write(actor, "pass.given_back", last.of)
    return entry


def follow(*, actor, attendance: Attendance) -> str:
    """Bring the ledger in line with what became of a booking, and return what came of it.

    Called in the transaction that changes the state. 'used' or '' where nothing is to be said; 'none_left'
    when the client has passes and none holds a session for that day, 'no_pass' when there never was one:
    the state stands all the same, and the session is to pay.
    """
    if attendance.state not in USING:
        give_back(actor=actor, attendance=attendance)
        return ""
    try:
        use(actor=actor, attendance=attendance)
    except NoneLeft as none:
        return "none_left" if none.had_pass else "no_pass"
    return "used"


def correct(*, actor, sold: Pass, delta: int, reason: str, seen: int) -> PassEntry:
    """Put sessions on a pass or take them off, with the reason.

    seen: the number of the last line that was on the page. Raises Moved when there are newer ones, and
    BelowZero when more would be taken off than is left.
    """
    with transaction.atomic():
        if sold.entries.aggregate(last=Max("number"))["last"] != seen:
            raise Moved
        left = left_on(sold)
        if left + delta < 0:
            raise BelowZero(left)
        entry = _write(actor, sold, PassEntry.Kind.CORRECTED, delta, reason=reason)
        audit.write(actor, "pass.corrected", sold, fields=[reason])
    return entry


def left_on(sold: Pass) -> int:
    """Return what is left on a pass: the sum of its ledger."""
    return balance(sold.entries.values_list("delta", flat=True))


def _last_turn(attendance: Attendance) -> PassEntry | None:
    return attendance.pass_entries.select_related("of").order_by("-turn").first()


def _next(last: PassEntry | None) -> int:
    return last.turn + 1 if last else 1


def _write(actor, sold: Pass, kind: str, delta: int, **values) -> PassEntry:
    """Write the next line of a ledger."""
    number = (sold.entries.aggregate(last=Max("number"))["last"] or 0) + 1
    return PassEntry.objects.create(
        of=sold,
        number=number,
        kind=kind,
        delta=delta,
        left=left_on(sold) + delta,
        author=actor.person,
        at=clock.now(),
        **values,
    )
