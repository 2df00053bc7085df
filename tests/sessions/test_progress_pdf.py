"""The printed page of progress as a PDF, read back: one page, tagged, in grey, by nobody's name.

ISO 14289-1:2014 (PDF/UA-1), ISO 32000-1:2008 and the checkpoints of the Matterhorn Protocol 1.1 are cited from
memory; no conformance checker is available here.
"""

import datetime as dt
import logging
import re

import pikepdf
import pytest

from sessions import pdf, progress_paper
from sessions.demo import factories as f
from studio.models import AuditEntry, Studio
from tests.sessions import pdf_reading as reading
from tests.sessions.pdf_kept import kept_pdfs
from tests.sessions.test_progress_page import DAYS, client_of, place, session

__all__ = ["client_of", "kept_pdfs"]

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("kept_pdfs")]
# ISO 216: A4 is 210 x 297 mm. ANSI/ASME Y14.1: Letter is 8.5 x 11 in. In points.
PAPER = {"a4": (210 / 25.4 * 72, 297 / 25.4 * 72), "letter": (8.5 * 72, 11 * 72)}
# ISO 32000-1, table 74: the operators that set a colour; of them only grey and RGB may stand in the file.
OTHER_COLOURS = {"k", "K", "cs", "CS", "sc", "SC", "scn", "SCN", "sh"}
LONG = "A goal told in one very long sentence, as people tell them "


@pytest.fixture
def complaints(kept_pdfs):
    """What the engine complains of: a file it was refused, a style it cannot read, a drawing without words."""
    kept_pdfs.cache_clear()
    found = []
    handler = logging.Handler(logging.WARNING)
    handler.emit = lambda record: found.append(record.getMessage())
    pdf.log.addHandler(handler)
    yield found
    pdf.log.removeHandler(handler)


def of(browser, client, **asked) -> bytes:
    answer = browser.get(place(client, "pdf/"), asked)
    assert answer.status_code == 200, answer
    assert answer["Content-Type"] == "application/pdf"
    return answer.content


def on(paper: str) -> None:
    Studio.objects.update(paper=paper)


def crowded(client, instructor, words=LONG * 3):
    """Give the client what a page can hardly hold: tests, goals, springs, words of clinicians."""
    for n in range(20):
        day = DAYS[0] + dt.timedelta(days=11 * n + 3)
        f.GoalFactory(client=client, words=words[:240], set_on=day)
        f.MeasurementFactory(client=client, on=day, left=60 + n, right=90, author=instructor)
        session(client, instructor, day, quality=1 + n % 5, heavy=1 + n % 3, pain=2 + 6 * (n % 7 == 0))
    f.InstructionFactory(
        client=client, clinician="R. Tindlewell", dated=dt.date(2026, 9, 1), words=words[:200],
        created_by=instructor,
    )  # fmt: skip


@pytest.mark.parametrize("paper", PAPER)
def test_one_page_of_the_studios_paper(as_instructor, client_of, paper, complaints):
    on(paper)
    with reading.opened(of(as_instructor, client_of)) as read:
        assert len(read.pages) == 1
        size = [float(value) for value in read.pages[0].mediabox[2:]]
    assert size == pytest.approx(PAPER[paper], abs=0.5)
    assert complaints == []


def test_one_test_of_one_side_is_a_page_too(as_instructor, client_of, instructor, complaints):
    f.MeasurementFactory(
        client=client_of, measure="side_bridge", on=DAYS[0], left=None, right=200, author=instructor
    )
    [text] = reading.texts(of(as_instructor, client_of, measure="side_bridge"))
    for words in ("Left not taken", "one test so far", "No test with both sides yet."):
        assert words in text
    assert complaints == []


