"""Joint positions against published landmark heights, worked examples and the rules of rotation."""

from math import cos, radians

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from library.body.mirroring import mirror
from library.body.points import locate
from library.body.skeleton import BODY_ANGLES, LIMB_ANGLES, joints, stand
from library.body.tables import BALL_FROM_HEEL, COLLAR_BONE, HIP_HALF_WIDTH, SHOULDER_HALF_WIDTH, TABLES
from library.body.turning import UPRIGHT, turned

H = 1.70
NAMES = [*BODY_ANGLES, *(f"{side}.{name}" for side in "lr" for name in LIMB_ANGLES)]
poses = st.dictionaries(st.sampled_from(NAMES), st.floats(-180, 180, allow_nan=False), max_size=12)


@pytest.mark.parametrize(
    ("point", "share"),
    [
        # Drillis and Contini (1966) as drawn in Winter: heights in standing as shares of stature (from memory)
        pytest.param("l.ankle", 0.039, id="ankle"),
        pytest.param("l.knee", 0.285, id="knee"),
        pytest.param("l.hip", 0.530, id="hip"),
        pytest.param("l.shoulder", 0.818, id="shoulder"),
        pytest.param("l.elbow", 0.630, id="elbow"),
        pytest.param("l.wrist", 0.485, id="wrist"),
        pytest.param("l.fingertip", 0.377, id="fingertip"),
        pytest.param("vertex", 1.000, id="crown"),
    ],
)
def test_standing_landmarks(point, share):
    body = stand({}, stature_m=H)
    height = locate(body, point)[2] - locate(body, "l.heel")[2]
    assert height / H == pytest.approx(share, abs=0.0025)


@pytest.mark.parametrize(
    ("point", "expected"),
    [
        # own worked example: supine, hips and knees at a right angle. Drillis and Contini lengths:
        # thigh .245 and shank .246 of 1.70 m, half hip width .050, crown .470 above the hips
        pytest.param("l.knee", (0, 0.085, 0.4165), id="knee-over-hip"),
        pytest.param("l.ankle", (0.4182, 0.085, 0.4165), id="shin-level"),
        pytest.param("r.ankle", (0.4182, -0.085, 0.4165), id="right-is-nearer"),
        pytest.param("crown", (-0.799, 0, 0), id="head-to-the-left"),
    ],
)
def test_table_top_lying_on_the_back(point, expected):
    phase = {"body": {"lean": 90}, "both": {"hip": 90, "knee": 90}}
    assert joints(phase, stature_m=H)[point] == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    ("angles", "point", "axis", "sign"),
    [
        # neutral-zero method, American Academy of Orthopaedic Surgeons (from memory); axes: x forward,
        # y to the left, z up, for someone who stands facing right
        pytest.param({"l.hip": 30}, "l.knee", 0, 1, id="hip-flexion-knee-forward"),
        pytest.param({"l.hip_out": 30}, "l.knee", 1, 1, id="left-abduction-to-the-left"),
        pytest.param({"r.hip_out": 30}, "r.knee", 1, -1, id="right-abduction-to-the-right"),
        pytest.param({"l.hip_turn": 30}, "l.toe", 1, 1, id="left-outward-rotation-toes-left"),
        pytest.param({"r.hip_turn": 30}, "r.toe", 1, -1, id="right-outward-rotation-toes-right"),
        pytest.param({"l.knee": 30}, "l.ankle", 0, -1, id="knee-flexion-heel-back"),
        pytest.param({"l.ankle": 15}, "l.toe", 2, 1, id="dorsiflexion-toes-up"),
        pytest.param({"l.toes": 40}, "l.toe", 2, 1, id="toes-up"),
        pytest.param({"l.blade": 20}, "l.shoulder", 0, 1, id="shoulder-blade-forward"),
        pytest.param({"r.blade": -20}, "r.fingertip", 0, -1, id="shoulder-blade-back-takes-the-arm-along"),
        pytest.param({"r.shoulder": 30}, "r.elbow", 0, 1, id="shoulder-flexion-elbow-forward"),
        pytest.param({"r.shoulder_out": 30}, "r.elbow", 1, -1, id="right-arm-sideways"),
        pytest.param({"r.elbow": 30}, "r.wrist", 0, 1, id="elbow-flexion-hand-forward"),
        pytest.param({"r.wrist": 30}, "r.fingertip", 0, 1, id="wrist-hand-forward"),
        pytest.param({"lean": 30}, "vertex", 0, -1, id="lean-back"),
        pytest.param({"low_curl": 20}, "vertex", 0, 1, id="low-curl-forward"),
        pytest.param({"up_curl": 20}, "vertex", 0, 1, id="up-curl-forward"),
        pytest.param({"side": 20}, "vertex", 1, 1, id="bend-to-the-left"),
        pytest.param({"twist": 20}, "l.shoulder", 0, -1, id="turn-left-left-shoulder-back"),
        pytest.param({"face": 90}, "l.toe", 1, 1, id="face-left-toes-away"),
        pytest.param({"nod": 20}, "head.front", 2, -1, id="chin-down"),
        pytest.param({"neck_side": 20}, "vertex", 1, 1, id="ear-to-left-shoulder"),
        pytest.param({"neck_turn": 20}, "head.front", 1, 1, id="look-left"),
    ],
)
def test_signs_of_the_angles(angles, point, axis, sign):
    moved = locate(stand(angles), point) - locate(stand({}), point)
    assert sign * moved[axis] > 0.01


