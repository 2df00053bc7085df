"""The arrows of a movement: one calm curve, clear of the body, beside the limb that moves."""

from xml.etree import ElementTree

import numpy as np
import pytest
from shapely import LineString, Point, Polygon

from library.body import figure
from library.body.arrow import HEAD, Arrow, Surroundings, beside, calm
from library.body.cutting import cut
from library.body.drawing import _body_paths, _geometry, _key, _tracks
from library.body.movement import arrows
from library.body.moving import going_with
from library.body.room import Strokes
from tests.library.body.curves import cubics
from tests.library.body.every import EVERY, POSES, of_every
from tests.library.body.test_figures import SVG, path_points, path_strokes

ROUND = {  # who goes round: drawn by hand as a ring, that bends one way too
    "mat_pelvic_clock", "mat_leg_circle", "mat_leg_circle_bent", "mat_corkscrew_prep", "mat_hip_twist",
    "mat_side_circles", "ref_leg_circles", "ref_single_leg_strap", "tt_leg_springs_circles",
}  # fmt: skip
# Where the moving part is hemmed in by another: an arm that lies on the ribs, a hand behind a thigh or a spring.
HEMMED_IN = {
    "mat_breath_side", "ref_hundred_prep", "ref_kneel_side_arm", "sp_ball_bridge", "tt_mini_roll_up",
    "tt_arm_springs_lying",
}  # fmt: skip
# The way leads over a rope or a spring, or before a chair's frame.
CROSSING = {"ref_hundred", "tt_mermaid", "ref_arm_circles", "ch_teaser_floor", "ch_standing_pump_side"}
GAP, LEAST_LONG = 4, 20  # page units


def drawn(pose, phase="end", **wanted):
    """Roles and path texts of a drawing, without the sides' letter."""
    root = ElementTree.fromstring(figure(pose, phase=phase, title="t", arrow=True, **wanted))
    return [(one.get("class"), one.get("d")) for one in root.iter(SVG + "path")]


def lines(pose):
    """The arrows of a drawing, each as page points (n, 2)."""
    return [way for role, text in drawn(pose) if role == "fg-arrow" for way in cubics(text)]


def outlines(pose):
    """The parts of the body as they are drawn at the end; hair and bun are the head's."""
    found = {}
    for part, text in _body_paths(_key(pose), "end").items():
        if part != "ghost" and not part.endswith(".edge"):
            name = "head" if part in ("hair", "bun") else part
            found.setdefault(name, []).extend(Polygon(one) for one in path_strokes(text))
    return found


def from_the(parts, thing):
    """How far a thing is from each part."""
    return {name: min(one.distance(thing) for one in polygons) for name, polygons in parts.items()}


@of_every(EVERY)
def test_an_arrow_bends_one_way(pose):
    for way in lines(pose):
        steps = np.diff(way, axis=0)
        (x, y), (to_x, to_y) = steps[:-1].T, steps[1:].T
        turns = (x * to_y - y * to_x) / (np.hypot(x, y) * np.hypot(to_x, to_y))
        assert turns.max() < 0.03 or turns.min() > -0.03, (
            "radians: what tenths of a unit make of a straight line"
        )
        if pose["key"] not in ROUND:
            assert np.ptp(turns) < 0.05, "as much everywhere: an arc"


def test_only_who_goes_round_has_an_arrow_drawn_by_hand_that_is_no_arc():
    assert {
        key for key, pose in POSES.items() if any(one.turn is None for one in _tracks(_key(pose)))
    } == ROUND


@of_every(EVERY)
def test_an_arrow_keeps_clear_of_the_body(pose):
    parts = outlines(pose)
    for way in lines(pose):
        near = from_the(parts, LineString(way))
        assert min(near.values()) >= GAP, min(near, key=near.get)


@of_every(EVERY)
def test_so_does_its_head_that_touches_neither_hair_nor_face(pose):
    parts = outlines(pose)
    tips = [text for role, text in drawn(pose) if role == "fg-arrow-head"]
    for tip in path_strokes(tips[0]):
        near = from_the(parts, LineString(tip))
        assert min(near.values()) >= GAP, min(near, key=near.get)


def belongs(pose):
    """Whether the middle of every arrow is nearest to a part that moves with its point."""
    parts, rings = outlines(pose), _geometry(_key(pose))["rings"]
    for one, way in zip(arrows(pose), lines(pose), strict=True):
        length = LineString(way)
        near = from_the(parts, Point(length.interpolate(0.5, normalized=True)))
        own = going_with(one["track"], rings["start"], rings["end"])
        if min(near[name] for name in own) > min(near.values()) + 1:
            return False
    return True


def test_the_limb_that_is_nearest_to_an_arrow_is_one_that_moves():
    assert {key for key, pose in POSES.items() if not belongs(pose)} <= HEMMED_IN


def crosses(pose):
    """Whether an arrow runs over a spring, a rope or a post."""
    thin = {"fg-spring", "fg-rope", "fg-post", "fg-post-far", "fg-app"}
    apparatus = [LineString(one) for role, text in drawn(pose) if role in thin for one in path_strokes(text)]
    return any(LineString(way).distance(one) < 1 for way in lines(pose) for one in apparatus)


