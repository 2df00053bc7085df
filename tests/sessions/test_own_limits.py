"""How far one client goes in an exercise: set by numbers, and kept wherever it was drawn."""

import pytest
from django.urls import reverse

from library.body import all_poses
from library.body.limits import lead
from library.models import ExerciseVersion
from sessions import own_limits
from sessions.actions import own_ways as actions
from sessions.actions import records as record_actions
from sessions.demo import factories as f
from sessions.forms.own_limits import LimitForm
from sessions.models import Entry, OwnWay
from studio.models import AuditEntry, Stale
from tests.sessions.home_steps import add
from tests.sessions.recorded import entry_id, make_session, queries_of

pytestmark = pytest.mark.django_db
HALF, QUARTER = {"by": "share", "value": 50}, {"by": "share", "value": 25}
CLAM, CURL = all_poses()["mat_clam"], all_poses()["mat_pelvic_curl"]
TURN = lead(CLAM)


@pytest.fixture
def held(instructor, now):
    return make_session(instructor)


def keep(held, row, limit):
    kept = OwnWay.objects.of(held.client.pk, row.exercise)
    expected = kept.version if kept else 0
    return actions.set_limit(
        actor=held.actor, client=held.client, exercise=row.exercise, limit=limit, expected=expected
    )


def own(held, row) -> dict:
    return OwnWay.objects.of(held.client.pk, row.exercise).limit


def page(held, row, name="own_way") -> str:
    return reverse(f"sessions:{name}", args=[held.client.public_id, row.exercise.public_id])


class TestSides:
    @pytest.mark.parametrize(
        ("by_side", "kept"),
        [
            ({"left": HALF, "right": HALF}, {"both": HALF}),
            ({"left": HALF, "right": QUARTER}, {"left": HALF, "right": QUARTER}),
            ({"left": HALF, "right": None}, {"left": HALF}),
            ({"left": None, "right": None}, {}),
            ({"both": HALF}, {"both": HALF}),
        ],
        ids=["alike", "apart", "one", "none", "without sides"],
    )
    def test_are_kept_once_where_they_are_alike(self, by_side, kept):
        assert own_limits.made(by_side) == kept

    @pytest.mark.parametrize(
        ("sides", "left"),
        [(["left"], {"left"}), (["right"], {"right"}), (["left", "right"], {"left", "right"})],
    )
    def test_only_those_that_were_done_count(self, sides, left):
        assert set(own_limits.done_on({"left": HALF, "right": QUARTER}, sides)) == left
        assert own_limits.done_on({"both": HALF}, sides) == {"both": HALF}

    @pytest.mark.parametrize(
        ("limits", "sides", "first", "drawn"),
        [
            ({}, "both", "right", ("right",)),
            ({"both": HALF}, "both", "left", ("left",)),
            ({"left": HALF}, "both", "right", ("left", "right")),
            ({"left": HALF, "right": QUARTER}, "both", "left", ("left", "right")),
            ({"left": HALF, "right": QUARTER}, "right", "", ("right",)),
            ({"both": HALF}, "", "", (None,)),
        ],
        ids=["none", "alike", "one", "apart", "apart but one is done", "without sides"],
    )
    def test_a_row_draws_both_where_they_differ(self, limits, sides, first, drawn):
        assert own_limits.drawn_sides(limits, sides, first) == drawn

    def test_of_no_effect_goes_nowhere(self):
        beyond = TURN.limit(TURN.end + 5)
        assert own_limits.with_effect(CLAM, {"left": beyond, "right": HALF}) == {"right": HALF}


