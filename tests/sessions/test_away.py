"""Closed days and absences, and what is booked then. How it should behave: common practice, no source."""

import datetime as dt

import pytest
from django.urls import reverse

from sessions.demo import factories as f
from studio.models import Absence, AuditEntry, ClosedDay
from tests.people import signed_in

pytestmark = pytest.mark.django_db

FRIDAY, SATURDAY = dt.date(2026, 11, 27), dt.date(2026, 11, 28)
AWAY = reverse("sessions:away")


def book(instructor, day=FRIDAY, time="09:00", name="Zoë Oakapple", **more):
    client = f.ClientFactory(full_name=name)
    when = {"booking__wall_day": day, "booking__wall_time": dt.time.fromisoformat(time)}
    return f.AttendanceFactory(client=client, booking__instructor=instructor, **when, **more)


def note_absence(browser, person, first="2026-11-27", last="", **more):
    data = {"absence-staff": person.public_id, "absence-first": first, "absence-last": last}
    return browser.post(reverse("sessions:absence_add"), data, **more)


def close(browser, first="2026-11-27", last="", reason="Heating is out"):
    data = {"closed-first": first, "closed-last": last, "closed-reason": reason}
    return browser.post(reverse("sessions:closed_day_add"), data)


class TestAbsences:
    def test_what_is_booked_then_is_listed_and_stays(self, now, as_owner, instructor, other_instructor):
        there = book(instructor)
        book(other_instructor, time="11:00", name="Corin’s client")
        book(instructor, day=SATURDAY, name="Day after")
        answer = note_absence(as_owner, instructor)
        page = as_owner.get(answer.url).content.decode()
        assert "1 booking stands in that time" in page
        assert "Zoë Oakapple" in page and reverse("sessions:booking", args=[there.booking.public_id]) in page
        assert "Corin’s client" not in page and "Day after" not in page
        there.refresh_from_db()
        assert there.state == "booked"

    def test_a_cancelled_one_is_not_in_the_way(self, now, as_owner, instructor):
        book(instructor, state="cancelled_late")
        page = as_owner.get(note_absence(as_owner, instructor).url).content.decode()
        assert "Nothing is booked in that time" in page and "Zoë" not in page

    def test_nobody_is_booked_with_somebody_who_is_away(self, now, as_owner, instructor):
        note_absence(as_owner, instructor, "2026-11-27", "2026-12-04")
        room, client = f.RoomFactory(), f.ClientFactory()
        data = {
            "client": client.public_id,
            "day": "2026-12-04",
            "time": "10:00",
            "minutes": 55,
            "instructor": instructor.public_id,
            "room": room.public_id,
        }
        answer = as_owner.post(reverse("sessions:booking_new"), data)
        assert answer.status_code == 422 and "Maris is away that day" in answer.content.decode()

    def test_it_is_taken_away_again(self, now, as_owner, instructor):
        note_absence(as_owner, instructor)
        data = {"staff": instructor.public_id, "first": "2026-11-27", "last": "2026-11-27"}
        url = reverse("sessions:absence_remove")
        assert as_owner.post(url, data).status_code == 302
        assert as_owner.post(url, data).status_code == 302, "twice does no harm"
        assert not Absence.objects.exists()
        logged = AuditEntry.objects.filter(action__startswith="absence.")
        assert [e.action for e in logged] == ["absence.added", "absence.removed"]

    def test_an_instructor_notes_their_own_only(self, now, instructor, other_instructor):
        maris = signed_in(instructor)
        assert note_absence(maris, other_instructor).status_code == 422
        assert note_absence(maris, instructor).status_code == 302
        Absence.objects.create(staff=other_instructor, first_day=FRIDAY, last_day=FRIDAY)
        page = maris.get(AWAY).content.decode()
        assert "Corin Vane-Hollis" in page and page.count("Take away") == 1
        data = {"staff": other_instructor.public_id, "first": "2026-11-27", "last": "2026-11-27"}
        maris.post(reverse("sessions:absence_remove"), data)
        assert Absence.objects.filter(staff=other_instructor).exists()

    def test_the_desk_notes_for_everybody(self, now, as_desk, instructor):
        assert note_absence(as_desk, instructor).status_code == 302

    @pytest.mark.parametrize(
        ("first", "last", "field"),
        [
            ("2026-11-28", "2026-11-27", "last"),
            ("2026-11-24", "", "first"),
            ("2026-11-20", "2026-11-24", "last"),
            ("2026-11-27", "2027-11-28", "last"),
            ("", "", "first"),
            ("2026-02-30", "", "first"),
        ],
        ids=["backwards", "over", "all over", "over a year", "none", "no such day"],
    )
    def test_days_that_do_not_fit_are_said_at_the_field(self, now, as_owner, instructor, first, last, field):
        answer = note_absence(as_owner, instructor, first, last)
        assert answer.status_code == 422 and answer.context["absence_form"].errors[field]
        assert not Absence.objects.exists()


class TestClosedDays:
    def test_every_day_of_a_stretch_is_closed_and_what_is_booked_is_listed(self, now, as_owner, instructor):
        book(instructor, day=SATURDAY)
        page = as_owner.get(close(as_owner, last="2026-11-29").url).content.decode()
        assert [row.day.day for row in ClosedDay.objects.order_by("day")] == [27, 28, 29]
        assert "1 booking stands in that time" in page and "Zoë Oakapple" in page

    def test_a_day_that_is_closed_already_keeps_its_reason(self, now, as_owner):
        close(as_owner)
        close(as_owner, last="2026-11-28", reason="Stocktaking")
        assert dict(ClosedDay.objects.values_list("day", "reason")) == {
            FRIDAY: "Heating is out",
            SATURDAY: "Stocktaking",
        }

    def test_it_is_opened_again(self, now, as_owner):
        close(as_owner)
        as_owner.post(reverse("sessions:closed_day_remove"), {"day": "2026-11-27"})
        assert not ClosedDay.objects.exists()

    def test_only_the_owner_is_offered_it(self, now, as_owner, as_desk, as_instructor):
        close(as_owner)
        for browser in (as_desk, as_instructor):
            page = browser.get(AWAY).content.decode()
            assert "Heating is out" in page and "Open again" not in page
            assert reverse("sessions:closed_day_add") not in page

    def test_a_day_without_a_reason_is_refused_and_the_days_are_kept(self, now, as_owner):
        answer = close(as_owner, reason="")
        assert answer.status_code == 422 and 'value="2026-11-27"' in answer.content.decode()


@pytest.mark.parametrize("many", [2, 12])
def test_the_number_of_queries_stays_the_same(now, as_owner, instructor, many, django_assert_max_num_queries):
    for number in range(many):
        book(instructor, time=f"{7 + number:02}:00", name=f"Somebody {number}")
        Absence.objects.create(
            staff=instructor, first_day=FRIDAY, last_day=FRIDAY + dt.timedelta(days=number)
        )
        ClosedDay.objects.create(day=FRIDAY + dt.timedelta(days=number), reason="x")
    as_owner.get(AWAY)
    with django_assert_max_num_queries(16):
        as_owner.get(AWAY)
