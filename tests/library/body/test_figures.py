"""Every figure as a drawing: well formed, within its box, painted from the closed list, the same twice."""

import re
from xml.etree import ElementTree

import numpy as np
import pytest
from shapely import Polygon

from library.body import figure, view_box
from library.body.camera import Camera
from library.body.drawing import _figure, _key, _tracks
from library.body.flesh import rings
from library.body.paint import CLASSES, PAPER, paper
from library.body.paths import curve_path, line_paths, number, smooth_paths
from library.body.poses import FOLDER
from library.body.skeleton import angles_of, stand
from tests.library.body.every import EVERY, PLAIN, POSES, SIDED, of_every

SVG = "{http://www.w3.org/2000/svg}"
GREYS = {"#111", "#222", "#555", "#999", "#e9e9e9", "#fff", "none"}


def tree(pose, **wanted):
    return ElementTree.fromstring(figure(pose, **({"phase": "end", "title": "A figure"} | wanted)))


def side_of(pose):
    return "right" if "side" in pose else None


def box_of(root):
    return tuple(float(value) for value in root.get("viewBox").split())


def path_strokes(path):
    """End points of each stroke of a path (M, m, l, q, t, c, h, a, z), absolute (SVG 2, chapter Paths)."""
    sizes = {"m": 2, "l": 2, "q": 4, "t": 2, "c": 6, "h": 1, "a": 7}
    strokes, at = [], (0.0, 0.0)
    for command, text in re.findall(r"([Mmlqtchaz])([^Mmlqtchaz]*)", path):
        numbers = [float(value) for value in re.findall(r"-?(?:\d+\.?\d*|\.\d+)", text)]
        if command in "Mm":
            at = (0.0, 0.0) if command == "M" else at
            strokes.append([])
        if command == "z":
            at = strokes[-1][0]
        size = sizes.get(command.lower(), 1)
        for first in range(0, len(numbers), size):
            step = numbers[first : first + size]
            dx, dy = (step[0], 0.0) if command == "h" else (step[-2], step[-1])
            at = (at[0] + dx, at[1] + dy)
            strokes[-1].append(at)
    return strokes


def path_points(path):
    """The same of all strokes together."""
    return [point for stroke in path_strokes(path) for point in stroke]


@of_every(EVERY, paint=("screen", "paper"))
def test_figure_is_plain_markup(pose, paint):
    for phase in ("start", "end"):
        root = tree(pose, phase=phase, paint=paint, side=side_of(pose))
        assert root.tag == SVG + "svg"
        assert root.get("role") == "img"
        assert root[0].tag == SVG + "title"
        assert root[0].text == "A figure"
        for element in root.iter():
            assert element.tag.removeprefix(SVG) in {"svg", "title", "g", "path", "text"}
            assert not {"style", "id", "filter", "mask", "clip-path"} & set(element.attrib)
            assert not [name for name in element.attrib if name.startswith("on")]


@of_every(EVERY)
def test_screen_uses_classes_of_the_closed_list_only(pose):
    root = tree(pose, side=side_of(pose))
    for element in root.iter():
        assert set((element.get("class") or "").split()) <= CLASSES
        assert element.get("fill") is None
        assert element.get("stroke") is None


@of_every(EVERY)
def test_paper_uses_the_five_greys_and_white(pose):
    root = tree(pose, paint="paper", side=side_of(pose))
    for element in list(root.iter())[2:]:
        assert element.get("class") is None
        if element.tag == SVG + "path":
            assert element.get("fill") in GREYS
            assert element.get("stroke", "none") in GREYS


@of_every(EVERY)
def test_start_and_end_share_their_box_and_nothing_is_cut_off(pose):
    for side in (None, "left", "right") if "side" in pose else (None,):
        roots = [tree(pose, phase=phase, side=side) for phase in ("start", "end")]
        assert box_of(roots[0]) == box_of(roots[1]) == pytest.approx(view_box(pose, side))
        x, y, width, height = box_of(roots[0])
        for root in roots:
            turned = root.find(SVG + "g") is not None
            for element in root.iter(SVG + "path"):
                inside = turned and element in list(root.find(SVG + "g"))
                places = np.array(path_points(element.get("d"))) * ((-1, 1) if inside else (1, 1))
                assert places[:, 0].min() >= x - 0.2
                assert places[:, 0].max() <= x + width + 0.2
                assert places[:, 1].min() >= y - 0.2
                assert places[:, 1].max() <= y + height + 0.2


