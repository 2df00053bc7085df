"""The way between the two ends, and drawing ahead."""

import numpy as np
import pytest

from library.body import figure, warm
from library.body.drawing import _body_paths, _panel, _spots, _tracks
from library.body.movement import between, tracks
from library.body.points import locate
from tests.library.body.every import POSES

SHARES = np.linspace(0, 1, 11)


def test_an_arrow_never_runs_under_the_floor():
    deep = {key for key, pose in POSES.items() for way in tracks(pose) if way[:, 2].min() < -0.012}
    assert deep == set()


@pytest.mark.parametrize("key", ["st_heel_raise", "mat_bridge_heel_raise"])
def test_toes_stay_on_the_ground_while_the_heels_rise(key):
    for body in between(POSES[key], SHARES):
        for name in ("mid.ball", "mid.toe"):
            assert locate(body, name)[2] == pytest.approx(0, abs=0.004), name
    assert locate(body, "mid.heel")[2] > 0.04


def test_someone_who_stands_up_keeps_the_feet_where_they_are():
    for body in between(POSES["st_sit_to_stand"], SHARES):
        for name in ("mid.heel", "mid.ball"):
            assert locate(body, name)[2] == pytest.approx(0, abs=0.002)
        assert locate(body, "mid.heel")[0] == pytest.approx(0.29, abs=0.002)


@pytest.mark.parametrize("key", POSES)
def test_the_way_begins_and_ends_in_the_stored_poses(key):
    pose = POSES[key]
    for phase, body in zip(("start", "end"), between(pose, (0, 1)), strict=True):
        assert body.origins["hips"] == pytest.approx(pose[phase]["solved_hips"], abs=1e-9)
    given = all("arrow_path" in one for one in (pose, pose.get("second_arrow", pose)))
    assert {len(way) for way in tracks(pose)} == {1 if given else 9}, (
        "of an arrow drawn as given the end will do"
    )


def test_whoever_lies_on_a_carriage_stays_on_it():
    heights = [locate(body, "mid.shoulder")[2] for body in between(POSES["ref_foot_toes"], SHARES)]
    assert np.ptp(heights) < 0.002


def test_drawing_ahead_leaves_nothing_costly_for_later():
    sided = sum("side" in pose for pose in POSES.values())
    assert sum(1 for _ in warm()) == 2 * len(POSES) + 4 * sided
    costly = (_panel, _body_paths, _tracks, _spots)
    before = [each.cache_info().misses for each in costly]
    for pose in POSES.values():
        for phase in ("start", "end"):
            for side in (None, "left", "right") if "side" in pose else (None,):
                figure(pose, phase=phase, side=side, title="Drawn later", paint="paper")
    assert [each.cache_info().misses for each in costly] == before
