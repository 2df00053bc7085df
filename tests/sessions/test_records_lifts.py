"""Changes for the client and the time on the back while a session is recorded.

The client is twenty weeks pregnant; the three minutes and the minute of rest: common practice, no source.
"""

import datetime as dt

import pytest
from django.urls import reverse

from sessions import planning, recording
from sessions.actions import records
from sessions.demo import factories as f
from sessions.models import Entry, Plan, Record
from studio import clock
from studio.actions.audit import Actor
from tests.sessions.plan_scene import text
from tests.sessions.recorded import DAY, entry_id

pytestmark = pytest.mark.django_db
WEDGE = "trunk_raised_on_wedge"
TEN = dt.datetime(2026, 11, 25, 10, 0, tzinfo=dt.UTC)
HTMX = {"HX-Request": "true", "HX-Target": "fl"}


class Floor:
    """A session at ten with a raised chest lift, a pelvic curl and a clam."""

    def __init__(self, instructor):
        self.actor = Actor(person=instructor, role="instructor", device="tablet")
        self.client = f.ClientFactory()
        booking = f.BookingFactory(
            clients=[self.client], instructor=instructor, wall_day=DAY, wall_time=dt.time(10)
        )
        self.attendance = booking.attendances.get()
        f.PlanFactory(attendance=self.attendance, exercises=("mat_clam", "mat_chest_lift", "mat_pelvic_curl"))
        self.set("mat_chest_lift", adaptations=[WEDGE])
        self.record = f.RecordFactory(attendance=self.attendance, author=instructor, started_at=TEN)

    def set(self, key, **values):
        item = self.items()[key]
        facts = item.exercise.current.facts
        for name, value in {
            "minutes": None,
            "repetitions": planning.usual_repetitions(facts),
            **values,
        }.items():
            setattr(item, name, value)
        item.save()

    def pregnant(self):
        f.FlagFactory(client=self.client, condition="pregnancy", due_on=DAY + dt.timedelta(weeks=20))
        return self

    def items(self):
        plan = Plan.objects.with_items().get(attendance=self.attendance)
        return {item.exercise.key: item for item in plan.items.all()}

    def done(self, key, minute, second=0, **more):
        with clock.at(TEN + dt.timedelta(minutes=minute, seconds=second)):
            item = self.items()[key]
            done = records.as_planned(item, entry_id(minute * 100 + second))
            record = Record.objects.get(pk=self.record.pk)
            return records.save_entry(actor=self.actor, record=record, item=item, done=done)

    def skip(self, key, minute):
        with clock.at(TEN + dt.timedelta(minutes=minute)):
            done = recording.skipped(records.Done(entry_id(minute), "done"))
            return records.save_entry(
                actor=self.actor, record=Record.objects.get(), item=self.items()[key], done=done
            )

    def see(self, browser, key, minute, second=0):
        with clock.at(TEN + dt.timedelta(minutes=minute, seconds=second)):
            address = reverse("sessions:record", args=[self.attendance.public_id])
            return browser.get(address, {"item": self.items()[key].public_id})

    def post(self, browser, key, minute=5, **data):
        with clock.at(TEN + dt.timedelta(minutes=minute)):
            address = reverse("sessions:record_entry", args=[self.attendance.public_id])
            item = self.items()[key]
            sent = {"item": item.public_id, "id": entry_id(1), "reps_both": item.repetitions, **data}
            return browser.post(address, sent, headers=HTMX)


@pytest.fixture
def floor(instructor):
    return Floor(instructor)


def test_an_entry_is_recorded_with_its_changes_as_planned(floor):
    entry = floor.pregnant().done("mat_chest_lift", 5)
    assert entry.adaptations == [WEDGE]
    assert (entry.verdict["verdict"], entry.verdict["carries"]) == ("modify", [WEDGE])


def test_the_screen_says_what_the_row_rests_on(floor, as_instructor):
    page = text(floor.pregnant().see(as_instructor, "mat_chest_lift", 5))
    assert "Trunk raised on a wedge: without it" in page


