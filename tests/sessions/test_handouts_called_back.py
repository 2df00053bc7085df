"""A handout that has become wrong is called back until a new one is issued or somebody closes it.

That forward rounding is left out with osteoporosis: Giangregorio LM et al., Too Fit To Fracture,
Osteoporos Int 2015;26:891-910, table 5. Lying long on the back from the middle of pregnancy on: ACOG
Committee Opinion 804, 2020, cited from memory.
"""

import datetime as dt

import pytest
from django.urls import reverse

from clients.models import FlagStatus
from sessions.call_backs import is_closed, wrong_items
from sessions.demo import factories as f
from sessions.models import HomePractice, open_call_backs
from studio import clock
from studio.models import AuditEntry
from tests.sessions.home_steps import add, page, url

TODAY = dt.date(2026, 11, 25)
ROUNDING = {
    "id": "rounding",
    "demands": ["end_range_spinal_flexion"],
    "demand_sides": {},
    "position": "seated",
    "adaptations": [],
}
QUIET = {"id": "quiet", "demands": [], "demand_sides": {}, "position": "seated", "adaptations": []}


class Condition:
    """A flag as the judge reads it."""

    instruction, verdict, words, by, until, due = None, "", "", "", None, None

    def __init__(self, condition, side=None, on=None):
        self.condition, self.side, self.on = condition, side, on


def item(*facts, verdict="none") -> dict:
    return {
        "key": facts[0]["id"],
        "facts": list(facts),
        "sides": "",
        "adaptations": [],
        "verdict": verdict,
    }


OSTEOPOROSIS = [Condition("osteoporosis")]


@pytest.mark.parametrize(
    ("items", "flags", "found"),
    [
        ([item(ROUNDING)], OSTEOPOROSIS, [("rounding", "none", "avoid")]),
        ([item(ROUNDING, verdict="modify")], OSTEOPOROSIS, [("rounding", "modify", "avoid")]),
        ([item(ROUNDING, verdict="avoid")], OSTEOPOROSIS, []),
        ([item(QUIET), item(ROUNDING)], OSTEOPOROSIS, [("rounding", "none", "avoid")]),
        ([item(QUIET)], OSTEOPOROSIS, []),
        ([item(QUIET, ROUNDING)], OSTEOPOROSIS, [("quiet", "none", "avoid")]),
        ([item(ROUNDING, QUIET)], OSTEOPOROSIS, [("rounding", "none", "avoid")]),
        ([item(ROUNDING)], [], []),
    ],
    ids=[
        "became avoid",
        "became stricter",
        "as strict as before",
        "one of two",
        "not concerned",
        "the exercise is known better now",
        "the exercise was changed since, the paper was not",
        "no flags",
    ],
)
def test_what_has_become_wrong(items, flags, found):
    wrong = wrong_items(items, flags, TODAY)
    assert [(one.key, one.before, one.verdict) for one in wrong] == found


@pytest.mark.parametrize(
    ("closings", "flags", "closed"),
    [
        ([], {1}, False),
        ([({1}, {"rounding": "avoid"})], {1}, True),
        ([({1, 2}, {"rounding": "avoid"})], {1}, True),
        ([({1}, {"rounding": "avoid"})], {1, 2}, False),
        ([({1}, {"rounding": "watch"})], {1}, False),
        ([({1}, {})], {1}, False),
        ([({2}, {"rounding": "avoid"}), ({1}, {"rounding": "avoid"})], {1}, True),
    ],
    ids=[
        "never closed",
        "closed",
        "a flag has ended since",
        "one more flag since",
        "stricter since",
        "another exercise since",
        "closed the second time",
    ],
)
def test_how_long_it_stays_closed(closings, flags, closed):
    wrong = wrong_items([item(ROUNDING)], OSTEOPOROSIS, TODAY)
    assert is_closed(closings, flags, wrong) is closed


# With rows.

