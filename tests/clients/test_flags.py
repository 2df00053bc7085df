"""Flags: settled, added, changed by a newer one, rested, ended, woken, with their history."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from clients.models import Flag, FlagStatus
from library.precautions import judge
from sessions.demo.factories import ClientFactory, FlagFactory, InstructionFactory, SubmissionFactory
from studio.models import AuditEntry

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]

TODAY = dt.date(2026, 11, 25)
LETTER = {
    "about": "arm_push_pull_loaded",
    "verdict": "none",
    "words": "May push and pull as she likes.",
    "clinician": "A. Thornquill, physiotherapist",
    "dated": "2026-11-01",
    "until_on": "",
    "side": "left",
}


@pytest.fixture
def client(house):
    return ClientFactory(birth_date=dt.date(1980, 5, 3))


def board(client):
    return reverse("clients:flags", args=[client.public_id])


def state_address(flag):
    return reverse("clients:flag_state", args=[flag.client.public_id, flag.public_id])


def change_address(flag):
    return reverse("clients:flag_change", args=[flag.client.public_id, flag.public_id])


def text_of(answer):
    return answer.content.decode()


def state_of(flag):
    return Flag.objects.with_state().get(pk=flag.pk).state


# The board


def test_board_shows_each_flag_under_its_state(as_instructor, client):
    FlagFactory(client=client, condition="scoliosis", state="proposed")
    FlagFactory(client=client, condition="frozen_shoulder", side="left")
    FlagFactory(client=client, condition="migraine", state="resting")
    FlagFactory(client=client, condition="asthma", state="ended")
    answer = as_instructor.get(board(client))
    shown = {name: [card["title"] for card in answer.context[name]] for name in ("proposed", "active")}
    assert shown == {"proposed": ["Scoliosis"], "active": ["Frozen shoulder (adhesive capsulitis)"]}
    assert [card["title"] for card in answer.context["resting"]] == ["Migraine"]
    assert [card["title"] for card in answer.context["ended"]] == ["Asthma"]


def test_board_reads_are_audited(as_instructor, instructor, client):
    as_instructor.get(board(client))
    entry = AuditEntry.objects.get(action="flags.read")
    assert (entry.person, entry.thing_id, entry.fields) == (instructor, client.public_id, [])


def test_board_says_what_nobody_has_reviewed(as_instructor, client):
    assert "not been reviewed by a licensed clinician" in text_of(as_instructor.get(board(client)))


def test_silence_is_no_permission(as_instructor, client):
    text = text_of(as_instructor.get(board(client)))
    assert "No flags on file" in text
    for word in ("safe", "cleared", "allowed"):
        assert word not in text.casefold()


def test_history_names_author_date_and_reason(as_instructor, client):
    flag = FlagFactory(client=client, condition="migraine")
    as_instructor.post(state_address(flag), {"state": "resting", "reason": "Quiet for a year", "version": 1})
    text = text_of(as_instructor.get(board(client)))
    assert "25 Nov 2026, 10:15, Maris: Quiet for a year" in text


def test_before_the_start_comes_from_the_table(as_instructor, client):
    """Knee replacement: a written word until day 84 after the operation (the table's clearance row)."""
    FlagFactory(client=client, condition="knee_replacement", side="left", on=dt.date(2026, 11, 1))
    answer = as_instructor.get(board(client))
    row = answer.context["before_start"][0]
    assert row["level"] == "written_before_start"
    # 1 November 2026 and 83 days: the last day it holds.
    assert "23 Jan" in row["until"]


def test_before_the_start_looks_at_proposed_flags_too(as_instructor, client):
    FlagFactory(client=client, condition="stroke", state="proposed")
    assert as_instructor.get(board(client)).context["before_start"]


def test_what_is_still_to_ask(as_instructor, client):
    SubmissionFactory(client=client, answers={"groups": {"eyes_neuro": "not_sure"}})
    assert "Ask about eyes, head and nerves: not sure" in text_of(as_instructor.get(board(client)))


def test_pregnancy_shows_weeks_today(as_instructor, client):
    """Due 1 June 2027: 280 - 188 days on 25 November 2026 = 92 = 13 weeks 1 day."""
    FlagFactory(client=client, condition="pregnancy", due_on=dt.date(2027, 6, 1))
    assert "today 13 weeks 1 day<" in text_of(as_instructor.get(board(client)))


def test_overdue_pregnancy_asks_about_the_birth(as_instructor, client):
    FlagFactory(client=client, condition="pregnancy", due_on=dt.date(2026, 11, 1))
    assert "ask whether the baby is born" in text_of(as_instructor.get(board(client)))


def test_board_takes_the_same_queries_for_two_and_for_twelve(as_instructor, client):
    def count():
        with CaptureQueriesContext(connection) as found:
            as_instructor.get(board(client))
        return len(found)

    def add(number):
        for place in range(number):
            state = ("proposed", "active", "resting", "ended")[place % 4]
            FlagFactory(client=client, condition="migraine", state=state, submission=form)

    form = SubmissionFactory(client=client)
    add(2)
    count()
    two = count()
    add(10)
    assert count() == two


# One step in a flag's life


@pytest.mark.parametrize(
    ("now", "state", "reason", "becomes"),
    [
        pytest.param("proposed", "active", "", "active", id="confirm as it is"),
        pytest.param("proposed", "ended", "Meant her sister", "ended", id="not a flag"),
        pytest.param("active", "resting", "Quiet", "resting", id="rest"),
        pytest.param("active", "ended", "Healed", "ended", id="end"),
        pytest.param("resting", "active", "Back again", "active", id="wake"),
        pytest.param("resting", "ended", "Healed", "ended", id="end a resting one"),
        pytest.param("ended", "active", "Back again", "active", id="wake an ended one"),
        pytest.param("proposed", "ended", "", "proposed", id="not a flag without a reason"),
        pytest.param("active", "resting", "  ", "active", id="rest without a reason"),
        pytest.param("active", "ended", "", "active", id="end without a reason"),
        pytest.param("resting", "active", "", "resting", id="wake without a reason"),
        pytest.param("proposed", "resting", "Why not", "proposed", id="proposed cannot rest"),
        pytest.param("ended", "resting", "Why not", "ended", id="ended cannot rest"),
        pytest.param("active", "active", "Again", "active", id="active already"),
    ],
)
def test_steps(as_instructor, instructor, client, now, state, reason, becomes):
    flag = FlagFactory(client=client, condition="migraine", state=now)
    as_instructor.post(state_address(flag), {"state": state, "reason": reason, "version": 1})
    assert state_of(flag) == becomes
    steps = list(flag.statuses.all())
    assert len(steps) == (2 if becomes != now else 1)
    if becomes != now:
        assert (steps[-1].author, steps[-1].reason) == (instructor, reason)
        assert AuditEntry.objects.filter(action="flag.state_set", person=instructor).count() == 1


def test_missing_reason_is_said_at_the_flag(as_instructor, client):
    flag = FlagFactory(client=client, condition="migraine")
    answer = as_instructor.post(state_address(flag), {"state": "ended", "reason": "", "version": 1})
    assert answer.status_code == 422
    assert "Say why, in a few words." in text_of(answer)


def test_too_long_a_reason_is_kept(as_instructor, client):
    flag = FlagFactory(client=client, condition="migraine")
    answer = as_instructor.post(state_address(flag), {"state": "ended", "reason": "x" * 301, "version": 1})
    assert answer.status_code == 422
    assert "x" * 301 in text_of(answer)


def test_part_for_htmx_is_the_board_itself(as_instructor, client):
    flag = FlagFactory(client=client, condition="migraine", state="proposed")
    answer = as_instructor.post(
        state_address(flag), {"state": "active", "version": 1}, HTTP_HX_REQUEST="true"
    )
    text = text_of(answer)
    assert text.lstrip().startswith('<div id="flag-board"')
    assert 'id="messages"' in text
    assert "The flag counts from now on." in text


def test_two_at_once_second_is_told(as_instructor, as_owner, client):
    flag = FlagFactory(client=client, condition="migraine", state="proposed")
    as_owner.post(state_address(flag), {"state": "ended", "reason": "Meant her sister", "version": 1})
    answer = as_instructor.post(state_address(flag), {"state": "active", "version": 1}, follow=True)
    assert "Somebody changed this flag a moment ago." in text_of(answer)
    assert state_of(flag) == "ended"


def test_words_to_sort_do_not_count_as_they_are(as_instructor, client):
    flag = FlagFactory(client=client, condition="", about="unsettled", words="No bending.", state="proposed")
    assert "Confirm as it is" not in text_of(as_instructor.get(board(client)))
    as_instructor.post(state_address(flag), {"state": "active", "version": 1})
    assert state_of(flag) == "proposed"


def test_only_active_flags_are_judged(as_instructor, client):
    flag = FlagFactory(client=client, condition="osteoporosis", state="proposed")
    counting = Flag.objects.active().filter(client=client)
    assert judge(counting, "mat_roll_up", TODAY).verdict == "none"
    as_instructor.post(state_address(flag), {"state": "active", "version": 1})
    assert judge(counting.all(), "mat_roll_up", TODAY).verdict == "avoid"


# Adding


def test_condition_is_asked_for_its_side_and_date_first(as_instructor, client):
    place = reverse("clients:flag_add", args=[client.public_id])
    answer = as_instructor.post(place, {"condition": "knee_replacement"})
    text = text_of(answer)
    assert answer.status_code == 200
    assert 'name="side"' in text
    assert 'name="on"' in text
    assert "aria-invalid" not in text
    assert not Flag.objects.exists()


def add_condition(browser, client, **fields):
    place = reverse("clients:flag_add", args=[client.public_id])
    return browser.post(place, {"asked": fields["condition"], **fields})


def test_condition_is_added_and_counts(as_instructor, instructor, client):
    answer = add_condition(
        as_instructor,
        client,
        condition="knee_replacement",
        side="left",
        when="date",
        on="2026-11-01",
        note="Bends to 100 degrees",
    )
    flag = Flag.objects.with_state().get()
    assert answer.status_code == 302
    assert (flag.side, flag.on, flag.note, flag.state) == (
        "left",
        dt.date(2026, 11, 1),
        "Bends to 100 degrees",
        "active",
    )
    assert AuditEntry.objects.get(action="flag.added").person == instructor


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        pytest.param({"condition": ""}, "Choose a condition.", id="none"),
        pytest.param({"condition": "bad_luck"}, "from the list", id="not on the list"),
        pytest.param({"condition": "knee_replacement"}, "Left, right, both, or not known?", id="no side"),
        pytest.param(
            {"condition": "knee_replacement", "side": "left"}, "A date, more than a year ago", id="no date"
        ),
        pytest.param({"condition": "migraine", "note": "x" * 301}, "300 letters at most", id="long note"),
        pytest.param({"condition": "pregnancy", "due_how": "due"}, "Type the due date", id="no due date"),
    ],
)
def test_wrong_condition(as_instructor, client, fields, sentence):
    answer = add_condition(as_instructor, client, **fields)
    assert answer.status_code == 422
    assert sentence in text_of(answer)
    assert not Flag.objects.exists()