class TestSkipped:
    """A minute off the back ends a spell, and standing up after lying is quick, only where it was done."""

    def scene(self, floor, *keys, **minutes):
        floor.attendance.plan.delete()
        f.PlanFactory(attendance=floor.attendance, exercises=keys)
        for key in keys:
            floor.set(key, minutes=2)
        return floor.pregnant()

    def test_a_row_that_was_not_done_ends_no_spell_on_the_back(self, floor):
        self.scene(floor, "mat_pelvic_curl", "mat_clam", "mat_pelvic_tilt")
        floor.done("mat_pelvic_curl", 2)
        floor.skip("mat_clam", 3)
        verdict = floor.done("mat_pelvic_tilt", 5).verdict
        assert (verdict["verdict"], verdict["supine_seconds"]) == ("avoid", 240)

    def test_one_that_was_done_ends_it(self, floor):
        self.scene(floor, "mat_pelvic_curl", "mat_clam", "mat_pelvic_tilt")
        floor.done("mat_pelvic_curl", 2)
        floor.done("mat_clam", 4)
        verdict = floor.done("mat_pelvic_tilt", 6).verdict
        assert (verdict["verdict"], verdict["supine_seconds"]) == ("modify", 120)

    @pytest.mark.parametrize("skips", [True, False], ids=["skipped", "done"])
    def test_without_it_the_next_one_may_be_a_quick_change(self, floor, skips):
        self.scene(floor, "mat_clam", "mat_bird_dog", "st_single_leg_stand")
        floor.done("mat_clam", 2)
        between = floor.skip if skips else floor.done
        between("mat_bird_dog", 4)
        verdict = floor.done("st_single_leg_stand", 6).verdict
        assert ("rapid_position_change" in verdict["demands"]) is skips

    def test_a_stop_is_judged_beside_what_was_done_instead(self, floor, as_instructor):
        self.scene(floor, "mat_pelvic_curl", "mat_clam", "mat_pelvic_tilt")
        floor.done("mat_pelvic_curl", 2)
        floor.post(as_instructor, "mat_clam", instead=f.ExerciseFactory(key="mat_heel_slide").public_id)
        item = floor.items()["mat_pelvic_tilt"]
        sent = {"item": item.public_id, "id": entry_id(9), "do": "stop_exercise", "felt_pain_both": "on"}
        with clock.at(TEN + dt.timedelta(minutes=6)):
            as_instructor.post(reverse("sessions:record_stop", args=[floor.attendance.public_id]), sent)
        entry = Entry.objects.get(plan_item=item)
        assert entry.verdict["verdict"] == "avoid"
        assert entry.verdict["supine_seconds"] > 240

    @pytest.mark.parametrize("skips, status", [(True, 302), (False, 200)], ids=["skipped", "done"])
    def test_what_stands_in_is_judged_without_it_too(self, floor, as_instructor, skips, status):
        self.scene(floor, "mat_pelvic_curl", "mat_clam", "mat_pelvic_tilt")
        lying = f.ExerciseFactory(key="mat_heel_slide").public_id
        floor.done("mat_pelvic_curl", 2)
        between = floor.skip if skips else floor.done
        between("mat_clam", 4)
        asked = {"item": floor.items()["mat_pelvic_tilt"].public_id, "instead": lying}
        address = reverse("sessions:record", args=[floor.attendance.public_id])
        assert as_instructor.get(address, asked).status_code == status

    def test_the_skipped_row_itself_is_judged_in_its_place(self, floor):
        self.scene(floor, "mat_pelvic_curl", "mat_pelvic_tilt", "mat_clam")
        assert floor.skip("mat_pelvic_tilt", 3).verdict["supine_seconds"] == 240


def test_done_without_the_change_it_is_judged_again_and_says_what_it_becomes(floor, as_instructor):
    # Nine minutes long by the instructor's own word, so the spell is long without the wedge.
    floor.pregnant().set("mat_chest_lift", adaptations=[WEDGE], minutes=9)
    shown = floor.post(as_instructor, "mat_chest_lift", do="judge", changes="1", adaptations=[])
    assert "Done so it becomes avoid. As planned: modify." in text(shown)
    assert not Entry.objects.exists()


def test_a_change_that_nobody_knows_is_left_out(floor, as_instructor):
    shown = floor.post(as_instructor, "mat_chest_lift", do="judge", changes="1", adaptations=["x", WEDGE])
    assert shown.status_code == 200
    assert shown.context["changes"]["ticked"] == [WEDGE]


