"""The screens of a session: start, recording, close, and the record afterwards."""

import datetime as dt
import re

import pytest
from django.urls import reverse

from library.wording import demand_label
from sessions.demo.factories import FlagFactory, FlagStatusFactory, PlanItemFactory
from sessions.models import Entry, Incident, Record
from studio import clock
from studio.models import AuditEntry
from tests.sessions.recorded import DAY, entry_id, make_session, queries_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def held(instructor, now):
    return make_session(instructor)


def to(held, name="record"):
    return reverse(f"sessions:{name}", args=[held.attendance.public_id])


def typed(item, number=1, **values):
    return {"item": item.public_id, "id": str(entry_id(number)), **values}


def text_of(response):
    return response.content.decode()


# before the first entry


def flagged(instructor, *conditions):
    held = make_session(instructor, started=False)
    for condition in conditions:
        FlagFactory(client=held.client, condition=condition, created_by=instructor)
    return held


def mark_on(page):
    return re.search(r'name="flags_mark" value="([0-9a-f]*)"', page)[1]


def test_start_is_refused_until_the_flags_are_acknowledged(as_instructor, instructor, now):
    held = flagged(instructor, "osteoporosis")
    page = text_of(as_instructor.get(to(held)))
    assert "Osteoporosis" in page
    refused = as_instructor.post(to(held, "record_start"), {"flags_mark": mark_on(page)})
    assert refused.status_code == 422 and "Tick that you have seen the flags, then start." in text_of(refused)
    assert not Record.objects.exists()
    started = as_instructor.post(to(held, "record_start"), {"flags_mark": mark_on(page), "flags_seen": "yes"})
    assert started.status_code == 302
    record = Record.objects.get()
    assert (record.flags_seen_by, record.flags_seen_at) == (instructor, now)


def test_flags_that_came_after_the_page_are_to_be_read_first(as_instructor, instructor, now):
    held = flagged(instructor, "osteoporosis")
    page = text_of(as_instructor.get(to(held)))
    FlagFactory(client=held.client, condition="pregnancy", created_by=instructor)
    refused = as_instructor.post(to(held, "record_start"), {"flags_mark": mark_on(page), "flags_seen": "yes"})
    assert refused.status_code == 422 and not Record.objects.exists()
    assert "The flags changed after this page was opened." in text_of(refused)
    assert "Pregnancy" in text_of(refused)


def test_without_flags_start_is_one_touch_and_says_that_silence_is_no_permission(
    as_instructor, instructor, now
):
    held = make_session(instructor, started=False)
    page = text_of(as_instructor.get(to(held)))
    assert "That is not a permission" in page and "I have seen the flags" not in page
    assert as_instructor.post(to(held, "record_start")).status_code == 302
    assert Record.objects.get().flags_seen_at is None


# Story J02 of the working day: osteoporosis added after planning; rules of the screening table.
def test_the_planned_rows_show_what_the_flags_say(as_instructor, instructor, now):
    held = flagged(instructor, "osteoporosis")
    PlanItemFactory(plan=held.plan, exercise__key="mat_roll_up")
    page = text_of(as_instructor.get(to(held)))
    row = page[page.index("Roll-up") :]
    assert "flag-avoid" in row
    for demand in ("loaded_spinal_flexion", "end_range_spinal_flexion", "head_lifted_neck_flexion"):
        assert demand_label(demand) in row
    curl = page[page.index("Pelvic curl") : page.index("Scooter")]
    assert "No rule" in curl and "flag-avoid" not in curl


REFUSED = {
    "cancelled_late": "This booking was cancelled.",
    "no_show": "This booking is down as no-show.",
}


@pytest.mark.parametrize("state, sentence", REFUSED.items(), ids=REFUSED)
def test_why_a_session_does_not_start(as_instructor, instructor, now, state, sentence):
    held = make_session(instructor, started=False)
    held.attendance.state = state
    held.attendance.save()
    answer = as_instructor.post(to(held, "record_start"))
    assert answer.status_code == 422 and sentence in text_of(answer)


# the recording screen


FIELDS = {
    "no sides": ("curl", {"reps_both", "quality_both"}, {"reps_left", "reps_right", "secs_both"}),
    "both sides": ("scooter", {"reps_left", "reps_right", "quality_left"}, {"reps_both", "secs_left"}),
    "left only": ("clam", {"reps_left", "quality_left"}, {"reps_right", "quality_right", "reps_both"}),
    "held": ("stand", {"secs_left", "secs_right"}, {"reps_left", "secs_both"}),
}


