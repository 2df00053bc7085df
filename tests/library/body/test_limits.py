"""A client's own limit: its share of the way, and the pose that ends there."""

import json

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import interp1d

from library.body import all_poses, figure, mirror, view_box
from library.body.clearance import bone_depths, skin_depths
from library.body.contacts import first_point
from library.body.cutting import _kept, cut
from library.body.framing import framed, held_box
from library.body.grounding import LARGEST_GAP_M, contact_gaps
from library.body.limits import (
    LEAST_DEGREES,
    NO_EFFECT,
    NOTHING_LEFT,
    PARTLY,
    UNKNOWN,
    Lead,
    driver_value,
    held,
    lead,
    share_of,
)
from library.body.movement import between, keyframes, mixed_angles, span
from library.body.points import locate
from library.body.skeleton import angles_of, stand
from library.body.solids import solids
from library.body.surfaces import target

POSES = all_poses()
LED = {key: lead(pose) for key, pose in POSES.items() if lead(pose)}
DEEPER = 0.02  # metres by which a cut body may lie deeper than on its way: held contacts move it a little
QUARTERS = (0.25, 0.5, 0.75)


def body_of(phase):
    return stand(angles_of(phase), phase["solved_hips"])


def with_middle(at=0.3):
    """The held bridge by way of a middle that its driver passes faster than the rest."""
    pose = POSES["mat_bridge_hold"]
    middle = cut(pose, 0.6)["end"]
    return pose | {"middle": middle | {"at": at}}


class TestShares:
    # SciPy's linear interpolation, the other way round: from the driver's value to the share of the way.
    def test_are_scipys(self):
        for leading in LED.values():
            shares, values = zip(*leading.way, strict=True)
            asked = np.linspace(values[0], values[-1], 9)
            found = [leading.share(value) for value in asked]
            assert interp1d(shares, values)(found) == pytest.approx(asked), leading
            if (np.diff(values) * (values[-1] - values[0]) > 0).all():
                assert found == pytest.approx(interp1d(values, shares)(asked), abs=1e-9), leading
            there = [leading.value(share) for share in QUARTERS]
            assert there == pytest.approx(interp1d(shares, values)(QUARTERS)), leading

    @given(st.lists(st.floats(-170, 170), min_size=3, max_size=3, unique=True), st.floats(0.1, 0.9))
    def test_over_a_middle(self, values, at):
        values = sorted(values)
        leading = Lead("r.hip", tuple(zip((0.0, at, 1.0), values, strict=True)))
        asked = np.linspace(values[0], values[-1], 7)
        expected = interp1d(values, (0.0, at, 1.0))(asked)
        assert [leading.share(value) for value in asked] == pytest.approx(expected, abs=1e-6)

    @pytest.mark.parametrize(
        ("value", "share"),
        [(0, 0), (-5, 0), (20, 0.25), (40, 0.5), (38, 0.475), (45, 1), (30, 0.375)],
        ids=[
            "at the start",
            "before it",
            "on the way",
            "at the turn",
            "first time",
            "beyond",
            "not on the way back",
        ],
    )
    def test_of_a_driver_that_turns_back_it_is_the_first_time(self, value, share):
        assert Lead("lean", ((0.0, 0.0), (0.5, 40.0), (1.0, 30.0))).share(value) == pytest.approx(share)

    def test_are_of_the_solved_angles(self):
        # A pose authored with its end at 127 degrees that was solved to less: a limit there has no effect.
        pose = POSES["mat_pelvic_curl"]
        solved = pose["end"]["solved"]["lean"]
        authored = pose | {"end": pose["end"] | {"body": pose["end"]["body"] | {"lean": 127}}}
        assert lead(authored).end == solved < 127
        limit = {"by": "degrees", "value": solved + 1, "of": "lean"}
        assert held(authored, limit).effect == NO_EFFECT

    def test_the_angles_on_the_way_are_scipys(self):
        pose = with_middle()
        shares = [share for share, _ in keyframes(pose)]
        names = sorted(set().union(*(angles_of(frame) for _, frame in keyframes(pose))))
        table = [[angles_of(frame).get(name, 0.0) for name in names] for _, frame in keyframes(pose)]
        expected = interp1d(shares, table, axis=0)
        for share in (0.1, 0.3, 0.45, 0.9):
            angles = mixed_angles(*span(pose, share))
            assert [angles.get(name, 0.0) for name in names] == pytest.approx(expected(share), abs=1e-9)

    def test_what_leads_moves(self):
        assert all(abs(leading.end - leading.start) >= LEAST_DEGREES for leading in LED.values())


