"""The passes of the demo's clients: fourteen months of them, renewed, running out, used up, ended, or none at all.

The ledgers of the past are put together on the demo's Monday from the bookings as they went, and written many at
once like the rest of the past (sessions.demo.history); from then on the studio's own actions use and renew.
How many are left on that Monday is told below: the first pass a client bought is as small as that asks for.
"""

import datetime as dt
import secrets
from dataclasses import dataclass, replace

from sessions.actions import passes
from sessions.demo.people import DESK
from sessions.models import Attendance, Pass, PassEntry, holdings
from sessions.passes import USING, Holding, take_from

# Prices of the invented studio, in pence; other sizes cost so much a session.
PRICES = {5: 33000, 10: 62000, 20: 116000}
SINGLE = 6600
BEFORE = dt.timedelta(minutes=10)
# Of the one whose pass was put right: how many uses into a pass.
PUT_RIGHT = 3


@dataclass(frozen=True)
class Habit:
    """What passes a client buys. size: sessions; weeks: how long each lasts, None without end.

    left: sessions left when `week` begins. renews: whether the next one is bought when one is used up.
    gift: one session was put on by the studio. slip: once a no-show was marked by mistake and taken back.
    """

    size: int
    left: int
    weeks: int | None = 30
    week: int = 0
    renews: bool = True
    gift: bool = False
    slip: bool = False


# Whoever is not here pays each session by itself.
HABITS = {
    "hollis": Habit(10, left=6),
    "ottoline": Habit(20, left=4, weeks=None),
    "teodor": Habit(10, left=5),
    "godwin": Habit(10, left=1),
    "wenna": Habit(20, left=8, weeks=None),
    "kofi": Habit(10, left=3, slip=True),
    "jory": Habit(10, left=2),
    "bashir": Habit(10, left=2, gift=True),
    "petra": Habit(10, left=1),
    "barnaby": Habit(10, left=7),
    # Stayed away for weeks while the pass ran on: it ended with sessions unused.
    "maelys": Habit(10, left=6, week=-22, weeks=14),
    "yusra": Habit(10, left=5),
    # Has not bought the next one yet: each session is to pay.
    "dov": Habit(10, left=0, renews=False),
    "liesel": Habit(10, left=1),
    "sunniva": Habit(20, left=4, weeks=None),
    "desmond": Habit(10, left=1),
    "anjali": Habit(10, left=9),
    "casimir": Habit(10, left=3),
    "rosalind": Habit(5, left=0, weeks=12),
    "elowen": Habit(5, left=2, weeks=15),
    "solveig": Habit(10, left=4),
}


def plan_for(demo) -> None:
    """Put down the ledgers of the past, for the first moment of the demo's Monday."""
    demo.then(demo.at(demo.monday, "00:00"), lambda: _lay_past(demo))


def renew(demo, key: str, day: dt.date) -> None:
    """Sell a client who is about to be seen the next pass, where the last is used up."""
    habit, client = HABITS.get(key), demo.clients[key]
    if not habit or not habit.renews:
        return
    actor = demo.actor(DESK)
    held = holdings(actor.person, [client.pk]).get(client.pk, [])
    if take_from(held, day) is None:
        values = _sold(habit, habit.size, day, demo.studio.currency)
        passes.sell(actor=actor, client=client, **values)


def _sold(habit: Habit, size: int, day: dt.date, currency: str) -> dict:
    return {
        "sessions": size,
        "bought_on": day,
        "last_day": day + dt.timedelta(weeks=habit.weeks) if habit.weeks else None,
        "price_minor": PRICES.get(size, size * SINGLE),
        "currency": currency,
        "token": secrets.token_urlsafe(16),
    }


def _lay_past(demo) -> None:
    demo.shelf.write()
    rows = Attendance.objects.filter(state__in=USING, booking__wall_day__lt=demo.monday)
    rows = rows.select_related("booking", "changed_by").order_by("state_at")
    by_client: dict[int, list[Attendance]] = {}
    for row in rows:
        by_client.setdefault(row.client_id, []).append(row)
    ledgers = []
    for key, habit in HABITS.items():
        mine = by_client.get(demo.clients[key].pk, [])
        ledger = Ledger(demo, demo.clients[key], habit, _first_size(demo, habit, mine))
        for row in mine:
            ledger.use(row)
        ledgers.append(ledger)
    Pass._base_manager.bulk_create([sold for one in ledgers for sold in one.sold])
    PassEntry._base_manager.bulk_create([e for one in ledgers for e in one.entries], batch_size=400)


def _first_size(demo, habit: Habit, rows: list[Attendance]) -> int:
    """Return how many sessions the first pass held, so that what is told is left when the told week begins."""
    used = sum(row.booking.wall_day < demo.day(habit.week) for row in rows)
    return (used + habit.left - habit.gift - 1) % habit.size + 1


class Ledger:
    """One client's passes of the past while they are being put together."""

    def __init__(self, demo, client, habit: Habit, first_size: int):
        self.demo, self.client, self.habit, self.first_size = demo, client, habit, first_size
        self.desk = demo.staff(DESK)
        self.sold: list[Pass] = []
        self.held: list[Holding] = []
        self.entries: list[PassEntry] = []
        self.used = 0

    def use(self, row: Attendance) -> None:
        """Take one session for a booking, and buy a pass before where none holds one."""
        found = take_from(self.held, row.booking.wall_day) or self._buy(row)
        by = row.changed_by
        turn = 1
        if self.habit.slip and self.used == PUT_RIGHT:
            early = row.state_at - 2 * BEFORE
            self._write(found.key, "used", -1, early, self.desk, attendance=row, turn=1)
            self._write(found.key, "given_back", 1, early + BEFORE / 2, self.desk, attendance=row, turn=2)
            turn = 3
        self._write(found.key, "used", -1, row.state_at, by, attendance=row, turn=turn)
        self.used += 1
        if self.habit.gift and self.used == PUT_RIGHT:
            self._write(found.key, "corrected", 1, row.state_at + BEFORE, self.desk, reason="gift")

    def _buy(self, row: Attendance) -> Holding:
        size = self.habit.size if self.sold else self.first_size
        at = min(row.booking.starts_at, row.state_at - 2 * BEFORE) - BEFORE
        values = _sold(self.habit, size, row.booking.wall_day, self.demo.studio.currency)
        self.sold.append(Pass(client=self.client, sold_by=self.desk, sold_at=at, **values))
        key = len(self.sold) - 1
        self.held.append(Holding(key, 0, values["bought_on"], values["last_day"]))
        self._write(key, "bought", size, at, self.desk)
        return self.held[key]

    def _write(self, key: int, kind: str, delta: int, at, author, **values) -> None:
        self.held[key] = replace(self.held[key], left=self.held[key].left + delta)
        sold = self.sold[key]
        number = sum(entry.of is sold for entry in self.entries) + 1
        left = self.held[key].left
        self.entries.append(
            PassEntry(
                of=sold, number=number, kind=kind, delta=delta, left=left, author=author, at=at, **values
            )
        )
