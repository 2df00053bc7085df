"""The handout read back: tags, figures, numbers, paper.

ISO 14289-1:2014 (PDF/UA-1) and the checkpoints of the Matterhorn Protocol 1.1 are cited from memory; no
conformance checker is available here, so the checkpoints that a machine can decide are checked one by one.
"""

import json
import logging
import re
from datetime import date

import pikepdf
import pytest
from django.template.loader import render_to_string

from library.tables import rule_data
from sessions import handout, pdf
from tests.sessions import pdf_reading as reading
from tests.sessions.handout_samples import NAMES, handout_values, items

FORMATS = {"a4": {}, "letter": {"paper": "letter"}, "large": {"large": True}}
FIGURES = [
    f"{NAMES['mat_side_leg_lift']}, START: how you begin, drawn for the right side.",
    f"{NAMES['mat_side_leg_lift']}, END: how far you go, drawn for the right side.",
    f"{NAMES['mat_pelvic_curl']}, START: how you begin.",
    f"{NAMES['mat_pelvic_curl']}, END: how far you go.",
    f"{NAMES['st_single_leg_stand']}, START: how you begin, drawn for the right side.",
    f"{NAMES['st_single_leg_stand']}, END: how far you go, drawn for the right side.",
]


def html(**changes) -> str:
    payload = handout.build(**handout_values(**changes))
    return render_to_string("handouts/handout.html", {"payload": payload, "for_pdf": True})


def made(**changes) -> bytes:
    return pdf.make_pdf(html(**changes))


@pytest.fixture(scope="module")
def files():
    """Return {format: bytes}; the engine had nothing to complain of while making them."""
    complaints = []
    handler = logging.Handler(logging.WARNING)
    handler.emit = lambda record: complaints.append(record.getMessage())
    pdf.log.addHandler(handler)
    files = {name: made(**changes) for name, changes in FORMATS.items()}
    pdf.log.removeHandler(handler)
    assert complaints == []
    return files


@pytest.fixture(params=FORMATS)
def data(request, files):
    return files[request.param]


@pytest.fixture
def read(data):
    with reading.opened(data) as document:
        yield document


def test_document_says_what_it_is(read):
    """ISO 14289-1, 5 and 7.1; Matterhorn 06-001 to 06-004, 07-001, 07-002, 11-001."""
    with read.open_metadata() as xmp:
        assert xmp["pdfuaid:part"] == "1"
        assert xmp["dc:title"] == "Home practice from Wyndlefold Studio, 13 May 2026"
        assert "en-gb" in xmp["dc:language"]
    assert str(read.Root.Lang) == "en-gb"
    assert bool(read.Root.MarkInfo.Marked) is True
    assert bool(read.Root.ViewerPreferences.DisplayDocTitle) is True
    assert read.Root.StructTreeRoot.ParentTree is not None
    assert all(str(page.Tabs) == "/S" for page in read.pages)


def test_metadata_names_no_client(read):
    with read.open_metadata() as xmp:
        assert "Ottoline" not in str(xmp)
    assert "Ottoline" not in str(dict(read.docinfo))
    assert set(read.docinfo) == {"/Title", "/Producer", "/CreationDate"}


def test_everything_painted_is_tagged_or_an_artifact(read):
    """ISO 14289-1, 7.1; Matterhorn 01-005. And every mark is found from both ends: ISO 32000-1, 14.7.4.4."""
    marks = [mark for element in reading.elements(read) for mark in element.marks]
    assert len(marks) == len(set(marks))
    numbers = list(read.Root.StructTreeRoot.ParentTree.Nums)
    owners = {int(numbers[place]): numbers[place + 1] for place in range(0, len(numbers), 2)}
    for place, page in enumerate(read.pages):
        found = reading.marked(read, page)
        assert found.loose == []
        assert {number for page_number, number in marks if page_number == place} == set(found.numbers)
        assert all(owners[int(page.StructParents)][number] is not None for number in found.numbers)