class TestEffect:
    HIPS = {"by": "degrees", "of": "both.hip"}

    @pytest.mark.parametrize(
        ("limit", "effect", "share"),
        [
            (None, NO_EFFECT, 1),
            (HIPS | {"value": 69}, PARTLY, 0.5),
            (HIPS | {"value": 48}, NO_EFFECT, 1),
            (HIPS | {"value": 10}, NO_EFFECT, 1),
            (HIPS | {"value": 90}, NOTHING_LEFT, 0),
            (HIPS | {"value": 120}, NOTHING_LEFT, 0),
            ({"by": "share", "value": 50}, PARTLY, 0.5),
            ({"by": "share", "value": 100}, NO_EFFECT, 1),
            ({"by": "share", "value": 0}, NOTHING_LEFT, 0),
            ({"by": "degrees", "of": "lean", "value": 60}, UNKNOWN, 1),
        ],
        ids=[
            "none",
            "half",
            "the end",
            "beyond",
            "the start",
            "before",
            "per cent",
            "all",
            "nothing",
            "another driver",
        ],
    )
    def test_of_a_limit(self, limit, effect, share):
        found = held(POSES["mat_hundred"], limit)
        assert (found.effect, found.share) == (effect, pytest.approx(share))

    def test_without_effect_the_whole_pose_is_drawn(self):
        pose = POSES["mat_hundred"]
        assert held(pose, self.HIPS | {"value": 10}).pose is pose

    def test_a_pose_that_nothing_leads_has_shares_only(self):
        pose = POSES["mat_hundred"] | {"driver": "springs"}
        assert lead(pose) is None
        assert share_of(self.HIPS | {"value": 60}, None) is None
        assert held(pose, {"by": "share", "value": 50}).effect == PARTLY

    def test_what_cannot_be_held_is_said_and_the_whole_is_drawn(self):
        # The feet of a pose that is not there: the bar is out of everybody's reach half way.
        pose = POSES["ref_foot_toes"]
        far = pose | {"scene": pose["scene"] | {"bar": [0.0, 2.9]}}
        found = held(far, {"by": "share", "value": 50})
        assert (found.effect, found.drawn, found.pose) == (PARTLY, False, far)


def test_arrows_drawn_by_hand_and_a_breath_go_as_far_as_the_cut():
    pose = POSES["sp_band_breath"]
    shorter = cut(pose, 0.5)
    for whole, half in ((pose, shorter), (pose["second_arrow"], shorter["second_arrow"])):
        assert np.array(half["arrow_path"]) == pytest.approx(np.array(whole["arrow_path"]) / 2, abs=0.01)
    assert shorter["second_arrow"]["track"] == pose["second_arrow"]["track"]
    assert shorter["end"]["ribs"] == pytest.approx(pose["end"]["ribs"] / 2)


def test_whoever_rises_half_way_on_the_balls_of_the_feet_has_the_toes_on_the_floor():
    phase = cut(POSES["st_heel_raise"], 0.5)["end"]
    for side in "lr":
        assert locate(body_of(phase), f"{side}.toe")[2] == pytest.approx(0, abs=0.001)
        assert 0 < phase["solved"][f"{side}.toes"] < POSES["st_heel_raise"]["end"]["solved"][f"{side}.toes"]