@pytest.mark.parametrize("name, there, not_there", FIELDS.values(), ids=FIELDS)
def test_the_controls_are_those_of_the_row(as_instructor, held, name, there, not_there):
    page = text_of(as_instructor.get(to(held), {"item": getattr(held, name).public_id}))
    names = set(re.findall(r'name="([a-z_]+)"', page))
    assert there <= names and not not_there & names
    assert {"as_planned", "skip", "save", "ask"} <= set(re.findall(r'name="do" value="([a-z_]+)"', page))


MEANS = {
    "clam": "the leg that moves",
    "stand": "the leg that carries the weight",
}


# Story J09 of the working day.
@pytest.mark.parametrize("name, words", MEANS.items(), ids=MEANS)
def test_the_screen_says_what_right_means(as_instructor, held, name, words):
    page = text_of(as_instructor.get(to(held), {"item": getattr(held, name).public_id}))
    assert words in page


def test_queries_of_the_screen_do_not_grow_with_the_plan(as_instructor, held):
    def screen():
        assert as_instructor.get(to(held), {"item": held.scooter.public_id}).status_code == 200

    as_instructor.post(to(held, "record_entry"), typed(held.scooter, 20, do="as_planned"))
    before = queries_of(screen)
    for _number in range(8):
        PlanItemFactory(plan=held.plan, exercise__key="mat_clam")
    for number, item in enumerate(held.plan.items.all()[:6]):
        as_instructor.post(to(held, "record_entry"), typed(item, number, do="as_planned"))
    assert queries_of(screen) == before


def test_left_is_on_the_left_and_each_side_has_its_own_verdict(as_instructor, held):
    FlagFactory(
        client=held.client,
        condition="ankle_sprain",
        side="right",
        on=DAY - dt.timedelta(days=10),
        created_by=held.instructor,
    )
    page = text_of(as_instructor.get(to(held), {"item": held.stand.public_id}))
    left, right = page.index('class="pic l"'), page.index('class="pic r"')
    assert left < page.index('name="secs_left"') < page.index('name="secs_right"')
    assert "Load on one leg" not in page[left : page.index('class="core"')]
    assert "load on one leg" in page[right : page.index('class="rec"')].lower()


def test_what_was_done_last_time_stands_beside(as_instructor, held):
    earlier = make_session(
        held.instructor,
        client=held.client,
        wall_day=DAY - dt.timedelta(days=7),
    )
    answer = as_instructor.post(
        to(earlier, "record_entry"), typed(earlier.curl, 7, do="save", reps_both="6", quality_both="2")
    )
    assert answer.status_code == 302
    assert not Entry.objects.exists(), "a week old: that record is closed"
    with clock.at(dt.datetime(2026, 11, 18, 10, 20, tzinfo=dt.UTC)):
        as_instructor.post(
            to(earlier, "record_entry"), typed(earlier.curl, 7, do="save", reps_both="6", quality_both="2")
        )
    page = text_of(as_instructor.get(to(held), {"item": held.curl.public_id}))
    assert "last 6" in page and "last 2" in page


SAVES = {
    "as planned": (
        "scooter", {"do": "as_planned", "reps_left": "3"}, "done", {"left": 8, "right": 8}, {"springs", "bar"}
    ),
    "fewer left": (
        "scooter", {"do": "save", "reps_left": "6", "reps_right": "8"}, "changed", {"left": 6, "right": 8},
        set(),
    ),
    "right empty": (
        "scooter", {"do": "save", "reps_left": "10", "reps_right": ""}, "changed", {"left": 10}, set()
    ),
    "right not done": (
        "scooter", {"do": "save", "reps_left": "8", "reps_right": "8", "without_right": "1"}, "changed",
        {"left": 8}, set(),
    ),
    "nought": ("curl", {"do": "save", "reps_both": "0"}, "changed", {"both": 0}, set()),
    "as the plan has it": ("curl", {"do": "save", "reps_both": "8"}, "done", {"both": 8}, set()),
    "skipped": ("curl", {"do": "skip", "reps_both": "8"}, "skipped", {}, set()),
    "right of a left-only row is not taken": (
        "clam", {"do": "save", "reps_left": "8", "reps_right": "8"}, "done", {"left": 8}, set()
    ),
    "left of a row without sides is not taken": (
        "curl", {"do": "save", "reps_left": "8"}, "changed", {}, set()
    ),
}  # fmt: skip


@pytest.mark.parametrize("name, values, state, sides, setting", SAVES.values(), ids=SAVES)
def test_what_a_touch_saves(as_instructor, held, name, values, state, sides, setting):
    answer = as_instructor.post(to(held, "record_entry"), typed(getattr(held, name), **values))
    assert answer.status_code == 302
    entry = Entry.objects.get()
    assert entry.state == state and set(entry.setting) == setting
    assert {side.side: side.repetitions for side in entry.sides.all()} == sides


