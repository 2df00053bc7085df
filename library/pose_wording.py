"""What a figure shows, in words for somebody who cannot see it: made from the pose, never typed.

Plain computation over `library.body.telling`; sentences are the product's, so they go through gettext.
"""

from django.utils.text import capfirst
from django.utils.translation import gettext as _

from library.body.holding import SOMETHING
from library.body.mirroring import mirror
from library.body.telling import Limb, Telling, tell

_SIDES = {"l": "left", "r": "right"}


def describe(pose: dict, phase: str, side: str | None = None) -> str:
    """Return one sentence of parts: how the body is held, what the trunk, the legs and the arms do.

    pose: as stored, the right side working. phase: 'start', 'middle' or 'end'. side: 'left' turns it over.
    """
    turned = mirror(pose) if side == "left" and "side" in pose else pose
    return capfirst(_words(tell(turned, phase), turned[phase], turned["scene"]["kind"])) + "."


def _words(told: Telling, phase: dict, kind: str) -> str:
    parts = [
        _base(told),
        *(_trunk(key) for key in told.trunk),
        _hips(told.hips),
        *(_spread(key) for key in told.spread),
    ]
    parts += _pair(told.legs, _leg_words, told)
    parts += _pair(told.arms, _arm_words, told)
    parts += _held(phase, kind)
    return ", ".join(part for part in parts if part)


def _base(told: Telling) -> str:
    held = {
        "sitting": _("sitting"),
        "seated_far_back": _("sitting and leaning far back"),
        "on_back": _("lying on the back"),
        "back_over": _("lying back"),
        "pelvis_lifted": _("pelvis lifted, upper back"),
        "on_shoulders": _("on the back of the shoulders, hips above"),
        "face_down": _("lying face down"),
        "on_left_side": _("lying on the left side"),
        "on_right_side": _("lying on the right side"),
        "propped_on_left": _("propped up on the left side"),
        "propped_on_right": _("propped up on the right side"),
        "kneeling": _("kneeling"),
        "kneeling_left": _("kneeling on the left knee"),
        "kneeling_right": _("kneeling on the right knee"),
        "hands_and_knees": _("on hands and knees"),
        "hands_and_feet": _("on hands and feet"),
        "plank_on_knees": _("in one long line on hands and knees"),
        "plank": _("in one long line on hands and feet"),
        "plank_face_up": _("on hands and feet, chest up"),
        "standing": _("standing"),
        "standing_leaning": _("standing and leaning forward"),
        "folded_forward": _("folded forward on the feet"),
        "hanging": _("hanging"),
        "upside_down": _("upside down"),
    }[told.base]
    where = _where(told.on)
    return f"{held} {where}" if where else held


def _where(on: str) -> str:
    return {
        "mat": _("on the mat"),
        "floor": "",
        "carriage": _("on the carriage"),
        "table": _("on the table"),
        "seat": _("on the seat"),
        "stool": _("on the chair"),
        "box": _("on the box"),
        "barrel": _("over the barrel"),
        "arc": _("over the arc"),
        "roller": _("on the roller"),
        "roller_along": _("on the roller"),
        "rear_wall": _("against the wall"),
        "step": _("on the step"),
        "pedal": _("on the pedal"),
        "platform": _("on the platform"),
    }.get(on, "")


def _thing(on: str) -> str:
    """What a hand or a foot is on, with its article."""
    return {
        "mat": _("the mat"),
        "floor": _("the floor"),
        "carriage": _("the carriage"),
        "table": _("the table"),
        "seat": _("the seat"),
        "stool": _("the chair"),
        "box": _("the box"),
        "barrel": _("the barrel"),
        "arc": _("the arc"),
        "footbar": _("the footbar"),
        "pedal": _("the pedal"),
        "handle": _("the handle"),
        "rung": _("a rung"),
        "pushbar": _("the bar"),
        "backrest": _("the chair's back"),
        "wall": _("the wall"),
        "rear_wall": _("the wall behind"),
        "roller_along": _("the roller"),
        "headrest": _("the head rest"),
        "post": _("the post"),
        "roller": _("the roller"),
        "step": _("the step"),
        "platform": _("the platform"),
        "jumpboard": _("the board"),
        "cushion": _("the cushion"),
    }.get(on, _("its support"))