@pytest.mark.parametrize("key", sorted(POSES))
def test_a_cut_pose(key):
    """Holds what touches all the way, lies no deeper, has its driver at the limit, and mirrors."""
    pose = POSES[key]
    start, turned = body_of(pose["start"]), mirror(pose)
    for share in QUARTERS:
        shorter = cut(pose, share)
        phase = shorter["end"]
        assert max(gaps_of(phase, pose["scene"], start), default=0.0) <= LARGEST_GAP_M
        first, last, _ = span(pose, share)
        both = {
            str(t["point"]) for t in last["touch"] if t.get("on") and named(t) in map(named, first["touch"])
        }
        assert both <= {str(touch["point"]) for touch in phase["touch"]}
        if key in LED:
            assert abs(driver_value(phase, LED[key].driver) - LED[key].value(share)) <= 0.1
        assert cut(turned, share) == mirror(shorter)
        way = next(iter(between(pose, [share])))
        before, now = depths(pose["scene"], way), depths(shorter["scene"], body_of(phase))
        assert {name: deep for name, deep in now.items() if deep > before.get(name, 0.0) + DEEPER} == {}
    assert cut(pose, 1)["end"] == pose["end"]


def gaps_of(phase, scene, start):
    """How far every contact of a cut phase is from where it should touch; `start` tells where "same" is."""
    body = body_of(phase)
    for touch in phase["touch"]:
        same = float(locate(start, first_point(touch))[0])
        yield from map(abs, contact_gaps(body, touch["point"], target(touch, scene, same_x=same)))


def depths(scene, body):
    """How deep skin and limbs lie inside the floor or the apparatus."""
    firm = solids(scene, body)
    found = skin_depths(body, firm) | bone_depths(body, firm)
    return {name: deep for name, (deep, _inside) in found.items()}


def named(touch):
    return touch["point"], touch.get("on")


class TestEnds:
    def test_at_nought_it_ends_where_it_starts(self):
        pose = POSES["mat_hundred"]
        assert cut(pose, 0)["end"] == pose["start"]

    def test_a_middle_beyond_it_is_dropped_and_one_before_it_keeps_its_place(self):
        pose = with_middle(at=0.3)
        assert "middle" not in cut(pose, 0.2)
        shorter = cut(pose, 0.6)
        assert shorter["middle"]["at"] == pytest.approx(0.5)
        assert shorter["middle"]["solved"] == pose["middle"]["solved"]
        # half of the shorter way is the same body as at 0.3 of the whole one
        there, here = (next(iter(between(one, [at]))) for one, at in ((pose, 0.3), (shorter, 0.5)))
        assert np.allclose(there.origins["l.knee"], here.origins["l.knee"], atol=1e-9)

    def test_says_same_where_the_pose_says_so(self):
        touches = cut(POSES["ch_pelvic_lift"], 0.5)["end"]["touch"]
        assert {"point": "upper_back", "on": "mat", "x": "same"} in touches

    def test_the_numbers_of_a_contact_follow(self):
        pedal = next(t for t in cut(POSES["ch_foot_toes"], 0.5)["end"]["touch"] if "pedal" in t)
        assert pedal["pedal"] == 16  # half way from 27 to 5

    def test_is_kept_by_content_and_not_without_end(self):
        again = json.loads(json.dumps(POSES["mat_dart"]))
        assert cut(again, 0.35) is cut(POSES["mat_dart"], 0.35)
        assert _kept.cache_info().maxsize <= 512


class TestDrawing:
    @pytest.mark.parametrize("side", [None, "left", "right"])
    def test_a_cut_pose_is_drawn_like_any_other(self, side):
        shorter = cut(POSES["mat_knee_fold"], 0.5)
        ends = {phase: figure(shorter, phase=phase, side=side, title="x") for phase in ("start", "end")}
        whole = figure(POSES["mat_knee_fold"], phase="end", side=side, title="x")
        assert ends["end"] not in (ends["start"], whole)

    def test_in_the_frame_of_the_whole(self):
        pose = POSES["mat_knee_fold"]
        half, quarter = (held(pose, {"by": "share", "value": value}) for value in (50, 25))
        box = held_box(pose, [half], "right")
        assert box[2] >= view_box(pose, "right")[2] and box[3] >= view_box(half.pose, "right")[3]
        for one in (half, quarter):
            drawn = framed(pose, one, phase="end", side="left", title="x")
            x, y, width, height = held_box(pose, [one], "left")
            assert f'viewBox="{x:g} {y:g} {width:g} {height:g}"' in drawn