def test_springs_are_kept_peg_by_peg(as_instructor, held):
    pegs = [f"{held.light.public_id}:1", f"{held.light.public_id}:2", f"{held.heavy.public_id}:1"]
    as_instructor.post(
        to(held, "record_entry"), typed(held.scooter, do="save", reps_left="8", springs=pegs, bar="low")
    )
    setting = Entry.objects.get().setting
    counts = {row["name"]: (row["count"], row["grade"]) for row in setting["springs"]}
    assert counts == {"Light": (2, "light"), "Heavy": (1, "heavy")} and setting["bar"] == "low"


def test_saving_goes_to_the_row_the_button_names(as_instructor, held):
    answer = as_instructor.post(to(held, "record_entry"), typed(held.scooter, do="skip"))
    assert answer.url == f"{to(held)}?item={held.clam.public_id}"
    for number, item in enumerate((held.clam, held.stand)):
        answer = as_instructor.post(to(held, "record_entry"), typed(item, number, do="skip"))
    assert answer.url == f"{to(held)}?item={held.curl.public_id}"
    answer = as_instructor.post(to(held, "record_entry"), typed(held.curl, 5, do="as_planned"))
    assert answer.url == to(held, "record_close")


def test_htmx_gets_the_next_form_spoken_and_with_its_address(as_instructor, held):
    answer = as_instructor.post(
        to(held, "record_entry"), typed(held.curl, do="as_planned"), headers={"HX-Request": "true"}
    )
    page = text_of(answer)
    assert page.lstrip().startswith("<form") and "<html" not in page
    assert "<h1 data-focus>Scooter</h1>" in page
    assert "Now Scooter, 2 of 4." in answer["HX-Trigger"]
    assert answer["HX-Replace-Url"] == f"{to(held)}?item={held.scooter.public_id}"


BAD = {
    "too many": {"reps_left": "999"},
    "below nought": {"reps_left": "-1"},
    "no number": {"reps_left": "eight"},
}


@pytest.mark.parametrize("values", BAD.values(), ids=BAD)
@pytest.mark.parametrize("htmx", [True, False], ids=["htmx", "plain"])
def test_bad_input_keeps_what_was_typed_and_says_what_to_do(as_instructor, held, values, htmx):
    values = {**values, "reps_right": "7", "note": "<b>slow</b>", "quality_left": "2", "felt_pinch_left": "1"}
    headers = {"HX-Request": "true"} if htmx else {}
    answer = as_instructor.post(
        to(held, "record_entry"), typed(held.scooter, do="save", **values), headers=headers
    )
    page = text_of(answer)
    assert answer.status_code == 422 and not Entry.objects.exists()
    assert "Say a whole number from 0 to 200, or leave it empty." in page
    assert f'value="{values["reps_left"]}"' in page and 'value="7"' in page
    assert "&lt;b&gt;slow&lt;/b&gt;" in page
    assert re.search(r'name="felt_pinch_left"[^>]*checked', page)
    assert re.search(r'name="quality_left" id="id_quality_left_2" value="2" checked', page)


def test_a_row_of_another_plan_is_as_good_as_missing(as_instructor, held, instructor):
    other = make_session(instructor, wall_time=dt.time(12))
    answer = as_instructor.post(to(held, "record_entry"), typed(other.curl, do="as_planned"))
    assert answer.status_code == 404
    assert as_instructor.get(to(held), {"item": other.curl.public_id}).status_code == 404


def test_undo_goes_back_to_the_row(as_instructor, held):
    as_instructor.post(to(held, "record_entry"), typed(held.curl, do="as_planned"))
    answer = as_instructor.post(to(held, "record_undo"))
    assert answer.url == f"{to(held)}?item={held.curl.public_id}" and not Entry.objects.exists()
    answer = as_instructor.post(to(held, "record_undo"), follow=True)
    assert "There is nothing to take back." in text_of(answer)


# flags that change meanwhile


def test_a_flag_that_changes_is_noticed_and_acknowledged_with_what_was_typed_kept(as_instructor, held, now):
    assert as_instructor.get(to(held, "record_flags_changed")).status_code == 204
    flag = FlagFactory(client=held.client, condition="pregnancy", created_by=held.instructor, state=None)
    with clock.at(now + dt.timedelta(minutes=2)):
        FlagStatusFactory(flag=flag, state="active")
    with clock.at(now + dt.timedelta(minutes=3)):
        notice = as_instructor.get(to(held, "record_flags_changed"))
        assert "Flags changed at 10:17" in text_of(notice) and "Pregnancy" in text_of(notice)
        assert "Flags changed at 10:17" in text_of(as_instructor.get(to(held)))
        shown = re.search(r'name="shown_until" value="([^"]+)"', text_of(notice))[1]
        answer = as_instructor.post(
            to(held, "record_flags_seen"), typed(held.curl, shown_until=shown, reps_both="5")
        )
        assert 'value="5"' in text_of(answer) and "Flags changed at" not in text_of(answer)
        held.record.refresh_from_db()
        assert held.record.flags_seen_at == clock.now()
    assert AuditEntry.objects.filter(action="record.flags_seen").count() == 1


