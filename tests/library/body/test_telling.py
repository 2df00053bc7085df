"""Every figure in words: made from its angles, held against what the facts say and against words by hand."""

import re

import pytest

from library.body.contacts import points_of
from library.body.points import TRUNK_POINTS, locate
from library.body.skeleton import angles_of, stand
from library.body.telling import tell
from library.pose_wording import describe
from tests.library.body.every import EVERY, POSES, SIDED, of_every
from tests.library.body.reviewed import CATALOGUE, SAME_WORDS

# How somebody is held at the start, for each position that the facts name. Common practice, no source.
BASES = {
    "supine": {"on_back", "back_over", "pelvis_lifted", "sitting"},
    "prone": {"face_down", "plank"},
    "side_lying": {"on_left_side", "on_right_side", "propped_on_left", "propped_on_right"},
    "seated": {"sitting"},
    "standing": {
        "standing", "standing_leaning", "folded_forward", "sitting", "kneeling_left", "kneeling_right",
    },
    "kneeling": {
        "kneeling", "kneeling_left", "kneeling_right", "propped_on_left", "propped_on_right",
        "hands_and_knees",
    },
    "quadruped": {"hands_and_knees", "hands_and_feet", "plank_on_knees", "kneeling"},
    "plank_support": {
        "plank", "plank_on_knees", "plank_face_up", "hands_and_knees", "hands_and_feet", "folded_forward", "sitting",
        "propped_on_left", "propped_on_right", "kneeling", "standing",
    },
    "inverted": {"sitting", "on_back", "on_shoulders", "hanging", "upside_down", "folded_forward", "back_over"},
}  # fmt: skip

# Written by hand from a look at the figure: parts that must stand in the sentence, in this order.
BY_HAND = [
    ("mat_leg_pull_front", "end", ("hands and feet", "right leg straight, lifted behind")),
    ("mat_hundred", "end", ("lying on the back", "head and shoulders lifted", "legs straight at 50 degrees")),
    (
        "mat_bird_dog",
        "end",
        ("hands and knees", "right leg straight, lifted behind", "left arm above the head"),
    ),
    ("mat_pelvic_curl", "end", ("pelvis lifted", "both feet down")),
    ("mat_roll_up", "start", ("lying on the back", "both arms above the head")),
    ("mat_roll_up", "end", ("sitting", "back rounded")),
    ("mat_saw", "end", ("sitting", "back rounded", "turned to the right", "left hand at the foot")),
    ("mat_mermaid", "end", ("sitting", "bent to the right", "left arm above the head")),
    ("mat_side_leg_lift", "end", ("lying on the left side", "right leg straight at 30 degrees")),
    ("mat_swan_prep", "end", ("lying face down", "chest lifted", "hands down")),
    ("mat_toe_tap", "end", ("right knee bent, right foot down", "left knee over the hip")),
    ("mat_cat", "end", ("on hands and knees", "back rounded")),
    ("mat_knee_hover", "start", ("on hands and knees", "toes tucked under")),
    ("mat_knee_hover", "end", ("on hands and feet on the mat", "both knees lifted")),
    ("mat_plank", "end", ("in one long line", "toes tucked under")),
    ("mat_scap_glide", "start", ("on hands and knees", "shoulder blades drawn together")),
    ("sc_seated_blade_glide", "end", ("sitting on the chair", "shoulder blades apart")),
    ("mat_foot_dome", "end", ("sitting on the mat", "arch of the right foot lifted", "both feet down")),
    ("sp_towel_curl", "end", ("sitting on the chair", "right toes curled")),
    ("mat_half_kneel_rise", "start", ("kneeling on the left knee", "left toes tucked under")),
    ("mat_clam", "end", ("lying on the left side", "right knee lifted")),
    ("ref_foot_heels", "end", ("on the carriage", "both legs straight, both heels on the footbar")),
    (
        "ref_foot_arches",
        "end",
        ("toes bent over the bar", "both legs straight", "arches of both feet on the footbar"),
    ),
    ("ch_foot_heels", "start", ("sitting on the seat", "toes up", "both heels on the pedal")),
    ("ref_foot_toes", "start", ("both knees bent to", "balls of both feet on the footbar")),
    (
        "ref_knees_off",
        "start",
        ("on hands and feet on the carriage", "both knees lifted", "hands on the footbar"),
    ),
    ("ref_short_box_tree", "end", ("leaning far back on the box", "both hands behind the right thigh")),
    ("ref_foot_v", "start", ("knees apart", "legs turned out", "heels together")),
    ("ref_scooter", "end", ("right foot on the carriage", "left foot on the floor", "hands on the footbar")),
    ("ref_standing_lunge", "start", ("right foot on the carriage", "left foot on the floor")),
    ("sc_seated_hip_lift", "end", ("sitting", "right hip lifted", "both feet down", "arms crossed in front")),
    ("sc_seated_roll_down", "end", ("sitting on the chair", "folded over the legs")),
    ("mat_breath_supine", "start", ("lying on the back", "both hands at the ribs")),
    ("mat_breath_side", "start", ("lying on the left side", "right hand at the ribs")),
    ("mat_double_leg_kick", "end", ("hands held together behind the back",)),
    ("mat_scissors", "start", ("both hands at the back of the pelvis",)),
    ("mat_hip_flexor_stretch", "end", ("both hands on the left thigh",)),
    ("ref_frog", "end", ("both legs straight at 45 degrees", "feet in the straps")),
    ("ref_short_box_side", "end", ("sitting on the box", "bent to the right", "arms above the head")),
    ("tt_leg_springs_lower", "start", ("both legs straight up", "feet in the spring loops")),
    ("tt_side_leg_springs", "end", ("lying on the left side", "right foot in the spring loop")),
    ("tt_half_hang", "end", ("hanging", "back arched", "hands round the frame", "ankles in the loops")),
    ("tt_bridge_leg_springs", "end", ("pelvis lifted, upper back on the table", "spring loops")),
    ("ref_long_back_stretch", "start", ("on hands and feet, chest up on the carriage",)),
    ("tt_roll_down", "end", ("sitting on the table", "back rounded", "holding the bar")),
    ("ch_foot_toes", "start", ("sitting on the seat", "balls of both feet on the pedal")),
    ("ch_standing_pump", "end", ("standing", "ball of the right foot on the pedal", "left foot down")),
    ("lb_swan", "end", ("face down over the barrel", "chest lifted", "feet on a rung")),
    ("arc_chest_lift", "start", ("lying back over the arc", "both hands behind the head")),
    ("st_single_leg_stand", "end", ("standing", "right foot down", "left leg lifted forward")),
    ("st_split_squat", "end", ("both knees bent to 85 degrees", "left hand on the chair's back")),
    ("st_sit_to_stand", "start", ("sitting on the chair", "both arms forward")),
]


