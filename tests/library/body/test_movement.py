"""The way between the two ends, and drawing ahead."""

import numpy as np
import pytest

from library.body import all_poses, figure, warm
from library.body.drawing import _body_paths, _geometry, _panel, _spots, _track
from library.body.movement import between, track
from library.body.points import FOOT_POINTS, HAND_POINTS, LIMB_POINTS, TRUNK_POINTS, locate

POSES = all_poses()
ON_THE_GROUND = [key for key in POSES if POSES[key]["scene"]["kind"] in ("mat", "floor", "arc")]
SKIN = [
    *TRUNK_POINTS,
    *(f"{side}.{name}" for side in "lr" for name in (*LIMB_POINTS, *FOOT_POINTS, *HAND_POINTS)),
]
SHARES = np.linspace(0, 1, 11)
DEEPEST = 0.012  # metres; one centimetre is what a drawing hides, the rest is rounding of stored angles
# Reviewed exceptions: which points of which sides go how deep, and why it is left. Only the dotted arrow is
# drawn from the way, and it stays above the floor.
THROUGH_THE_FLOOR = {
    "mat_bird_dog": (
        "r",
        {"kneecap", "shin", "toe"},
        0.025,
        "the lifting leg turns about the hip: it dips first",
    ),
    "mat_leg_pull_front": ("lr", {"toe"}, 0.065, "standing on the balls: rigid toes, drawn flat"),
    "mat_plank": (
        "lr",
        {"kneecap", "shin", "ball", "toe", "arch", "instep"},
        0.18,
        "from kneeling to the balls of the feet: no contact of the end holds on the way",
    ),
    "mat_saw": ("l", {"fingertip"}, 0.025, "the hand reaches past the outside of the foot"),
    "st_split_squat": (
        "lr",
        {"toe", "ball", "heel", "arch"},
        0.095,
        "rigid toes; the hips sink in a straight line",
    ),
}


def depths(key):
    """The deepest place of every skin point below the ground on the way."""
    deepest = dict.fromkeys(SKIN, 0.0)
    for body in between(POSES[key], SHARES):
        for name in SKIN:
            deepest[name] = max(deepest[name], -float(locate(body, name)[2]))
    return {name: depth for name, depth in deepest.items() if depth > DEEPEST}


@pytest.mark.parametrize("key", ON_THE_GROUND)
def test_nobody_goes_through_the_floor_on_the_way(key):
    sides, parts, limit, _reason = THROUGH_THE_FLOOR.get(key, ("", set(), 0.0, ""))
    deep = depths(key)
    assert set(deep) <= {f"{side}.{part}" for side in sides for part in parts}
    assert max(deep.values(), default=0.0) <= limit


@pytest.mark.parametrize("key", ["mat_bird_dog", "mat_leg_pull_front", "mat_saw"])
def test_an_arrow_never_runs_under_the_floor(key):
    name = POSES[key]["track"]
    assert min(locate(body, name)[2] for body in between(POSES[key], SHARES)) < -0.012
    assert track(POSES[key])[:, 2].min() == 0


def test_every_exception_is_needed():
    assert [key for key in THROUGH_THE_FLOOR if not depths(key)] == []


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
    assert len(track(pose)) == 9


def test_whoever_lies_on_a_carriage_stays_on_it():
    heights = [locate(body, "mid.shoulder")[2] for body in between(POSES["ref_foot_toes"], SHARES)]
    assert np.ptp(heights) < 0.002


def test_drawing_ahead_leaves_nothing_costly_for_later():
    sided = sum("side" in pose for pose in POSES.values())
    assert sum(1 for _ in warm()) == 2 * len(POSES) + 4 * sided
    costly = (_geometry, _panel, _body_paths, _track, _spots)
    before = [each.cache_info().misses for each in costly]
    for pose in POSES.values():
        for phase in ("start", "end"):
            for side in (None, "left", "right") if "side" in pose else (None,):
                figure(pose, phase=phase, side=side, title="Drawn later", paint="paper")
    assert [each.cache_info().misses for each in costly] == before
