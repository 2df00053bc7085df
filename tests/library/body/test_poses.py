"""Every stored pose: contacts, ranges, and that solving again gives what is stored."""

import numpy as np
import pytest

from library.body.complaints import out_of_range
from library.body.contacts import first_point, sides_on_toes
from library.body.grounding import GroundingError, contact_gaps, ground, ground_pose, stored
from library.body.mirroring import mirror
from library.body.movement import keyframes
from library.body.points import locate
from library.body.skeleton import BODY_ANGLES, LIMB_ANGLES, angles_of, stand
from library.body.solids import solids
from library.body.surfaces import target
from tests.library.body.every import EVERY, POSES, of_every
from tests.library.body.reviewed import CATALOGUE, HANDS_IN_FRONT, OUT_OF_RANGE

PHASES = ("start", "end")


def bodies(pose):
    return {phase: stand(angles_of(pose[phase]), pose[phase]["solved_hips"]) for phase in PHASES}


def test_every_exercise_has_a_pose_and_its_sides():
    assert set(POSES) == set(CATALOGUE)
    for key, pose in POSES.items():
        assert pose.get("side") == CATALOGUE[key]["side_means"], key


@of_every(EVERY)
def test_names_are_known(pose):
    for phase in PHASES:
        for part in ("both", "left", "right"):
            assert set(pose[phase].get(part, {})) <= set(LIMB_ANGLES)
        assert set(pose[phase].get("body", {})) <= set(BODY_ANGLES)
        assert {name.removeprefix("l.").removeprefix("r.") for name in pose[phase]["solved"]} <= {
            *BODY_ANGLES,
            *LIMB_ANGLES,
        }
    locate(stand({}), pose["track"])


@of_every(EVERY)
def test_contacts_touch_within_three_millimetres(pose):
    begun = bodies(pose)["start"]
    for share, phase in keyframes(pose):
        body = stand(angles_of(phase), phase["solved_hips"])
        for touch in phase["touch"]:
            aim = target(touch, pose["scene"], same_x=float(locate(begun, first_point(touch))[0]))
            for gap in contact_gaps(body, touch["point"], aim):
                assert abs(gap) < 0.003, (share, touch, gap)


@of_every(EVERY)
def test_solving_again_gives_the_stored_angles(pose):
    for phase, grounded in ground_pose(pose).items():
        kept = pose[phase]["solved"]
        for name in kept.keys() | grounded.angles.keys():
            assert grounded.angles.get(name, 0) == pytest.approx(kept.get(name, 0), abs=0.5), (phase, name)
        assert grounded.hips == pytest.approx(pose[phase]["solved_hips"], abs=0.001)


STANDING_ON_TOES = [pose for pose in EVERY if any(sides_on_toes(phase) for _share, phase in keyframes(pose))]


@of_every(STANDING_ON_TOES)
def test_a_pose_kept_from_before_feet_had_toes_has_them_flat(pose):
    """A record and a handout keep the pose of their day, with the angles that were solved then."""
    for _share, phase in keyframes(pose):
        old = {name: value for name, value in phase["solved"].items() if not name.endswith(".toes")}
        for side in sides_on_toes(phase):
            now = angles_of({**phase, "solved": old})[f"{side}.toes"]
            # Angles are kept to a tenth of a degree, and these follow from three of them.
            assert now == pytest.approx(phase["solved"].get(f"{side}.toes", 0), abs=0.2)


@of_every(EVERY)
def test_joints_stay_in_range_or_are_reviewed_exceptions(pose):
    """Ranges: American Academy of Orthopaedic Surgeons (from memory), with 15 % slack."""
    for phase, joint, value in beyond(pose):
        assert (pose["key"], joint) in OUT_OF_RANGE, (phase, value)


def beyond(pose):
    return [(one.phase, one.where.rpartition(".")[2], one.value) for one in out_of_range(pose)]


@of_every(EVERY)
def test_no_knee_and_no_elbow_bends_backwards(pose):
    for _share, phase in keyframes(pose):
        for name, value in phase["solved"].items():
            if name.endswith((".knee", ".elbow")):
                assert value >= -0.05, name


def test_every_exception_of_range_is_needed():
    needed = {(key, joint) for key, pose in POSES.items() for _phase, joint, _value in beyond(pose)}
    assert set(OUT_OF_RANGE) == needed


# From a screening point of view an arm is raised when the elbow is above the shoulder. The angle between
# upper arm and rib cage says so, less 25 degrees that the one-piece rib cage of a rounded back adds.
RAISED = 115


def arm_lift(body, side):
    """Degrees between upper arm and rib cage: 0 hanging, 180 straight up."""
    return np.degrees(np.arccos(body.frames[f"{side}.upper_arm"][:, 2] @ body.frames["thorax"][:, 2]))


def raised_beyond_the_facts(pose):
    """Sides whose arm is raised though the facts name no load overhead for it."""
    facts = CATALOGUE[pose["key"]]
    raised = {side for body in bodies(pose).values() for side in "lr" if arm_lift(body, side) > RAISED}
    loaded = {"named": {"r"}, "other": {"l"}, "both": {"l", "r"}}  # poses are stored with the right working
    demanded = "overhead_reach" in facts["demands"]
    return raised - (loaded[facts["demand_sides"].get("overhead_reach", "both")] if demanded else set())