@pytest.mark.parametrize(("key", "phase", "parts"), BY_HAND, ids=[f"{k}-{p}" for k, p, _ in BY_HAND])
def test_words_by_hand(key, phase, parts):
    said, at = describe(POSES[key], phase).lower(), 0
    for part in parts:
        assert part in said[at:], said
        at = said.index(part, at)


@of_every(EVERY)
def test_the_position_of_the_facts_is_what_is_drawn(pose):
    facts = CATALOGUE[pose["key"]]
    assert tell(pose, "start").base in BASES[facts["position"]], describe(pose, "start")


# The parts that a base names: one of each group has to touch something in that phase.
KNEE, FOOT = (
    ("kneecap", "shin", "knee"),
    ("heel", "ball", "toe", "arch", "instep", "outer_ankle", "inner_ankle"),
)
HAND = ("palm", "knuckle", "fingertip", "forearm_edge", "elbow_tip", "elbow")
SEAT = ("seat", "back", "thigh_back")
NAMED = {
    "kneeling": (KNEE,), "kneeling_left": (KNEE,), "kneeling_right": (KNEE,),
    "hands_and_knees": (KNEE, HAND), "plank_on_knees": (KNEE, HAND), "hands_and_feet": (FOOT, HAND),
    "plank": (FOOT, HAND), "plank_face_up": (FOOT, HAND), "standing": (FOOT,), "standing_leaning": (FOOT,),
    "folded_forward": (FOOT,), "sitting": (SEAT,), "seated_far_back": (SEAT,), "hanging": (HAND,),
    "propped_on_left": (HAND, KNEE + FOOT), "propped_on_right": (HAND, KNEE + FOOT),
}  # fmt: skip
TOUCHES = 0.05  # metres between a knee and the level of its own foot: more is a knee held in the air


@of_every(EVERY, phase=("start", "end"))
def test_the_base_names_parts_that_touch(pose, phase):
    base, touching = tell(pose, phase).base, _touching(pose[phase])
    for group in NAMED.get(base, ()):
        assert any(name.rpartition(".")[2] in group for name in touching), describe(pose, phase)
    if base not in NAMED and base != "upside_down":
        assert touching & TRUNK_POINTS.keys() or {"l.hip", "r.hip"} & touching, describe(pose, phase)


