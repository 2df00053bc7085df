"""The map of easier and harder, measured: no label under another, no line through a label, nothing outside.

Geometry is measured by shapely, the graph by networkx (general reference libraries). Every exercise and every skill
of the library is laid out. Layered drawing: Sugiyama, Tagawa, Toda (1981), IEEE Trans. SMC 11(2).
"""

import functools
import re
from pathlib import Path

import networkx
import pytest
from fontTools.ttLib import TTFont
from fontTools.varLib import instancer
from shapely import LineString, box
from shapely.strtree import STRtree

from library import map_layout, maps, tables, vocabulary_wording
from tests.rows import each

ROOT = Path(__file__).resolve().parents[2]
CSS = ROOT / "static/css/maps.css"
FACTS = tables.exercises()
NAMES = {key: one["name"] for key, one in FACTS.items()}
GRAPH = networkx.DiGraph(maps.arrows_of(FACTS))
GRAPH.add_nodes_from(FACTS)
# So finely each curve is cut into straight pieces, to be measured.
PIECES = 40


@functools.cache
def map_of(key):
    """The map of an exercise or of a skill."""
    return maps.of_exercise(key, FACTS) if key in FACTS else maps.of_skill(key, FACTS)


def every_map():
    return [(key, map_of(key)) for key in (*FACTS, *vocabulary_wording.SKILLS)]


# Decorates a check of one map: it is asked of every exercise and every skill.
of_every_map = each("key, found", every_map, ids=lambda key, _found: key)


@functools.cache
def drawn(found):
    return maps.drawn(found, NAMES, 2)


# How much each of the four points of a cubic curve weighs along it (Bernstein's form).
WEIGHTS = [
    ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3)
    for t in (n / PIECES for n in range(PIECES + 1))
]


def as_line(line) -> LineString:
    return LineString(
        [
            (a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3)
            for (x0, y0), (x1, y1), (x2, y2), (x3, y3) in map_layout.curves(line)
            for a, b, c, d in WEIGHTS
        ]
    )


def as_boxes(layout) -> dict:
    return {one.id: box(one.x, one.y, one.x + one.width, one.y + one.height) for one in layout.boxes}


@of_every_map
def test_no_label_lies_on_another_or_outside(key, found):
    layout = drawn(found)
    shapes = as_boxes(layout)
    page = box(0, 0, layout.width, layout.height)
    assert all(page.contains(shape) for shape in shapes.values())
    kept = list(shapes.values())
    tree = STRtree(kept)
    near = [(a, b) for a, shape in enumerate(kept) for b in tree.query(shape.buffer(8)) if a != b]
    assert near == []


@of_every_map
def test_no_line_crosses_a_label_or_leaves_the_page(key, found):
    layout = drawn(found)
    page = box(0, 0, layout.width, layout.height)
    shapes = as_boxes(layout)
    # Room round every label; the two that a line joins may be touched by it.
    wide = {key: shape.buffer(3) for key, shape in shapes.items()}
    own = {key: shape.buffer(-0.1) for key, shape in shapes.items()}
    for line in layout.lines:
        way = as_line(line)
        assert page.contains(way)
        for key in shapes:
            room = own if key in (line.below, line.above) else wide
            assert not way.intersects(room[key]), (line.below, line.above, key)


@of_every_map
def test_lines_end_at_their_boxes_and_rise(key, found):
    layout = drawn(found)
    boxes = {one.id: one for one in layout.boxes}
    for line in layout.lines:
        low, high = boxes[line.below], boxes[line.above]
        assert line.points[0] == pytest.approx((low.x + low.width / 2, low.y), abs=0.11)
        assert line.points[-1] == pytest.approx((high.x + high.width / 2, high.y + high.height), abs=0.11)
        assert low.row < high.row
        heights = [y for _x, y in line.points]
        assert heights == sorted(heights, reverse=True)


@of_every_map
def test_every_arrow_between_those_shown_is_drawn_and_no_other(key, found):
    shown = GRAPH.subgraph(found.ids)
    assert {(line.below, line.above) for line in drawn(found).lines} == set(shown.edges)
    assert set(found.arrows) == set(shown.edges)


@of_every_map
def test_rows_are_no_lower_than_the_longest_path(key, found):
    """The row of an exercise is at least the length of the longest way up to it (networkx's topological sort)."""
    shown = GRAPH.subgraph(found.ids)
    longest = {}
    for key in networkx.topological_sort(shown):
        longest[key] = max((longest[low] + 1 for low in shown.predecessors(key)), default=0)
    rows = map_layout.layers(found.ids, found.arrows)
    assert [key for key in found.ids if rows[key] < longest[key]] == []
    filled = [list(rows.values()).count(row) for row in range(max(rows.values()) + 1)]
    assert min(filled) >= 1 and max(filled) <= map_layout.MOST_IN_ROW


