"""The page of the figure: begun from a drawing, changed in numbers, seen at once, kept, used wherever figures stand."""

import copy
import html
import re

import pytest
from django.urls import reverse

from library.actions import own as actions
from library.actions import own_figure as figure_actions
from library.body import all_poses
from library.models import Exercise, ExerciseDraft
from sessions.demo import factories as f
from studio.actions.audit import Actor
from studio.models import AuditEntry, Stale
from tests import shelf as shelves
from tests.library.test_own_pages import field_values, form_of, keep, step, written_from_nothing

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now", "laid_shelf")]
CURL = all_poses()["mat_pelvic_curl"]


@pytest.fixture
def laid_shelf(db):
    shelves.load()


def page_of(draft) -> str:
    return reverse("library:own_figure", args=[draft.public_id])


def form_in(text: str) -> dict:
    """What a browser would send of the form of the figure as it stands."""
    values = field_values(re.search(r'<form id="figure-form".*?</form>', text, re.S)[0])
    return {name: value for name, value in values.items() if name != "do"}


def said(text: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", text)))


def begun(browser, key="mat_pelvic_curl") -> ExerciseDraft:
    like = Exercise.objects.get(key=key)
    assert browser.post(reverse("library:own_new"), {"like": like.public_id}).status_code == 302
    return ExerciseDraft.objects.latest("pk")


def typed(browser, draft, **changes) -> dict:
    return {**form_in(browser.get(page_of(draft)).content.decode()), **changes}


def in_words(draft) -> dict:
    return ExerciseDraft.objects.get(pk=draft.pk).payload["pose"]


class TestBeginning:
    def test_a_copy_opens_with_the_drawing_it_was_copied_from(self, as_instructor):
        draft = begun(as_instructor)
        text = as_instructor.get(page_of(draft)).content.decode()
        assert text.count('<svg xmlns="http://www.w3.org/2000/svg" class="fg"') == 2
        assert "Pelvis lifted" in said(text)
        assert form_in(text)["end-body-lean"] == str(CURL["end"]["body"]["lean"])

    def test_what_it_was_made_from_stands_first_then_its_like_then_plain_positions_then_the_rest(
        self, as_instructor
    ):
        text = as_instructor.get(page_of(begun(as_instructor))).content.decode()
        groups = re.findall(
            r'<optgroup label="([^"]+)">', re.search(r'<select name="begin".*?</select>', text, re.S)[0]
        )
        assert groups[:3] == [
            "What it was made from",
            "The same apparatus and start position",
            "A plain position",
        ]
        assert "Reformer" in groups

    def test_from_nothing_it_asks_where_to_begin_and_may_be_left(self, as_instructor):
        draft = written_from_nothing(as_instructor)
        text = as_instructor.get(page_of(draft)).content.decode()
        assert 'id="figure-form"' not in text and "Leave it undrawn" in text

    def test_what_it_is_comes_first(self, as_instructor):
        draft = f.DraftFactory()
        text = as_instructor.get(page_of(draft), {"begin": "plain-standing"}).content.decode()
        assert (
            "Say first what it is" in text
            and "<form method" not in re.search(r"<main.*</main>", text, re.S)[0]
        )

    @pytest.mark.parametrize("origin", ["plain-long_sitting", "like"])
    def test_begun_from_a_plain_position_or_any_drawing_it_is_written_only_when_said_so(
        self, as_instructor, origin
    ):
        draft = written_from_nothing(as_instructor)
        if origin == "like":
            origin = f"like-{Exercise.objects.get(key='mat_spine_twist').public_id}"
        text = as_instructor.get(page_of(draft), {"begin": origin}).content.decode()
        assert form_in(text)["origin"] == origin and in_words(draft) is None
        answer = as_instructor.post(page_of(draft), {**form_in(text), "start-body-lean": "5", "do": "write"})
        assert answer.status_code == 302, said(answer.content.decode())[:1500]
        pose = in_words(draft)
        assert pose["key"] == draft.payload["facts"]["id"]
        assert {"solved", "solved_hips"} <= pose["start"].keys()

    @pytest.mark.parametrize("origin", ["plain-cloud", "like-nothing", "x", ""])
    def test_a_beginning_nobody_knows_is_refused_in_words(self, as_instructor, origin):
        answer = as_instructor.get(page_of(written_from_nothing(as_instructor)), {"begin": origin})
        assert answer.status_code == 422
        assert "Choose one from the list." in answer.content.decode()

    def test_a_form_from_nowhere_is_not_found(self, as_instructor):
        draft = written_from_nothing(as_instructor)
        assert as_instructor.post(page_of(draft), {"origin": "plain-cloud", "do": "show"}).status_code == 404


class TestWriting:
    def test_as_it_stands_the_drawing_stays_as_it_was(self, as_instructor):
        draft = begun(as_instructor)
        assert as_instructor.post(page_of(draft), typed(as_instructor, draft, do="write")).status_code == 302
        assert in_words(draft) == draft.payload["pose"]

    def test_typed_and_solved_angles_are_kept_and_one_line_is_written_to_the_log(self, as_instructor):
        draft = begun(as_instructor)
        sent = typed(as_instructor, draft, **{"start-both-hip": "46", "do": "write"})
        answer = as_instructor.post(page_of(draft), sent)
        assert answer.url == step(draft, "around")
        pose = in_words(draft)
        assert pose["start"]["both"]["hip"] == 46
        # The hip may follow, so that heels and pelvis stay on the mat: what is drawn differs from what was typed.
        assert pose["start"]["solved"]["r.hip"] == pytest.approx(47.7, abs=1.5)
        entry = AuditEntry.objects.filter(action="exercise.written").get()
        assert entry.fields == ["pose"]

    def test_a_middle_comes_half_way_and_goes_again(self, as_instructor):
        draft = begun(as_instructor)
        with_middle = as_instructor.post(page_of(draft), typed(as_instructor, draft, do="middle"))
        text = with_middle.content.decode()
        values = form_in(text)
        assert (values["middle"], values["at"]) == ("1", "50")
        leans = [CURL[phase]["body"]["lean"] for phase in ("start", "end")]
        assert leans[0] != leans[1] and float(values["middle-body-lean"]) == sum(leans) / 2
        assert values["middle-n"] == values["end-n"]
        again = form_in(as_instructor.post(page_of(draft), {**values, "do": "straight"}).content.decode())
        assert "middle-body-lean" not in again

    def test_contacts_come_and_go_and_what_else_was_typed_stays(self, as_instructor):
        draft = begun(as_instructor)
        sent = typed(as_instructor, draft, **{"end-body-nod": "27"})
        more = form_in(as_instructor.post(page_of(draft), {**sent, "do": "add:end"}).content.decode())
        assert (more["end-n"], more["end-t5-point"], more["end-body-nod"]) == ("6", "", "27")
        less = form_in(as_instructor.post(page_of(draft), {**more, "do": "drop:end:0"}).content.decode())
        assert (less["end-n"], less["end-t0-point"]) == ("5", sent["end-t1-point"])
        assert less["end-t1-z"] == sent["end-t2-z"] == "2.0"
        assert in_words(draft) == draft.payload["pose"]

    def test_there_is_an_end_to_contacts(self, as_instructor):
        draft = begun(as_instructor)
        sent = typed(as_instructor, draft, **{"end-n": "9999999", "do": "add:end"})
        values = form_in(as_instructor.post(page_of(draft), sent).content.decode())
        assert int(values["end-n"]) <= 10

    def test_taken_away_it_is_undrawn_and_says_so(self, as_instructor):
        draft = begun(as_instructor)
        as_instructor.post(page_of(draft), {"do": "none", "version": 1})
        assert in_words(draft) is None
        text = as_instructor.get(reverse("library:own_look", args=[draft.public_id])).content.decode()
        assert "It has no figure, so it goes on no paper." in text

    def test_a_draft_that_is_over_leads_away(self, as_instructor):
        draft = begun(as_instructor)
        sent = typed(as_instructor, draft, do="write")
        actions.drop(actor=Actor(person=draft.begun_by), draft=draft, expected=1)
        assert as_instructor.post(page_of(draft), sent).url == reverse("library:own")
        with pytest.raises(actions.Over):
            figure_actions.write_figure(
                actor=Actor(person=draft.begun_by), draft=draft, expected=2, pose=None
            )

    def test_who_is_second_sees_both_and_loses_nothing(self, as_instructor, as_owner):
        draft = begun(as_instructor)
        sent = typed(as_instructor, draft, do="write")
        as_owner.post(page_of(draft), {**sent, "end-both-knee": "90"})
        answer = as_instructor.post(page_of(draft), {**sent, "end-both-knee": "80"})
        text = answer.content.decode()
        assert answer.status_code == 409
        assert "End: Knee bend, both" in text and "90°" in text and "80°" in text
        values = form_in(text)
        assert (values["end-both-knee"], values["version"]) == ("80", "2")
        assert as_instructor.post(page_of(draft), {**values, "do": "write"}).status_code == 302
        assert in_words(draft)["end"]["both"]["knee"] == 80

    def test_a_stale_write_is_refused(self, as_instructor):
        draft = begun(as_instructor)
        with pytest.raises(Stale):
            figure_actions.write_figure(
                actor=Actor(person=draft.begun_by), draft=draft, expected=7, pose=None
            )


WRONG = {
    "no number": ({"start-both-hip": "much"}, "says-both-hip", "Start: Type degrees from -360 to 360."),
    "past all turns": ({"end-body-lean": "999"}, "says-body-lean", "End: Type degrees from -360 to 360."),
    "not a number at all": ({"end-body-lean": "nan"}, "says-body-lean", "End: Type degrees"),
    "without end": ({"end-body-lean": "1e999"}, "says-body-lean", "End: Type degrees"),
    "far away": ({"start-t1-x": "40000"}, "says-start-t1", "Type centimetres from -500 to 500."),
    "a point nobody has": ({"start-t0-point": "r.tail"}, "says-start-t0", "Choose one from the list."),
    "a surface that is not here": ({"start-t0-on": "footbar"}, "says-start-t0", "Choose one from the list."),
    "on nothing": (
        {"start-t2-on": "", "start-t2-x": "", "start-t2-z": ""},
        "says-start-t2",
        "Say on what it is, or type a place or a height.",
    ),
    "out of reach": ({"end-t3-z": "150"}, "", "cm away from where it should touch"),
}


@pytest.mark.parametrize(("changes", "slot", "says"), WRONG.values(), ids=WRONG)
def test_what_is_wrong_is_said_beside_the_field_and_all_that_was_typed_is_there(
    as_instructor, changes, slot, says
):
    draft = begun(as_instructor)
    sent = typed(as_instructor, draft, **changes, do="write")
    answer = as_instructor.post(page_of(draft), sent)
    text = answer.content.decode()
    assert answer.status_code == 422
    beside = re.search(rf'<div class="fig-says" id="{slot}".*?</div>', text, re.S)[0] if slot else text
    assert says in html.unescape(beside)
    shown = form_in(text)
    for name, value in sent.items():
        if name not in ("do", "csrfmiddlewaretoken") and value not in ("r.tail", "footbar"):
            assert shown.get(name, "") == value, name
    assert in_words(draft) == draft.payload["pose"]


def test_with_nothing_left_that_touches_it_says_so(as_instructor):
    draft = begun(as_instructor)
    answer = as_instructor.post(page_of(draft), typed(as_instructor, draft, **{"end-n": "0", "do": "write"}))
    assert answer.status_code == 422
    assert "End: nothing touches." in answer.content.decode()


def test_a_doubt_is_said_and_does_not_stop(as_instructor):
    draft = begun(as_instructor)
    # Knee flexion to 135 degrees, American Academy of Orthopaedic Surgeons, from memory.
    origin = {"begin": "plain-face_down"}
    values = form_in(as_instructor.get(page_of(draft), origin).content.decode()) | {"end-both-knee": "165"}
    text = as_instructor.post(page_of(draft), {**values, "do": "show"}).content.decode()
    beside = re.search(r'id="says-both-knee".*?</div>', text, re.S)[0]
    assert "End: Knee bend, both is at 165 degrees, beyond the usual range." in beside
    assert as_instructor.post(page_of(draft), {**values, "do": "write"}).status_code == 302


class TestSeen:
    def seen(self, browser, draft, **changes):
        sent = typed(browser, draft, **changes, do="show")
        return browser.post(page_of(draft), sent, headers={"HX-Request": "true", "HX-Target": "figure-view"})

    def test_the_picture_and_the_sentences_come_alone_and_nothing_is_written(self, as_instructor):
        draft = begun(as_instructor)
        answer = self.seen(as_instructor, draft, **{"end-both-hip": "12"})
        text = answer.content.decode()
        assert answer.status_code == 200 and "<html" not in text
        assert text.count('class="fg"') == 2 and "Not written yet." in text
        assert 'id="says-both-hip" hx-swap-oob="true"' in text
        assert ExerciseDraft.objects.get(pk=draft.pk).version == 1

    def test_another_number_is_another_picture(self, as_instructor):
        draft = begun(as_instructor)
        one, two = (
            self.seen(as_instructor, draft, **{"start-body-nod": nod}).content.decode()
            for nod in ("-8", "20")
        )
        assert re.findall(r' d="[^"]+"', one) != re.findall(r' d="[^"]+"', two)

    def test_where_the_end_cannot_be_met_start_and_nearest_end_are_shown_and_it_is_marked(
        self, as_instructor
    ):
        draft = begun(as_instructor)
        text = self.seen(as_instructor, draft, **{"end-t3-z": "150"}).content.decode()
        assert text.count('class="fg"') == 2 and "cm away from where it should touch" in text
        assert text.count('class="unmet"') == 1 and "End: not met, as near as it comes" in text
        assert "Start: not met" not in text and "Not written yet." not in text
        again = as_instructor.post(
            page_of(draft), typed(as_instructor, draft, **{"end-t3-z": "150", "do": "write"})
        )
        assert again.status_code == 422 and 'class="unmet"' in again.content.decode()
        assert in_words(draft) == draft.payload["pose"]

    def test_where_the_start_cannot_be_met_what_it_reaches_is_marked(self, as_instructor):
        draft = begun(as_instructor)
        text = self.seen(as_instructor, draft, **{"start-t1-z": "300", "start-t0-z": "-90"}).content.decode()
        assert text.count('class="fg"') == 1 and "Start: not met, as near as it comes" in text

    def test_one_sided_work_shows_its_mirror(self, as_instructor):
        draft = begun(as_instructor, "mat_clam")
        text = as_instructor.get(page_of(draft)).content.decode()
        assert "End, left (mirrored)" in text and "Draw the right side working." in text
        assert 'transform="scale(-1 1)"' in text

    def test_without_script_a_button_shows_it(self, as_instructor):
        draft = begun(as_instructor)
        text = as_instructor.post(page_of(draft), typed(as_instructor, draft, do="show")).content.decode()
        assert 'name="do" value="show"' in text and "<html" in text and "Not written yet." in text


class TestKept:
    def test_a_version_has_the_figure_and_pages_show_it(self, as_instructor):
        draft = begun(as_instructor)
        what = {**form_of(as_instructor, step(draft, "what")), "name": "Hip lift, arms long"}
        as_instructor.post(step(draft, "what"), what)
        as_instructor.post(
            page_of(draft), typed(as_instructor, draft, **{"start-both-shoulder_out": "40", "do": "write"})
        )
        as_instructor.post(step(draft, "words"), form_of(as_instructor, step(draft, "words")))
        look = as_instructor.get(reverse("library:own_look", args=[draft.public_id])).content.decode()
        assert look.count('class="fg"') == 2
        assert keep(as_instructor, draft).status_code == 302
        version = Exercise.objects.get(key__startswith="own_").current
        assert version.pose["start"]["both"]["shoulder_out"] == 40
        assert version.pose["key"] == version.facts["id"]
        page = as_instructor.get(reverse("library:exercise", args=[version.exercise.public_id]))
        assert 'class="fg"' in page.content.decode()

    def test_an_undrawn_one_of_the_studio_leads_to_its_figure(self, as_instructor):
        assert keep(as_instructor, written_from_nothing(as_instructor)).status_code == 302
        row = Exercise.objects.get(key__startswith="own_")
        page = as_instructor.get(reverse("library:exercise", args=[row.public_id])).content.decode()
        assert 'name="step" value="figure"' in page and "Draw it" in page
        answer = as_instructor.post(reverse("library:own_change", args=[row.public_id]), {"step": "figure"})
        assert answer.url == page_of(ExerciseDraft.objects.latest("pk"))

    def test_a_shipped_one_may_be_drawn_anew_and_unchanged_stays_unchanged(self, as_owner):
        row = Exercise.objects.get(key="mat_pelvic_curl")
        answer = as_owner.post(reverse("library:own_change", args=[row.public_id]), {"step": "figure"})
        draft = ExerciseDraft.objects.latest("pk")
        assert answer.url == page_of(draft)
        as_owner.post(page_of(draft), typed(as_owner, draft, do="write"))
        with pytest.raises(actions.NothingNew):
            now = ExerciseDraft.objects.get(pk=draft.pk)
            actions.keep(actor=Actor(person=draft.begun_by), draft=now, expected=2, seen=1)
        as_owner.post(page_of(draft), typed(as_owner, draft, turn="30", do="write"))
        assert keep(as_owner, draft).status_code == 302
        row.refresh_from_db()
        assert (row.current.number, row.current.pose["camera"]["turn"]) == (2, 30)

    @pytest.mark.parametrize("written", [int, float])
    def test_a_whole_number_written_another_way_is_nothing_new(self, instructor, written):
        actor = Actor(person=instructor)
        draft = actions.begin(actor=actor, exercise=Exercise.objects.get(key="mat_pelvic_curl"))
        pose = copy.deepcopy(draft.payload["pose"])
        pose["end"]["solved"] = {
            name: written(value) if value == int(value) else value
            for name, value in pose["end"]["solved"].items()
        }
        figure_actions.write_figure(actor=actor, draft=draft, expected=1, pose=pose)
        with pytest.raises(actions.NothingNew):
            actions.keep(actor=actor, draft=draft, expected=2, seen=1)

    def test_for_another_start_position_it_is_left_out_until_it_is_written_again(self, as_instructor):
        draft = begun(as_instructor)
        what = {**form_of(as_instructor, step(draft, "what")), "name": "Curl, sitting", "position": "seated"}
        as_instructor.post(step(draft, "what"), what)
        now = ExerciseDraft.objects.select_related("base").get(pk=draft.pk)
        assert actions.whole(now)["pose"] is None
        assert "drawn for another apparatus or start position" in said(
            as_instructor.get(page_of(draft)).content.decode()
        )
        as_instructor.post(page_of(draft), typed(as_instructor, draft, do="write"))
        now = ExerciseDraft.objects.select_related("base").get(pk=draft.pk)
        assert actions.whole(now)["pose"] is not None

    def test_sides_that_are_said_later_are_drawn_right(self, as_instructor):
        draft = begun(as_instructor)
        payload = {**draft.payload, "facts": {**draft.payload["facts"], "side_means": "working_leg"}}
        now = f.DraftFactory(payload=payload, base=draft.base)
        pose = actions.whole(now)["pose"]
        assert (pose["side"], pose["work"]) == ("working_leg", ["r.leg"])


def test_the_front_desk_has_no_such_page(as_desk):
    assert as_desk.get(page_of(f.DraftFactory())).status_code in (403, 404)


@pytest.mark.parametrize("rows", [2, 12])
def test_queries_do_not_grow_with_what_stands_on_the_shelf(
    as_instructor, rows, django_assert_max_num_queries
):
    draft = begun(as_instructor)
    for number in range(rows):
        payload = {
            **draft.payload,
            "facts": {**draft.payload["facts"], "demands": [], "name": f"Own {number}"},
        }
        row = Exercise.objects.create(key=f"own_{number}")
        row.current = f.ExerciseVersionFactory(exercise=row, payload=payload)
        row.save()
    as_instructor.get(page_of(draft))
    with django_assert_max_num_queries(14):
        assert as_instructor.get(page_of(draft)).status_code == 200
