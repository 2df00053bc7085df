"""What works for one client in one exercise: what is kept, by whom, and where it comes up again."""

import pytest
from django.urls import reverse

from sessions import own_ways
from sessions.actions import own_ways as actions
from sessions.actions import plans as plan_actions
from sessions.actions import records as record_actions
from sessions.demo import factories as f
from sessions.models import Entry, OwnWay
from studio.models import AuditEntry, Stale
from tests.sessions.recorded import make_session, queries_of

pytestmark = pytest.mark.django_db
KEY = "mat_pelvic_curl"
CUE = "Tail first, ribs last."


@pytest.fixture
def held(instructor, now):
    return make_session(instructor)


def own(held) -> OwnWay | None:
    return OwnWay.objects.filter(client=held.client, exercise__key=KEY).first()


def keep(held, cue=CUE) -> OwnWay:
    return actions.worked(actor=held.actor, client=held.client, exercise=held.curl.exercise, cue=cue)


def page(held, name="own_way") -> str:
    return reverse(f"sessions:{name}", args=[held.client.public_id, held.curl.exercise.public_id])


class TestCues:
    # The newest that worked is the one to say; the same sentence is one cue, however it is typed.
    @pytest.mark.parametrize(
        ("cues", "cue", "expected"),
        [
            ([], " Long   legs. ", ["Long legs."]),
            (["One.", "Two."], "Three.", ["Three.", "One.", "Two."]),
            (["One.", "Two."], "Two.", ["Two.", "One."]),
            (["Long legs."], "long legs", ["Long legs."]),
        ],
        ids=["white space", "first", "moves up", "same words"],
    )
    def test_order(self, cues, cue, expected):
        assert own_ways.with_cue(cues, cue) == expected

    def test_notes_that_can_become_one(self):
        notes = ["Neck long.", "", "neck long", "Kept already.", "x" * (own_ways.LONGEST_CUE + 1), "Breathe."]
        assert own_ways.offered(notes, ["kept already"]) == ["Neck long.", "Breathe."]


class TestKeeping:
    def test_twice_is_once_and_one_line_in_the_log(self, held):
        keep(held)
        version = keep(held).version
        assert own(held).cues == [CUE] and version == 1
        lines = AuditEntry.objects.filter(action="own_way.changed")
        assert [line.fields for line in lines] == [["cues"]]

    def test_a_seventh_is_refused_and_nothing_falls_out(self, held):
        for number in range(own_ways.MOST_CUES):
            keep(held, f"Cue {number}.")
        with pytest.raises(actions.Full):
            keep(held, "One more.")
        assert len(own(held).cues) == own_ways.MOST_CUES and "Cue 0." in own(held).cues

    def test_the_range_of_somebody_elses_page_is_refused(self, held):
        keep(held)
        values = {"range": "small", "range_words": ""}
        with pytest.raises(Stale):
            actions.set_range(
                actor=held.actor, client=held.client, exercise=held.curl.exercise, values=values, expected=0
            )
        assert own(held).range == ""


class TestThePage:
    def test_keeps_a_typed_cue(self, held, as_instructor):
        answer = as_instructor.post(page(held), {"do": "worked", "cue": CUE})
        assert answer.url == page(held, "client_exercise") and own(held).cues == [CUE]
        assert CUE in as_instructor.get(page(held, "client_exercise")).content.decode()

    def test_an_empty_cue_says_what_to_do(self, held, as_instructor):
        answer = as_instructor.post(page(held), {"do": "worked", "cue": " "}, HTTP_HX_REQUEST="true")
        assert answer.status_code == 422 and "Type what you said." in answer.content.decode()

    def test_too_many_says_so_and_keeps_what_was_typed(self, held, as_instructor):
        for number in range(own_ways.MOST_CUES):
            keep(held, f"Cue {number}.")
        answer = as_instructor.post(page(held), {"do": "worked", "cue": CUE})
        words = answer.content.decode()
        assert answer.status_code == 422 and "Take one away first" in words and CUE in words

    def test_takes_a_cue_away(self, held, as_instructor):
        keep(held)
        as_instructor.post(page(held), {"do": "drop", "cue": CUE})
        assert own(held).cues == []

    def test_offers_the_notes_of_the_record_without_the_programs_words(self, held, as_instructor):
        f.EntryFactory(record=held.record, exercise__key=KEY, note="Eased: smaller range; Ribs last.")
        f.EntryFactory(record=held.record, exercise__key=KEY, note="stopped")
        assert as_instructor.get(page(held)).context["offered"] == ["Ribs last."]

    def test_the_range_of_two_at_once_shows_both(self, held, as_instructor):
        keep(held)
        own_row = own(held)
        for words in ("to the tape", "to the knee"):
            data = {"do": "range", "range": "medium", "range_words": words, "version": own_row.version}
            answer = as_instructor.post(page(held), data)
        assert answer.status_code == 409 and own(held).range_words == "to the tape"
        assert "medium, to the knee" in answer.content.decode()

    def test_a_range_can_be_wiped_again(self, held, as_instructor):
        for value in ("small", "none"):
            version = own(held).version if own(held) else 0
            data = {"do": "range", "range": value, "range_words": "", "version": version}
            assert as_instructor.post(page(held), data).status_code == 302
            assert own(held).range == {"small": "small", "none": ""}[value]

    def test_prefers_what_was_used_last_and_lets_it_go(self, held, as_instructor):
        setting = {"bar": "low"}
        f.EntryFactory(record=held.record, exercise__key=KEY, setting=setting)
        as_instructor.post(page(held), {"do": "prefer"})
        assert own(held).setting == setting
        as_instructor.post(page(held), {"do": "unprefer"})
        assert own(held).setting == {}

    def test_the_desk_sees_nothing(self, held, as_desk):
        keep(held)
        assert as_desk.get(page(held)).status_code == 403
        client = reverse("sessions:client", args=[held.client.public_id])
        assert CUE not in as_desk.get(client).content.decode()


