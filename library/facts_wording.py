"""Words about the facts of one exercise: its dose, and the idea it carries from floor to machines."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

# One idea carried across the apparatus: id of its family in the data -> what the idea is.
TRANSFER_FAMILIES = {
    "tf_breath": gettext_lazy("Breathing into the ribs"),
    "tf_supine_legs": gettext_lazy("On the back: legs move, pelvis stays still"),
    "tf_bridge": gettext_lazy("Bridges: the hips drive up"),
    "tf_front_trunk": gettext_lazy("Front of the trunk: curl and hold while arms and legs move"),
    "tf_roll_up": gettext_lazy("Rolling the spine down and up"),
    "tf_seated_flexion": gettext_lazy("Rounding forward and growing long again"),
    "tf_roll_over": gettext_lazy("Rolling over and back"),
    "tf_teaser": gettext_lazy("Teasers: balancing in a V"),
    "tf_rotation": gettext_lazy("Turning the trunk"),
    "tf_side_bend": gettext_lazy("Bending and holding sideways"),
    "tf_back_extension": gettext_lazy("Lifting and arching the back"),
    "tf_side_hip": gettext_lazy("Side of the hip"),
    "tf_four_point": gettext_lazy("On hands and knees: hips or spine move"),
    "tf_front_support": gettext_lazy("Planks and weight on the arms"),
    "tf_arms": gettext_lazy("Arms move, the trunk stays"),
    "tf_leg_press": gettext_lazy("Pressing with the legs, and squatting"),
    "tf_foot_ankle": gettext_lazy("Feet and ankles"),
    "tf_standing_leg": gettext_lazy("Standing on one leg, and stepping"),
    "tf_thigh_stretch": gettext_lazy("Length for the front of the thigh and hip"),
    "tf_leg_length": gettext_lazy("Length for the back of the leg and the seat"),
}


def transfer_family(family: str) -> str:
    """Return the idea of a transfer family. LookupError, in a sentence, for one that is not known."""
    try:
        return str(TRANSFER_FAMILIES[family])
    except KeyError:
        raise LookupError(f"The transfer family '{family}' has no words.") from None


def repetitions(facts: dict) -> str:
    """Return the usual repetitions and the seconds of one, e.g. '8 to 12 on each side, 4 s each'."""
    low, high, seconds = facts["reps_min"], facts["reps_max"], facts["seconds_per_rep"]
    words = {
        (True, True): _("%(low)d on each side, %(seconds)d s each"),
        (True, False): _("%(low)d to %(high)d on each side, %(seconds)d s each"),
        (False, True): _("%(low)d times, %(seconds)d s each"),
        (False, False): _("%(low)d to %(high)d times, %(seconds)d s each"),
    }[facts["sides"] != "both_together", low == high]
    return words % {"low": low, "high": high, "seconds": seconds}