def _trunk(key: str) -> str:
    return {
        "head_and_shoulders_lifted": _("head and shoulders lifted"),
        "head_lifted": _("head lifted"),
        "chest_lifted": _("chest lifted"),
        "chest_low": _("chest low"),
        "back_rounded": _("back rounded"),
        "back_arched": _("back arched"),
        "bent_left": _("trunk bent to the left"),
        "bent_right": _("trunk bent to the right"),
        "turned_left": _("chest turned to the left"),
        "turned_right": _("chest turned to the right"),
        "blades_apart": _("shoulder blades apart"),
        "blades_together": _("shoulder blades drawn together"),
        "leaning_forward": _("trunk leaning forward"),
        "leaning_back": _("trunk leaning back"),
        "leaning_left": _("trunk leaning to the left"),
        "leaning_right": _("trunk leaning to the right"),
        "folded_over": _("trunk folded over the legs"),
        "hip_lifted_left": _("left hip lifted"),
        "hip_lifted_right": _("right hip lifted"),
    }[key]


def _hips(bent: int | None) -> str:
    return "" if bent is None else _("hips bent to %(n)s degrees") % {"n": bent}


def _spread(key: str) -> str:
    return {
        "legs_apart": _("legs apart"),
        "knees_apart": _("knees apart"),
        "turned_out": _("legs turned out"),
        "heels_together": _("heels together"),
        "heels_lifted": _("heels lifted"),
        "heels_low": _("heels low"),
        "feet_pulled_up": _("feet pulled up"),
        "feet_pointed": _("feet pointed"),
        "foot_pulled_up_left": _("left foot pulled up"),
        "foot_pulled_up_right": _("right foot pulled up"),
        "foot_pointed_left": _("left foot pointed"),
        "foot_pointed_right": _("right foot pointed"),
        "heel_lifted_left": _("left heel lifted"),
        "heel_lifted_right": _("right heel lifted"),
        "arch_lifted_left": _("arch of the left foot lifted"),
        "arch_lifted_right": _("arch of the right foot lifted"),
        "toes_tucked": _("toes tucked under"),
        "toes_tucked_left": _("left toes tucked under"),
        "toes_tucked_right": _("right toes tucked under"),
        "toes_over": _("toes bent over the bar"),
        "toes_over_left": _("left toes bent over the bar"),
        "toes_over_right": _("right toes bent over the bar"),
        "toes_curled": _("toes curled"),
        "toes_curled_left": _("left toes curled"),
        "toes_curled_right": _("right toes curled"),
        "toes_up": _("toes up"),
        "toes_up_left": _("left toes up"),
        "toes_up_right": _("right toes up"),
    }[key]


def _pair(limbs: dict[str, Limb], say, told: Telling) -> list[str]:
    """Words for both limbs of a kind: once where they do the same, right first where they differ."""
    if limbs["l"] == limbs["r"]:
        return [say(limbs["r"], "both", told)]
    return [say(limbs[side], _SIDES[side], told) for side in "rl"]


def _leg_words(limb: Limb, which: str, told: Telling) -> str:
    standing = told.base in ("standing", "standing_leaning", "folded_forward", "plank", "plank_face_up")
    if which == "both" and limb.does in ("knee_down", "foot_down") and ("knee" in told.base or standing):
        return ""  # said by how the body is held
    if limb.does == "knee_down" and told.base == f"kneeling_{which}":
        return ""
    values = _parts_of_leg()[which] | {"n": limb.degrees, "thing": _thing(limb.on)}
    return _leg_phrases()[limb.does] % values


def _parts_of_leg() -> dict[str, dict[str, str]]:
    return {
        "both": {
            "leg": _("both legs"),
            "knee": _("both knees"),
            "foot": _("both feet"),
            "heel": _("both heels"),
            "ball": _("balls of both feet"),
            "arch": _("arches of both feet"),
        },
        "left": {
            "leg": _("left leg"),
            "knee": _("left knee"),
            "foot": _("left foot"),
            "heel": _("left heel"),
            "ball": _("ball of the left foot"),
            "arch": _("arch of the left foot"),
        },
        "right": {
            "leg": _("right leg"),
            "knee": _("right knee"),
            "foot": _("right foot"),
            "heel": _("right heel"),
            "ball": _("ball of the right foot"),
            "arch": _("arch of the right foot"),
        },
    }