def test_same_condition_twice_is_pointed_out(as_instructor, client):
    FlagFactory(client=client, condition="migraine")
    answer = add_condition(as_instructor, client, condition="migraine")
    assert answer.status_code == 422
    assert "on file already" in text_of(answer)
    assert Flag.objects.count() == 1


def add_letter(browser, client, **changed):
    return browser.post(reverse("clients:instruction_add", args=[client.public_id]), {**LETTER, **changed})


def test_instruction_is_added_and_outranks_the_table(as_instructor, client):
    """The rule for frozen shoulder on loaded pushing stands until the clinician lifts it, on that side."""
    FlagFactory(client=client, condition="frozen_shoulder", side="left")
    assert add_letter(as_instructor, client).status_code == 302
    flag = Flag.objects.with_state().exclude(about="").get()
    assert (flag.verdict, flag.clinician, flag.side, flag.state) == (
        "none",
        "A. Thornquill, physiotherapist",
        "left",
        "active",
    )
    text = text_of(as_instructor.get(board(client)))
    assert "May push and pull as she likes." in text
    assert "No rule" in text


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        pytest.param({"about": ""}, "Choose what it is about.", id="about nothing"),
        pytest.param({"about": "dancing"}, "Choose from the list.", id="not on the list"),
        pytest.param({"about": "unsettled"}, "Choose from the list.", id="our own marker"),
        pytest.param({"verdict": ""}, "Avoid, modify, watch, or lifted?", id="no verdict"),
        pytest.param({"words": ""}, "as they said it", id="no words"),
        pytest.param({"words": "x" * 301}, "300 letters at most", id="too many words"),
        pytest.param({"clinician": ""}, "name and the profession", id="nobody"),
        pytest.param({"dated": ""}, "date of the letter", id="not dated"),
        pytest.param({"dated": "2026-11-26"}, "still to come", id="dated tomorrow"),
        pytest.param({"until_on": "2026-11-24"}, "That day is over.", id="over already"),
        pytest.param({"until_on": "soon"}, "day, month, year", id="until when"),
    ],
)
def test_wrong_instruction(as_instructor, client, changed, sentence):
    answer = add_letter(as_instructor, client, **changed)
    text = text_of(answer)
    assert answer.status_code == 422
    assert sentence in text
    assert "clinician" in changed or "A. Thornquill" in text
    assert not Flag.objects.exists()


