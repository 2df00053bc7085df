"""What is drawn before what: hands behind a head, legs and shoulder rests, straps and the limbs in them.

That a clasped hand is not seen from the other side of the head needs no source; the rest is how a view is drawn.
"""

from library.body import all_poses
from library.body.apparatus import build
from library.body.camera import Camera
from library.body.drawing import PHASES
from library.body.ordering import back_to_front, near_limbs
from library.body.skeleton import angles_of, stand
from tests.library.body.every import of_every

POSES = all_poses()
STRAPPED = [
    pose
    for pose in POSES.values()
    if pose["scene"]["kind"] == "reformer" and any(pose[phase].get("straps") for phase in PHASES)
]


def order(pose, phase):
    bodies, camera = bodies_of(pose), Camera.of(pose)
    return back_to_front(bodies[phase], camera, near_limbs(bodies["start"], camera))


def bodies_of(pose):
    return {phase: stand(angles_of(pose[phase]), pose[phase]["solved_hips"]) for phase in PHASES}


def layers_of(pose):
    return build(pose, bodies_of(pose), Camera.of(pose))


@of_every([POSES[key] for key in ("mat_criss_cross", "mat_lower_lift")], phase=PHASES)
def test_hands_clasped_behind_the_head_are_drawn_before_it(pose, phase):
    drawn = order(pose, phase)
    assert max(drawn.index(f"{side}.arm") for side in "lr") < drawn.index("head")


@of_every([POSES[key] for key in ("mat_hundred", "ref_arms_down", "st_hip_hinge")], phase=PHASES)
def test_a_near_arm_that_is_elsewhere_lies_over_the_head(pose, phase):
    drawn = order(pose, phase)
    assert drawn.index("head") < drawn.index("r.arm")


@of_every(list(POSES.values()), phase=PHASES)
def test_every_part_is_drawn_once(pose, phase):
    assert sorted(order(pose, phase)) == sorted(("trunk", "head", "hair", "l.arm", "r.arm", "l.leg", "r.leg"))


def test_seen_from_the_foot_end_the_legs_come_before_the_shoulder_rests():
    def before(key):
        return [piece for piece in layers_of(POSES[key])["end"].front if piece.role == "appfill"]

    assert before("ref_foot_toes") and not before("ref_leg_openings")


@of_every(STRAPPED, phase=PHASES)
def test_each_strap_ends_in_a_loop_that_is_drawn_after_its_limb(pose, phase):
    if not pose[phase].get("straps"):
        return
    layers = layers_of(pose)[phase]
    loops = [piece for piece in layers.front + layers.between_legs if len(piece.strokes) == 1]
    rests = 1 if "box" not in pose["scene"] and layers_without_straps(pose, phase) else 0
    assert sum(piece.role == "top" for piece in loops) - rests == len(pose[phase].get("strap_side", "lr"))


def layers_without_straps(pose, phase):
    """Whether a shoulder rest, which has a top too, is drawn in front."""
    bare = {**pose, phase: {name: value for name, value in pose[phase].items() if name != "straps"}}
    return any(piece.role == "top" for piece in layers_of(bare)[phase].front)