def test_repeated_heads_and_feet_are_artifacts(data, read):
    """ISO 14289-1, 7.8; Matterhorn 18-001: what only repeats is no content, and what is said once is."""
    first = "Home practice for Ottoline"
    assert all(first in text for text in reading.texts(data)[1:])
    spoken = [str(element.node.get("/S")) for element in reading.elements(read)]
    assert "/Art" not in spoken
    pages_with_feet = {mark[0] for element in reading.elements(read) for mark in element.marks}
    assert pages_with_feet == set(range(len(read.pages)))
    artifacts = [
        operands
        for page in read.pages[1:]
        for operands, operator in pikepdf.parse_content_stream(page)
        if str(operator) == "BDC" and str(operands[0]) == "/Artifact"
    ]
    assert len(artifacts) >= 2 * (len(read.pages) - 1)
    assert all(str(operands[1].Type) == "/Pagination" for operands in artifacts)


def test_every_word_of_the_foot_is_content_once(files):
    """What is an artifact on one page is content on another: number, version, date and when it is looked at."""
    for data in files.values():
        with reading.opened(data) as document:
            content = " ".join(reading.content_texts(document))
        for words in ("handout 41, version 3, issued 13 May 2026", "we look at it again on 27 May"):
            assert words in content


def test_every_figure_has_its_sentence(read):
    """ISO 14289-1, 7.3; Matterhorn 13-004. One for each START and END, in order, naming exercise and side."""
    alts = [str(element.node.get("/Alt", "")) for element in reading.elements(read, "Figure")]
    assert all(alts)
    told = [alt for alt in alts if "START" in alt or "END" in alt]
    assert len(told) == len(FIGURES)
    for alt, sentence in zip(told, FIGURES, strict=True):
        assert alt.startswith(sentence)
        assert len(alt) > len(sentence) + 30, "and what the body does"


def test_boxes_of_figures_lie_on_the_page_in_pairs(read):
    """ISO 32000-1, 14.8.5.4.3: BBox in default user space, from the foot of the page."""
    sizes = {page.objgen: [float(value) for value in page.mediabox] for page in read.pages}
    figures = [
        e.node
        for e in reading.elements(read, "Figure")
        if "R" in str(e.node.Alt)[-40:] or "how" in str(e.node.Alt)
    ]
    assert len(figures) == len(FIGURES)
    for start, end in zip(figures[::2], figures[1::2], strict=True):
        (left, bottom, right, top), (next_left, *_rest) = start.A.BBox, end.A.BBox
        _x, _y, width, height = sizes[start.Pg.objgen]
        assert 0 < left < right < width / 2 < next_left < width
        assert height / 4 < bottom < top < height
        assert [value for place, value in enumerate(start.A.BBox) if place % 2] == [
            value for place, value in enumerate(end.A.BBox) if place % 2
        ]


