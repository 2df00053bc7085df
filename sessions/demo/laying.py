"""Laying the demo studio: everything in the order it would have happened.

This week and what lies ahead, and at any time what is noted about clients, goes through the studio's own actions;
the sessions of the past are written in bulk (sessions.demo.history says how, and what that leaves out).

The clock is held at the instant of each step, so that every row carries the date it should. What lies after the
present moment has not happened yet; and on the present day nothing has happened after mid-morning, so that there
is something left to do at whatever hour somebody looks.
"""

import datetime as dt
import heapq
import itertools
from collections.abc import Callable
from zoneinfo import ZoneInfo

from library.models import ApparatusUnit, StudioSpring
from sessions.demo import bought, clients_on_file, house, measured, sessions_held, taken_home, worked
from sessions.demo.cast import BY_KEY, CLIENTS
from sessions.demo.course import Course
from sessions.demo.history import Shelf
from sessions.demo.places import STUDIO
from sessions.demo.weeks import FIRST_WEEK, LAST_WEEK, SLOTS
from studio import clock
from studio.actions import audit
from studio.models import Room, Staff, Studio

ZONE = ZoneInfo(STUDIO["zone"])
MID_MORNING = dt.time(10, 26)
BEFORE_THE_FIRST_FORM = dt.timedelta(weeks=2)


def monday_of(now: dt.datetime) -> dt.date:
    """Return the Monday of the studio's week at an instant."""
    today = now.astimezone(ZONE).date()
    return today - dt.timedelta(days=today.weekday())


class Demo:
    """The demo while it is being laid: its Monday, until when things happen, what is to come, its rows."""

    def __init__(self, now: dt.datetime):
        self.monday = monday_of(now)
        self.until = min(now, self.at(now.astimezone(ZONE).date(), MID_MORNING))
        self.clients: dict = {}
        self.last_records: dict = {}
        self.courses: dict = {}
        self.shelf: Shelf | None = None
        self.zone = STUDIO["zone"]
        self._steps: list = []
        self._count = itertools.count()

    def at(self, day: dt.date, time: dt.time | str) -> dt.datetime:
        """Return the instant of a wall-clock time of the studio."""
        wall = dt.time.fromisoformat(time) if isinstance(time, str) else time
        return dt.datetime.combine(day, wall, ZONE).astimezone(dt.UTC)

    def day(self, week: int, weekday: int = 0) -> dt.date:
        """Return a day counted from the demo's Monday."""
        return self.monday + dt.timedelta(weeks=week, days=weekday)

    def then(self, instant: dt.datetime, step: Callable[[], None]) -> None:
        """Put a step down for an instant. Steps of one instant come in the order they were put down."""
        heapq.heappush(self._steps, (instant, next(self._count), step))

    def happen(self) -> None:
        """Take every step that has its time, each with the clock held at its instant."""
        while self._steps and self._steps[0][0] <= self.until:
            instant, _number, step = heapq.heappop(self._steps)
            with clock.at(instant):
                step()
        with clock.at(self.until):
            self.shelf.write()
            audit.write(audit.Actor.program("load_demo"), "demo.past_laid")

    # Rows by the names the data uses.

    @property
    def studio(self) -> Studio:
        if "_studio" not in self.__dict__:
            self._studio = Studio.objects.get()
        return self._studio

    def staff(self, sign_in_name: str) -> Staff:
        return self._kept(Staff, "sign_in_name", sign_in_name)

    def room(self, name: str) -> Room:
        return self._kept(Room, "name", name)

    def unit(self, name: str) -> ApparatusUnit:
        return self._kept(ApparatusUnit, "name", name)

    def springs(self, kind: str) -> list[StudioSpring]:
        shelf = self.__dict__.setdefault("_springs", {})
        if kind not in shelf:
            shelf[kind] = list(StudioSpring.objects.filter(kind=kind))
        return shelf[kind]

    def _kept(self, model, field: str, value: str):
        shelf = self.__dict__.setdefault("_shelf", {})
        key = (model, value)
        if key not in shelf:
            shelf[key] = model._base_manager.get(**{field: value})
        return shelf[key]

    def actor(self, sign_in_name: str) -> audit.Actor:
        """Return somebody of the staff as the one who acts."""
        person = self.staff(sign_in_name)
        return audit.Actor(person=person, role="+".join(sorted(person.roles)), device="demo")


def lay(now: dt.datetime) -> Demo:
    """Lay the whole demo for the week of `now` and return it. The database holds no studio yet."""
    demo = Demo(now)
    first = min(-person.form_weeks_ago for person in CLIENTS)
    opening = demo.at(demo.day(first), "08:00") - BEFORE_THE_FIRST_FORM
    demo.then(opening, lambda: _open(demo))
    for person in CLIENTS:
        clients_on_file.plan_for(demo, person)
    for week in range(FIRST_WEEK, LAST_WEEK + 1):
        for slot in SLOTS:
            if slot.comes_in(week):
                sessions_held.plan_for(demo, slot, week)
    taken_home.plan_for(demo)
    worked.plan_for(demo)
    measured.plan_for(demo)
    bought.plan_for(demo)
    demo.happen()
    return demo


def _open(demo: Demo) -> None:
    """The studio opens its doors; from here on there is a shelf for the past and a course for each client."""
    house.open_studio(demo)
    demo.shelf = Shelf()
    for person in BY_KEY.values():
        if person.work:
            demo.courses[person.key] = Course(person, demo.shelf.facts)
