"""Issuing a handout: what it pins, what it never says, what is kept, who may have it again.

Tags and alternative texts: ISO 14289-1:2014 (PDF/UA-1), 7.1 and 7.3, cited from memory. That the front desk
may print what was issued and read nothing else of health is data minimisation, GDPR article 5(1)(c).
"""

import datetime as dt
import json
import re

import pytest
from django.template.loader import render_to_string
from django.urls import reverse

from sessions import handout as paper
from sessions import pdf
from sessions.actions import handouts as actions
from sessions.demo import factories as f
from sessions.models import Handout, HomePractice
from studio.actions.audit import Actor
from studio.models import AuditEntry, Stale
from tests.sessions import pdf_reading as reading
from tests.sessions.home_steps import add, page, save_whole, url
from tests.sessions.pdf_kept import kept_pdfs

__all__ = ["kept_pdfs"]
pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now", "kept_pdfs")]

TODAY = dt.date(2026, 11, 25)


@pytest.fixture
def client():
    client = f.ClientFactory(full_name="Ottoline Brackwater", call_name="Ottoline")
    f.CareProfileFactory(client=client, home_equipment=["wall"])
    return client


@pytest.fixture
def no_engine(monkeypatch):
    """A machine on which no PDF can be made."""
    monkeypatch.setattr(pdf, "available", lambda **_: (False, "libpango is not there"))


def together(browser, client) -> None:
    """Put clam (left 10, right 8), bridge hold and side bend at the wall on the sheet."""
    add(browser, client, "mat_clam", repetitions=10, repetitions_right=8)
    add(browser, client, "mat_bridge_hold", repetitions=4, seconds=12, per_week="4")
    add(browser, client, "st_wall_side_bend", repetitions=5, cue="Grow tall first.")
    save_whole(browser, client, moment="after a walk", look_again_on="2026-12-09")


def issue(browser, client):
    body = {"version": HomePractice.objects.get(client=client).version}
    return browser.post(url(client, "home_issue"), body)


def at(name, handout) -> str:
    return reverse(f"sessions:{name}", args=[handout.public_id])


def test_preview_is_the_page_and_writes_nothing(as_instructor, client):
    together(as_instructor, client)
    shown = page(as_instructor.get(url(client, "home_preview")))
    assert "Not issued yet." in shown
    for words in (
        "For Ottoline.",
        "left leg 10",
        "right leg 8",
        "START",
        "END",
        "Grow tall first.",
        "01632 960100",
    ):
        assert words in shown, words
    assert not re.search(r"<script(?![^>]* src=)", shown)
    assert "<style" not in shown
    assert " style=" not in shown
    assert not Handout.objects.exists()


@pytest.mark.parametrize(
    ("keys", "words"),
    [((), "Two exercises at least"), (("mat_clam",), "Two exercises at least")],
    ids=["none", "one"],
)
def test_fewer_than_two_are_not_issued(as_instructor, client, keys, words):
    f.HomePracticeFactory(client=client, exercises=keys)
    answer = as_instructor.post(url(client, "home_issue"), {"version": 1}, follow=True)
    assert words in page(answer)
    assert not Handout.objects.exists()


def test_what_the_page_lacks_is_told_in_a_sentence(as_instructor, client, house):
    together(as_instructor, client)
    house.telephone = ""
    house.save()
    answer = issue(as_instructor, client)
    assert answer.status_code == 302
    assert "telephone number is missing" in page(as_instructor.get(answer.url))
    assert not Handout.objects.exists()


def test_issuing_pins_versions_and_verdicts_and_numbers(as_instructor, instructor, client, no_engine):
    f.FlagFactory(client=client, condition="frozen_shoulder", side="left")
    f.HandoutFactory(number=41)
    here = f.AttendanceFactory(client=client, booking__wall_day=TODAY, state="arrived")
    add(as_instructor, client, "mat_pelvic_curl")
    add(as_instructor, client, "st_wall_slide", adaptations=["smaller_range"])
    assert issue(as_instructor, client).status_code == 302
    made = client.handouts.get()
    assert (made.number, made.version, made.issued_on, made.author) == (42, 1, TODAY, instructor)
    assert made.attendance == here
    assert made.replaces is None
    pinned = [(one["exercise"], one["version_id"], one["verdict"]["verdict"]) for one in made.verdicts]
    curl, slide = (f.ExerciseFactory(key=key).current_id for key in ("mat_pelvic_curl", "st_wall_slide"))
    assert pinned == [("mat_pelvic_curl", curl, "none"), ("st_wall_slide", slide, "modify")]
    assert made.verdicts[1]["adaptations"] == ["smaller_range"]
    assert made.table_version
    entry = AuditEntry.objects.get(action="handout.issued")
    assert (entry.thing_id, entry.person) == (made.public_id, instructor)


