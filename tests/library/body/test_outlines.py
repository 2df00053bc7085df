"""Outlines of the body's parts, against plain unions by a general geometry library (Shapely, GEOS)."""

import numpy as np
import pytest
import shapely

from library.body.camera import Camera
from library.body.drawing import PHASES, _rings
from library.body.flesh import Rings
from library.body.outline import merge, shapes
from library.body.silhouette import closed_lines
from library.body.skeleton import angles_of, stand
from tests.library.body.every import EVERY, of_every


def rings(pose, phase):
    body = stand(angles_of(pose[phase]), pose[phase]["solved_hips"])
    return list(_rings(pose[phase], body, Camera.of(pose)).values())


def union(part):
    return shapely.union_all(
        [shapely.MultiPoint(part.outlines[pair].reshape(-1, 2)).convex_hull for pair in part.pairs]
    )


def covered(parts):
    return shapely.buffer(shapes(closed_lines(parts)), 0)


@of_every(EVERY[::8])
def test_the_closed_lines_of_a_part_cover_its_hulls_and_nothing_else(pose):
    for phase in PHASES:
        parts = rings(pose, phase)
        for part, found in zip(parts, covered(parts), strict=True):
            assert shapely.difference(found, union(part)).area < 1e-6
            assert shapely.difference(union(part), found).area < 0.5, (
                "of some thousand: a tip without an edge"
            )


@of_every(EVERY[::40])
def test_an_outline_is_its_part_grown_by_the_edge_with_its_notches_filled(pose):
    parts = rings(pose, "end")
    for part, found in zip(parts, merge(closed_lines(parts), [3.0] * len(parts)), strict=True):
        expected = union(part).buffer(3.9).buffer(-3)
        assert found.hausdorff_distance(expected) < 1.3
        assert found.area == pytest.approx(expected.area, rel=0.02)


def square(x, y, half):
    return np.array(((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)))


@pytest.mark.parametrize(
    ("pieces", "pairs"),
    [
        pytest.param([(0, 0, 3), (0, 0, 1)], [(0, 1)], id="one inside the other"),
        pytest.param([(0, 0, 1), (9, 0, 1), (9, 1, 2), (2, 3, 1)], [(0, 1), (1, 2), (2, 3)], id="bent back"),
        pytest.param([(0, 0, 1), (9, 0, 1), (4, 7, 1)], [(0, 1), (1, 2), (2, 0)], id="a ring with a hole"),
        pytest.param([(0, 0, 2)], [(0, 0)], id="a piece alone"),
        pytest.param([(0, 0, 1), (9, 0, 1), (0, 9, 1), (9, 9, 1)], [(0, 1), (2, 3)], id="two apart"),
    ],
)
def test_lines_round_plain_squares(pieces, pairs):
    part = Rings(np.array([square(*piece) for piece in pieces], dtype=float), np.array(pairs))
    assert shapely.symmetric_difference(union(part), covered([part])[0]).area < 1e-9


def test_lines_round_pieces_that_cross_more_than_twice():
    bar = np.array(((-5, -1), (5, -1), (5, 1), (-5, 1)), dtype=float)
    part = Rings(np.array((bar, bar[:, ::-1] * (1, -1))), np.array(((0, 1),)))
    assert shapely.symmetric_difference(union(part), covered([part])[0]).area < 1e-9
