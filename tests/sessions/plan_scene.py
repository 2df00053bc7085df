"""One booked session and what the tests of its plan need to ask of it."""

import datetime as dt
import re

from django.urls import reverse

from sessions.demo import factories as f
from sessions.models import Plan

HTMX = {"HX-Request": "true", "HX-Target": "plan"}
SIDE = {"HX-Request": "true", "HX-Target": "plan-side"}
FOUND = {"HX-Request": "true", "HX-Target": "plan-found"}


class Scene:
    """Ottoline's session today at 10:00 on Reformer 1, 55 minutes."""

    def __init__(self, instructor):
        self.instructor = instructor
        self.client = f.ClientFactory(full_name="Ottoline Brackwater", call_name="Ottoline")
        self.room = f.RoomFactory(name="Garden room")
        self.reformer = f.UnitFactory(kind="reformer", name="Reformer 1", room=self.room)
        booking = f.BookingFactory(
            clients=[self.client], instructor=instructor, room=self.room, units=[self.reformer]
        )
        self.attendance = booking.attendances.get()

    def plan(self, *keys, **values) -> Plan:
        return f.PlanFactory(attendance=self.attendance, exercises=keys, **values)

    def url(self, name="plan", *ids) -> str:
        return reverse(f"sessions:{name}", args=[self.attendance.public_id, *ids])

    def item_url(self, item, name="plan_item") -> str:
        return self.url(name, item.public_id)

    def last_time(self, **close):
        booking = f.BookingFactory(
            clients=[self.client], instructor=self.instructor, wall_day=dt.date(2026, 11, 18), room=self.room
        )
        return f.RecordFactory(
            attendance=booking.attendances.get(),
            finished_at=booking.ends_at,
            author=self.instructor,
            **close,
        )

    def approve(self, browser):
        page = browser.get(self.url())
        data = {"version": page.context["plan"].version, "seen": page.context["seen"]}
        return browser.post(self.url("plan_approve"), data)


def text(answer) -> str:
    """Return what a reader sees: tags away, white space in one piece."""
    plain = re.sub(r"<svg.*?</svg>", " ", answer.content.decode(), flags=re.S)
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", plain))


def springs(*grades) -> dict:
    """Return a setting with one spring of each grade."""
    return {"springs": [{"spring": g, "name": g, "grade": g, "count": 1} for g in grades]}
