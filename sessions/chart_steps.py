"""Quality as steps: one stair of five cells for each time, left of the midline and right of it. Plain.

Lost to Easy are steps in an order. They are never joined by a line, never averaged, never a percentage.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from sessions.charts import STEPS, Frame, num, shape, svg, text

MOST = 8  # stairs on each side
STAIR, CELL, GAP = 27, 9, 2
MIDDLE = 20
ROW = Frame(width=2 * (MOST * STAIR + MIDDLE), height=STEPS * (CELL + GAP) + 24, top=2, foot=22)


@dataclass(frozen=True)
class Time:
    """How an exercise went on a day: steps 1 to 5 for each side, None where nothing was noted."""

    on: dt.date
    left: int | None
    right: int | None


def cells(time: Time, side: str, place: int, count: int, frame: Frame = ROW) -> tuple[str, str, str]:
    """Return the paths of one stair: filled cells, empty cells, and a dash where nothing was noted."""
    left = stair_left(side, place, count, frame)
    value = getattr(time, side)
    foot = frame.top + STEPS * (CELL + GAP)
    if value is None:
        return "", "", f"M{num(left)} {num(foot - 3)}h{num(STAIR - 6)}"
    boxes = [
        f"M{num(left)} {num(foot - (step + 1) * (CELL + GAP))}h{num(STAIR - 6)}v{num(CELL)}h{num(6 - STAIR)}z"
        for step in range(STEPS)
    ]
    return "".join(boxes[:value]), "".join(boxes[value:]), ""


def stair_left(side: str, place: int, count: int, frame: Frame = ROW) -> float:
    """Return where a stair begins: on both sides time runs from left to right, and the newest ends the row."""
    middle = frame.width / 2
    if side == "left":
        return middle - MIDDLE - (count - place) * STAIR + 3
    return middle + MIDDLE + place * STAIR + 3


def steps(times: Sequence[Time], paint, *, day_words, name="", title="", desc="", frame: Frame = ROW) -> str:
    """Return the stairs of the newest times, oldest first, on both sides of the midline."""
    shown, middle = times[-MOST:], frame.width / 2
    foot = frame.top + STEPS * (CELL + GAP)
    parts = [shape(paint, "spine", f"M{num(middle)} {num(frame.top)}V{num(foot)}")]
    for side in ("left", "right"):
        drawn = [cells(time, side, place, len(shown), frame) for place, time in enumerate(shown)]
        for role, paths in zip(
            (f"step.{side}", "step.off", "step.none"), zip(*drawn, strict=True), strict=True
        ):
            parts.append(shape(paint, role, "".join(paths)))
        start = stair_left(side, 0, len(shown), frame) - 3
        end = start + len(shown) * STAIR
        parts.append(text(paint, "text.quiet", start + 3, frame.height - 4, day_words(shown[0].on)))
        if len(shown) > 3:
            parts.append(text(paint, "text.quiet", end - 3, frame.height - 4, day_words(shown[-1].on), "end"))
    return svg(frame, name, title, desc, "".join(parts))