@of_every_map
def test_it_fits_and_counts_the_rest(key, found):
    assert 1 <= len(found.ids) <= map_layout.MOST_SHOWN and len(set(found.ids)) == len(found.ids)
    layout = drawn(found)
    # Letters of 16 units stay above 12.5 px on a window of 820 px, which leaves 720 px for the picture.
    assert layout.width <= 910
    if found.focus:
        belongs = networkx.ancestors(GRAPH, found.focus) | networkx.descendants(GRAPH, found.focus)
        assert set(found.ids) <= belongs | {found.focus}
        assert found.rest == len(belongs) + 1 - len(found.ids)


@of_every_map
def test_the_list_says_each_once_with_all_it_grows_from(key, found):
    told = {}

    def walk(branches, parent):
        for one in branches:
            assert one.id not in told
            told[one.id] = {*one.also_from, *([parent] if parent else [])}
            walk(one.harder, one.id)

    walk(maps.nested(found), None)
    shown = GRAPH.subgraph(found.ids)
    assert told == {key: set(shown.predecessors(key)) for key in found.ids}


@pytest.mark.parametrize("key", ["mat_pelvic_curl", "mat_band_leg_press", "mat_rest_stretch", "mat_hundred"])
def test_nearest_come_first(key):
    """Breadth-first distances both ways, by networkx."""
    up = networkx.single_source_shortest_path_length(GRAPH, key)
    down = networkx.single_source_shortest_path_length(GRAPH.reverse(), key)
    far = {other: min(up.get(other, 99), down.get(other, 99)) for other in {*up, *down}}
    shown = map_of(key).ids
    distances = [far[other] for other in shown]
    assert distances == sorted(distances) and shown[0] == key
    left_out = [far[other] for other in far if other not in shown]
    assert not left_out or min(left_out) >= distances[-1]


@each("skill", vocabulary_wording.SKILLS)
def test_a_skill_shows_only_what_trains_it_and_what_was_done_first(skill):
    trains = [key for key, one in FACTS.items() if skill in one["skills"]]
    found = map_of(skill)
    assert set(found.ids) <= set(trains) and found.rest == len(trains) - len(found.ids)
    done = set(trains[-3:])
    assert done <= set(maps.of_skill(skill, FACTS, first=done).ids)


def test_a_circle_is_named():
    with pytest.raises(ValueError, match="one, two"):
        map_layout.layers(["one", "two"], [("one", "two"), ("two", "one")])


@pytest.mark.parametrize(
    ("words", "lines"),
    [
        ("Clam", ("Clam",)),
        ("Chest lift with bar", ("Chest lift with", "bar")),
        (
            "Front-of-hip stretch, leg behind on the barrel",
            ("Front-of-hip", "stretch, leg", "behind on the", "barrel"),
        ),
        ("a" * 30, ("a" * 17 + "…",)),
    ],
    ids=["short", "two lines", "four lines", "one long word"],
)
def test_names_are_broken_into_lines(words, lines):
    assert map_layout.wrapped(words) == lines


def test_no_name_of_the_library_is_cut():
    lines = [line for name in NAMES.values() for line in map_layout.wrapped(name)]
    assert [line for line in lines if "…" in line or len(line) > map_layout.LETTERS] == []


def test_every_line_of_a_name_fits_into_its_box():
    """Measured in the letters of the page: fontTools reads the widths of the bold letters from the font itself."""
    font = TTFont(ROOT / "static/vendor/radio-canada-5.3.0/radio-canada-latin-standard-normal.woff2")
    bold = instancer.instantiateVariableFont(font, {"wght": 600, "wdth": 100})
    glyphs, widths, whole = bold.getBestCmap(), bold["hmtx"], bold["head"].unitsPerEm
    size = float(re.search(r"\.map-name \{[^}]*font-size: ([\d.]+)px", CSS.read_text(encoding="utf-8"))[1])
    lines = {line for name in NAMES.values() for line in map_layout.wrapped(name)}
    wide = {line: sum(widths[glyphs[ord(letter)]][0] for letter in line) * size / whole for line in lines}
    # The second line round what is secure stands 4 units inside the first.
    assert [line for line in lines if wide[line] > map_layout.BOX - 8] == []
    assert max(wide.values()) > map_layout.BOX / 2


def test_the_measure_finds_a_line_through_a_label():
    """The check itself: a line led straight through a box in between is found."""
    through = map_layout.Line("a", "c", False, ((84, 200), (84, 0)))
    label = map_layout.Box("b", 1, 0, 80, 168, 66, ("b",))
    shape = as_boxes(map_layout.Layout(168, 200, (label,), ()))["b"]
    assert as_line(through).intersects(shape)