def test_headings_start_at_one_and_never_jump(read):
    """ISO 14289-1, 7.4.2; Matterhorn 14-002, 14-003."""
    levels = [int(e.kind[1]) for e in reading.elements(read) if re.fullmatch(r"H[1-6]", e.kind)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(later <= earlier + 1 for earlier, later in zip(levels, levels[1:], strict=False))


def test_tables_say_what_heads_what(read):
    """ISO 14289-1, 7.5; Matterhorn 15-003. 7.2 and Matterhorn 09-004: rows and cells lie where they may."""
    headers = reading.elements(read, "TH")
    scopes = [str(element.node.A.Scope) for element in headers]
    assert set(scopes) == {"/Row", "/Column"}
    tables = len(reading.elements(read, "Table"))
    assert scopes.count("/Row") == tables * 3
    assert scopes.count("/Column") in (tables * 15, tables * 8)
    for element in reading.elements(read):
        allowed = {
            "TR": {"THead", "TBody"},
            "TH": {"TR"},
            "TD": {"TR"},
            "THead": {"Table"},
            "TBody": {"Table"},
        }
        assert element.parent in allowed.get(element.kind, {element.parent})


def test_fonts_are_in_the_file_with_their_letters(read):
    """ISO 14289-1, 7.21; Matterhorn 31-009 (embedded) and 31-027 (ToUnicode)."""
    fonts = {str(font.BaseFont): font for page in read.pages for font in page.Resources.Font.values()}
    assert {name.split("+")[1] for name in fonts} == {
        "Radio-Canada",
        "Radio-Canada-Semi-Bold",
        "Ysabeau-Office-Semi-Bold",
    }
    for font in fonts.values():
        below = font.DescendantFonts[0].FontDescriptor
        assert "/FontFile2" in below or "/FontFile3" in below
        assert "/ToUnicode" in font


def test_text_has_the_numbers_of_the_plan(data):
    text = " ".join(reading.texts(data))
    for words in (
        "left leg 12",
        "right leg 9",
        "7 times",
        "four days a week",
        "standing on left 20 seconds",
        "standing on right 20 seconds",
        "3 times each side",
        "Mon, Wed, Fri",
        "Left leg: stop level with your hip.",
        "Peel up like tape.",
        "You need. A sturdy chair.",
        "About 10 minutes, after a walk.",
        "handout 41, version 3, issued 13 May 2026",
        "we look at it again on 27 May",
        "01632 960 118",
    ):
        assert words in text


def test_urgent_signs_with_the_number_stand_on_every_page(data):
    pages = reading.texts(data)
    for number, text in enumerate(pages, 1):
        assert "Stop and call the emergency number, 112," in text
        assert "chest pain, sudden weakness, trouble speaking, or new numbness between the legs" in text
        assert f"page {number} of {len(pages)}" in text
    last = pages[-1]
    order = ["emergency number, 112", "Stop and ring us, 01632 960 118", "does not replace advice"]
    assert sorted(order, key=last.index) == order


def test_no_health_words(data, read):
    """No short label and no id of any condition of the rule table occurs, on the page or behind it."""
    said = " ".join(reading.texts(data)).casefold()
    behind = " ".join(str(e.node.get("/Alt", "")) for e in reading.elements(read)).casefold()
    table = rule_data()["conditions"]
    assert len(table) >= 80
    for condition in table:
        short = re.split(r"[,(]", condition["label"])[0].strip().casefold()
        for word in (condition["id"].replace("_", " "), short):
            assert word not in said
            assert word not in behind


def test_paper_is_grey(read):
    """A printer without colour loses nothing: every colour in the file is a grey."""
    colours = set()
    for page in read.pages:
        colours |= reading.marked(read, page).colours
    assert colours
    assert all(max(colour) - min(colour) == 0 for colour in colours)


PAPER = {
    # ISO 216: A4 is 210 x 297 mm. ANSI/ASME Y14.1: Letter is 8.5 x 11 in.
    "a4": (210 / 25.4 * 72, 297 / 25.4 * 72),
    "letter": (8.5 * 72, 11 * 72),
    "large": (210 / 25.4 * 72, 297 / 25.4 * 72),
}


@pytest.mark.parametrize("name", FORMATS)
def test_pages_have_the_size_of_the_paper(files, name):
    with reading.opened(files[name]) as document:
        for page in document.pages:
            assert [float(value) for value in page.mediabox[2:]] == pytest.approx(PAPER[name], abs=0.1)


@pytest.mark.parametrize(("name", "pages"), [("a4", 2), ("letter", 2), ("large", 4)])
def test_number_of_pages(files, name, pages):
    assert len(reading.texts(files[name])) == pages


@pytest.mark.parametrize(("name", "body", "least"), [("a4", 14, 12), ("letter", 14, 12), ("large", 20, 18)])
def test_type_is_large_enough(files, name, body, least):
    """Body 14 pt, or 20 pt in large print with labels of 18: best practices for large print of the Council
    of Citizens with Low Vision International (18 at least, 20 preferred), checked on a secondary copy."""
    sizes = reading.font_sizes(files[name])
    assert min(sizes) >= least
    assert max(set(sizes), key=sizes.count) == body


def test_lines_of_large_print_are_short(files):
    """155 mm, about 6 inches: US Access Board, advisory guidance on large print, on a secondary copy."""
    heads = ("Home practice", "page ", "handout 41")
    longest = max(
        right - left
        for page in reading.lines(files["large"])
        for left, _bottom, right, _top, text in page
        if not text.startswith(heads) and not re.match(r"\d\. ", text)
    )
    assert longest <= 155 / 25.4 * 72


@pytest.mark.parametrize("name", FORMATS)
def test_file_is_small(files, name):
    assert len(files[name]) < 400_000


def test_one_exercise_a_page_in_large_print(files):
    for text in reading.texts(files["large"]):
        assert len(re.findall(r"\d\. (?:Side-lying|Pelvic|Single)", text)) <= 1


NAMES_OF_PEOPLE = [
    "<b>O'Brien 王",
    "=SUM(1)",
    "{{7*7}} {% now %} %s {client}",
    "&lt;script&gt;",
    "Müller-Öztürk Qæ",
    "Łukasz Ștefan Ğül",
    "Ελένη",
    "Дмитро",
    "Null",
]


@pytest.mark.parametrize("name", NAMES_OF_PEOPLE)
def test_names_appear_letter_by_letter(name, caplog):
    data = made(client=name)
    assert f"For {name}." in reading.texts(data)[0]
    assert f"Home practice for {name}" in reading.texts(data)[1]
    assert caplog.records == []


@pytest.mark.parametrize("name", ["عبد الله", "אבי", "Zoë 🙂"])
def test_names_that_need_more_than_letters_do_not_stop_it(name):
    """Right to left and pictures: the page is made and the words around the name stay in order."""
    text = reading.texts(made(client=name))[0]
    assert re.search(r"For .+\. About 10 minutes, after a walk\.", text)


def test_same_payload_gives_the_same_bytes(files):
    kept = json.loads(json.dumps(handout.as_json(handout.build(**handout_values()))))
    page = render_to_string("handouts/handout.html", {"payload": handout.from_json(kept), "for_pdf": True})
    assert pdf.make_pdf(page) == files["a4"]


def test_one_side_only_draws_that_side_and_ticks_half(files):
    dose = {"left": {"times": 5}, "means": "working_leg"}
    data = made(items=[items()[0] | {"dose": dose}, items()[1]])
    with reading.opened(data) as document:
        alts = [str(e.node.Alt) for e in reading.elements(document, "Figure")]
    end = f"{NAMES['mat_side_leg_lift']}, END: how far you go, drawn for the left side."
    assert [alt for alt in alts if alt.startswith(end) and "left leg straight" in alt]
    assert alts.count("left to fill in") == 14
    assert "right leg" not in " ".join(reading.texts(data))


def test_language_of_the_payload_sets_the_dates():
    text = " ".join(reading.texts(made(language="en-us", issued=date(2026, 5, 13))))
    assert "issued May 13, 2026" in text
    assert "we look at it again on May 27" in text


def test_page_for_the_browser_keeps_to_the_content_policy():
    """No inline script, style or handler, and nothing from elsewhere: the page is served under our policy."""
    payload = handout.build(**handout_values(client="<b>O'Brien 王"))
    page = render_to_string("handouts/handout.html", {"payload": payload})
    assert not re.search(r"<script(?![^>]* src=)", page)
    assert "<style" not in page
    assert not re.search(r"\s(style|on\w+)=", page)
    assert re.findall(r'<link rel="stylesheet" href="([^"]+)"', page) == [
        "/static/print/names.css",
        "/static/print/names-han.css",
        "/static/print/handout.css",
        "/static/print/browser.css",
    ]
    assert "&lt;b&gt;O&#x27;Brien 王" in page