def _leg_phrases() -> dict[str, str]:
    return {
        "knee_down": _("%(knee)s down"),
        "foot_down": _("%(leg)s straight, %(foot)s down"),
        "foot_down_bent": _("%(foot)s down, %(knee)s bent to %(n)s degrees"),
        "foot_on": _("%(leg)s straight, %(foot)s on %(thing)s"),
        "foot_on_bent": _("%(foot)s on %(thing)s, %(knee)s bent to %(n)s degrees"),
        "straight_heel_on": _("%(leg)s straight, %(heel)s on %(thing)s"),
        "straight_ball_on": _("%(leg)s straight, %(ball)s on %(thing)s"),
        "straight_arch_on": _("%(leg)s straight, %(arch)s on %(thing)s"),
        "bent_heel_on": _("%(knee)s bent to %(n)s degrees, %(heel)s on %(thing)s"),
        "bent_ball_on": _("%(knee)s bent to %(n)s degrees, %(ball)s on %(thing)s"),
        "bent_arch_on": _("%(knee)s bent to %(n)s degrees, %(arch)s on %(thing)s"),
        "straight_forward": _("%(leg)s straight, lifted forward %(n)s degrees"),
        "straight_back": _("%(leg)s straight, %(n)s degrees behind"),
        "straight_aside": _("%(leg)s straight, lifted to the side %(n)s degrees"),
        "bent_forward": _("%(leg)s lifted forward, knee bent to %(n)s degrees"),
        "bent_back": _("%(leg)s behind, knee bent to %(n)s degrees"),
        "bent_aside": _("%(leg)s lifted to the side, knee bent to %(n)s degrees"),
        "lifted_back": _("%(leg)s straight, lifted behind"),
        "bent_lifted_back": _("%(leg)s lifted behind, knee bent"),
        "straight_over_head": _("%(leg)s straight over the head"),
        "straight_along": _("%(leg)s straight and level"),
        "straight_up": _("%(leg)s straight up"),
        "straight_at": _("%(leg)s straight at %(n)s degrees"),
        "bent_foot_down": _("%(knee)s bent, %(foot)s down"),
        "knee_over_hip": _("%(knee)s over the hip, shin level"),
        "bent_raised": _("%(knee)s lifted, bent to %(n)s degrees"),
        "bent_at": _("%(knee)s bent to %(n)s degrees"),
    }


def _arm_words(limb: Limb, which: str, told: Telling) -> str:
    arm = {"both": _("both arms"), "left": _("left arm"), "right": _("right arm")}[which]
    hand = {"both": _("both hands"), "left": _("left hand"), "right": _("right hand")}[which]
    elbow = {"both": _("both elbows"), "left": _("left elbow"), "right": _("right elbow")}[which]
    values = {"arm": arm, "hand": hand, "elbow": elbow, "thing": _thing(limb.on), "n": limb.degrees}
    if limb.on == SOMETHING and limb.does == "hand_bent_on":
        return _("%(hand)s down, %(elbow)s bent to %(n)s degrees") % values
    if limb.on == SOMETHING and limb.does == "forearm_on":
        return _("%(elbow)s bent and down") % values
    if limb.on == SOMETHING and limb.does == "hand_on":
        by_hands = which == "both" and (
            "hands" in told.base or "plank" in told.base or told.base == "hanging"
        )
        return "" if by_hands else _("%(hand)s down") % {"hand": hand}
    if which == "both" and limb.does in _plural_holds():
        return _plural_holds()[limb.does]
    return _arm_phrases()[limb.does] % values


def _plural_holds() -> dict[str, str]:
    return {
        "hand_at_knee": _("both hands at the knees"),
        "hand_at_shin": _("both hands at the shins"),
        "hand_at_ankle": _("both hands at the ankles"),
        "hand_at_foot": _("both hands at the feet"),
        "own_on_thigh": _("both hands on the thighs"),
        "own_behind_thigh": _("both hands behind the thighs"),
        "own_hips": _("both hands at the hips"),
        "own_crossed": _("arms crossed in front"),
        "own_together_behind": _("hands held together behind the back"),
    }


