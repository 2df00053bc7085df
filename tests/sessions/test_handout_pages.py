"""Pages are planned before they are set: nothing may be cut, covered or split, whatever is typed."""

import random
import re
from functools import cache

import pytest
from django.template.loader import render_to_string
from fontTools.ttLib import TTFont

from library.body import all_poses
from sessions import handout, handout_checks, handout_layout, pdf, pdf_worker, print_text
from sessions.templatetags import handout_figures
from tests.sessions import pdf_reading as reading
from tests.sessions.handout_samples import handout_values, item, items

SENTENCE = "Lift the leg a little, keep the knee facing front and lower it as slowly as you can."


def long_item(key: str) -> dict:
    """Return an exercise with every text as long as it may be."""
    words = (SENTENCE + " ") * 8
    return item(
        key,
        {"left": {"times": 3, "seconds": 20}, "right": {"times": 4, "seconds": 15}, "means": "front_leg"},
        how=words[:480],
        breath=words[:240],
        easier=words[:240],
        cue=words[:240],
        adaptations=[words[:240]] * 6,
        props=["a sturdy chair", "a band"],
    )


def four() -> list[dict]:
    return [
        *items(),
        item("mat_bird_dog", {"left": {"times": 6}, "right": {"times": 6}, "means": "working_leg"}),
    ]


def apart(items: list[dict]) -> list[dict]:
    """Return the exercises with left and right going differently far: both are drawn."""
    limits = {"left": {"by": "share", "value": 40}, "right": {"by": "share", "value": 75}}
    return [{**one, "limits": limits} for one in items]


CASES = {
    "as usual": {},
    "letter": {"paper": "letter"},
    "large": {"large": True},
    "large letter": {"large": True, "paper": "letter"},
    "four, four weeks": {"items": four(), "weeks": 4},
    "four, four weeks, large letter": {"items": four(), "weeks": 4, "large": True, "paper": "letter"},
    "six": {"items": four() + items()[:2], "more_agreed": True, "weeks": 3},
    "all texts full": {"items": [long_item("mat_bird_dog"), long_item("st_single_leg_stand")]},
    "all texts full, large letter": {
        "items": [long_item("mat_bird_dog"), long_item("st_single_leg_stand")],
        "large": True,
        "paper": "letter",
        "weeks": 4,
    },
    "both sides drawn": {"items": apart(four())},
    "both sides drawn, large": {"items": apart(four()), "large": True},
    "both sides drawn, all texts full, large letter": {
        "items": apart([long_item("mat_bird_dog"), long_item("st_single_leg_stand")]),
        "large": True,
        "paper": "letter",
    },
    "a name of 300 letters": {"client": "W" * 300, "studio": "w" * 120},
    "a name of 300 letters, large": {"client": "m" * 300, "studio": "m" * 120, "large": True},
    "a name of 300 wide letters": {"client": "王" * 300},
    "long numbers": {"telephone": "0" * 40, "emergency": "1" * 40, "number": 99999, "version": 123},
    "long numbers, large": {"telephone": "0" * 40, "emergency": "1" * 40, "number": 99999, "large": True},
    "long exercise names": {
        "items": [each | {"name": "Reaching further " * 7} for each in items()],
        "large": True,
    },
    "no day to look again": {"look_again": None, "when": "", "minutes": None},
}


def set_page(changes: dict) -> bytes:
    payload = handout.build(**handout_values(**changes))
    return pdf.make_pdf(render_to_string("handouts/handout.html", {"payload": payload, "for_pdf": True}))


@pytest.fixture(scope="module")
def set_case():
    """Return a function from the name of one of CASES to its PDF, each set once for all tests that read it."""
    return cache(lambda name: set_page(CASES[name]))


@pytest.mark.parametrize("name", CASES)
def test_pages_come_out_as_planned_and_nothing_covers_the_foot(name, set_case):
    check_pages(set_case(name))


def check_pages(data: bytes) -> None:
    pages = reading.lines(data)
    for number, (lines, text) in enumerate(zip(pages, reading.texts(data), strict=True), 1):
        assert f"page {number} of {len(pages)}" in text
        top_of_foot = max(top for _l, _b, _r, top, words in lines if "Stop and call" in words)
        above = [line for line in lines if line[3] > top_of_foot + 1]
        bottom = min((line[1] for line in above), default=top_of_foot)
        assert bottom >= top_of_foot, text
        assert text.count("Stop and call") == 1