class TestForm:
    def form(self, pose=CLAM, sided=True, limits=None, **data) -> LimitForm:
        return LimitForm({"version": 0, **data}, pose=pose, sided=sided, limits=limits or {})

    def test_numbers_of_both_sides(self):
        form = self.form(number_left="50", by_left="share", number_right="40", by_right="degrees")
        assert form.is_valid(), form.errors
        assert form.limits() == {"left": HALF, "right": TURN.limit(40)}

    @pytest.mark.parametrize("typed", ["", "100"], ids=["empty", "hundred per cent"])
    def test_the_whole_way_is_no_limit(self, typed):
        form = self.form(number_left=typed, by_left="share")
        assert form.is_valid() and form.limits() == {}

    def test_what_is_counted_from_the_start_goes_its_own_way(self):
        # The trunk turns to the right, so the driver falls below nought; who types 20 means 20 degrees of turn.
        form = self.form(all_poses()["mat_spine_twist"], sided=False, number_both="20", by_both="degrees")
        assert form.is_valid() and form.limits()["both"]["value"] == -20

    @pytest.mark.parametrize(
        ("data", "words"),
        [
            ({"number_left": "far", "by_left": "share"}, "Type a whole number"),
            ({"number_left": "0", "by_left": "share"}, "1 to 100 per cent"),
            ({"number_left": "120", "by_left": "share"}, "1 to 100 per cent"),
            ({"number_left": "9" * 400, "by_left": "degrees"}, "Type degrees from -360 to 360."),
            ({"number_left": "2", "by_left": "degrees"}, "Nothing is left of the movement: it starts at"),
        ],
        ids=["no number", "nothing", "more than all", "past all turns", "before the start"],
    )
    def test_says_what_is_wrong_at_its_field(self, data, words):
        form = self.form(**data)
        assert not form.is_valid() and words in str(form.errors["number_left"])

    def test_begins_with_what_is_kept(self):
        form = LimitForm(
            pose=CLAM, sided=True, limits={"left": TURN.limit(40.0), "right": QUARTER}, version=3
        )
        values = {name: form[name].value() for name in form.fields}
        assert values == {
            "version": 3,
            "number_left": 40,
            "by_left": "degrees",
            "number_right": 25,
            "by_right": "share",
        }

    def test_of_a_pose_that_is_led_by_something_else_now_is_empty(self):
        limits = {"both": {"by": "degrees", "value": 40, "of": "r.knee", "from": 0}}
        form = LimitForm(pose=CLAM, sided=True, limits=limits)
        assert form["number_left"].value() is None