def test_a_new_one_replaces_the_current_one(as_instructor, client, no_engine):
    together(as_instructor, client)
    issue(as_instructor, client)
    issue(as_instructor, client)
    first, second = client.handouts.order_by("number")
    assert (second.replaces, second.version, second.number) == (first, 2, first.number + 1)
    assert list(Handout.objects.current()) == [second]
    assert "replaced by handout" in page(as_instructor.get(at("handout", first)))
    assert "the current one" in page(as_instructor.get(at("handout", second)))


def test_a_second_touch_on_the_same_sheet_issues_nothing(as_instructor, client, no_engine):
    together(as_instructor, client)
    body = {"version": HomePractice.objects.get().version}
    as_instructor.post(url(client, "home_issue"), body)
    answer = as_instructor.post(url(client, "home_issue"), body, follow=True)
    assert client.handouts.count() == 1
    assert "Look it over again" in page(answer)


def test_a_number_taken_meanwhile_is_not_printed_twice(instructor, house, client, monkeypatch):
    f.HomePracticeFactory(client=client, exercises=["mat_clam", "mat_pelvic_curl"])
    practice = HomePractice.objects.get()
    practice.items = [{**item, "taught_on": "2026-11-25"} for item in practice.items]
    practice.save()
    printed = []

    def slow_pdf(html):
        printed.append(html)
        if len(printed) == 1:
            f.HandoutFactory(number=1)
        return b"%PDF-" + str(len(printed)).encode()

    monkeypatch.setattr(pdf, "available", lambda **_: (True, ""))
    monkeypatch.setattr(pdf, "make_pdf", slow_pdf)
    made = actions.issue(
        actor=Actor(person=instructor), studio=house, client=client, expected=practice.version, today=TODAY
    )
    assert made.number == 2
    assert bytes(made.pdf) == b"%PDF-2"
    assert "handout 1," in printed[0]
    assert "handout 2," in printed[1]


def test_a_flag_set_while_the_pdf_is_made_stops_it(instructor, house, client, monkeypatch):
    practice = f.HomePracticeFactory(client=client, exercises=["mat_spine_stretch", "mat_pelvic_curl"])
    practice.items = [{**item, "taught_on": "2026-11-25"} for item in practice.items]
    practice.save()
    monkeypatch.setattr(pdf, "available", lambda **_: (True, ""))
    monkeypatch.setattr(
        pdf, "make_pdf", lambda html: f.FlagFactory(client=client, condition="osteoporosis") and b"%PDF"
    )
    with pytest.raises(actions.NotReady):
        actions.issue(
            actor=Actor(person=instructor),
            studio=house,
            client=client,
            expected=practice.version,
            today=TODAY,
        )
    assert not Handout.objects.exists()


def test_a_sheet_changed_while_the_pdf_is_made_is_not_issued(instructor, house, client, monkeypatch):
    practice = f.HomePracticeFactory(client=client, exercises=["mat_clam", "mat_pelvic_curl"])
    practice.items = [{**item, "taught_on": "2026-11-25"} for item in practice.items]
    practice.save()

    def somebody_changes(html):
        practice.save_version(practice.version, ["moment"], by=instructor, at=f.times.now())
        return b"%PDF"

    monkeypatch.setattr(pdf, "available", lambda **_: (True, ""))
    monkeypatch.setattr(pdf, "make_pdf", somebody_changes)
    expected = practice.version
    with pytest.raises(Stale):
        actions.issue(
            actor=Actor(person=instructor), studio=house, client=client, expected=expected, today=TODAY
        )
    assert not Handout.objects.exists()


# What goes home, read back.

PLANTED = {
    "goal": "Plantedgoal",
    "words": "Plantedinstruction",
    "clinician": "Plantedclinician",
    "note": "Plantedflagnote",
    "answer": "Plantedanswer",
    "record": "Plantedrecord",
}