def test_instruction_until_today_still_holds(as_instructor, client):
    assert add_letter(as_instructor, client, until_on="2026-11-25").status_code == 302


def test_a_movement_without_sides_keeps_none(as_instructor, client):
    add_letter(as_instructor, client, about="inversion")
    assert Flag.objects.get().side == ""


def test_instruction_on_one_exercise(as_instructor, client):
    add_letter(as_instructor, client, about="mat_roll_up", verdict="avoid", side="both")
    assert judge(Flag.objects.active(), "mat_roll_up", TODAY).verdict == "avoid"


def test_instruction_lifts_nothing_before_its_day(client):
    flag = InstructionFactory(
        client=client, about="loaded_spinal_flexion", verdict="none", dated=dt.date(2026, 11, 20)
    )
    both = [flag, FlagFactory(client=client, condition="osteoporosis")]
    after = judge(both, "mat_roll_up", TODAY).demands["loaded_spinal_flexion"].verdict
    before = judge(both, "mat_roll_up", dt.date(2026, 11, 19)).demands["loaded_spinal_flexion"].verdict
    assert (before, after) == ("avoid", "none")


# Changing


def change(browser, flag, **fields):
    return browser.post(change_address(flag), {"version": flag.statuses.count(), **fields})


def test_change_writes_a_new_flag_and_ends_the_old_one(as_instructor, instructor, client):
    old = FlagFactory(client=client, condition="frozen_shoulder", side="left")
    answer = change(as_instructor, old, side="right", reason="It is the other arm")
    new = Flag.objects.with_state().get(replaces=old)
    assert answer.status_code == 302
    assert (new.side, new.state, new.created_by) == ("right", "active", instructor)
    assert (Flag.objects.get(pk=old.pk).side, state_of(old)) == ("left", "ended")
    assert old.statuses.last().reason == "It is the other arm"