@pytest.mark.parametrize("seed", range(6))
def test_random_handouts_come_out_as_planned(seed):
    rng = random.Random(seed)
    keys = rng.sample(sorted(all_poses()), rng.randint(2, 4))
    vocabulary = SENTENCE.replace(",", "").split() + ["WWW", "illicit", "Straightaway"]

    def words(most: int) -> str:
        text = " ".join(rng.choices(vocabulary, k=most // 5))
        return text[: rng.randint(1, most)].strip() or "x"

    some = [
        {
            **items()[1],
            "exercise": key,
            "name": words(60),
            "pose": all_poses()[key],
            "how": words(480),
            "breath": words(240),
            "easier": words(240),
            "cue": words(120),
            "adaptations": [words(120) for _each in range(rng.randint(0, 3))],
        }
        for key in keys
    ]
    changes = {
        "items": some,
        "large": rng.random() < 0.5,
        "paper": rng.choice(handout_checks.PAPERS),
        "client": words(80),
    }
    check_pages(set_page(changes | {"weeks": rng.randint(1, 4)}))


@pytest.fixture(scope="module")
def engine():
    return pdf_worker.Engine(pdf.FOLDER)


def boxes(box, kinds: set[str]):
    """Yield (first class, top, height) in mm of the boxes of elements with these classes, outermost only."""
    classes = (box.element.get("class") or "").split() if box.element is not None else []
    if classes and classes[0] in kinds and "::" not in str(box.element_tag):
        yield classes[0], box.position_y * 25.4 / 96, box.margin_height() * 25.4 / 96
    else:
        for child in getattr(box, "children", ()):
            yield from boxes(getattr(child, "_box", child), kinds)


@pytest.mark.parametrize("name", ["as usual", "letter", "large", "large letter", "four, four weeks"])
def test_what_was_planned_is_what_the_engine_sets(name, engine, monkeypatch):
    """Block by block and page by page: never planned lower than it is set, and a line too high at most."""
    plans = []
    real = handout_layout.plan
    monkeypatch.setattr(handout_layout, "plan", lambda *given: plans.append(real(*given)) or plans[-1])
    payload = handout.build(**handout_values(**CASES[name]))
    html = render_to_string("handouts/handout.html", {"payload": payload, "for_pdf": True})
    page = engine.weasyprint.HTML(string=html, url_fetcher=engine.fetcher)
    document = page.render(font_config=engine.fonts, stylesheets=[engine.styles["handout"]])
    (plan,) = plans
    line = handout_layout.MEASURES[payload.paper, payload.large].line
    assert len(document.pages) == len(plan.pages)
    for number, (page, blocks, room) in enumerate(zip(document.pages, plan.pages, plan.rooms, strict=True)):
        found = list(boxes(page._page_box, {"ph", "about", "repeat", "ex", "calhead", "cal", "end"}))
        foot = next(top for kind, top, _height in found if kind == "end")
        head = max(top + height for kind, top, height in found if kind in ("ph", "about", "repeat"))
        assert 0 <= foot - head - room <= handout_layout.SPARE + line, number
        set_high = sum(height for kind, _top, height in found if kind in ("ex", "calhead", "cal"))
        planned = sum(block.height for block in blocks)
        assert set_high - 0.2 <= planned <= set_high + line * max(1, len(blocks)), number


def test_no_text_of_a_full_exercise_is_lost(set_case):
    text = " ".join(reading.texts(set_case("all texts full, large letter")))
    assert text.count(SENTENCE) >= 2 * (5 + 2 + 2 + 2 + 6 * 2)
    assert len(re.findall(r"1\. Opposite arm and leg reach in four-point, continued", text)) >= 1


@pytest.mark.parametrize("bold", [False, True], ids=["regular", "bold"])
@pytest.mark.parametrize(
    "text", [SENTENCE, "WWW MMM 0123456789 @%", "illicit jiffy, fit'll filly", "Fold. Unfold."]
)
def test_words_are_measured_as_the_typeface_sets_them(text, bold):
    """Against the widths in the font file itself, read by fontTools: never narrower, 1 per cent more at most."""
    font = TTFont(pdf.FOLDER / "fonts" / f"radio-canada-{600 if bold else 400}.woff2")
    letters, widths = font.getBestCmap(), font["hmtx"]
    ems = sum(widths[letters[ord(letter)]][0] for letter in text) / font["head"].unitsPerEm
    true = ems * 14 * 25.4 / 72
    assert true <= print_text.text_width(((bold, text),), 14) <= 1.01 * true


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("", 1),
        ("one", 1),
        ("one two three", 1),
        ("n" * 60, 2),
        ("n" * 30 + " " + "n" * 30, 2),
        ("W " * 40, 2),
    ],
)
def test_lines_are_counted_word_by_word(text, lines):
    assert print_text.line_count(text, 14, 172) == lines


def test_figures_grow_where_a_page_has_room():
    """Two exercises on a page keep low figures only while they must."""
    payload = handout.build(**handout_values(items=[items()[2], items()[2]]))
    html = render_to_string("handouts/handout.html", {"payload": payload, "for_pdf": True})
    heights = [int(height) for height in re.findall(r'class="se p(\d+)"', html)]
    assert len(heights) == 2
    assert min(heights) >= 30


def test_somebody_standing_is_drawn_tall_where_the_page_has_room():
    """Of three, two share a page and the last has one nearly to itself."""
    payload = handout.build(**handout_values(items=[items()[2]] * 3, weeks=1))
    html = render_to_string("handouts/handout.html", {"payload": payload, "for_pdf": True})
    heights = [int(height) for height in re.findall(r'class="se p(\d+)"', html)]
    assert len(heights) == 3
    assert heights[-1] == handout_layout.TALLEST_PANEL


def test_every_height_of_a_panel_has_its_style():
    css = (pdf.FOLDER / "handout.css").read_text()
    for height in range(handout_layout.LOWEST_PANEL, handout_layout.TALLEST_PANEL + 1):
        assert f".p{height} .pn, .p{height} .to {{ height: {height}mm; }}" in css
        assert f"\n.large .p{height} svg {{ height: {height - 4.2:g}mm; }}" in css


def test_lines_of_a_figure_are_drawn_for_the_size_of_its_panel():
    """A bold outline of half a millimetre, in a low panel and in a tall one."""
    standing = handout.build(**handout_values()).items[2]
    for height in (30, 69):
        drawing = handout_figures.rows(standing, 79, height)[0][1][1]
        box = [float(number) for number in re.search(r'viewBox="([^"]+)"', drawing)[1].split()]
        unit = min(79 / box[2], height / box[3])
        outline = re.search(r'fill="#fff" stroke="#111" stroke-width="([\d.]+)"', drawing)[1]
        assert 0.4 <= float(outline) * unit <= 0.51