@of_every(EVERY)
def test_numbers_have_one_decimal_at_most(pose):
    svg = figure(pose, phase="end", title="t", side=side_of(pose))
    assert not re.search(r"\d*\.\d\d", svg.replace("0.36em", ""))
    assert "nan" not in svg


@of_every(EVERY)
def test_drawing_again_gives_the_same_text(pose):
    wanted = {"phase": "start", "title": "t", "side": side_of(pose)}
    first = figure(pose, **wanted)
    _figure.cache_clear()
    assert figure(dict(reversed(pose.items())), **wanted) == first


@of_every(SIDED)
def test_left_is_the_right_drawing_reversed_with_its_own_letter_and_colour(pose):
    left, right = (tree(pose, side=side) for side in ("left", "right"))
    group = left.find(SVG + "g")
    assert group.get("transform") == "scale(-1 1)"
    assert right.find(SVG + "g") is None
    drawn = [element.get("d") for element in right if element.tag == SVG + "path"][:-1]
    assert [element.get("d") for element in group] == drawn
    x, _, width, _ = box_of(right)
    assert box_of(left)[0] == pytest.approx(-(x + width), abs=0.11)
    for root, letter, side in ((left, "L", "left"), (right, "R", "right")):
        assert [text.text for text in root.findall(SVG + "text")] == [letter]  # outside the reversed group
        classes = {element.get("class") for element in root.iter()}
        other = {"left": "right", "right": "left"}[side]
        assert f"fg-letter-{side}" in classes
        assert f"fg-letter-{other}" not in classes
        assert (f"fg-work-{side}" in classes) == ("work" in pose)
        assert f"fg-work-{other}" not in classes


@of_every(SIDED)
def test_letters_mirror_each_other_and_can_be_left_out(pose):
    places = [float(tree(pose, side=side).find(SVG + "text").get("x")) for side in ("left", "right")]
    assert places[0] == pytest.approx(-places[1], abs=0.11)
    assert tree(pose, side="left", letter=False).find(SVG + "text") is None


@of_every(SIDED)
def test_without_a_side_no_limb_is_painted_and_no_letter_stands(pose):
    root = tree(pose, side=None)
    assert root.find(SVG + "text") is None
    assert not [e for e in root.iter() if (e.get("class") or "").startswith("fg-work")]


@of_every(PLAIN)
def test_work_with_both_sides_ignores_the_side(pose):
    assert figure(pose, phase="end", title="t", side="left") == figure(pose, phase="end", title="t")


@of_every(EVERY)
def test_the_arrow_is_at_the_end_unless_asked_otherwise(pose):
    def has_arrow(**wanted):
        return any(element.get("class") == "fg-arrow" for element in tree(pose, **wanted).iter())

    assert has_arrow(phase="end")
    assert not has_arrow(phase="start")
    assert has_arrow(phase="start", arrow=True)
    assert not has_arrow(phase="end", arrow=False)


def test_working_limb_on_paper_is_white_inside_a_black_outline():
    root = tree(POSES["mat_bird_dog"], paint="paper", side="left")
    limbs = [e for e in root.iter(SVG + "path") if e.get("fill") == "#fff" and e.get("stroke") == "#111"]
    assert len(limbs) == 2  # the leg and the half-disc of its letter


def test_tones_of_the_body_stay_apart_in_grey():
    """Steps of 40 levels of 255 or more: what a plain office printer and a copy of a copy still tell apart."""
    fills = {
        role: re.search(r'fill="#(\w+)"', PAPER[role])[1] for role in ("near", "mid", "far", "work-left")
    }
    levels = sorted(int(text[:1] * 2 if len(text) == 3 else text[:2], 16) for text in fills.values())
    assert levels[-1] == 255, "the working limb is white"
    assert min(above - below for below, above in zip(levels[:-1], levels[1:], strict=True)) >= 40
    hair = int(re.search(r'fill="#(\w)', PAPER["hair"])[1] * 2, 16)
    assert levels[1] - hair >= 40, "hair on the head"