def everything_on_file(client) -> None:
    f.FlagFactory(client=client, condition="frozen_shoulder", side="left", note=PLANTED["note"])
    f.FlagFactory(client=client, condition="asthma")
    f.InstructionFactory(
        client=client,
        about="side_lying",
        verdict="modify",
        words=PLANTED["words"],
        clinician=PLANTED["clinician"],
    )
    f.GoalFactory(client=client, words=PLANTED["goal"])
    f.SubmissionFactory(client=client, answers={"hurts": PLANTED["answer"]})
    f.RecordFactory(attendance__client=client, next_time=PLANTED["record"])


@pytest.fixture
def issued(as_instructor, client):
    """A handout of three exercises, two of them changed for what is on file, with its real PDF."""
    everything_on_file(client)
    add(
        as_instructor,
        client,
        "mat_clam",
        repetitions=10,
        repetitions_right=8,
        adaptations=["head_on_cushion"],
    )
    add(as_instructor, client, "mat_bridge_hold", repetitions=4, seconds=12, per_week="4")
    add(as_instructor, client, "st_wall_side_bend", repetitions=5, change="Left arm: stop at the tape.")
    save_whole(as_instructor, client, moment="after a walk", look_again_on="2026-12-09")
    answer = issue(as_instructor, client)
    assert answer.status_code == 302
    return client.handouts.get()


FORBIDDEN = [
    *PLANTED.values(),
    "frozen",
    "capsulitis",
    "asthma",
    "osteo",
    "avoid",
    "modify",
    "rule",
    "Brackwater",
    "overhead",
    "verdict",
]


def test_nothing_of_what_is_on_file_goes_home(issued):
    """Planted words, names of conditions and the judge's own words: in payload, text and metadata none."""
    data = bytes(issued.pdf)
    metadata = reading.opened(data)
    said = [
        json.dumps(issued.payload),
        *reading.texts(data),
        str(dict(metadata.docinfo)),
        metadata.Root.Metadata.read_bytes().decode(),
        *(str(element.node.get("/Alt", "")) for element in reading.elements(metadata)),
        *(str(element.node.get("/ActualText", "")) for element in reading.elements(metadata)),
    ]
    for word in FORBIDDEN:
        assert not [text for text in said if word.casefold() in text.casefold()], word
    assert "mat_clam" in said[0]


def test_the_same_words_are_on_file(issued):
    """Otherwise the test above would find nothing because nothing is there."""
    kept = json.dumps(issued.verdicts)
    assert PLANTED["clinician"] in kept
    assert "frozen_shoulder" in kept


def test_the_pdf_says_what_the_sheet_says(issued):
    text = " ".join(reading.texts(bytes(issued.pdf)))
    for words in (
        f"handout {issued.number}, version 1, issued 25 Nov 2026",
        "we look at it again on 9 December",
        "For Ottoline.",
        "after a walk",
        "left leg 10",
        "right leg 8",
        "4 times 12 seconds",
        "four days a week",
        "bend left 5",
        "bend right 5",
        "Left arm: stop at the tape.",
        "Rest your head on a cushion.",
        "01632 960100",
        "999",
    ):
        assert words in text, words


def test_the_pdf_is_tagged_with_a_sentence_for_each_figure(issued):
    document = reading.opened(bytes(issued.pdf))
    assert bool(document.Root.MarkInfo.Marked)
    assert str(document.Root.Lang) == "en-gb"
    alts = [str(element.node.Alt) for element in reading.elements(document, "Figure")]
    for name in ("Clam, side-lying", "Bridge hold", "Side bend at the wall"):
        for phase in ("START", "END"):
            assert [alt for alt in alts if alt.startswith(f"{name}, {phase}")], (name, phase)


def test_reprint_is_the_same_bytes_although_the_exercise_has_new_words(as_instructor, as_desk, issued):
    before = bytes(issued.pdf)
    clam = f.ExerciseFactory(key="mat_clam")
    words = {**clam.current.text, "client": {"how": "Quite other words.", "breath": "", "easier": ""}}
    payload = {**clam.current.payload, "text": words}
    clam.current = f.ExerciseVersionFactory(exercise=clam, payload=payload)
    clam.save()
    for browser in (as_instructor, as_desk):
        answer = browser.get(at("handout_pdf", issued))
        assert answer.content == before
        assert answer["Content-Type"] == "application/pdf"
        assert answer["Content-Disposition"] == f'inline; filename="handout-{issued.number}.pdf"'
        assert "no-store" in answer["Cache-Control"]
    printed = page(as_instructor.get(at("handout_print", issued)))
    assert "Quite other words." not in printed
    assert AuditEntry.objects.filter(action="handout.read", thing_id=issued.public_id).count() == 3