@pytest.mark.parametrize("paper", PAPER)
@pytest.mark.parametrize("name", ["Ottoline Brackwater", "Ottoline " * 20, "Ωττολίνη Μπράκ" * 10, "W" * 200])
def test_much_fits_on_one_page_and_it_says_what_is_left_out(
    as_instructor, client_of, instructor, paper, name
):
    on(paper)
    crowded(client_of, instructor)
    client_of.full_name = name[:200].strip()
    client_of.save()
    data = of(as_instructor, client_of)
    with reading.opened(data) as read:
        assert len(read.pages) == 1
    [text] = reading.texts(data)
    assert "more stand on the screen only." in text
    assert "This is no diagnosis" in text
    foot = min(bottom for _left, bottom, _right, _top, words in reading.lines(data)[0] if words.strip())
    assert foot >= 13 / 25.4 * 72 - 1


def test_without_a_test_it_says_so(as_instructor, client_of):
    [text] = reading.texts(of(as_instructor, client_of, measure="side_bridge"))
    assert "No test in this time." in text


def test_it_says_what_the_screen_says(as_instructor, client_of, instructor):
    f.GoalFactory(client=client_of, words="The harbour steps", set_on=dt.date(2026, 7, 1))
    [text] = reading.texts(of(as_instructor, client_of))
    for words in (
        "Knee-to-wall lunge",
        "Ottoline Brackwater",
        "up 3.0 cm",
        "up 0.5 cm, within noise",
        "Gap, 5.0 to 2.5 cm",
        "Grey ribbon: within noise, 1.9 cm either way.",
        "1 Jul: Goal set. The harbour steps",
        "Numbers",
        "Printed 25 Nov 2026.",
    ):
        assert words in text


def test_days_asked_for_are_the_days_printed(as_instructor, client_of):
    asked = {"from": DAYS[3].isoformat(), "to": DAYS[5].isoformat()}
    with reading.opened(of(as_instructor, client_of, **asked)) as read:
        rows = [e for e in reading.elements(read, "TR") if e.parent == "TBody"]
    assert len(rows) == 3


def test_it_is_tagged_with_language_and_title(as_instructor, client_of):
    """ISO 14289-1, 5 and 7.1; Matterhorn 06-001 to 06-004, 07-001, 07-002, 11-006."""
    with reading.opened(of(as_instructor, client_of)) as read:
        with read.open_metadata() as xmp:
            assert xmp["pdfuaid:part"] == "1"
            assert re.fullmatch(r"Knee-to-wall lunge, .+, 25 Nov 2026", xmp["dc:title"])
            assert "en-gb" in xmp["dc:language"]
            assert "Ottoline" not in str(xmp)
        assert "Ottoline" not in str(dict(read.docinfo))
        assert str(read.Root.Lang) == "en-gb"
        assert bool(read.Root.MarkInfo.Marked) is True
        assert bool(read.Root.ViewerPreferences.DisplayDocTitle) is True


def test_everything_painted_is_tagged_or_an_artifact(as_instructor, client_of):
    """ISO 14289-1, 7.1; Matterhorn 01-005."""
    with reading.opened(of(as_instructor, client_of)) as read:
        [page] = read.pages
        found = reading.marked(read, page)
        assert found.loose == []
        marks = {number for element in reading.elements(read) for _page, number in element.marks}
        assert marks == set(found.numbers)


def test_drawings_have_words_headings_an_order_and_the_table_its_heads(as_instructor, client_of):
    """ISO 14289-1, 7.3 to 7.5; Matterhorn 13-004, 14-003, 15-003. Columns are no tables: 15 is for data."""
    with reading.opened(of(as_instructor, client_of)) as read:
        alts = [str(element.node.get("/Alt", "")) for element in reading.elements(read, "Figure")]
        levels = [e.kind for e in reading.elements(read) if re.fullmatch(r"H[1-6]", e.kind)]
        scopes = [str(element.node.A.Scope) for element in reading.elements(read, "TH")]
        tables, rows = len(reading.elements(read, "Table")), len(reading.elements(read, "TR"))
    assert alts == [
        "Knee-to-wall lunge, left",
        "Scale of both sides, 4 cm to 12 cm",
        "Knee-to-wall lunge, right",
        "Gap between the sides",
    ]
    assert levels == ["H1"] + ["H2"] * (len(levels) - 1)
    assert tables == 1
    assert scopes.count("/Column") == 5
    assert scopes.count("/Row") == rows - 1 >= 3


