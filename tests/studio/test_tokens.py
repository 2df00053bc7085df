"""The colours: the style sheets match the data, every pair has its contrast, every variable is defined."""

import re

import pytest

from studio import tokens
from tests.rows import each

CSS_FILES = sorted(tokens.CSS_FOLDER.glob("*.css"))
# Set by an element for its own parts, or by Bootstrap.
LOCAL_VARIABLES = {"n", "c", "m"}


# Source: WCAG 2.2, definition of relative luminance: the weights of the three primaries, white is 1.
@pytest.mark.parametrize(
    ("colour", "expected"),
    [
        ("#000000", 0.0),
        ("#ffffff", 1.0),
        ("#ff0000", 0.2126),
        ("#00ff00", 0.7152),
        ("#0000ff", 0.0722),
        ("#808080", 0.2159),  # from memory: the luminance of mid grey in sRGB, as colour tables print it
    ],
    ids=["black", "white", "red", "green", "blue", "mid_grey"],
)
def test_relative_luminance(colour, expected):
    assert tokens.relative_luminance(colour) == pytest.approx(expected, abs=0.0001)


# Source: WCAG 2.2, contrast ratio: 21 for black on white, 1 for a colour on itself. The greys are from
# memory: #767676 is known as the lightest grey that reaches 4.5 on white, #777777 as the first that does not.
@pytest.mark.parametrize(
    ("front", "back", "expected"),
    [
        ("#000000", "#ffffff", 21.0),
        ("#ffffff", "#000000", 21.0),
        ("#123456", "#123456", 1.0),
        ("#767676", "#ffffff", 4.54),
        ("#777777", "#ffffff", 4.48),
    ],
    ids=["black_on_white", "white_on_black", "itself", "grey_767676", "grey_777777"],
)
def test_contrast_ratio(front, back, expected):
    assert tokens.contrast(front, back) == pytest.approx(expected, abs=0.005)


# Needs: WCAG 2.2 1.4.3 (text 4.5), 1.4.11 (controls and graphics 3), 1.4.6 (7, the house's floor for body text).
@each("scheme", sorted(tokens.SCHEMES))
@each("front, back, needed, use", tokens.PAIRS)
def test_pair_has_its_contrast(scheme, front, back, needed, use):
    colours = tokens.SCHEMES[scheme]
    ratio = tokens.contrast(colours[front], colours[back])
    assert ratio >= needed, f"{front} on {back} ({use}) in {scheme}: {ratio:.2f}, needs {needed}"


def test_no_pair_asks_for_less_than_the_standard():
    assert {needed for _front, _back, needed, _use in tokens.PAIRS} <= {3.0, 4.5, 7.0}
    text_on = {"ink", "ink2", "on-even", "on-mid", "on-madder"}
    weak = [pair for pair in tokens.PAIRS if pair[0] in text_on and pair[2] < 4.5 and "focus" not in pair[3]]
    assert weak == []


def test_schemes_name_the_same_colours():
    assert list(tokens.LIGHT) == list(tokens.DARK)
    for scheme in tokens.SCHEMES.values():
        assert all(re.fullmatch(r"#[0-9a-f]{6}", value) for value in scheme.values())


def test_style_sheets_are_written_from_the_data():
    assert tokens.CSS_FILE.read_text(encoding="utf-8") == tokens.render_css()
    assert tokens.SCALE_FILE.read_text(encoding="utf-8") == tokens.render_scale_css()


@pytest.mark.parametrize("path", CSS_FILES, ids=[path.name for path in CSS_FILES])
def test_every_variable_is_defined(path):
    everything = "".join(one.read_text(encoding="utf-8") for one in CSS_FILES)
    defined = set(re.findall(r"--([a-z0-9-]+)\s*:", everything)) | LOCAL_VARIABLES
    used = set(re.findall(r"var\(--([a-z0-9-]+)", path.read_text(encoding="utf-8")))
    assert {name for name in used if not name.startswith("bs-")} <= defined


@pytest.mark.parametrize("path", CSS_FILES, ids=[path.name for path in CSS_FILES])
def test_style_sheet_fetches_nothing_from_outside(path):
    text = path.read_text(encoding="utf-8")
    assert "@import" not in text
    for target in re.findall(r"url\(\s*[\"']?([^\"')]+)", text):
        if target.startswith("data:image/svg+xml"):
            continue
        assert not re.match(r"[a-z]+:|//", target), target
        assert (path.parent / target).resolve().is_file(), f"{path.name} names a missing file: {target}"
