"""Opening hours: whether stretches of one day follow each other. Plain computation."""

import datetime as dt

MOST = 3

ONE_TIME = "one_time"
BACKWARDS = "backwards"
OVERLAPS = "overlaps"


def faults(pairs: list[tuple[dt.time | None, dt.time | None]]) -> dict[int, str]:
    """Return what is wrong with the stretches of a day, by their place in the list.

    pairs: (opens, closes) in the order they were typed; both None means not open then. A stretch that begins as
    another ends does not overlap it.
    """
    wrong = {}
    whole = []
    for place, (opens, closes) in enumerate(pairs):
        if (opens is None) != (closes is None):
            wrong[place] = ONE_TIME
        elif opens is not None and closes <= opens:
            wrong[place] = BACKWARDS
        elif opens is not None:
            whole.append((opens, closes, place))
    whole.sort()
    for (_o, closes, _p), (opens, _c, place) in zip(whole, whole[1:], strict=False):
        if opens < closes:
            wrong[place] = OVERLAPS
    return wrong