def _arm_phrases() -> dict[str, str]:
    return {
        "hand_on": _("%(hand)s on %(thing)s"),
        "hand_bent_on": _("%(hand)s on %(thing)s, %(elbow)s bent to %(n)s degrees"),
        "hand_reach_on": _("%(hand)s on %(thing)s, %(arm)s %(n)s degrees from the trunk"),
        "hand_high_on": _("%(hand)s high on %(thing)s"),
        "forearm_on": _("%(arm)s bent, forearm on %(thing)s"),
        "hand_behind_head": _("%(hand)s behind the head"),
        "hand_at_knee": _("%(hand)s at the knee"),
        "hand_at_shin": _("%(hand)s at the shin"),
        "hand_at_ankle": _("%(hand)s at the ankle"),
        "hand_at_foot": _("%(hand)s at the foot"),
        "own_on_thigh": _("%(hand)s on the thigh"),
        "own_behind_thigh": _("%(hand)s behind the thigh"),
        "own_on_thigh_left": _("%(hand)s on the left thigh"),
        "own_on_thigh_right": _("%(hand)s on the right thigh"),
        "own_behind_thigh_left": _("%(hand)s behind the left thigh"),
        "own_behind_thigh_right": _("%(hand)s behind the right thigh"),
        "own_crossed": _("%(arm)s crossed in front"),
        "own_together_behind": _("%(arm)s back"),
        "own_pelvis_back": _("%(hand)s at the back of the pelvis"),
        "own_hips": _("%(hand)s at the hip"),
        "own_ribs": _("%(hand)s at the ribs"),
        "elbow_bent": _("%(elbow)s bent"),
        "arm_overhead": _("%(arm)s above the head"),
        "arm_aside": _("%(arm)s out to the side"),
        "arm_forward": _("%(arm)s forward"),
        "arm_forward_low": _("%(arm)s forward and low"),
        "arm_forward_high": _("%(arm)s forward and up"),
        "arm_back": _("%(arm)s back"),
        "arm_to_ceiling": _("%(arm)s to the ceiling"),
        "arm_along": _("%(arm)s along the body"),
    }


def _held(phase: dict, kind: str) -> list[str]:
    """What is pushed, pulled or held that no contact tells."""
    said = [
        _straps(phase) if kind == "reformer" else "",
        _closed_hands(phase) if kind == "table" else "",
        _springs(phase),
        _("holding the bar") if phase.get("bar") else "",
        _("legs in the sling") if phase.get("sling") else "",
        _("ankles in the loops of the frame") if phase.get("hang") else "",
        _band(phase.get("band")),
    ]
    held = phase.get("hold", [])
    said += [_thing_held(thing) for thing in ([held] if isinstance(held, dict) else held)]
    return [one for one in said if one]


def _straps(phase: dict) -> str:
    of_one = {
        ("hands", "r"): _("right hand in the strap"),
        ("hands", "l"): _("left hand in the strap"),
        ("feet", "r"): _("right foot in the strap"),
        ("feet", "l"): _("left foot in the strap"),
    }
    both = {"hands": _("hands in the straps"), "feet": _("feet in the straps")}
    straps = phase.get("straps")
    return of_one.get((straps, phase.get("strap_side")), both.get(straps, ""))


def _closed_hands(phase: dict) -> str:
    """What ``straps`` says on a table, where hands that hold no spring are closed round a post or a rail."""
    return _("hands round the frame") if phase.get("straps") and not phase.get("springs") else ""


def _springs(phase: dict) -> str:
    of_one = {
        "feet": _("feet in the spring loops"),
        "hands": _("a spring in each hand"),
        "l.instep": _("left foot in the spring loop"),
        "r.instep": _("right foot in the spring loop"),
        "l.palm": _("a spring in the left hand"),
        "r.palm": _("a spring in the right hand"),
    }
    springs = phase.get("springs") or []
    every = springs if isinstance(springs, list) else [springs]
    return ", ".join(of_one[one] for one in every if one in of_one)


def _band(where: str | None) -> str:
    return {
        "feet": _("band round the feet, ends in the hands"),
        "l.foot": _("band round the left foot, ends in the hands"),
        "r.foot": _("band round the right foot, ends in the hands"),
        "hands": _("band between the hands"),
        "thighs": _("band round the thighs"),
        "ribs": _("band round the ribs, ends in the hands"),
    }.get(where or "", "")


def _thing_held(thing: dict) -> str:
    between = {
        ("ring", "hands"): _("ring between the hands"),
        ("ring", "thighs"): _("ring between the thighs"),
        ("ring", "knees"): _("ring between the knees"),
        ("ring", "ankles"): _("ring between the ankles"),
        ("ball", "hands"): _("ball between the hands"),
        ("ball", "thighs"): _("ball between the thighs"),
        ("ball", "knees"): _("ball between the knees"),
        ("ball", "ankles"): _("ball between the ankles"),
    }
    alone = {"ball": _("with a ball"), "weights": _("with small weights"), "roller": _("with a roller")}
    return between.get((thing["what"], thing.get("between")), alone.get(thing["what"], ""))