# Standing work in the lowest panels, both of one page, and lying work at full width: mm on paper of a unit.
UNITS = (0.07, 0.1, 0.17)


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize(
    ("roles", "least"),
    [
        pytest.param(("work-left", "work-right", "rope", "arrow", "arrow-head"), 0.4, id="signs"),
        pytest.param(("letter-left", "letter-right", "app", "spring"), 0.35, id="lines"),
        pytest.param(("bed", "top", "appfill", "side"), 0.35, id="faces"),
    ],
)
def test_lines_on_paper_are_wide_enough_to_print(roles, least, unit):
    """0.25, 0.35 and 0.5 mm: the line widths of technical drawings (ISO 128-2, from memory)."""
    painted = paper(unit)
    for role in roles:
        width = float(re.search(r'stroke-width="([\d.]+)"', painted[role])[1])
        assert width * unit >= least - 0.005, role
        assert width <= 6, f"{role} would fill a thin arm"


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("tube", ["post", "post-far"])
def test_both_rims_of_a_tube_on_paper_are_wide_enough_to_print(tube, unit):
    widths = [
        float(re.search(r'stroke-width="([\d.]+)"', paper(unit)[role])[1]) for role in (tube, f"{tube}-core")
    ]
    assert (widths[0] - widths[1]) / 2 * unit >= 0.245


@pytest.mark.parametrize("unit", [0.0, *UNITS])
def test_dots_of_the_arrow_stand_out_from_a_dark_body(unit):
    """Where the arrow crosses a limb in black each dot has a white ring, and the rings do not grow together."""
    dot, ring = (
        [float(number) for number in re.findall(r'(?:width|array)="(?:\.1 )?([\d.]+)"', paper(unit)[role])]
        for role in ("arrow", "arrow-edge")
    )
    assert dot[1] == pytest.approx(ring[1]), "the same dots"
    assert dot[0] * 1.4 <= ring[0] <= dot[1] + 0.1
    band = re.search(r'stroke="#fff" stroke-width="([\d.]+)"', paper(unit)["rope-edge"])
    assert float(band[1]) > 1.5 * float(re.search(r'width="([\d.]+)"', paper(unit)["rope"])[1])
    root = tree(POSES["mat_roll_up"], paint="paper", unit=unit)
    painted = [element.attrib for element in root.iter(SVG + "path")][-4:]
    assert [one["stroke"] for one in painted] == ["#fff", "#111", "#fff", "#111"]


@of_every(EVERY)
def test_the_arrow_of_a_small_figure_on_paper_keeps_within_its_box(pose):
    root = tree(pose, paint="paper", unit=UNITS[0])
    x, y, width, height = box_of(root)
    dotted = max(place for place, element in enumerate(root) if element.get("stroke-dasharray"))
    places = np.array(path_points(root[dotted + 2].get("d")))
    for head in places.reshape(-1, 3, 2):
        barbs = np.hypot(*(head[1] - head[[0, 2]]).T)
        assert barbs == pytest.approx(11.1, abs=0.2), "as large as the margin lets it be"
    assert x - 0.2 <= places[:, 0].min() and places[:, 0].max() <= x + width + 0.2
    assert y - 0.2 <= places[:, 1].min() and places[:, 1].max() <= y + height + 0.2


def heads(pose, **wanted):
    root = tree(pose, side=side_of(pose), **wanted)
    return [
        one.get("d").lower().count("m")
        for one in root.iter(SVG + "path")
        if one.get("class") == "fg-arrow-head"
    ]


@of_every(EVERY)
def test_each_moving_limb_that_is_named_has_its_arrow_and_none_more_than_two(pose):
    assert heads(pose) == [2 if "second_arrow" in pose else 1]


@of_every([pose for pose in EVERY if "second_arrow" in pose])
def test_two_arrows_follow_two_points_and_keep_apart(pose):
    assert pose["second_arrow"]["track"] != pose["track"]
    first, second = (one.points for one in _tracks(_key(pose)))
    assert np.hypot(*(first[:, None] - second[None]).T).min() > 4


GHOSTS = [pose for pose in EVERY if "ghost" in pose]