db = [pytest.mark.django_db, pytest.mark.usefixtures("now")]
SHEET = ["mat_spine_stretch", "mat_roll_up", "mat_clam"]


def at(name, handout) -> str:
    return reverse(f"sessions:{name}", args=[handout.public_id])


class TestOnScreen:
    pytestmark = db

    @pytest.fixture
    def made(self):
        return f.HandoutFactory(exercises=SHEET, client__full_name="Bashir Lanternby")

    def test_a_new_flag_calls_it_back_on_the_day_list_and_the_clients_page(self, as_instructor, made):
        client_page = reverse("sessions:client", args=[made.client.public_id])
        for address in (reverse("sessions:today"), client_page):
            assert "Call back the handout" not in page(as_instructor.get(address))
        f.FlagFactory(client=made.client, condition="osteoporosis")
        today = page(as_instructor.get(reverse("sessions:today")))
        assert "Bashir Lanternby" in today
        for shown in (today, page(as_instructor.get(client_page))):
            assert "Call back the handout of 25 November." in shown
            assert "Now to be left out: Spine stretch forward, Roll-up." in shown
            assert at("handout", made) in shown

    def test_its_page_says_why(self, as_instructor, made):
        f.FlagFactory(client=made.client, condition="osteoporosis")
        shown = page(as_instructor.get(at("handout", made)))
        assert "Call this one back" in shown
        assert "Osteoporosis" in shown
        assert "Giangregorio" in shown

    def test_the_old_pdf_stays_as_it_is(self, as_instructor, made):
        before = bytes(made.pdf)
        f.FlagFactory(client=made.client, condition="osteoporosis")
        assert as_instructor.get(at("handout_pdf", made)).content == before

    def test_a_proposed_flag_calls_nothing_back(self, instructor, made):
        f.FlagFactory(client=made.client, condition="osteoporosis", state="proposed")
        assert open_call_backs(instructor, TODAY) == []

    def test_a_flag_that_has_ended_calls_nothing_back(self, instructor, made):
        flag = f.FlagFactory(client=made.client, condition="osteoporosis")
        assert len(open_call_backs(instructor, TODAY)) == 1
        f.FlagStatusFactory(flag=flag, state=FlagStatus.State.ENDED)
        assert open_call_backs(instructor, TODAY) == []

    def test_somebody_elses_flag_calls_nothing_back(self, instructor, made):
        f.FlagFactory(condition="osteoporosis")
        assert open_call_backs(instructor, TODAY) == []

    def test_it_ends_when_a_new_one_is_issued(self, as_instructor, instructor, made, monkeypatch):
        monkeypatch.setattr("sessions.pdf.available", lambda **_: (False, "none here"))
        f.FlagFactory(client=made.client, condition="osteoporosis")
        assert len(open_call_backs(instructor, TODAY)) == 1
        for key in ("mat_clam", "mat_bridge_hold"):
            add(as_instructor, made.client, key)
        body = {"version": HomePractice.objects.get().version}
        as_instructor.post(url(made.client, "home_issue"), body)
        assert made.client.handouts.count() == 2
        assert open_call_backs(instructor, TODAY) == []

    def test_it_ends_when_somebody_closes_it_with_a_reason(self, as_instructor, instructor, made):
        flag = f.FlagFactory(client=made.client, condition="osteoporosis")
        answer = as_instructor.post(at("call_back", made), {"reason": "Rang: left both out."}, follow=True)
        shown = page(answer)
        assert "Rang: left both out." in shown
        assert "Call this one back" not in shown
        closed = made.call_backs_closed.get()
        assert closed.flag_ids == [flag.pk]
        assert closed.verdicts == {"mat_spine_stretch": "avoid", "mat_roll_up": "avoid"}
        assert closed.author == instructor
        assert AuditEntry.objects.filter(action="call_back.closed", thing_id=made.public_id).count() == 1
        assert open_call_backs(instructor, TODAY) == []

    def test_a_reason_is_needed(self, as_instructor, instructor, made):
        f.FlagFactory(client=made.client, condition="osteoporosis")
        answer = as_instructor.post(at("call_back", made), {"reason": "  "})
        assert answer.status_code == 422
        assert "Say what was done" in page(answer)
        assert len(open_call_backs(instructor, TODAY)) == 1

    def test_a_long_reason_is_told_and_kept(self, as_instructor, made):
        f.FlagFactory(client=made.client, condition="osteoporosis")
        answer = as_instructor.post(at("call_back", made), {"reason": "Rang. " + "x" * 300})
        assert answer.status_code == 422
        assert "Rang. xxx" in page(answer)

    def test_one_more_flag_opens_it_again(self, as_instructor, instructor, made):
        f.FlagFactory(client=made.client, condition="osteoporosis")
        as_instructor.post(at("call_back", made), {"reason": "Rang: left both out."})
        f.FlagFactory(client=made.client, condition="disc_flexion_intolerant")
        (again,) = open_call_backs(instructor, TODAY)
        assert {one["key"] for one in again.exercises} >= {"mat_spine_stretch", "mat_roll_up"}

    def test_closing_what_is_not_open_says_so(self, as_instructor, made):
        answer = as_instructor.post(at("call_back", made), {"reason": "Why not."}, follow=True)
        assert "nothing left to close" in page(answer)
        assert not made.call_backs_closed.exists()

    def test_time_alone_can_call_it_back(self, instructor):
        """Due in six months nothing is said against lying down; two months later it is."""
        made = f.HandoutFactory(exercises=["mat_bridge_hold", "mat_clam"])
        f.FlagFactory(client=made.client, condition="pregnancy", due_on=dt.date(2027, 5, 26))
        early = {
            one["key"]: one["verdict"]["verdict"]
            for c in open_call_backs(instructor, TODAY)
            for one in c.exercises
        }
        late = {
            one["key"]: one["verdict"]["verdict"]
            for c in open_call_backs(instructor, dt.date(2027, 1, 25))
            for one in c.exercises
        }
        assert early.get("mat_bridge_hold") != "avoid"
        assert late["mat_bridge_hold"] == "avoid"

    def test_a_client_who_left_is_called_back_by_the_owner_only(self, instructor, owner, made):
        f.FlagFactory(client=made.client, condition="osteoporosis")
        made.client.archived_on = TODAY
        made.client.save()
        assert open_call_backs(instructor, TODAY) == []
        assert len(open_call_backs(owner, TODAY)) == 1

    def test_the_desk_sees_none(self, desk, made):
        f.FlagFactory(client=made.client, condition="osteoporosis")
        assert open_call_backs(desk, TODAY) == []

    def test_it_carries_whose_it_is_and_why(self, instructor, made):
        flag = f.FlagFactory(client=made.client, condition="osteoporosis")
        (found,) = open_call_backs(instructor, TODAY)
        assert (found.client, found.handout, found.flag_ids) == (made.client, made, [flag.pk])
        assert {reason["condition"] for reason in found.reasons} == {"osteoporosis"}

    @pytest.mark.parametrize("count", [2, 12])
    def test_six_queries_however_many_there_are(self, instructor, count, django_assert_num_queries):
        for _ in range(count):
            made = f.HandoutFactory(exercises=SHEET)
            f.FlagFactory(client=made.client, condition="osteoporosis")
        with django_assert_num_queries(6):
            assert len(open_call_backs(instructor, TODAY)) == count

    def test_the_page_takes_the_day_from_the_clock(self, as_instructor, made):
        f.FlagFactory(client=made.client, condition="osteoporosis")
        with clock.at(dt.datetime(2026, 12, 1, 9, tzinfo=dt.UTC)):
            assert "Call back the handout" in page(as_instructor.get(reverse("sessions:today")))