@pytest.mark.parametrize("key", ["ref_short_box_side", "ref_mermaid"])
def test_a_bend_to_the_side_leans_neither_forward_nor_back(key):
    said = describe(POSES[key], "end")
    assert "bent to the right" in said
    assert "leaning to the right" in said
    assert "leaning back" not in said
    assert "leaning forward" not in said


@of_every(EVERY, phase=("start", "end"))
def test_sitting_is_said_wherever_the_seat_is_on_a_chair(pose, phase):
    on = {name: touch.get("on") for touch in pose[phase]["touch"] for name in points_of(touch)}
    if on.get("seat") in ("stool", "box"):
        assert tell(pose, phase).base in ("sitting", "seated_far_back"), describe(pose, phase)


def _touching(phase: dict) -> set[str]:
    """Points that touch in a phase; a knee that only keeps a height above its own foot does not."""
    body = stand(angles_of(phase), tuple(phase["solved_hips"]))
    found = set()
    for touch in phase["touch"]:
        for name in points_of(touch) if "on" in touch or "z" in touch else ():
            sides = ("l." + name[4:], "r." + name[4:]) if name.startswith("mid.") else (name,)
            found |= {one for one in sides if "on" in touch or not _in_the_air(body, one)}
    return found


def _in_the_air(body, name: str) -> bool:
    side, _, part = name.partition(".")
    if part not in ("kneecap", "shin"):
        return False
    return (
        locate(body, name)[2] > min(locate(body, f"{side}.{foot}")[2] for foot in ("ball", "toe")) + TOUCHES
    )


ELSEWHERE = ("straps", "springs", "bar", "band", "hold")  # what gripping hands may hold instead of the body
ON_THIGH, OVER_THIGH = 0.095, 0.06  # metres: palm to the line of the thigh, and how far beside that line


@of_every(EVERY, phase=("start", "end"))
def test_a_hand_on_the_own_body_is_said(pose, phase):
    """No arm that holds or lies on a part of the body is told as a free arm, along the body or elsewhere."""
    arms, moment = tell(pose, phase).arms, pose[phase]
    if any(moment.get(thing) for thing in ELSEWHERE if thing != "hold") or "between" in str(
        moment.get("hold")
    ):
        return
    for side in "lr":
        if side in moment.get("grip", ()) or _on_a_thigh(moment, side):
            assert not arms[side].does.startswith(("arm_", "elbow_bent")), describe(pose, phase)


def _on_a_thigh(phase: dict, side: str) -> bool:
    body = stand(angles_of(phase), tuple(phase["solved_hips"]))
    for leg in "lr":
        away = locate(body, f"{side}.palm") - body.origins[f"{leg}.hip"]
        ahead, aside, up = body.frames[f"{leg}.thigh"].T @ away
        middle = 0.3 < -up / 0.4165 < 1  # of the stored body's thigh
        if middle and ahead > 0 and (ahead**2 + aside**2) ** 0.5 < ON_THIGH and abs(aside) < OVER_THIGH:
            return True
    return False


@of_every(EVERY)
def test_words_are_whole(pose):
    for phase in ("start", "end"):
        said = describe(pose, phase)
        assert re.fullmatch(r"[A-Z][^%{}_]+\.", said)
        assert "None" not in said
        assert "its support" not in said, "a surface without a name"
        assert said.count(",") <= 12, said


@of_every([pose for pose in EVERY if pose["scene"]["kind"] == "table"])
def test_a_table_has_springs_and_no_straps(pose):
    for phase in ("start", "end"):
        assert "strap" not in describe(pose, phase)
        assert ("spring" in describe(pose, phase)) == bool(pose[phase].get("springs"))


@of_every(EVERY)
def test_start_and_end_are_told_apart(pose):
    if describe(pose, "start") == describe(pose, "end"):
        assert pose["key"] in SAME_WORDS


def test_every_exception_is_needed():
    assert [k for k in SAME_WORDS if describe(POSES[k], "start") != describe(POSES[k], "end")] == []


@of_every(SIDED)
def test_the_left_says_left_where_the_right_says_right(pose):
    other = {"left": "right", "right": "left"}
    for phase in ("start", "end"):
        swapped = re.sub(r"\b(left|right)\b", lambda found: other[found[1]], describe(pose, phase, "right"))
        assert sorted(_parts(swapped)) == sorted(_parts(describe(pose, phase, "left")))


def _parts(said: str) -> list[str]:
    return said.rstrip(".").lower().split(", ")