def test_the_payload_that_is_kept_gives_the_same_pdf(issued, kept_pdfs):
    kept = paper.from_json(issued.payload)
    kept_pdfs.cache_clear()
    again = pdf.make_pdf(render_to_string("handouts/handout.html", {"payload": kept, "for_pdf": True}))
    assert again == bytes(issued.pdf)


@pytest.mark.parametrize(
    ("size", "large", "box"),
    [("a4", False, (595, 842)), ("letter", False, (612, 792)), ("a4", True, (595, 842))],
    ids=["A4", "Letter", "large print"],
)
def test_paper_and_print_follow_the_settings(as_instructor, client, house, size, large, box):
    """A4 and Letter in points: ISO 216 and ANSI/ASME Y14.1."""
    house.paper = size
    house.save()
    together(as_instructor, client)
    save_whole(as_instructor, client, **({"large_print": "on"} if large else {}))
    issue(as_instructor, client)
    made = client.handouts.get()
    document = reading.opened(bytes(made.pdf))
    for sheet in document.pages:
        assert [round(float(n)) for n in sheet.mediabox][2:] == list(box)
    assert len(document.pages) > 2 if large else len(document.pages) == 2
    assert made.payload["large"] is large


# Where no PDF can be made.


def test_without_the_engine_it_is_issued_and_prints_from_the_browser(as_instructor, client, no_engine):
    together(as_instructor, client)
    answer = issue(as_instructor, client)
    made = client.handouts.get()
    assert made.pdf is None
    shown = page(as_instructor.get(answer.url))
    assert "It prints from the browser" in shown
    assert at("handout_pdf", made) not in shown
    assert as_instructor.get(at("handout_pdf", made)).status_code == 404
    printed = as_instructor.get(at("handout_print", made))
    assert printed.status_code == 200
    assert "left leg 10" in page(printed)
    assert not re.search(r"<script(?![^>]* src=)", page(printed))
    for inline in ("<style", " style=", " onclick="):
        assert inline not in page(printed)


@pytest.mark.parametrize(
    "error", [pdf.PdfTimeout("too long"), pdf.PdfError("it broke")], ids=["late", "broken"]
)
def test_a_pdf_that_fails_does_not_keep_the_sheet_from_the_client(as_instructor, client, monkeypatch, error):
    def fails(html):
        raise error

    monkeypatch.setattr(pdf, "available", lambda **_: (True, ""))
    monkeypatch.setattr(pdf, "make_pdf", fails)
    together(as_instructor, client)
    answer = issue(as_instructor, client)
    assert "It prints from the browser" in page(as_instructor.get(answer.url))


# Who may have it.


def test_the_desk_prints_what_was_issued_and_reaches_nothing_else(as_desk, client):
    made = f.HandoutFactory(client=client)
    for name in ("handout", "handout_pdf", "handout_print"):
        assert as_desk.get(at(name, made)).status_code == 200
    assert as_desk.get(url(client)).status_code == 403
    assert as_desk.get(url(client, "home_preview")).status_code == 403
    for name in ("home_exercise", "home_move", "home_remove", "home_issue"):
        assert as_desk.post(url(client, name), {}).status_code == 403
    assert as_desk.post(at("call_back", made), {"reason": "x"}).status_code == 403


def test_the_desk_is_told_to_ask_and_nothing_of_the_cause(as_desk, as_instructor, client):
    made = f.HandoutFactory(client=client, exercises=["mat_spine_stretch", "mat_clam"])
    ask = "Ask an instructor before printing"
    assert ask not in page(as_desk.get(at("handout", made)))
    f.FlagFactory(client=client, condition="osteoporosis")
    assert ask in page(as_desk.get(at("handout", made)))
    assert "Call this one back" in page(as_instructor.get(at("handout", made)))
    shown = page(as_desk.get(at("handout", made)))
    for word in ("Call this one back", "Avoid", "steoporosis", "left out"):
        assert word not in shown, word
    assert "Spine stretch forward" in shown


@pytest.mark.parametrize("name", ["handout", "handout_pdf", "handout_print"])
def test_an_unknown_handout_and_one_of_a_client_who_left_are_the_same(as_instructor, as_owner, client, name):
    made = f.HandoutFactory(client=client)
    client.archived_on = TODAY
    client.save()
    assert as_instructor.get(at(name, made)).status_code == 404
    assert as_instructor.get(reverse(f"sessions:{name}", args=["no-such-id"])).status_code == 404
    assert as_owner.get(at(name, made)).status_code == 200
