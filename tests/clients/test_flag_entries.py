"""Flags: added, changed by a newer one, never edited, and found only through their client."""

import datetime as dt

import pytest
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
