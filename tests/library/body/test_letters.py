"""The letter of the working side: clear of the body, off the lines of the apparatus, calm between phases."""

from xml.etree import ElementTree

from shapely import LineString, MultiPoint, Point, Polygon

from library.body import figure, view_box
from library.body.drawing import _geometry, _key
from library.body.letter import letter_radius
from tests.library.body.curves import cubics
from tests.library.body.every import POSES, SIDED, of_every
from tests.library.body.test_figures import SVG, box_of, path_strokes

BODY = {"fg-near", "fg-mid", "fg-far", "fg-hair", "fg-work-right"}
LINES = {"fg-post", "fg-post-far", "fg-spring", "fg-rope", "fg-app"}
TONES = {"#222", "#555", "#999"}
FACES = {"fg-bed", "fg-top", "fg-appfill", "fg-side"}
# No free spot near the leg: the letter crosses the pale edge of the mat.
FILLS_ITS_MAT = {"mat_ankle_pump"}
# All round the leg are posts and springs of the chair; what is free of them is beside another limb.
AMONG_POSTS = {"ch_standing_pump", "ch_step_up"}


def on_paper(pose, phase):
    """The letter in the lowest panel of a handout, 79 x 22 mm: centre, radius, points, and the body's outlines."""
    _x, _y, width, height = view_box(pose, "right")
    unit = min(79 / width, 22 / height)
    svg = figure(pose, phase=phase, side="right", title="t", paint="paper", unit=unit)
    root = ElementTree.fromstring(svg)
    text = root.find(SVG + "text")
    size = float(text.get("font-size"))
    radius = size / 1.4
    centre = Point(float(text.get("x")) - 0.12 * radius, float(text.get("y")))
    bodies = [path.get("d") for path in root.findall(SVG + "path")[:-1] if path.get("fill") in TONES]
    return centre, radius, size * unit * 72 / 25.4, bodies


def drawn(pose, phase):
    """Centre and radius of the letter, and the other paths by class, of the drawing for the right side."""
    root = ElementTree.fromstring(figure(pose, phase=phase, side="right", title="t"))
    text = root.find(SVG + "text")
    radius = letter_radius(box_of(root))
    centre = Point(float(text.get("x")) - 0.12 * radius, float(text.get("y")))
    return centre, radius, [(path.get("class"), path.get("d")) for path in root.findall(SVG + "path")[:-1]]


@of_every(SIDED, phase=("start", "end"))
def test_the_letter_covers_nothing_of_the_body(pose, phase):
    centre, radius, paths = drawn(pose, phase)
    for kind, text in paths:
        if kind in BODY:
            assert Polygon(path_strokes(text)[0]).distance(centre) > radius, kind
        if kind == "fg-arrow":
            assert min(LineString(way).distance(centre) for way in cubics(text)) > radius + 4


@of_every(SIDED, phase=("start", "end"))
def test_the_letter_stands_on_no_line_of_the_apparatus(pose, phase):
    centre, radius, paths = drawn(pose, phase)
    for kind, text in paths:
        for points in path_strokes(text):
            if kind in LINES:
                assert LineString(points).distance(centre) > radius, kind


def crosses_an_edge(pose):
    """Whether the letter of either phase lies on the edge of a face of the apparatus."""
    for phase in ("start", "end"):
        centre, radius, paths = drawn(pose, phase)
        faces = [Polygon(points) for kind, text in paths if kind in FACES for points in path_strokes(text)]
        if any(face.exterior.distance(centre) <= radius for face in faces):
            return True
    return False


def test_the_letter_crosses_no_edge_but_of_a_mat_that_is_filled():
    assert {pose["key"] for pose in SIDED if crosses_an_edge(pose)} == FILLS_ITS_MAT


def is_beside_the_other_side(pose):
    """Whether the letter of either phase is nearer to a left limb than to one it names."""
    named = pose.get("work", ("r.arm", "r.leg"))
    for phase in ("start", "end"):
        centre, _radius, _paths = drawn(pose, phase)
        rings = _geometry(_key(pose))["rings"][phase]
        away = {
            limb: min(
                MultiPoint(rings[limb].outlines[pair].reshape(-1, 2)).convex_hull.distance(centre)
                for pair in rings[limb].pairs
            )
            for limb in rings
            if limb in named or limb in ("l.arm", "l.leg")
        }
        if min(away[limb] for limb in named) > min(away["l.arm"], away["l.leg"]) + 1:
            return True
    return False


def test_the_limb_that_is_nearest_to_the_letter_is_not_one_of_the_other_side():
    assert {pose["key"] for pose in SIDED if is_beside_the_other_side(pose)} == AMONG_POSTS


def test_the_letter_keeps_its_place_where_the_body_lets_it():
    places = {
        key: [drawn(POSES[key], phase)[0] for phase in ("start", "end")]
        for key in POSES
        if "side" in POSES[key]
    }
    same = {key for key, (start, end) in places.items() if start.equals(end)}
    assert {"ch_standing_pump", "lb_side_stretch", "mat_mermaid", "st_wall_side_bend"} <= same


@of_every(SIDED, phase=("start", "end"))
def test_the_letter_on_paper_covers_nothing_of_the_body(pose, phase):
    centre, radius, _points, bodies = on_paper(pose, phase)
    for outline in bodies:
        assert Polygon(path_strokes(outline)[0]).distance(centre) > radius


@of_every([pose for pose in SIDED if pose["key"].startswith(("st_", "sc_", "mat_"))])
def test_the_letter_on_paper_is_readable_in_the_lowest_panel(pose):
    _centre, _radius, points, _bodies = on_paper(pose, "end")
    assert points >= 6