class TestPage:
    def send(self, browser, held, do="limit", **data):
        version = getattr(OwnWay.objects.of(held.client.pk, held.clam.exercise), "version", 0)
        return browser.post(page(held, held.clam), {"version": version, "do": do, **data})

    def test_keeps_it_in_one_step_with_a_line_in_the_log(self, held, as_instructor):
        answer = self.send(as_instructor, held, number_left="50", by_left="share")
        assert answer.url == page(held, held.clam, "client_exercise")
        assert own(held, held.clam) == {"left": HALF}
        lines = AuditEntry.objects.filter(action="own_way.changed")
        assert [line.fields for line in lines] == [["limit"]]
        assert "Half way" in as_instructor.get(answer.url).content.decode()

    def test_shows_it_without_keeping_it(self, held, as_instructor):
        answer = self.send(as_instructor, held, do="limit_show", number_left="30", by_left="share")
        words = answer.content.decode()
        assert answer.status_code == 200 and "30 % of the way" in words and "Not kept yet." in words
        assert not OwnWay.objects.exists()

    def test_a_touched_part_is_typed_into_its_field(self, held, as_instructor):
        answer = self.send(as_instructor, held, do="", quick="right:25", number_left="60", by_left="share")
        form = answer.context["limit_form"]
        assert (form["number_right"].value(), form["number_left"].value()) == ("25", "60")

    @pytest.mark.parametrize("part", ["right:²", "right:" + "9" * 5000, "right:", "right"])
    def test_a_part_that_no_button_has_changes_nothing(self, held, as_instructor, part):
        answer = self.send(as_instructor, held, do="", quick=part, number_right="60", by_right="share")
        assert answer.status_code == 200
        assert answer.context["limit_form"]["number_right"].value() == "60"

    def test_only_the_picture_is_swapped_while_somebody_types(self, held, as_instructor):
        answer = as_instructor.post(
            page(held, held.clam),
            {"version": 0, "do": "limit_show", "number_left": "30", "by_left": "share"},
            HTTP_HX_REQUEST="true",
            HTTP_HX_TARGET="limit-picture",
        )
        words = answer.content.decode()
        assert 'id="limit-picture"' in words and "<form" not in words and words.count("<svg") >= 2

    def test_wrong_input_keeps_what_was_typed(self, held, as_instructor):
        answer = self.send(as_instructor, held, number_left="far", by_left="share", number_right="40")
        words = answer.content.decode()
        assert answer.status_code == 422 and "Type a whole number" in words and 'value="far"' in words
        assert not OwnWay.objects.exists()

    @pytest.mark.parametrize(
        ("number", "words"),
        [(90, "This limit changes nothing: the movement ends at"), (2, "Nothing is left of the movement")],
        ids=["beyond the end", "before the start"],
    )
    def test_says_what_a_limit_does(self, held, as_instructor, number, words):
        answer = self.send(as_instructor, held, do="limit_show", number_left=number, by_left="degrees")
        assert words in answer.content.decode()

    def test_of_two_at_once_the_second_sees_both(self, held, as_instructor):
        keep(held, held.clam, {"both": QUARTER})
        data = {"do": "limit", "version": 0, "number_left": "50", "by_left": "share"}
        answer = as_instructor.post(page(held, held.clam), data)
        words = answer.content.decode()
        assert answer.status_code == 409 and "a quarter of the way" in words and "left half way" in words
        assert own(held, held.clam) == {"both": QUARTER}
        data["version"] = answer.context["limit_form"]["version"].value()
        assert as_instructor.post(page(held, held.clam), data).status_code == 302
        assert own(held, held.clam) == {"left": HALF}

    def test_an_old_version_is_refused_by_the_action_too(self, held):
        keep(held, held.clam, {"both": HALF})
        with pytest.raises(Stale):
            actions.set_limit(
                actor=held.actor, client=held.client, exercise=held.clam.exercise, limit={}, expected=0
            )

    def test_an_exercise_without_a_drawing_has_no_such_field(self, held, as_instructor, monkeypatch):
        monkeypatch.setattr(ExerciseVersion, "pose", None)
        answer = self.send(as_instructor, held, number_left="50", by_left="share")
        assert answer.status_code == 200 and "limit-form" not in answer.content.decode()

    def test_where_hardly_anything_turns_it_says_why_only_per_cent_are_asked(self, held, as_instructor):
        exercise = f.ExerciseFactory(key="mat_breath_supine")
        url = reverse("sessions:own_way", args=[held.client.public_id, exercise.public_id])
        words = as_instructor.get(url).content.decode()
        assert "changes by less than 4°: too little to stop at a degree." in words
        assert "So it is set in per cent of the way." in words and "Counted in" not in words

    def test_the_desk_is_refused(self, held, as_desk):
        assert self.send(as_desk, held, number_left="50").status_code == 403


class TestWhereItIsDrawn:
    def test_in_the_row_of_the_plan_and_beside_it(self, held, as_instructor):
        url = reverse("sessions:plan", args=[held.attendance.public_id])
        whole = as_instructor.get(url).content.decode()
        before = queries_of(lambda: as_instructor.get(url))
        keep(held, held.clam, {"left": HALF, "right": QUARTER})
        words = as_instructor.get(url).content.decode()
        assert "as far as: left half way" in words and words != whole
        assert queries_of(lambda: as_instructor.get(url)) == before
        side = reverse("sessions:plan_item", args=[held.attendance.public_id, held.clam.public_id])
        assert "As far as: left half way" in as_instructor.get(side).content.decode()

    def test_on_the_recording_screen_one_touch_away(self, held, as_instructor):
        keep(held, held.clam, {"left": HALF})
        url = reverse("sessions:record", args=[held.attendance.public_id])
        answer = as_instructor.get(url, {"item": held.clam.public_id})
        words = answer.content.decode()
        assert 'id="how-far"' in words and 'data-opens="how-far"' in words and "half way" in words
        other = as_instructor.get(url, {"item": held.curl.public_id}).content.decode()
        assert 'id="how-far"' not in other

    def test_not_for_another_client(self, held, as_instructor):
        f.OwnWayFactory(exercise=held.clam.exercise, limit={"both": HALF})
        url = reverse("sessions:record", args=[held.attendance.public_id])
        assert "half way" not in as_instructor.get(url, {"item": held.clam.public_id}).content.decode()