def test_change_of_a_proposed_one_confirms_it_and_needs_no_reason(as_instructor, client):
    form = SubmissionFactory(client=client)
    old = FlagFactory(
        client=client, condition="frozen_shoulder", side="unknown", state="proposed", submission=form
    )
    change(as_instructor, old, side="right", reason="")
    new = Flag.objects.with_state().get(replaces=old)
    assert (new.state, new.submission, state_of(old)) == ("active", form, "ended")


def test_change_of_a_resting_one_leaves_it_resting(as_instructor, client):
    old = FlagFactory(client=client, condition="frozen_shoulder", side="left", state="resting")
    change(as_instructor, old, side="right", reason="Other arm")
    assert Flag.objects.with_state().get(replaces=old).state == "resting"


def test_change_needs_a_reason(as_instructor, client):
    old = FlagFactory(client=client, condition="frozen_shoulder", side="left")
    answer = change(as_instructor, old, side="right", reason="")
    assert answer.status_code == 422
    assert "Say why" in text_of(answer)
    assert 'value="right" checked' in text_of(answer)
    assert state_of(old) == "active"


def test_date_on_file_gives_way_to_another_answer(as_instructor, client):
    old = FlagFactory(client=client, condition="whiplash", on=dt.date(2026, 10, 2))
    change(as_instructor, old, when="unknown", on="2026-10-02", reason="She is not sure of the day")
    new = Flag.objects.get(replaces=old)
    assert (new.when, new.event_on) == ("unknown", None)


