"""A client's own end of a movement, drawn in the frame of the whole: what is left out shows as empty room."""

from library.body.drawing import figure, view_box
from library.body.limits import Held
from library.body.paths import number

Box = tuple[float, float, float, float]


def framed(whole: dict, held: Held, *, phase: str, side: str | None = None, **drawing) -> str:
    """``drawing.figure`` of a held pose, in a view box that holds the whole movement too.

    So a picture keeps its scale and its ground while the limit moves, and left and right compare.
    """
    drawn = figure(held.pose, phase=phase, side=side, **drawing)
    own, box = view_box(held.pose, side), held_box(whole, [held], side)
    return drawn.replace(f'viewBox="{_text(own)}"', f'viewBox="{_text(box)}"', 1)


def held_box(whole: dict, several: list[Held], side: str | None = None) -> Box:
    """The view box around the whole movement and a pose at each of several limits."""
    boxes = [view_box(whole, side), *(view_box(one.pose, side) for one in several)]
    left, top = min(x for x, _, _, _ in boxes), min(y for _, y, _, _ in boxes)
    right, bottom = max(x + w for x, _, w, _ in boxes), max(y + h for _, y, _, h in boxes)
    return left, top, round(right - left, 1), round(bottom - top, 1)


def _text(box: Box) -> str:
    return " ".join(number(value) for value in box)