class TestRecord:
    def save(self, held, row, number=1, **done):
        made = record_actions.as_planned(row, entry_id(number))
        return record_actions.save_entry(
            actor=held.actor, record=held.record, item=row, done=record_actions.Done(**{**vars(made), **done})
        )

    def test_an_entry_keeps_the_limit_it_was_done_with(self, held, as_instructor):
        keep(held, held.clam, {"left": HALF})
        self.save(held, held.clam)
        keep(held, held.clam, {"left": QUARTER})
        self.save(held, held.clam, note="Slower.")
        entry = Entry.objects.get()
        assert entry.limit == {"left": HALF} and entry.note == "Slower."
        held.record.finished_at = held.record.started_at
        held.record.save()
        url = reverse("sessions:record", args=[held.attendance.public_id])
        assert "as far as: left half way" in as_instructor.get(url).content.decode()
        on_the_floor = as_instructor.get(url, {"item": held.clam.public_id}).content.decode()
        assert "half way" in on_the_floor and "a quarter of the way" not in on_the_floor

    def test_what_was_skipped_has_none(self, held):
        keep(held, held.clam, {"left": HALF})
        self.save(held, held.clam, state="skipped", sides={})
        assert Entry.objects.get().limit == {}
        self.save(held, held.clam)
        assert Entry.objects.get().limit == {"left": HALF}

    def test_an_entry_from_before_has_none(self, held):
        self.save(held, held.clam)
        keep(held, held.clam, {"left": HALF})
        self.save(held, held.clam)
        assert Entry.objects.get().limit == {}


class TestRow:
    """A row of a plan, of home practice and of the recording screen: its figures say what its words say."""

    def row(self, text, row_id) -> str:
        start = text.index(f'id="row-{row_id}"')
        return text[start : text.index("</li>", start)]

    def test_of_a_plan_draws_and_names_the_sides_it_does(self, held, as_instructor):
        url = reverse("sessions:plan", args=[held.attendance.public_id])
        keep(held, held.scooter, {"left": HALF, "right": QUARTER})
        keep(held, held.clam, {"left": HALF, "right": QUARTER})
        keep(held, held.stand, {"both": HALF})
        text = as_instructor.get(url).content.decode()
        both, left, alike = (self.row(text, one.public_id) for one in (held.scooter, held.clam, held.stand))
        assert both.count('class="fg"') == 2 and both.index("left, as far as") < both.index(
            "right, as far as"
        )
        assert "as far as: left half way, right a quarter of the way" in both and " apart" in text
        assert left.count('class="fg"') == 1 and "as far as: left half way" in left and "right a" not in left
        assert alike.count('class="fg"') == 1 and "as far as: half way" in alike

    def test_of_home_practice_draws_both(self, held, as_instructor):
        f.CareProfileFactory(client=held.client, home_equipment=["wall"])
        add(as_instructor, held.client, "mat_clam")
        url = reverse("sessions:home_practice", args=[held.client.public_id])
        clam = held.clam.exercise.public_id
        assert self.row(as_instructor.get(url).content.decode(), clam).count('class="fg"') == 1
        keep(held, held.clam, {"left": HALF})
        row = self.row(as_instructor.get(url).content.decode(), clam)
        assert row.count('class="fg"') == 2 and "as far as: left half way" in row

    def test_that_comes_next_on_the_floor_draws_both(self, held, as_instructor):
        url = reverse("sessions:record", args=[held.attendance.public_id])
        for limits, count in (({"both": HALF}, 1), ({"left": HALF}, 2)):
            keep(held, held.scooter, limits)
            text = as_instructor.get(url, {"item": held.curl.public_id}).content.decode()
            button = text[text.index('class="save-next"') :]
            button = button[: button.index("</button>")]
            assert button.count('class="fg"') == count and "half way" in button
