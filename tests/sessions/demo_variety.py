"""What is to be found in the demo. Its tests run with those of test_demo, which lays it once and takes these in."""

import datetime as dt

import pytest
from django.db.models import F

from clients.models import Client, Flag, Goal, GoalRating, Measurement, Submission
from sessions.models import Incident, Record
from studio.models import Staff

# A Wednesday, shortly before half past ten: somebody has arrived and one session has just ended.
NOW = dt.datetime(2026, 11, 25, 10, 26, tzinfo=dt.UTC)


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
