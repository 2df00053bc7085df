"""What is to be found in the demo. Its tests run with those of test_demo, which lays it once and takes these in."""

import datetime as dt
import re
from html import unescape

import pytest
from django.db.models import F
from django.test import Client as Browser
from django.urls import reverse

from clients.models import Client, Flag, Goal, GoalRating, Measurement, Submission
from sessions.models import Handout, Incident, Record
from studio.models import AuditEntry, Staff
from tests.demo_laid import NOW, SAMPLE
from tests.sessions.pdf_reading import texts


class TestVariety:
    def test_the_house(self, demo):
        assert Client.objects.count() == 25
        people = Staff.objects.all()
        assert [p.call_name for p in people if p.is_owner and p.is_instructor] == ["Linnet"]
        assert sum(p.is_instructor for p in people) == 4
        assert sum(p.is_front_desk for p in people) == 1
        assert Record.objects.count() > 700

    def test_states_of_flags(self, demo):
        states = {flag.state for flag in Flag.objects.with_state()}
        assert states == {"proposed", "active", "resting", "ended"}

    def test_instructions_ended_and_newer_ones_came(self, demo):
        said = [flag for flag in Flag.objects.with_state() if flag.is_instruction and flag.verdict]
        ended = {flag.client.call_name for flag in said if flag.state == "ended"}
        active = {flag.client.call_name for flag in said if flag.state == "active"}
        assert {"Ottoline", "Barnaby", "Casimir"} <= ended & active
        assert all(flag.until_on <= NOW.date() for flag in said if flag.state == "ended")
        assert all(flag.until_on > NOW.date() for flag in said if flag.state == "active")

    def test_one_is_about_twenty_weeks_pregnant(self, demo):
        """280 days from the first day of the last period to the due date: the standard calendar's 40 weeks."""
        flag = Flag.objects.active().get(condition="pregnancy")
        assert 19 <= (280 - (flag.due_on - NOW.date()).days) / 7 <= 21

    def test_one_has_no_flag_and_one_no_form(self, demo):
        assert not Flag.objects.filter(client__call_name="Hollis").exists()
        assert not Submission.objects.filter(client__call_name="Zoë").exists()

    def test_one_is_eighty(self, demo):
        assert Client.objects.filter(birth_date__year=1946).exists()

    def test_goals_have_numbers_over_time(self, demo):
        assert all(goal.ratings.exists() for goal in Goal.objects.all())
        assert {"open", "reached", "put_aside"} == set(Goal.objects.values_list("state", flat=True))
        falls = 0
        for goal in Goal.objects.all():
            values = list(goal.ratings.values_list("value", flat=True))
            falls += any(after < before for before, after in zip(values, values[1:], strict=False))
        assert falls >= 5
        assert not GoalRating.objects.filter(goal__closed_on__lt=F("on")).exists()

    def test_no_handout_is_without_its_pdf(self, demo):
        """A document that was issued is kept as issued. Of most there is the page that the PDF is made from."""
        rows = list(Handout.objects.order_by("number"))
        assert len(rows) >= 36
        assert min(row.issued_on for row in rows) < NOW.date() - dt.timedelta(weeks=52)
        real = [row for row in rows if bytes(row.pdf).startswith(b"%PDF")]
        assert len(real) * SAMPLE >= len(rows)
        for row in rows:
            text = " ".join(texts(bytes(row.pdf)) if row in real else [_words(bytes(row.pdf).decode())])
            assert f"handout {row.number}, version {row.version}, issued" in text
            assert row.payload["items"][0]["name"] in text

    def test_handouts_are_logged_in_their_order_once(self, demo):
        logged = AuditEntry.objects.filter(action="handout.issued").order_by("id")
        rows = Handout.objects.order_by("number").values_list("public_id", "issued_at")
        assert [(entry.thing_id, entry.at) for entry in logged] == [(str(key), at) for key, at in rows]

    def test_goals_with_a_number_were_reached_missed_or_lie_ahead(self, demo):
        """Of all three measures more is better. A goal is missed when its day has gone by and its side is short."""
        found = {"reached": set(), "missed": set(), "ahead": set()}
        for goal in Goal.objects.exclude(measure="").select_related("client"):
            name, today = goal.client.call_name, NOW.date()
            if goal.state == "reached":
                assert _newest(goal, goal.closed_on) >= goal.target
                found["reached"].add(name)
            elif goal.target_on > today:
                found["ahead"].add(name)
            elif _newest(goal, today) < goal.target:
                found["missed"].add(name)
        assert {"Jory", "Elowen"} <= found["reached"]
        assert {"Sunniva", "Anjali"} <= found["missed"]
        assert {"Teodor", "Wenna", "Dov", "Hollis"} <= found["ahead"]

    @pytest.mark.parametrize(
        ("name", "words"),
        [("Teodor", "Goal 11.5 cm by January"), ("Sunniva", "Goal 9 cm by October"), ("Dov", "Goal 0 cm by")],
    )
    def test_the_goal_is_a_line_of_the_progress_page(self, demo, name, words):
        browser = Browser(SERVER_NAME="localhost")
        browser.force_login(Staff.objects.get(sign_in_name="linnet"))
        client = Client.objects.get(call_name=name)
        html = browser.get(reverse("sessions:progress", args=[client.public_id])).content.decode()
        assert words in html
        assert "ch-goal" in html

    def test_an_incident_stopped_a_session(self, demo):
        incidents = Incident.objects.filter(session_stopped=True)
        assert incidents.count() == 2
        for incident in incidents:
            attendance = incident.attendance
            assert attendance.record.entries.count() < attendance.plan.items.count()
            assert incident.notes.exists()
            assert attendance.record.additions.filter(at__gt=attendance.record.signed_off_at).exists()

    def test_somebody_left_a_line_for_next_time_everywhere(self, demo):
        assert not Record.objects.filter(finished_at__isnull=False, next_time="").exists()

    @pytest.mark.parametrize("measure", ["knee_to_wall_lunge", "back_saver_sit_and_reach", "side_bridge"])
    def test_measures_of_both_sides(self, demo, measure):
        rows = Measurement.objects.of_measure(measure)
        assert rows.filter(left__isnull=False, right__isnull=False).count() > 15

    def test_one_measure_really_changed_and_one_is_noise(self, demo):
        """Limits of change from measures.md: 1.9 cm for the lunge, 30.4 s for the side bridge."""

        def ends(name, measure, side):
            rows = list(Measurement.objects.of_measure(measure).filter(client__call_name=name))
            return (getattr(rows[-1], side) - getattr(rows[0], side)) / 10

        assert ends("Teodor", "knee_to_wall_lunge", "right") > 1.9
        assert abs(ends("Solveig", "side_bridge", "left")) < 30.4


def _words(html: str) -> str:
    """Return the words of a page, in their order."""
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", html)).split())


def _newest(goal, until) -> int:
    """Return the newest value of a goal's side up to a day; of both sides the lower."""
    rows = (
        Measurement.objects.of_measure(goal.measure).filter(client=goal.client, on__lte=until).order_by("on")
    )
    sides = ("left", "right") if goal.side == "both" else (goal.side,)
    return min([value for row in rows if (value := getattr(row, side)) is not None][-1] for side in sides)
