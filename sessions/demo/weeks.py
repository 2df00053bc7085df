"""Who comes when in the demo studio, week by week. Plain data.

Week 0 is the week of the Monday the demo is laid for, week -1 the one before. A slot comes back every week
from FIRST_WEEK to LAST_WEEK unless it says otherwise.
"""

from dataclasses import dataclass
from datetime import time

from sessions.demo.people import AVERIL, CORIN, MARIS, OWNER
from sessions.demo.places import GARDEN, LONG

FIRST_WEEK, LAST_WEEK = -4, 1
MON, TUE, WED, THU, FRI, SAT, SUN = range(7)


@dataclass(frozen=True)
class Slot:
    """A place in the week: day, time, clients (two are a pair), instructor, room, units."""

    day: int
    time: time
    clients: tuple[str, ...]
    instructor: str
    room: str
    units: tuple[str, ...]
    minutes: int = 55
    first: int = FIRST_WEEK
    last: int = LAST_WEEK

    def comes_in(self, week: int) -> bool:
        return self.first <= week <= self.last


SLOTS = (
    Slot(MON, time(8, 15), ("hollis",), OWNER, LONG, ("Reformer 2",)),
    Slot(MON, time(9, 15), ("ottoline",), MARIS, LONG, ("Reformer 1",)),
    Slot(MON, time(10, 30), ("teodor",), CORIN, LONG, ("Reformer 3",)),
    Slot(MON, time(17, 30), ("wenna",), MARIS, LONG, ("Reformer 1",)),
    Slot(TUE, time(9, 15), ("imaru",), CORIN, GARDEN, ("Chair 2",)),
    Slot(TUE, time(10, 30), ("bashir",), AVERIL, GARDEN, ("Trapeze table",), first=-3),
    Slot(TUE, time(12), ("petra",), OWNER, GARDEN, ("Chair 2",)),
    Slot(TUE, time(18), ("yusra", "dov"), MARIS, LONG, ("Reformer 1", "Reformer 2")),
    Slot(WED, time(8, 15), ("sunniva",), OWNER, GARDEN, ("Trapeze table",)),
    Slot(WED, time(9, 15), ("ottoline",), MARIS, LONG, ("Reformer 1",)),
    Slot(WED, time(10, 30), ("teodor",), MARIS, LONG, ("Reformer 3",), first=-2),
    Slot(WED, time(11, 45), ("imaru",), CORIN, GARDEN, ("Chair 2",)),
    Slot(WED, time(14), ("wenna",), MARIS, LONG, ("Reformer 1",)),
    Slot(WED, time(17), ("hollis",), AVERIL, LONG, ("Reformer 2",), first=-2),
    Slot(THU, time(9), ("bashir",), AVERIL, GARDEN, ("Trapeze table",), first=-3),
    Slot(THU, time(10, 15), ("petra",), OWNER, GARDEN, ("Chair 2",)),
    Slot(THU, time(11, 30), ("sunniva",), MARIS, GARDEN, ("Trapeze table",)),
    Slot(THU, time(18), ("yusra", "dov"), MARIS, LONG, ("Reformer 1", "Reformer 2"), first=-2),
    Slot(FRI, time(8, 15), ("ottoline",), MARIS, LONG, ("Reformer 1",), first=-1),
    Slot(FRI, time(9, 30), ("hollis",), OWNER, LONG, ("Reformer 2",), first=-1),
    Slot(FRI, time(11), ("zoe",), MARIS, LONG, ("Reformer 1",), first=0),
    Slot(FRI, time(12), ("imaru",), CORIN, GARDEN, ("Chair 2",), first=-1),
    Slot(FRI, time(16), ("teodor",), AVERIL, LONG, ("Reformer 3",), first=-1),
    Slot(SAT, time(9), ("bashir",), OWNER, GARDEN, ("Trapeze table",), first=-1),
    Slot(SAT, time(10, 15), ("wenna",), MARIS, LONG, ("Reformer 1",), first=-1),
    Slot(SAT, time(11, 30), ("sunniva",), CORIN, GARDEN, ("Trapeze table",), first=-1),
    Slot(SUN, time(10), ("petra",), MARIS, GARDEN, ("Chair 2",), first=-1),
    Slot(SUN, time(11, 15), ("teodor",), OWNER, LONG, ("Reformer 3",), first=-1),
)

# (week, client, weekday) -> what became of the booking in place of a session, hours before it began.
MISSED = {
    (-4, "hollis", MON): ("no_show", 0),
    (-3, "imaru", WED): ("cancelled", 30),
    (-2, "dov", THU): ("cancelled", 30),
    (-2, "sunniva", THU): ("cancelled", 3),
    (-1, "petra", SUN): ("no_show", 0),
    (-1, "teodor", FRI): ("cancelled", 5),
    (-1, "hollis", FRI): ("cancelled", 72),
    (0, "yusra", THU): ("cancelled", 60),
}