# who, and until when


WRITES = {
    "record_entry": {"do": "as_planned"},
    "record_undo": {},
    "record_stop": {"do": "stop_session"},
    "record_close": {"version": "1"},
    "record_sign_off": {},
    "record_flags_seen": {},
}


@pytest.mark.parametrize("name, values", WRITES.items(), ids=WRITES)
def test_somebody_else_is_told_whose_record_it_is(as_other_instructor, held, name, values):
    answer = as_other_instructor.post(to(held, name), typed(held.curl, **values))
    assert answer.status_code == 403
    assert "Maris recorded this session and alone may change it." in text_of(answer)
    assert not Entry.objects.exists() and not Incident.objects.exists()


def test_somebody_else_reads_and_adds_and_the_reading_is_on_file(as_other_instructor, held):
    page = text_of(as_other_instructor.get(to(held)))
    assert "save-next" not in page and "Maris wrote this record and alone may change it." in page
    answer = as_other_instructor.post(
        to(held, "record_addition"), {"words": "Rang: 王 feels well."}, follow=True
    )
    page = text_of(answer)
    assert "Rang: 王 feels well." in page and "25 Nov 2026, 10:15, Corin" in page
    assert AuditEntry.objects.filter(action="record.read", person__call_name="Corin").exists()


RECORD_ADDRESSES = (
    "record", "record_start", "record_flags_changed", "record_flags_seen", "record_entry", "record_undo",
    "record_stop", "record_close", "record_sign_off", "record_addition",
)  # fmt: skip


@pytest.mark.parametrize("name", RECORD_ADDRESSES)
@pytest.mark.parametrize("method", ["get", "post"])
def test_the_desk_is_refused_everywhere(as_desk, held, name, method):
    answer = getattr(as_desk, method)(to(held, name), typed(held.curl, do="as_planned", words="hello"))
    assert answer.status_code == 403 and not Entry.objects.exists()


def test_after_a_day_editing_is_refused_and_an_addition_is_offered(as_instructor, held):
    with clock.at(dt.datetime(2026, 11, 26, 11, 0, tzinfo=dt.UTC)):
        answer = as_instructor.post(to(held, "record_entry"), typed(held.curl, do="as_planned"), follow=True)
        page = text_of(answer)
        assert "This record is closed to changes. Add a dated line instead." in page
        assert "Add a dated line" in page and not Entry.objects.exists()
        answer = as_instructor.post(to(held, "record_addition"), {"words": "Done as planned."}, follow=True)
        assert "Done as planned." in text_of(answer)


# the close


def test_closing_with_everything_blank(as_instructor, held):
    page = text_of(as_instructor.get(to(held, "record_close")))
    version = re.search(r'name="version" value="(\d+)"', page)[1]
    answer = as_instructor.post(to(held, "record_close"), {"version": version}, follow=True)
    assert "The session is closed." in text_of(answer)
    record = Record.objects.get()
    assert record.finished_at and (record.effort, record.pain, record.next_time) == (None, None, "")
    held.attendance.refresh_from_db()
    assert held.attendance.state == "done"


def test_two_who_close_see_both_texts(as_instructor, held):
    first = {"version": "1", "next_time": "Very light spring first"}
    second = {"version": "1", "next_time": "Left arm tired early", "effort": "6"}
    assert as_instructor.post(to(held, "record_close"), first).status_code == 302
    answer = as_instructor.post(to(held, "record_close"), second)
    page = text_of(answer)
    assert answer.status_code == 409
    assert "Very light spring first" in page and "Left arm tired early" in page
    version = re.findall(r'name="version" value="(\d+)"', page)
    assert version == ["2"]
    as_instructor.post(to(held, "record_close"), {**second, "version": "2"})
    assert Record.objects.get().next_time == "Left arm tired early"


def test_the_next_start_carries_over_and_says_what_was_stopped(as_instructor, held, now):
    as_instructor.post(to(held, "record_stop"), typed(held.scooter, do="stop_exercise", sign="pain"))
    close = {"version": "1", "next_time": "Very light spring first", "next_apparatus": "chair"}
    as_instructor.post(to(held, "record_close"), close)
    following = make_session(
        held.instructor, started=False, client=held.client,
        wall_day=DAY + dt.timedelta(days=7),
    )  # fmt: skip
    page = text_of(as_instructor.get(to(following)))
    assert "Very light spring first" in page and "Chair" in page
    assert "Stopped: Scooter, Pain" in page