def test_hardly_an_arrow_crosses_a_spring_a_rope_or_a_post():
    assert {key for key, pose in POSES.items() if crosses(pose)} <= CROSSING


@of_every(EVERY)
def test_an_arrow_is_long_enough_to_be_seen_and_short_to_write(pose):
    texts = [text for role, text in drawn(pose) if role == "fg-arrow"]
    for way in lines(pose):
        assert LineString(way).length >= LEAST_LONG
    if pose["key"] not in ROUND:
        assert len(texts[0]) < 70 * len(arrows(pose))


@of_every(EVERY[::9])
def test_an_arrow_cut_at_a_limit_keeps_clear_too(pose):
    shorter = cut(pose, 0.6)
    parts = outlines(shorter)
    for way in lines(shorter):
        assert min(from_the(parts, LineString(way)).values()) >= 2


@pytest.mark.parametrize(
    ("track", "with_it"),
    [
        pytest.param("r.toe", {"r.leg"}, id="the leg that moves alone"),
        pytest.param("mid.toe", {"l.leg", "r.leg"}, id="a point between both"),
    ],
)
def test_what_goes_with_a_point_of_a_limb(track, with_it):
    rings = _geometry(_key(POSES["mat_toe_tap"]))["rings"]
    assert going_with(track, rings["start"], rings["end"]) == with_it


def test_the_other_leg_goes_along_where_it_does_the_same():
    rings = _geometry(_key(POSES["mat_lower_lift"]))["rings"]
    assert going_with("r.toe", rings["start"], rings["end"]) == {"l.leg", "r.leg"}


def arc(half, count=9):
    turns = np.linspace(-half, half, count)
    return 100 * np.stack((np.sin(turns), -np.cos(turns)), axis=1)


class TestCalm:
    @pytest.mark.parametrize("half", [0.2, 0.8, 1.5, 2.0])
    @pytest.mark.parametrize("way", [1, -1], ids=["up", "down"])
    def test_an_arc_stays_the_arc_it_is(self, half, way):
        given = arc(half, 60) * (1, way)
        found = calm(given)
        assert found.points[[0, -1]] == pytest.approx(given[[0, -1]])
        assert np.hypot(*found.points.T) == pytest.approx(100, abs=0.5)
        assert np.hypot(*np.array(path_points(found.path)).T) == pytest.approx(100, abs=0.5)
        [curve] = cubics(found.path)
        assert np.hypot(*curve.T) == pytest.approx(100, abs=1.5)

    def test_waves_on_the_way_are_left_out(self):
        x = np.linspace(0, 200, 9)
        waved = np.stack((x, 8 * np.sin(x / 200 * 2 * np.pi)), axis=1)
        assert calm(waved).points[:, 1] == pytest.approx(0, abs=0.2)

    def test_a_ring_stays_as_it_was_drawn(self):
        ring = arc(3.0, 12)
        assert calm(ring).turn is None and calm(ring).points is ring

    def test_what_is_too_short_to_be_seen_begins_earlier(self):
        found = calm(np.linspace((0.0, 0.0), (6.0, 0.0), 9))
        assert found.points[-1] == pytest.approx((6, 0)) and found.points[0, 0] < -15


class TestBeside:
    STRAIGHT = calm(np.linspace((0.0, 0.0), (120.0, 0.0), 9))

    def around(self, *bars, own=(), lines=()):
        body = Strokes.along_lines([np.array(bar, float) for bar in bars])
        return Surroundings(
            body,
            np.array(own or [True] * len(bars)),
            Strokes.along_lines([np.array(one, float) for one in lines]),
        )

    def test_nothing_near_leaves_it_where_it_is(self):
        found = beside(self.STRAIGHT, self.around([(0, 50), (120, 50)]), [])
        assert found.points == pytest.approx(self.STRAIGHT.points)

    def test_it_leaves_what_it_would_lie_on(self):
        bar = [(-20.0, 2.0), (140.0, 2.0)]
        found = beside(self.STRAIGHT, self.around(bar), [])
        assert LineString(found.points).distance(LineString(bar)) > 6
        assert LineString(found.head(HEAD)).distance(LineString(bar)) > 4

    def test_it_gets_shorter_where_only_its_tip_has_no_room(self):
        walls = [[(x, -200), (x, 200)] for x in (-30, -19, -8, 110, 121, 132)]
        found = beside(self.STRAIGHT, self.around(*walls), [])
        assert 60 < LineString(found.points).length < 115
        assert min(LineString(wall).distance(LineString(found.points)) for wall in walls) > 5

    def test_it_stands_nearer_to_what_is_its_own(self):
        bars = [(0, 20), (120, 20)], [(0, -30), (120, -30)]
        found = beside(self.STRAIGHT, self.around(*bars, own=[False, True]), [])
        away = [LineString(bar).distance(LineString(found.points)) for bar in bars]
        assert away[1] <= away[0]

    def test_it_keeps_off_another_arrow(self):
        other = Arrow(self.STRAIGHT.points + (0, 3), self.STRAIGHT.turn)
        found = beside(self.STRAIGHT, self.around([(0, 300), (1, 300)]), [other])
        assert LineString(found.points).distance(LineString(other.points)) > 10