def test_due_date_on_file_gives_way_to_another_answer(as_instructor, client):
    old = FlagFactory(client=client, condition="pregnancy", due_on=dt.date(2027, 6, 1))
    change(as_instructor, old, due_how="unknown", due="2027-06-01", reason="Waiting for the scan")
    new = Flag.objects.get(replaces=old)
    assert (new.when, new.due_on) == ("unknown", None)


def test_words_from_the_form_are_sorted(as_instructor, client):
    form = SubmissionFactory(client=client)
    old = FlagFactory(
        client=client,
        condition="",
        about="unsettled",
        words="No bending.",
        clinician="Dr Thornquill",
        state="proposed",
        submission=form,
    )
    text = text_of(as_instructor.get(change_address(old)))
    assert "No bending." in text
    assert 'value="Dr Thornquill"' in text
    letter = {**LETTER, "about": "loaded_spinal_flexion", "verdict": "avoid", "words": "No bending."}
    assert change(as_instructor, old, **letter).status_code == 302
    new = Flag.objects.with_state().get(replaces=old)
    assert (new.about, new.verdict, new.state, new.submission) == (
        "loaded_spinal_flexion",
        "avoid",
        "active",
        form,
    )


def test_change_of_one_that_moved_on_keeps_what_was_typed(as_instructor, as_owner, client):
    old = FlagFactory(client=client, condition="migraine")
    as_owner.post(state_address(old), {"state": "resting", "reason": "Quiet", "version": 1})
    answer = as_instructor.post(
        change_address(old), {"version": 1, "note": "Only before storms", "reason": "She told me"}
    )
    text = text_of(answer)
    assert answer.status_code == 409
    assert "Somebody changed this flag" in text
    assert 'value="Only before storms"' in text
    assert 'value="She told me"' in text
    assert Flag.objects.count() == 1


def test_ended_flag_is_not_changed(as_instructor, client):
    old = FlagFactory(client=client, condition="migraine", state="ended")
    answer = as_instructor.get(change_address(old), follow=True)
    assert "That flag has ended." in text_of(answer)


def test_replaced_flag_is_not_woken(as_instructor, client):
    old = FlagFactory(client=client, condition="frozen_shoulder", side="left")
    change(as_instructor, old, side="right", reason="Other arm")
    as_instructor.post(state_address(old), {"state": "active", "reason": "No", "version": 2})
    assert state_of(old) == "ended"


def test_nothing_is_edited_in_place(client):
    flag = FlagFactory(client=client, condition="migraine")
    flag.side = "left"
    with pytest.raises(TypeError):
        flag.save()
    with pytest.raises(TypeError):
        FlagStatus.objects.get().delete()


# Doors


def test_flag_of_another_client_is_missing(as_instructor, client):
    flag = FlagFactory(condition="migraine")
    place = reverse("clients:flag_state", args=[client.public_id, flag.public_id])
    missing = reverse("clients:flag_state", args=[client.public_id, "nothinghere"])
    data = {"state": "ended", "reason": "x", "version": 1}
    one, other = as_instructor.post(place, data), as_instructor.post(missing, data)
    assert (one.status_code, other.status_code) == (404, 404)
    assert state_of(flag) == "active"
    assert (
        as_instructor.get(change_address(flag).replace(flag.client.public_id, client.public_id)).status_code
        == 404
    )


@pytest.mark.parametrize("data", [{"state": "gone", "version": 1}, {"state": "ended", "reason": "x"}])
def test_step_that_is_none_is_missing(as_instructor, client, data):
    flag = FlagFactory(client=client, condition="migraine")
    assert as_instructor.post(state_address(flag), data).status_code == 404