def test_arms_are_raised_only_where_the_facts_say_so():
    assert {key for key, pose in POSES.items() if raised_beyond_the_facts(pose)} == set(HANDS_IN_FRONT)


@pytest.mark.parametrize("key", sorted(set(HANDS_IN_FRONT) - {"mat_swimming_prep"}))
def test_hands_in_front_keep_the_elbow_below_the_shoulder(key):
    for body in bodies(POSES[key]).values():
        for side in "lr":
            elbow, shoulder = body.origins[f"{side}.elbow"], body.origins[f"{side}.shoulder"]
            assert arm_lift(body, side) <= RAISED or elbow[2] < shoulder[2]


@pytest.mark.parametrize("key", ["mat_clam", "mat_side_leg_lift"])
def test_side_lying_rests_the_head_on_the_cushion_and_the_lower_arm_in_front(key):
    pose = POSES[key]
    for body in bodies(pose).values():
        assert locate(body, "head.left")[2] == pytest.approx(pose["scene"]["cushion"][2], abs=0.003)
        assert arm_lift(body, "l") < 90
        for name in ("l.elbow", "l.wrist", "l.fingertip"):
            assert locate(body, name)[1] < -0.1, "towards the viewer, whom the chest faces"
            assert 0.01 < locate(body, name)[2] < 0.045, "on the mat"


def test_the_lower_hand_lies_on_the_barrel():
    # axis and radius of the drum in metres, and the same half thickness as a hand flat on the mat
    for body in bodies(POSES["lb_side_stretch"]).values():
        palm = locate(body, "r.palm")
        assert np.hypot(palm[0], palm[2] - 0.42) == pytest.approx(0.34 + 0.016, abs=0.003)
        assert abs(palm[1]) < 0.24, "between the drum's ends"


def test_arms_along_the_body_lie_on_the_mat_in_the_prone_chest_lift():
    for body in bodies(POSES["mat_prone_chest_lift"]).values():
        for side in "lr":
            assert arm_lift(body, side) < 30
            assert locate(body, f"{side}.palm")[2] == pytest.approx(0.016, abs=0.003)


@of_every(EVERY)
def test_hips_lie_in_the_middle_plane(pose):
    assert [pose[phase]["solved_hips"][1] for phase in PHASES] == [0, 0]


@of_every(EVERY)
def test_mirroring_twice_gives_the_pose_back(pose):
    assert mirror(mirror(pose)) == pose


@of_every(EVERY)
def test_the_mirrored_pose_is_the_mirrored_body(pose):
    here, there = bodies(pose), bodies(mirror(pose))
    for phase in PHASES:
        for name in ("l.toe", "r.fingertip", "l.kneecap", "pelvis.left", "vertex"):
            other = {"l": "r", "r": "l"}.get(name[0], name[0]) + name[1:] if name[1] == "." else name
            other = "pelvis.right" if name == "pelvis.left" else other
            assert locate(there[phase], other) == pytest.approx(locate(here[phase], name) * (1, -1, 1))


@of_every(EVERY)
def test_the_mirrored_pose_has_its_firm_parts_mirrored(pose):
    there = mirror(pose)
    for phase in PHASES:
        firm = [solids(one["scene"], bodies(one)[phase]) for one in (pose, there)]
        for here, other in zip(*firm, strict=True):
            assert other.name == here.name
            assert other.y == pytest.approx((-here.y[1], -here.y[0])), here.name


def test_a_knee_lifted_to_a_right_angle_by_trigonometry():
    # own worked example: lying, foot flat, the heel fixed: two bones and the law of cosines give the knee
    phase = {
        "body": {"lean": 90},
        "both": {"hip": 50, "knee": 100, "ankle": -35},
        "touch": [
            {"point": "pelvis.back", "on": "mat", "x": 0.0},
            {"point": "mid.heel", "on": "mat", "x": 0.45},
            {"point": "mid.ball", "on": "mat"},
        ],
        "free": ["both.hip", "both.knee", "both.ankle"],
    }
    grounded = ground(phase, {"kind": "mat"})
    hip = np.array((0.0595, 0.102))  # .035 and .060 of 1.70 m from the skin of the back
    ankle = np.array((0.45 + 0.25 * 0.152 * 1.70, 0.039 * 1.70))
    thigh, shank = 0.245 * 1.70, 0.246 * 1.70
    between = np.linalg.norm(ankle - hip)
    inner = np.degrees(np.arccos((thigh**2 + shank**2 - between**2) / (2 * thigh * shank)))
    assert grounded.angles["l.knee"] == pytest.approx(180 - inner, abs=0.1)


def test_a_contact_out_of_reach_is_an_error_that_names_it():
    phase = {
        "body": {"lean": 90},
        "touch": [{"point": "pelvis.back", "on": "mat", "x": 0.0}, {"point": "mid.heel", "z": 1.5}],
        "free": ["both.hip"],
    }
    with pytest.raises(GroundingError, match="mid.heel stays [0-9]+ mm away"):
        ground(phase, {"kind": "mat"})


def test_stored_writes_the_solved_angles_back():
    pose = POSES["mat_pelvic_curl"]
    bare = pose | {phase: {k: v for k, v in pose[phase].items() if "solved" not in k} for phase in PHASES}
    assert stored(bare)["end"]["solved_hips"] == pytest.approx(pose["end"]["solved_hips"], abs=0.001)
    assert "solved" not in bare["end"]