def test_a_close_that_nobody_has_saved_yet_still_shows_both(floor, as_instructor):
    address = reverse("sessions:record_close", args=[floor.attendance.public_id])
    with clock.at(TEN + dt.timedelta(minutes=50)):
        shown = as_instructor.post(address, {"version": "99", "next_time": "Slower."})
    assert shown.status_code == 409 and "Slower." in text(shown)


def test_what_was_done_is_kept_with_its_own_verdict(floor, as_instructor):
    floor.pregnant().set("mat_chest_lift", adaptations=[WEDGE], minutes=9)
    floor.post(as_instructor, "mat_chest_lift", do="save", changes="1", adaptations=[])
    entry = Entry.objects.get()
    assert (entry.state, entry.adaptations) == ("changed", [])
    assert (entry.verdict["verdict"], entry.verdict["carries"]) == ("avoid", [])


def test_as_planned_is_with_the_planned_changes(floor, as_instructor):
    floor.post(as_instructor, "mat_chest_lift", do="as_planned", changes="1", adaptations=[])
    assert Entry.objects.get().adaptations == [WEDGE]


def test_a_screen_that_did_not_ask_leaves_them_as_planned(floor, as_instructor):
    floor.post(as_instructor, "mat_chest_lift", do="save")
    entry = Entry.objects.get()
    assert (entry.state, entry.adaptations) == ("done", [WEDGE])


class TestTheClock:
    def test_it_runs_from_lying_down(self, floor, as_instructor):
        floor.pregnant().done("mat_clam", 6)
        back = floor.see(as_instructor, "mat_pelvic_curl", 8).context["back"]
        assert back["since"] == TEN + dt.timedelta(minutes=6)
        assert not back["long"]

    def test_after_three_minutes_the_screen_says_so(self, floor, as_instructor):
        floor.pregnant().done("mat_clam", 6)
        page = floor.see(as_instructor, "mat_pelvic_curl", 9, 1)
        assert page.context["back"]["long"]
        assert "back-clock is-long" in page.content.decode()
        assert "After 3 min (10:09:00): side or sitting" in text(page)

    def test_only_where_the_flags_make_it_matter(self, floor, as_instructor):
        floor.done("mat_clam", 6)
        assert floor.see(as_instructor, "mat_pelvic_curl", 12).context["back"] is None

    def test_off_the_back_it_stands_still(self, floor, as_instructor):
        assert floor.pregnant().see(as_instructor, "mat_clam", 6).context["back"] is None
        assert floor.see(as_instructor, "mat_chest_lift", 6).context["back"] is None

    def test_a_written_rest_begins_it_anew(self, floor, as_instructor):
        floor.pregnant().set("mat_chest_lift", pause=60)
        floor.done("mat_clam", 5)
        floor.done("mat_chest_lift", 7)
        back = floor.see(as_instructor, "mat_pelvic_curl", 9).context["back"]
        assert back["since"] == TEN + dt.timedelta(minutes=8)

    def test_lies_down_only_now(self, floor, as_instructor):
        floor.pregnant()
        shown = floor.post(as_instructor, "mat_pelvic_curl", minute=7, do="down", reps_both="3")
        assert shown.context["back"]["since"] == TEN + dt.timedelta(minutes=7)
        assert shown.context["values"]["reps_both"] == "3"
        assert not Entry.objects.exists()

    def test_somebody_else_cannot_begin_it_anew(self, floor, as_other_instructor):
        assert floor.post(as_other_instructor, "mat_pelvic_curl", do="down").status_code == 403
        assert Record.objects.get().lies_down_at is None


def test_the_rest_is_on_the_screen_and_what_is_unknown_says_ask(floor, as_instructor):
    f.FlagFactory(client=floor.client, condition="moon_sickness")
    floor.set("mat_clam", pause=60)
    page = text(floor.see(as_instructor, "mat_clam", 1))
    assert "After it: 60 s rest on the side or sitting" in page
    assert "not in the table: ask" in page


def test_the_record_says_what_was_done_and_what_it_rests_on(floor, as_instructor):
    floor.pregnant().set("mat_chest_lift", adaptations=[WEDGE], minutes=9, pause=60)
    floor.done("mat_chest_lift", 12)
    Record.objects.update(finished_at=TEN + dt.timedelta(minutes=50))
    page = text(as_instructor.get(reverse("sessions:record", args=[floor.attendance.public_id])))
    assert "Trunk raised on a wedge (without it avoid)" in page
    assert "After it: 60 s rest on the side or sitting" in page
