"""Drawing ahead: the costly part of every stored figure, one panel at a time."""

from collections.abc import Iterator

from library.body.drawing import PHASES, prepare
from library.body.poses import all_poses


def warm() -> Iterator[None]:
    """Prepare every panel of the stored poses; one panel for each step that is taken.

    What a list shows first comes first: the plain ends. Then, pose by pose, the starts and both sides of
    one-sided work. Whoever steps decides how much to rest in between.
    """
    poses = list(all_poses().values())
    for pose in poses:
        prepare(pose, phase="end")
        yield
    for pose in poses:
        prepare(pose, phase="start")
        yield
        for side in ("left", "right") if "side" in pose else ():
            for phase in PHASES:
                prepare(pose, phase=phase, side=side)
                yield