def operators(stream, resources):
    """Yield the names of all operators of a page and of the forms it draws."""
    for operands, operator in pikepdf.parse_content_stream(stream):
        yield str(operator)
        if str(operator) == "Do":
            form = resources.XObject[str(operands[0])]
            assert form.Subtype == "/Form", "a picture may hold any colour"
            yield from operators(form, form.get("/Resources", resources))


@pytest.mark.parametrize("paper", PAPER)
def test_every_colour_in_it_is_a_grey(as_instructor, client_of, instructor, paper):
    on(paper)
    crowded(client_of, instructor)
    with reading.opened(of(as_instructor, client_of)) as read:
        [page] = read.pages
        used = set(operators(page, page.Resources))
        colours = reading.marked(read, page).colours
    assert not used & OTHER_COLOURS
    assert len(colours) >= 4
    assert all(max(colour) == min(colour) for colour in colours)


def test_no_client_is_named_outside_the_page(as_instructor, client_of):
    answer = as_instructor.get(place(client_of, "pdf/"))
    assert answer["Content-Disposition"] == 'inline; filename="progress-2026-11-25.pdf"'
    assert answer["Cache-Control"] == "no-store"
    html = as_instructor.get(place(client_of, "print/")).content.decode()
    assert "Brackwater" not in html.split("</title>")[0]


def test_the_same_page_gives_the_same_bytes(as_instructor, client_of, kept_pdfs):
    once = of(as_instructor, client_of)
    kept_pdfs.cache_clear()
    assert of(as_instructor, client_of) == once
    assert kept_pdfs.cache_info()[:2] == (0, 1), "it was made anew"


def test_where_no_pdf_can_be_made_the_browser_prints_it(as_instructor, client_of):
    before = AuditEntry.objects.filter(action="progress.read").count()
    pdf.switch_off("no engine here")
    try:
        answer = as_instructor.get(place(client_of, "pdf/"), {"from": DAYS[1].isoformat()})
    finally:
        pdf.switch_off("")
    assert answer.status_code == 302
    assert answer.url.startswith(place(client_of, "print/") + "?measure=knee_to_wall_lunge&from=2026-05-20")
    assert AuditEntry.objects.filter(action="progress.read").count() == before
    html = as_instructor.get(answer.url).content.decode()
    assert "Print this page from the browser" in html
    assert "more stand" not in html


WORDS = {
    "title": "Side bridge",
    "name": "Somebody",
    "sender": ("A studio", "1 Jan 2026 to 1 Mar 2026"),
    "heads": (("up 3.0 cm", "8.5", "cm"), ("not taken", "", "")),
    "key": "Grey ribbon.",
    "gap": True,
    "foot": "No diagnosis.",
    "changed": ["Left: up."],
    "events": ["Something."] * 40,
    "rows": [("1", "1 Jan 2026", "8.5 cm", "9.0 cm", "even")] * 12,
    "row_head": ("Test", "Day", "Left", "Right", "Gap"),
}


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"rows": WORDS["rows"][:1], "events": []}, progress_paper.Plan(1, 0, 1, True)),
        ({}, progress_paper.Plan(1, 22, 6, True)),
        ({"changed": ["A line."] * 18, "events": ["One."] * 2}, progress_paper.Plan(18, 2, 6, False)),
        ({"changed": ["A line."] * 40, "events": ["word " * 400]}, progress_paper.Plan(22, 0, 0, False)),
    ],
    ids=["little", "numbers under short changes", "numbers under few events", "too much of all"],
)
def test_the_room_of_a_page_is_shared(changes, expected):
    """By hand for the first page: 271 mm less 135.8 of head, drawings and foot, 2 spare, 9.9 for a heading and 4.3
    for what is left out, in lines of 5.3 mm: 22. The sizes are those of the styles; the tests above check the page."""
    assert progress_paper.plan(progress_paper.Words(**{**WORDS, **changes}), "a4") == expected