@of_every(GHOSTS)
def test_the_outline_of_the_start_lies_under_the_body_at_the_end(pose):
    def roles(phase):
        return [one.get("class") for one in tree(pose, phase=phase).iter(SVG + "path")]

    assert "fg-ghost" not in roles("start")
    drawn = roles("end")
    assert drawn.count("fg-ghost") == 1
    assert drawn.index("fg-ghost") < min(drawn.index("fg-mid"), drawn.index("fg-near"))


def test_a_domed_foot_is_shorter_and_stands_clear_between_heel_and_ball():
    pose = POSES["mat_foot_dome"]
    body, camera = stand(angles_of(pose["end"]), pose["end"]["solved_hips"]), Camera.of(pose)
    flat, domed = (rings(body, camera, domed=one)["r.leg"] for one in ((), ("r",)))
    tips = [one.outlines[-1].mean(axis=0) for one in (flat, domed)]
    assert 3 < tips[0][0] - tips[1][0] < 6, "drawn so that it can be seen"
    heel = len(flat.outlines) - 4
    assert [heel, heel + 2] in flat.pairs.tolist()
    assert [heel, heel + 3] not in domed.pairs.tolist()


def test_an_outline_is_drawn_for_small_movements_only():
    assert 0 < len(GHOSTS) < 20


def test_title_is_escaped_and_a_prefix_marks_every_id():
    svg = figure(POSES["mat_plank"], phase="start", title='Start: <b> & "so"', prefix="ex7-")
    root = ElementTree.fromstring(svg)
    assert root[0].text == 'Start: <b> & "so"'
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert ids == ["ex7-title"]
    assert root.get("aria-labelledby") == "ex7-title"


@pytest.mark.parametrize(
    "wanted",
    [
        pytest.param({"phase": "middle"}, id="phase"),
        pytest.param({"phase": "end", "side": "up"}, id="side"),
        pytest.param({"phase": "end", "paint": "gold"}, id="paint"),
    ],
)
def test_unknown_words_are_errors(wanted):
    with pytest.raises(ValueError, match="unknown phase, side or paint"):
        figure(POSES["mat_plank"], title="t", **wanted)


@pytest.mark.parametrize(
    ("value", "text"),
    [(0, "0"), (0.04, "0"), (0.5, ".5"), (-0.5, "-.5"), (12.0, "12"), (-3.26, "-3.3"), (100.0, "100")],
)
def test_numbers_are_written_short(value, text):
    assert number(value) == text


CORNERS = np.array(((0, 0), (10.5, -3), (4, 7.2), (-8, 7.2)))


def test_a_curve_comes_back_from_its_text():
    assert np.array(path_points(curve_path(CORNERS))) == pytest.approx(CORNERS)


def test_lines_come_back_from_their_text():
    """Open and closed strokes, several in one path: a stroke after z goes on from where the one before began."""
    lines = [
        ((CORNERS, CORNERS + 3.4), False),
        ((CORNERS, CORNERS - (7, 0.5)), True),
        ((CORNERS * 30,), False),
    ]
    texts = line_paths(lines)
    assert [text.count("z") for text in texts] == [0, 2, 0]
    for text, (strokes, _closed) in zip(texts, lines, strict=True):
        for found, stroke in zip(path_strokes(text), strokes, strict=True):
            assert np.array(found) == pytest.approx(np.array(stroke))


def test_a_smooth_outline_touches_the_middles_of_its_edges():
    """A quadratic spline: where it is smooth, t mirrors the corner before at the middle (SVG 2, chapter Paths)."""
    corners = CORNERS * 2
    (text,) = smooth_paths(np.array([Polygon(corners)]))
    middles = (corners + np.roll(corners, -1, axis=0)) / 2
    found = np.array(path_points(text))
    assert found[:-1] == pytest.approx(middles) and found[-1] == pytest.approx(middles[0])
    pull = [float(value) for value in re.findall(r"-?[\d.]+", text)][2:4]
    walked = [found[0] + pull]
    for middle in found[1:-1]:
        walked.append(2 * middle - walked[-1])
    assert np.array(walked) == pytest.approx(np.roll(corners, -1, axis=0))


def test_the_stylesheet_colours_every_class():
    css = (FOLDER.parents[2] / "static" / "css" / "figures.css").read_text(encoding="utf-8")
    for name in CLASSES - {"fg"}:
        assert re.search(rf"\.{name}\b(?!-)[^{{}}]*\{{[^}}]*(fill|stroke):", css), name