@pytest.mark.parametrize("axis", ["x", "y", "z"])
@pytest.mark.parametrize("degrees", [-170, -30, 0, 45, 90, 133])
def test_rotations_follow_rodrigues(axis, degrees):
    # Rodrigues' rotation formula: R = I + sin a K + (1 - cos a) K^2
    k = np.eye(3)["xyz".index(axis)]
    cross = np.array(((0, -k[2], k[1]), (k[2], 0, -k[0]), (-k[1], k[0], 0)))
    a = radians(degrees)
    matrix = np.array(turned(UPRIGHT, (axis, degrees))).T
    assert matrix == pytest.approx(np.eye(3) + np.sin(a) * cross + (1 - np.cos(a)) * cross @ cross)


@settings(max_examples=40, deadline=None)
@given(poses, st.sampled_from(sorted(TABLES)))
def test_bones_keep_their_length_and_frames_stay_square(angles, table):
    body = stand(angles, table=table)
    sizes = TABLES[table]
    for frame in body.frames.values():
        assert frame.T @ frame == pytest.approx(np.eye(3), abs=1e-9)
        assert np.linalg.det(frame) == pytest.approx(1)
    for side in "lr":
        o = {
            name: body.origins[f"{side}.{name}"]
            for name in ("hip", "knee", "ankle", "shoulder", "elbow", "wrist")
        }
        lengths = [
            np.linalg.norm(o[b] - o[a]) for a, b in zip(o, list(o)[1:], strict=False) if b != "shoulder"
        ]
        parts = (sizes.thigh, sizes.shank, sizes.upper_arm, sizes.forearm)
        assert lengths == pytest.approx([part.length * body.stature_m for part in parts])
        inner = (0, (1 if side == "l" else -1) * (SHOULDER_HALF_WIDTH - COLLAR_BONE), sizes.shoulder)
        inner_end = body.at("upper_joint", "thorax", np.subtract(inner, (0, 0, sizes.upper_joint)))
        assert np.linalg.norm(o["shoulder"] - inner_end) == pytest.approx(COLLAR_BONE * H)
        ball, toe = locate(body, f"{side}.ball"), locate(body, f"{side}.toe")
        assert np.linalg.norm(toe - ball) == pytest.approx((1 - BALL_FROM_HEEL) * sizes.foot.length * H)
    hips = np.linalg.norm(body.origins["l.hip"] - body.origins["r.hip"])
    assert hips == pytest.approx(2 * HIP_HALF_WIDTH * H)


def test_shoulders_stand_as_wide_as_the_table_says_while_the_blades_rest():
    body = stand({"twist": 30, "l.shoulder": 80})
    width = np.linalg.norm(body.origins["l.shoulder"] - body.origins["r.shoulder"])
    assert width == pytest.approx(2 * SHOULDER_HALF_WIDTH * H)


def test_straight_toes_lie_in_line_with_the_sole():
    # foot .152 of stature, the ball at 72 % of it, sole level in standing
    body = stand({})
    for name, along in (("heel", 0), ("ball", 0.72), ("toe", 1)):
        offset = locate(body, f"l.{name}") - locate(body, "l.heel")
        assert offset == pytest.approx((along * 0.152 * H, 0, 0), abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(poses)
def test_mirrored_angles_give_the_mirrored_body(angles):
    here, there = stand(angles), stand(mirror(angles))
    swap = {"l": "r", "r": "l"}
    for name, place in here.origins.items():
        other = swap[name[0]] + name[1:] if name[1] == "." else name
        assert there.origins[other] == pytest.approx(place * (1, -1, 1), abs=1e-9)


@settings(max_examples=20, deadline=None)
@given(poses, st.floats(1.2, 2.2))
def test_stature_scales_every_point(angles, stature):
    tall, one = stand(angles, stature_m=stature), stand(angles, stature_m=1.0)
    for name in ("vertex", "l.toe", "r.fingertip", "upper_back"):
        assert locate(tall, name) == pytest.approx(locate(one, name) * stature, abs=1e-9)


def test_segment_masses_reproduce_a_hip_moment_worked_by_hand():
    # own worked example on de Leva's women, 1.70 m, 65 kg, lying, straight leg at 50 degrees, g 9.81:
    # thigh 94.24 N at .0838 m, shank 30.67 N at .3523 m, foot 8.23 N at .5037 m: 22.85 N m
    table = TABLES["female"]
    body = stand({"lean": 90, "l.hip": 50}, stature_m=1.70, table="female")
    hip, knee, ankle = (body.origins[f"l.{joint}"] for joint in ("hip", "knee", "ankle"))
    heel, toe = locate(body, "l.heel"), locate(body, "l.toe")
    up = body.frames["l.foot"][:, 2] * 0.0195 * 1.70  # the foot's centre lies half way up to the ankle
    centres = {
        "thigh": hip + table.thigh.centre * (knee - hip),
        "shank": knee + table.shank.centre * (ankle - knee),
        "foot": heel + table.foot.centre * (toe - heel) + up,
    }
    parts = {"thigh": table.thigh, "shank": table.shank, "foot": table.foot}
    moment = sum(parts[name].mass * 65 * 9.81 * (centre - hip)[0] for name, centre in centres.items())
    assert (centres["thigh"] - hip)[0] == pytest.approx(0.1304 * cos(radians(50)), abs=1e-4)
    assert moment == pytest.approx(22.85, abs=0.02)


def test_unknown_names_are_errors():
    with pytest.raises(KeyError):
        stand({}, table="tall")
    with pytest.raises(KeyError):
        locate(stand({}), "l.tail")
