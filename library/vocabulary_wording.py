"""The closed lists of the exercise facts in words, through gettext. One name for one thing, everywhere."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from studio.wording import SPRING_GRADES

APPARATUS = {
    "mat": gettext_lazy("Mat"),
    "reformer": gettext_lazy("Reformer"),
    "trapeze_table": gettext_lazy("Trapeze table"),
    "chair": gettext_lazy("Chair"),
    "ladder_barrel": gettext_lazy("Ladder barrel"),
    "arc": gettext_lazy("Arc"),
    "standing": gettext_lazy("Standing"),
    "small_prop": gettext_lazy("Small props"),
}
POSITIONS = {
    "supine": gettext_lazy("On the back"),
    "side_lying": gettext_lazy("On the side"),
    "prone": gettext_lazy("On the front"),
    "quadruped": gettext_lazy("On hands and knees"),
    "kneeling": gettext_lazy("Kneeling"),
    "seated": gettext_lazy("Seated"),
    "standing": gettext_lazy("Standing"),
    "plank_support": gettext_lazy("On hands and feet"),
    "inverted": gettext_lazy("Upside down"),
}
FAMILIES = {
    "spinal_articulation": gettext_lazy("Rolling the spine"),
    "flexion": gettext_lazy("Rounding forward"),
    "extension": gettext_lazy("Arching back"),
    "lateral_flexion": gettext_lazy("Bending sideways"),
    "rotation": gettext_lazy("Turning"),
    "hip_dissociation": gettext_lazy("Thigh moves, pelvis stays"),
    "hip_extension": gettext_lazy("Thigh pushes back"),
    "hip_abduction_rotation": gettext_lazy("Thigh opens and turns"),
    "leg_press_squat": gettext_lazy("Leg press and squat"),
    "shoulder_girdle": gettext_lazy("Shoulder blades"),
    "arm_press_pull": gettext_lazy("Arms press and pull"),
    "balance": gettext_lazy("Balance"),
    "foot_ankle": gettext_lazy("Feet and calves"),
    "breathing": gettext_lazy("Breathing"),
    "stretch": gettext_lazy("Stretch"),
}
SKILLS = {
    "breath_control": gettext_lazy("Breathing without strain"),
    "neutral_pelvis_control": gettext_lazy("A still, level pelvis"),
    "segmental_spine_mobility": gettext_lazy("A spine that rolls in order"),
    "trunk_flexor_strength": gettext_lazy("Front of the trunk"),
    "oblique_control": gettext_lazy("Turning, and resisting a turn"),
    "lateral_trunk_control": gettext_lazy("Side of the trunk"),
    "back_extensor_endurance": gettext_lazy("Back that lasts"),
    "upper_back_mobility": gettext_lazy("Upper back that opens and turns"),
    "hip_dissociation": gettext_lazy("Thigh free of the pelvis"),
    "hip_extensor_strength": gettext_lazy("Seat and back of the thigh"),
    "lateral_hip_stability": gettext_lazy("Side of the hip"),
    "leg_alignment_strength": gettext_lazy("Hip, knee and foot in line"),
    "foot_strength": gettext_lazy("Feet and ankles"),
    "scapular_control": gettext_lazy("Shoulder blades that place and hold"),
    "balance_control": gettext_lazy("Balance"),
    "leg_and_hip_flexibility": gettext_lazy("Length of leg and hip"),
}
LEVELS = {
    "foundation": gettext_lazy("Foundation"),
    "building": gettext_lazy("Building"),
    "advanced": gettext_lazy("Advanced"),
}
LEVEL_MEANINGS = {
    "foundation": gettext_lazy("For a first month, with the changes listed."),
    "building": gettext_lazy("The easier ones before it are done cleanly first."),
    "advanced": gettext_lazy("After months of regular work; one to one when it is new."),
}
BREATHS = {
    "free": gettext_lazy("As it comes, never held"),
    "out_on_effort": gettext_lazy("Out on the effort"),
    "in_on_lift": gettext_lazy("In on the lift"),
    "in_still_out_move": gettext_lazy("In while still, out while moving"),
    "five_in_five_out": gettext_lazy("Five counts in, five out"),
    "pulsed": gettext_lazy("Two short breaths, two short moves"),
    "in_out_phase": gettext_lazy("One breath each way"),
    "two_changes_each": gettext_lazy("In for two changes, out for two"),
    "hold_keep_breathing": gettext_lazy("Hold, and keep breathing"),
    "breath_is_the_task": gettext_lazy("Slow breathing is the exercise"),
    "in_roll_back_out_return": gettext_lazy("In on the way back, out on the way up"),
}
SIDES = {
    "both_together": gettext_lazy("both sides together"),
    "one_then_other": gettext_lazy("one side, then the other"),
    "alternating": gettext_lazy("sides change every time"),
}
SIDE_MEANS = {
    "working_leg": gettext_lazy("the leg that moves"),
    "stance_leg": gettext_lazy("the leg that carries the weight"),
    "front_leg": gettext_lazy("the leg in front"),
    "rear_leg": gettext_lazy("the leg behind"),
    "working_arm": gettext_lazy("the arm that moves"),
    "bends_towards": gettext_lazy("the side the trunk bends to"),
    "turns_towards": gettext_lazy("the side the chest or the knees turn to"),
    "upper_side": gettext_lazy("the side that faces the ceiling"),
    "support_side": gettext_lazy("the side whose arm is on the floor"),
}
COMPARE_BY = {
    "reps": gettext_lazy("clean repetitions at the same load"),
    "hold_s": gettext_lazy("seconds held cleanly"),
    "range": gettext_lazy("range reached without a fault"),
    "control": gettext_lazy("quality, in the five steps"),
}
SPRING_ROLES = {
    "resist": gettext_lazy("The spring is the load."),
    "assist": gettext_lazy("The spring carries the client."),
    "both": gettext_lazy("The spring loads one way and carries the other."),
    "anchor": gettext_lazy("The spring only keeps the carriage still."),
}
SPRING_HARDER = {
    "heavier": gettext_lazy("Heavier is harder."),
    "lighter": gettext_lazy("Lighter is harder."),
    "depends": gettext_lazy("Which way is harder depends: a change of spring is a note, not progress."),
}
HOME_PROPS = {
    "band": gettext_lazy("band"),
    "small_ball": gettext_lazy("small ball"),
    "ring": gettext_lazy("ring"),
    "roller": gettext_lazy("roller"),
    "sturdy_chair": gettext_lazy("sturdy chair without wheels"),
    "step": gettext_lazy("low step with a rail near"),
    "towel": gettext_lazy("towel"),
    "wall": gettext_lazy("wall with nothing on it"),
}
ACCESSORIES = {
    "ankle_slings": gettext_lazy("ankle slings"),
    "arm_springs": gettext_lazy("arm springs"),
    "foot_loops": gettext_lazy("foot loops"),
    "foot_strap": gettext_lazy("foot strap"),
    "footbar": gettext_lazy("foot bar"),
    "hand_straps": gettext_lazy("hand straps"),
    "handles": gettext_lazy("handles"),
    "headrest": gettext_lazy("headrest"),
    "jump_board": gettext_lazy("jump board"),
    "ladder": gettext_lazy("ladder"),
    "leg_springs": gettext_lazy("leg springs"),
    "long_box": gettext_lazy("box, lengthwise"),
    "pedal": gettext_lazy("pedal"),
    "push_through_bar": gettext_lazy("push-through bar"),
    "roll_down_bar": gettext_lazy("roll-down bar"),
    "safety_strap": gettext_lazy("safety strap"),
    "short_box": gettext_lazy("box, crosswise"),
    "shoulder_rests": gettext_lazy("shoulder rests"),
    "standing_platform": gettext_lazy("standing platform"),
    "trapeze_frame": gettext_lazy("frame for hanging"),
    "trapeze_sling": gettext_lazy("sling"),
}
FAULTS = {
    "belly_domes": gettext_lazy("Belly domes"),
    "breath_held": gettext_lazy("Breath is held"),
    "chest_collapses": gettext_lazy("Chest sinks"),
    "foot_rolls_off_line": gettext_lazy("Foot rolls off line"),
    "front_of_hips_grips": gettext_lazy("Front of the hips grips"),
    "goes_too_fast": gettext_lazy("Too fast"),
    "hamstrings_cramp": gettext_lazy("Cramp behind the thigh"),
    "hands_or_toes_over_grip": gettext_lazy("Hands or toes grip hard"),
    "hip_hikes": gettext_lazy("Hip hitches up"),
    "joints_snap_straight": gettext_lazy("Joints snap straight"),
    "knees_roll_in": gettext_lazy("Knees roll in"),
    "low_back_arches": gettext_lazy("Low back hollows"),
    "neck_strains": gettext_lazy("Neck strains"),
    "pelvis_rocks_side_to_side": gettext_lazy("Pelvis rocks"),
    "pelvis_tips_forward": gettext_lazy("Pelvis tips forward"),
    "pelvis_tucks_under": gettext_lazy("Tail tucks under"),
    "range_too_big": gettext_lazy("Range too big"),
    "ribs_pop_forward": gettext_lazy("Ribs push forward"),
    "shoulder_blades_wing": gettext_lazy("Shoulder blades wing"),
    "shoulders_creep_up": gettext_lazy("Shoulders creep up"),
    "spine_moves_in_blocks": gettext_lazy("Spine moves in blocks"),
    "spring_return_uncontrolled": gettext_lazy("Spring comes back too fast"),
    "swung_with_momentum": gettext_lazy("Swung, not moved"),
    "trunk_leans_away": gettext_lazy("Trunk leans away"),
    "trunk_rolls_back": gettext_lazy("Trunk rolls back"),
    "trunk_sags": gettext_lazy("Trunk sags"),
    "trunk_twists": gettext_lazy("Trunk twists"),
    "waist_shortens_on_one_side": gettext_lazy("Waist shortens on one side"),
    "weight_uneven": gettext_lazy("Weight uneven"),
    "wobbles_off_balance": gettext_lazy("Wobbles"),
}
ADAPTATIONS = {
    "arms_below_shoulder": gettext_lazy("Arms below the shoulders"),
    "both_legs_together": gettext_lazy("Both legs together"),
    "breathe_out_aloud": gettext_lazy("Breathe out aloud"),
    "carriage_stop_out": gettext_lazy("Carriage stop further out"),
    "chair_support": gettext_lazy("Hand on a sturdy chair"),
    "cushion_between_knees": gettext_lazy("Cushion between the knees"),
    "do_lying": gettext_lazy("Lying down instead"),
    "do_seated": gettext_lazy("Seated instead"),
    "do_side_lying": gettext_lazy("On the side instead"),
    "do_standing": gettext_lazy("Standing instead"),
    "extra_box_or_riser": gettext_lazy("Higher seat"),
    "fewer_repetitions": gettext_lazy("Fewer repetitions"),
    "forearms_instead_of_hands": gettext_lazy("Forearms instead of hands"),
    "hand_on_frame": gettext_lazy("Hand on the frame"),
    "hands_hold_thighs": gettext_lazy("Hands hold the thighs"),
    "head_on_cushion": gettext_lazy("Head on a cushion"),
    "head_stays_down": gettext_lazy("Head stays down"),
    "heavier_spring": gettext_lazy("Heavier spring"),
    "keep_spine_long": gettext_lazy("Keep the back long"),
    "knees_bent": gettext_lazy("Knees bent"),
    "knees_stay_soft": gettext_lazy("Knees stay soft"),
    "legs_higher": gettext_lazy("Legs higher"),
    "lighter_spring": gettext_lazy("Lighter spring"),
    "loops_on_wrist_or_forearm": gettext_lazy("Loops on wrist or forearm"),
    "one_leg_at_a_time": gettext_lazy("One leg at a time"),
    "pad_under_knees": gettext_lazy("Pad under the knees"),
    "pad_under_pelvis": gettext_lazy("Pad under the pelvis"),
    "pause_between_phases": gettext_lazy("Pause between the phases"),
    "sit_raised": gettext_lazy("Sit higher"),
    "slower": gettext_lazy("Slower"),
    "smaller_range": gettext_lazy("Smaller range"),
    "stay_in_mid_range": gettext_lazy("Stay in the middle of the range"),
    "teacher_hand_on": gettext_lazy("Instructor's hand on"),
    "trunk_raised_on_wedge": gettext_lazy("Trunk raised on a wedge"),
    "wall_support": gettext_lazy("Hands or back on the wall"),
    "wedge_under_hands": gettext_lazy("Wedge under the hands"),
    "wider_base": gettext_lazy("Feet wider"),
}
# The same for the page that goes home: whole sentences to the client, for what can be done there alone.
ADAPTATIONS_AT_HOME = {
    "arms_below_shoulder": gettext_lazy("Keep your arms lower than your shoulders."),
    "both_legs_together": gettext_lazy("Use both legs at once."),
    "breathe_out_aloud": gettext_lazy("Breathe out so that you can hear it."),
    "chair_support": gettext_lazy("Hold on to a sturdy chair."),
    "cushion_between_knees": gettext_lazy("Put a cushion between your knees."),
    "do_lying": gettext_lazy("Do it lying down."),
    "do_seated": gettext_lazy("Do it sitting on a sturdy chair."),
    "do_side_lying": gettext_lazy("Do it lying on your side."),
    "do_standing": gettext_lazy("Do it standing up."),
    "extra_box_or_riser": gettext_lazy("Sit on something higher."),
    "fewer_repetitions": gettext_lazy("Do fewer of them."),
    "forearms_instead_of_hands": gettext_lazy("Rest on your forearms, not on your hands."),
    "hands_hold_thighs": gettext_lazy("Hold on to your thighs."),
    "head_on_cushion": gettext_lazy("Rest your head on a cushion."),
    "head_stays_down": gettext_lazy("Leave your head down."),
    "keep_spine_long": gettext_lazy("Keep your back long. Do not round it."),
    "knees_bent": gettext_lazy("Keep your knees bent."),
    "knees_stay_soft": gettext_lazy("Do not lock your knees."),
    "legs_higher": gettext_lazy("Keep your legs higher."),
    "one_leg_at_a_time": gettext_lazy("Move one leg at a time."),
    "pad_under_knees": gettext_lazy("Put a pad under your knees."),
    "pad_under_pelvis": gettext_lazy("Put a flat cushion under your hips."),
    "sit_raised": gettext_lazy("Sit on a firm cushion."),
    "slower": gettext_lazy("Go slower."),
    "smaller_range": gettext_lazy("Make the move smaller."),
    "stay_in_mid_range": gettext_lazy("Stop halfway."),
    "trunk_raised_on_wedge": gettext_lazy("Prop up your head and back on a slope of cushions."),
    "wall_support": gettext_lazy("Use a wall to hold you."),
    "wedge_under_hands": gettext_lazy("Put a rolled towel under the heels of your hands."),
    "wider_base": gettext_lazy("Put your feet wider apart."),
}

TRANSFER_STAGES = {
    "prepare": gettext_lazy("Without springs, to learn it"),
    "support": gettext_lazy("With the apparatus helping"),
    "load": gettext_lazy("With more load or a longer path"),
    "integrate": gettext_lazy("Upright, one side or the whole body"),
}

# Name of a closed list in the data -> its words.
LISTS = {
    "apparatus": APPARATUS,
    "position": POSITIONS,
    "family": FAMILIES,
    "skill": SKILLS,
    "level": LEVELS,
    "breath": BREATHS,
    "sides": SIDES,
    "side_means": SIDE_MEANS,
    "compare_by": COMPARE_BY,
    "spring_grade": SPRING_GRADES,
    "spring_role": SPRING_ROLES,
    "spring_harder": SPRING_HARDER,
    "home_prop": HOME_PROPS,
    "accessories": ACCESSORIES,
    "fault": FAULTS,
    "adaptation": ADAPTATIONS,
    "transfer_stage": TRANSFER_STAGES,
}


def label(list_name: str, value: str) -> str:
    """Return the words for one value of a closed list, e.g. label("fault", "neck_strains").

    Raises LookupError, in a sentence, for a list or a value that is not known.
    """
    try:
        return str(LISTS[list_name][value])
    except KeyError:
        raise LookupError(f"The list '{list_name}' has no words for '{value}'.") from None


def labels(list_name: str, values) -> list[str]:
    """Return the words for several values of one closed list, in their order."""
    return [label(list_name, value) for value in values]


def apparatus(value: str) -> str:
    return label("apparatus", value)


def level(value: str) -> str:
    return label("level", value)


def fault(value: str) -> str:
    return label("fault", value)


def adaptation(value: str) -> str:
    return label("adaptation", value)


def adaptation_at_home(value: str) -> str:
    """Return an adaptation as a sentence to the client. LookupError for one that cannot be done at home."""
    try:
        return str(ADAPTATIONS_AT_HOME[value])
    except KeyError:
        raise LookupError(f"The adaptation '{value}' has no words for the page that goes home.") from None


def home_prop(value: str) -> str:
    return label("home_prop", value)


def spring_grade(value: str) -> str:
    return label("spring_grade", value)


def level_meaning(value: str) -> str:
    """Return what a level asks for, in a sentence."""
    return str(LEVEL_MEANINGS[value])


def right_means(side_means: str | None) -> str:
    """Return what 'right' means in the record of a sided exercise; empty where there are no sides."""
    return _("Right = %(meaning)s") % {"meaning": label("side_means", side_means)} if side_means else ""


def spring_usual(facts: dict) -> str:
    """Return the usual spring setting with its range, e.g. 'medium (light to heavy)'; empty without springs."""
    if not facts["spring_grade"]:
        return ""
    low, usual, high = (spring_grade(facts[name]) for name in ("spring_min", "spring_grade", "spring_max"))
    return _("%(usual)s (%(low)s to %(high)s)") % {"usual": usual, "low": low, "high": high}


def spring_direction(facts: dict) -> str:
    """Return what the spring does and which way is harder, in a sentence or two; empty without springs."""
    if not facts["spring_role"]:
        return ""
    role, harder = label("spring_role", facts["spring_role"]), facts["spring_harder"]
    return f"{role} {label('spring_harder', harder)}" if harder else role
