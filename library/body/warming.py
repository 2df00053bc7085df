"""Drawing ahead: the costly part of every stored figure, one panel at a time."""

from collections.abc import Iterator

from library.body.drawing import PHASES, prepare
from library.body.poses import all_poses


def warm() -> Iterator[None]:
    """Prepare every panel of the stored poses; one panel for each step that is taken.

    What a list shows first comes first: the plain ends, then their starts, then both sides of one-sided
    work. Whoever steps decides how much to rest in between.
    """
    poses = list(all_poses().values())
    one_sided = [pose for pose in poses if "side" in pose]
    rounds = [(poses, phase, None) for phase in reversed(PHASES)]
    rounds += [(one_sided, phase, side) for phase in reversed(PHASES) for side in ("left", "right")]
    for group, phase, side in rounds:
        for pose in group:
            prepare(pose, phase=phase, side=side)
            yield