class TestWhereItComesUp:
    def to(self, held, name) -> str:
        return reverse(f"sessions:{name}", args=[held.attendance.public_id])

    def test_first_on_the_floor_in_one_query(self, held, as_instructor):
        url = self.to(held, "record")
        library = held.curl.content.text["cues"][0]
        assert library in as_instructor.get(url).content.decode()
        before = queries_of(lambda: as_instructor.get(url))
        keep(held)
        words = as_instructor.get(url).content.decode()
        assert CUE in words and library not in words
        assert queries_of(lambda: as_instructor.get(url)) == before

    def test_a_note_of_todays_plan_stands_before_it(self, held, as_instructor):
        keep(held)
        held.curl.note = "Today only the first three."
        held.curl.save()
        words = as_instructor.get(self.to(held, "record")).content.decode()
        assert words.index("Today only the first three.") < words.index(CUE)

    def test_not_with_another_client(self, held, as_instructor):
        f.OwnWayFactory(exercise=held.curl.exercise, cues=["For somebody else."])
        assert "For somebody else." not in as_instructor.get(self.to(held, "record")).content.decode()

    def test_in_the_row_of_the_plan(self, held, as_instructor):
        keep(held)
        url = reverse("sessions:plan_item", args=[held.attendance.public_id, held.curl.public_id])
        assert CUE in as_instructor.get(url).content.decode()

    def test_proposed_for_home_until_something_else_is_typed(self, held, as_instructor):
        keep(held)
        url = reverse("sessions:home_practice", args=[held.client.public_id])
        side = as_instructor.get(url, {"exercise": held.curl.exercise.public_id}).context["side"]
        assert side["new"] and side["form"]["cue"].value() == CUE

    def test_preferred_springs_come_before_the_last(self, held):
        last, preferred = {"bar": "high"}, {"bar": "low"}
        f.EntryFactory(record=held.record, exercise=held.scooter.exercise, setting=last)
        who = {"actor": held.actor, "client": held.client, "exercise": held.scooter.exercise}
        assert actions.setting_for(held.client.pk, held.scooter.exercise) == last
        actions.prefer(**who, setting=preferred)
        added = plan_actions.add_item(
            actor=held.actor, plan=held.plan, exercise=held.scooter.exercise, expected=held.plan.version
        )
        assert added.setting == preferred

    def test_preferred_springs_also_when_the_plan_starts_from_last_time(self, held, instructor):
        f.EntryFactory(record=held.record, exercise=held.scooter.exercise, setting={"bar": "high"})
        actions.prefer(
            actor=held.actor, client=held.client, exercise=held.scooter.exercise, setting={"bar": "low"}
        )
        later = f.AttendanceFactory(client=held.client, booking__instructor=instructor)
        plan = plan_actions.start(actor=held.actor, attendance=later, record=held.record)
        assert plan.items.get().setting == {"bar": "low"}


class TestTheClose:
    def close(self, held, browser, **data):
        url = reverse("sessions:record_close", args=[held.attendance.public_id])
        return browser.post(url, {"version": held.record.version, **data})

    def test_one_touch_keeps_a_note_as_a_cue(self, held, as_instructor):
        entry = f.EntryFactory(record=held.record, exercise=held.curl.exercise, note="Ribs last.")
        other = f.EntryFactory(record=held.record, exercise=held.clam.exercise, note="Neck gripped.")
        self.close(held, as_instructor, worked=[str(entry.pk)])
        assert own(held).cues == ["Ribs last."]
        assert not OwnWay.objects.filter(exercise=other.exercise).exists()

    def test_what_was_skipped_or_is_kept_is_not_asked(self, held, as_instructor):
        keep(held, "Ribs last.")
        f.EntryFactory(record=held.record, exercise=held.curl.exercise, note="ribs last")
        f.EntryFactory(record=held.record, note="No time.", state=Entry.State.SKIPPED)
        url = reverse("sessions:record_close", args=[held.attendance.public_id])
        assert "worked" not in as_instructor.get(url).context["form"].fields

    def test_no_room_is_said_and_the_session_is_closed(self, held, as_instructor):
        for number in range(own_ways.MOST_CUES):
            keep(held, f"Cue {number}.")
        entry = f.EntryFactory(record=held.record, exercise=held.curl.exercise, note="One more.")
        answer = self.close(held, as_instructor, worked=[str(entry.pk)])
        held.record.refresh_from_db()
        assert held.record.finished_at and "One more." not in own(held).cues
        assert "Take one away" in as_instructor.get(answer.url).content.decode()

    def test_a_record_that_is_shut_keeps_nothing(self, held, as_instructor):
        entry = f.EntryFactory(record=held.record, exercise=held.curl.exercise, note="Ribs last.")
        record_actions.sign_off(actor=held.actor, record=held.record)
        self.close(held, as_instructor, worked=[str(entry.pk)])
        assert own(held) is None
