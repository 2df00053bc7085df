"""Who comes when in the demo studio, week by week. Plain data.

Week 0 is the week of the Monday the demo is laid for, week -1 the one before. A slot comes back every week from
its first to its last; nobody is booked before their paper form (told in their own data).
"""

from dataclasses import dataclass
from datetime import time

from sessions.demo.people import AVERIL, CORIN, MARIS, OWNER
from sessions.demo.places import GARDEN, LONG

# Fourteen months back, and what is booked ahead.
FIRST_WEEK, LAST_WEEK = -60, 3
MON, TUE, WED, THU, FRI, SAT, SUN = range(7)
REFORMERS = ("Reformer 1", "Reformer 2", "Reformer 3")
ONE, TWO, THREE = ((unit,) for unit in REFORMERS)
TABLE, CHAIR, CHAIR_2 = ("Trapeze table",), ("Chair 1",), ("Chair 2",)


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
    Slot(MON, time(8, 15), ("hollis",), OWNER, LONG, TWO),
    Slot(MON, time(9, 15), ("ottoline",), MARIS, LONG, ONE),
    Slot(MON, time(9, 15), ("henrike",), AVERIL, GARDEN, TABLE),
    Slot(MON, time(10, 30), ("teodor",), CORIN, LONG, THREE),
    Slot(MON, time(11, 30), ("godwin",), AVERIL, GARDEN, CHAIR_2),
    Slot(MON, time(17, 30), ("wenna",), MARIS, LONG, ONE),
    Slot(MON, time(18, 30), ("kofi",), MARIS, LONG, ONE),
    Slot(MON, time(18, 30), ("jory",), CORIN, LONG, THREE),
    Slot(TUE, time(9, 15), ("imaru",), CORIN, GARDEN, CHAIR_2),
    Slot(TUE, time(10, 30), ("bashir",), AVERIL, GARDEN, TABLE),
    Slot(TUE, time(12), ("petra",), OWNER, GARDEN, CHAIR_2),
    Slot(TUE, time(14), ("barnaby",), AVERIL, GARDEN, TABLE),
    Slot(TUE, time(16), ("maelys",), MARIS, LONG, CHAIR),
    Slot(TUE, time(18), ("yusra", "dov"), MARIS, LONG, ("Reformer 1", "Reformer 2")),
    Slot(TUE, time(18), ("liesel",), CORIN, LONG, THREE),
    Slot(WED, time(8, 15), ("sunniva",), OWNER, GARDEN, TABLE),
    Slot(WED, time(9, 15), ("desmond",), CORIN, LONG, THREE),
    Slot(WED, time(9, 15), ("ottoline",), AVERIL, LONG, ONE, first=-9),
    Slot(WED, time(10, 30), ("anjali",), MARIS, LONG, ONE),
    Slot(WED, time(11, 45), ("casimir",), AVERIL, GARDEN, TABLE),
    Slot(WED, time(14), ("rosalind",), MARIS, LONG, ONE),
    Slot(WED, time(17), ("nerys",), CORIN, LONG, THREE),
    Slot(WED, time(18), ("elowen",), OWNER, LONG, TWO),
    Slot(THU, time(9), ("bashir",), AVERIL, GARDEN, TABLE, first=-4),
    Slot(THU, time(10, 15), ("petra",), OWNER, GARDEN, CHAIR_2, first=-16),
    Slot(THU, time(11, 30), ("solveig",), MARIS, GARDEN, TABLE),
    Slot(THU, time(14), ("barnaby",), AVERIL, GARDEN, TABLE, first=-7),
    Slot(THU, time(17, 30), ("jory",), CORIN, LONG, THREE, first=-12),
    Slot(FRI, time(8, 15), ("wenna",), MARIS, LONG, ONE, first=-5),
    Slot(FRI, time(9, 30), ("hollis",), OWNER, LONG, TWO, first=-6),
    Slot(FRI, time(11), ("zoe",), MARIS, LONG, ONE, first=0),
    Slot(FRI, time(12), ("imaru",), CORIN, GARDEN, CHAIR_2, first=-7),
    Slot(FRI, time(16), ("teodor",), AVERIL, LONG, THREE, first=-6),
    Slot(SAT, time(9), ("casimir",), OWNER, GARDEN, TABLE, first=-8),
    Slot(SAT, time(10, 15), ("anjali",), MARIS, LONG, ONE, first=-6),
    Slot(SAT, time(11, 30), ("sunniva",), CORIN, GARDEN, TABLE, first=-8),
    Slot(SUN, time(10), ("kofi",), MARIS, LONG, ONE, first=-4),
    Slot(SUN, time(11, 15), ("liesel",), OWNER, LONG, THREE, first=-9),
)

# (week, client, weekday) -> what became of the booking in place of a session, hours before it began.
MISSED = {
    (-2, "dov", TUE): ("cancelled", 30),
    (-1, "sunniva", SAT): ("cancelled", 3),
    (-1, "liesel", SUN): ("no_show", 0),
    (-1, "hollis", FRI): ("cancelled", 72),
    (0, "yusra", TUE): ("cancelled", 60),
    (0, "hollis", MON): ("no_show", 0),
    (0, "nerys", WED): ("cancelled", 60),
}

# Whole weeks (first and last) on which somebody does not teach.
ABSENT = {
    CORIN: ((-27, -27), (3, 3)),
    OWNER: ((-41, -41), (-13, -13)),
    AVERIL: ((-22, -22),),
    MARIS: ((-33, -33),),
}
# The studio keeps shut on these days of any year: month, day, the reason on the page.
CLOSED = ((12, 25, "Christmas"), (12, 26, "Christmas"), (1, 1, "New Year"))
