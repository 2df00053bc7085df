"""The chips of the recording screen: an instructor's own most used notes, touched instead of typed."""

import pytest
from django.urls import reverse

from sessions import phrases
from sessions.demo import factories as f
from sessions.models import Entry
from tests.sessions.recorded import entry_id, make_session, queries_of

OURS = ("stopped",)


def said(*notes):
    """Return (note, client) as if two clients took turns."""
    return [(note, number % 2) for number, note in enumerate(notes)]


# Five at a time is the design's figure; three uses by two clients is the house's own.
@pytest.mark.parametrize(
    ("notes", "expected"),
    [
        (said(*["Neck gripped"] * 3), ["Neck gripped"]),
        (said(*["Neck gripped"] * 2), []),
        ([("Left knee of hers", 1)] * 9, []),
        (
            said("Neck gripped; slow", "neck gripped.; Slow", "Neck gripped; slow"),
            ["Neck gripped", "slow"],
        ),
        (said(*["Stopped."] * 4), []),
        (said(*["x" * (phrases.LONGEST + 1)] * 4), []),
        (said(*[word for word in "abcdefg" for _ in range(4)]), ["a", "b", "c", "d", "e"]),
    ],
    ids=["three", "twice", "one client", "parts and capitals", "the program's", "long", "five"],
)
def test_most_used(notes, expected):
    assert phrases.most_used(notes, OURS) == expected


@pytest.mark.parametrize(
    ("ticked", "typed", "expected"),
    [
        (["Neck gripped"], "", "Neck gripped"),
        (["Neck gripped"], "tired", "Neck gripped; tired"),
        (["Neck gripped"], "neck gripped; tired", "Neck gripped; tired"),
        ([], "", ""),
    ],
    ids=["chip", "chip and words", "typed too", "nothing"],
)
def test_one_note_and_apart_again(ticked, typed, expected):
    assert phrases.joined(ticked, typed) == expected
    assert phrases.parted(expected, ticked)[0] == ticked


@pytest.mark.django_db
class TestOnTheFloor:
    @pytest.fixture
    def held(self, instructor, now):
        held = make_session(instructor)
        for _client in range(2):
            record = f.RecordFactory(attendance__booking__instructor=instructor, author=instructor)
            for _entry in range(2):
                f.EntryFactory(record=record, author=instructor, note="Neck gripped")
        return held

    def post(self, held, browser, **values):
        url = reverse("sessions:record_entry", args=[held.attendance.public_id])
        whole = {"item": held.curl.public_id, "id": str(entry_id(1)), "do": "as_planned", **values}
        return browser.post(url, whole, HTTP_HX_REQUEST="true")

    def screen(self, held, browser):
        url = reverse("sessions:record", args=[held.attendance.public_id])
        return browser.get(url, {"item": held.curl.public_id})

    def test_offers_them_and_one_query_finds_them(self, held, as_instructor):
        page = self.screen(held, as_instructor)
        assert page.context["phrases"] == [("Neck gripped", "Neck gripped")]
        before = queries_of(lambda: self.screen(held, as_instructor))
        Entry.objects.filter(note="Neck gripped").update(note="")
        assert queries_of(lambda: self.screen(held, as_instructor)) == before

    def test_of_nobody_else(self, held, as_other_instructor, other_instructor):
        other = make_session(other_instructor, client=f.ClientFactory())
        held_by = f.RecordFactory(attendance=other.attendance) if other.record is None else other.record
        held_by.author = other_instructor
        held_by.save()
        assert self.screen(other, as_other_instructor).context["phrases"] == []

    def test_a_chip_and_typed_words_are_one_note_that_comes_back_apart(self, held, as_instructor):
        self.post(held, as_instructor, phrases=["Neck gripped"], note="more pillow")
        entry = Entry.objects.get(record=held.record)
        assert (entry.note, entry.state) == ("Neck gripped; more pillow", Entry.State.DONE)
        values = self.screen(held, as_instructor).context["values"]
        assert (values["phrases"], values["note"]) == (["Neck gripped"], "more pillow")

    def test_too_much_says_so_and_keeps_both(self, held, as_instructor):
        typed = "y" * 195
        answer = self.post(held, as_instructor, phrases=["Neck gripped"], note=typed)
        assert answer.status_code == 422 and not Entry.objects.filter(record=held.record).exists()
        assert "Too much for one note" in answer.content.decode()
        values = answer.context["values"]
        assert (values["phrases"], values["note"]) == (["Neck gripped"], typed)
