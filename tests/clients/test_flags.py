"""Flags: settled, added, changed by a newer one, rested, ended, woken, with their history."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from clients.models import Flag
from library.precautions import judge
from sessions.demo.factories import ClientFactory, FlagFactory, SubmissionFactory
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
