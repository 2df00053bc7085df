"""The card that leads an owner from the empty studio to the first printed page. Common practice, no source."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from sessions import first_hour
from sessions.demo import factories as f
from studio.models import AuditEntry

pytestmark = pytest.mark.django_db

NOTHING = dict.fromkeys(first_hour.STEPS, False)
TODAY = reverse("sessions:today")


def card(browser) -> dict[str, dict]:
    rows = browser.get(TODAY).context["first_hour"]
    return {row["step"].key: row for row in rows} if rows else {}


class TestTheSteps:
    def test_the_first_that_can_be_begun_is_next(self):
        assert [s.key for s in first_hour.steps(NOTHING) if s.next] == ["room"]
        there = {**NOTHING, "room": True, "apparatus": True, "springs": True, "people": True}
        assert [s.key for s in first_hour.steps(there) if s.next] == ["client"]

    @pytest.mark.parametrize(
        ("key", "needed"),
        [
            ("apparatus", ["room"]),
            ("booking", ["room", "client"]),
            ("plan", ["booking"]),
            ("form", ["client"]),
        ],
    )
    def test_a_step_waits_for_what_it_needs(self, key, needed):
        def can_begin(there):
            return next(s for s in first_hour.steps(there) if s.key == key).can_begin

        assert not can_begin(NOTHING)
        assert can_begin({**NOTHING, **dict.fromkeys(needed, True)})

    def test_a_studio_of_one_on_mats_comes_to_the_end(self):
        there = {
            **dict.fromkeys(first_hour.STEPS, True),
            "apparatus": False,
            "springs": False,
            "people": False,
        }
        assert first_hour.is_over(there)
        assert not first_hour.is_over({**there, "handout": False})


class TestTheCard:
    def test_an_empty_studio_shows_all_ten(self, as_owner):
        rows = card(as_owner)
        assert tuple(rows) == first_hour.STEPS and not any(r["step"].done for r in rows.values())
        assert rows["room"]["url"] == reverse("studio:room_new")

    def test_what_is_there_is_ticked_and_the_links_lead_to_it(self, as_owner, owner, now):
        client = f.ClientFactory()
        attendance = f.AttendanceFactory(client=client, booking__instructor=owner)
        rows = card(as_owner)
        done = {key for key, row in rows.items() if row["step"].done}
        assert done == {"room", "client", "booking"}
        assert rows["form"]["url"] == reverse("clients:intake", args=[client.public_id])
        assert rows["plan"]["url"] == reverse("sessions:plan", args=[attendance.public_id])
        assert rows["session"]["url"] == reverse("sessions:record", args=[attendance.public_id])

    def test_each_link_opens_a_page(self, as_owner, owner, now):
        f.AttendanceFactory(booking__instructor=owner)
        f.ExerciseFactory()
        urls = {row["url"] for row in card(as_owner).values() if row["url"]}
        assert len(urls) == 10
        assert {url: as_owner.get(url).status_code for url in urls} == dict.fromkeys(urls, 200)

    def test_another_instructors_session_is_not_for_the_owner_to_record(self, as_owner, instructor, now):
        f.AttendanceFactory(booking__instructor=instructor)
        assert card(as_owner)["session"]["url"] is None

    def test_it_goes_by_itself_when_the_page_is_printed(self, as_owner, owner, now):
        client = f.ClientFactory()
        f.SubmissionFactory(client=client)
        attendance = f.AttendanceFactory(client=client, booking__instructor=owner)
        f.PlanFactory(attendance=attendance, exercises=["mat_clam"])
        f.RecordFactory(attendance=attendance)
        assert set(card(as_owner)) == set(first_hour.STEPS)
        f.HandoutFactory(client=client, attendance=attendance)
        assert card(as_owner) == {}

    def test_leave_it_hides_it_for_good(self, as_owner):
        assert as_owner.post(reverse("sessions:first_hour_leave")).url == TODAY
        as_owner.post(reverse("sessions:first_hour_leave"))
        assert card(as_owner) == {}
        assert "first-hour" not in as_owner.get(TODAY).content.decode()
        assert AuditEntry.objects.filter(action="first_hour.left").count() == 1

    def test_it_is_the_owners(self, as_instructor, as_desk):
        for browser in (as_instructor, as_desk):
            assert "The first hour" not in browser.get(TODAY).content.decode()

    def test_it_costs_one_query(self, owner, as_owner, now, house):
        for _ in range(12):
            f.AttendanceFactory(booking__wall_day=dt.date(2027, 1, 4))
        # A day with somebody in it: an empty one asks for the next booking where there is no card.
        f.AttendanceFactory(booking__wall_day=now.date(), booking__instructor=owner)
        as_owner.get(TODAY)
        with CaptureQueriesContext(connection) as with_card:
            as_owner.get(TODAY)
        house.first_hour_left = True
        house.save()
        with CaptureQueriesContext(connection) as without:
            as_owner.get(TODAY)
        assert len(with_card) - len(without) == 1


class TestTheWayOn:
    """A page that needs what is not there yet says so and leads to it."""

    BOOK = reverse("sessions:booking_new")

    def test_the_owner_is_led_to_the_client_and_the_room(self, as_owner):
        page = as_owner.get(self.BOOK).content.decode()
        assert reverse("clients:new") in page and reverse("studio:room_new") in page

    def test_others_are_told_who_adds_a_room(self, as_instructor):
        page = as_instructor.get(self.BOOK).content.decode()
        assert "Ask the owner to add one." in page and reverse("studio:room_new") not in page

    def test_with_both_there_is_nothing_to_say(self, as_owner):
        f.RoomFactory()
        f.ClientFactory()
        assert "Before the first booking" not in as_owner.get(self.BOOK).content.decode()

    def test_no_flags_and_no_form_lead_to_the_answers(self, as_instructor):
        client = f.ClientFactory()
        page = as_instructor.get(reverse("clients:flags", args=[client.public_id])).content.decode()
        assert reverse("clients:intake", args=[client.public_id]) in page and "Record answers" in page

    def test_a_day_with_nobody_is_said_in_words(self, as_instructor, house):
        page = as_instructor.get(TODAY).content.decode()
        assert "nobody today" in page and "0 people" not in page

    def test_a_measure_without_a_number_says_it_once(self, as_instructor):
        client = f.ClientFactory()
        address = reverse("clients:measure_take", args=[client.public_id, "knee_to_wall_lunge"])
        answer = as_instructor.post(address, {"on": "2026-11-25", "first": "left"})
        assert answer.status_code == 422
        assert answer.content.decode().count("Type the value of at least one side.") == 1

    def test_home_practice_without_a_form_says_what_is_not_weighed(self, as_instructor):
        client = f.ClientFactory()
        address = reverse("sessions:home_practice", args=[client.public_id])
        assert "No form is on file" in as_instructor.get(address).content.decode()
        f.SubmissionFactory(client=client)
        assert "No form is on file" not in as_instructor.get(address).content.decode()

    def test_progress_without_a_test_asks_for_no_days(self, as_instructor):
        client = f.ClientFactory()
        address = reverse("sessions:progress", args=[client.public_id])
        assert "Days shown" not in as_instructor.get(address).content.decode()
        assert "Days shown" in as_instructor.get(address, {"from": "2026-01-01"}).content.decode()
