"""Each drawing rests on what its position asks for, and nobody goes through floor or apparatus."""

from library.body.complaints import depths
from library.body.contacts import points_of
from tests.library.body.every import EVERY, of_every
from tests.library.body.reviewed import CATALOGUE, SUPPORTS

BACK = ("pelvis.back", "waist.back", "upper_back", "ribs.back", "head.back", "seat")
FRONT = ("pelvis.front", "belly", "ribs.front", "head.front")
FEET = ("heel", "ball", "toe", "arch", "instep")
HANDS = ("palm", "knuckle", "fingertip", "forearm_edge", "elbow_tip")
KNEES = ("kneecap", "shin")
# At least one point of each group touches at the start. Common practice, no source.
NEEDED = {
    "supine": (BACK,),
    "prone": (FRONT,),
    "side_lying": (("pelvis.left", "pelvis.right", "ribs.left", "ribs.right"),),
    "seated": (("seat",),),
    "standing": (FEET,),
    "kneeling": (KNEES,),
    "quadruped": (KNEES, HANDS),
    "plank_support": ((*FEET, *KNEES), HANDS),
    "inverted": ((*BACK, *HANDS),),
}


def touching(phase):
    """Points in contact without their side: mid.heel and l.heel are heel."""
    names = set()
    for touch in phase["touch"]:
        for point in points_of(touch):
            side, dot, part = point.partition(".")
            names.add(part if dot and side in ("l", "r", "mid") else point)
    return names


@of_every(EVERY)
def test_the_start_rests_on_what_its_position_asks_for(pose):
    needed = SUPPORTS.get(pose["key"], (NEEDED[CATALOGUE[pose["key"]]["position"]],))[0]
    for group in needed:
        assert touching(pose["start"]) & set(group), group


@of_every(EVERY)
def test_nobody_goes_through_floor_or_apparatus(pose):
    assert depths(pose) == {}
