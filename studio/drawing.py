"""Small drawings of the house as SVG path data: coils, the body seen from behind, hatching.

Plain computation. A drawing carries no colour: classes in static/css/parts.css give it light and dark.
"""

from functools import cache
from math import sqrt

GRADES = ("very_light", "light", "medium", "heavy", "very_heavy")
# Thicker wire and fewer turns is a heavier spring; ours, and the word always stands beside it.
WIRE = {"very_light": 1.1, "light": 1.8, "medium": 2.7, "heavy": 3.7, "very_heavy": 4.9}
TURNS = {"very_light": 9, "light": 7, "medium": 6, "heavy": 5, "very_heavy": 4}


def coil_path(grade: str, start: float, end: float, middle: float, half_height: float) -> str:
    """Return the zigzag of one spring from x `start` to `end`, with a short straight end on both sides.

    Raises KeyError for an unknown grade.
    """
    turns, straight = TURNS[grade], 3.5
    step = (end - start - 2 * straight) / turns
    points = [
        f"L{start + straight + step * (turn + 0.5):.1f} {middle + (half_height if turn % 2 else -half_height):g}"
        for turn in range(turns)
    ]
    return (
        f"M{start:g} {middle:g}h{straight}" + "".join(points) + f"L{end - straight:g} {middle:g}h{straight}"
    )


# One half of the outline, from the neck round the arm and the leg to the crotch: (offset from the
# midline, height) in a field of 200 by 400. Drawn by eye for this house.
HALF_OUTLINE = [
    (8, 56), (9, 66), (21, 75), (40, 81), (51, 94), (55, 120), (59, 150), (63, 176), (65, 196), (69, 212),
    (64, 227), (57, 214), (56, 197), (52, 174), (47, 148), (40, 112), (37, 134), (32, 160), (38, 190),
    (40, 214), (36, 248), (29, 284), (31, 312), (22, 352), (23, 368), (28, 379), (19, 386), (11, 381),
    (11, 354), (12, 316), (13, 286), (8, 244), (3, 214),
]  # fmt: skip
MIDLINE = 100

# Where a part of the body is, as (offset from the midline, height, radius); offset 0 is a middle part.
REGIONS = {
    "head": (0, 36, 16),
    "neck": (0, 66, 13),
    "shoulder": (44, 93, 16),
    "upper_arm": (49, 122, 14),
    "elbow": (53, 150, 13),
    "wrist": (60, 195, 12),
    "hand": (63, 214, 12),
    "chest": (0, 106, 22),
    "upper_back": (0, 114, 24),
    "ribs": (25, 136, 15),
    "belly": (0, 164, 20),
    "low_back": (0, 172, 22),
    "pelvis": (0, 198, 22),
    "hip": (30, 204, 16),
    "thigh": (24, 244, 17),
    "knee": (21, 285, 16),
    "shin": (21, 320, 14),
    "ankle": (17, 358, 13),
    "foot": (20, 379, 12),
}
# A middle part with a side is drawn this far towards it.
LEAN = 17


@cache
def back_view_path() -> str:
    """Return the closed outline of the body seen from behind: the client's left is on the page's left."""
    right = [(MIDLINE + x, y) for x, y in HALF_OUTLINE]
    left = [(MIDLINE - x, y) for x, y in reversed(HALF_OUTLINE)]
    return _smooth_loop(right + left)


def _smooth_loop(points: list[tuple[float, float]]) -> str:
    """Return a closed curve through the points: a Catmull-Rom spline written as cubic Bezier pieces."""
    count = len(points)
    path = [f"M{points[0][0]:g} {points[0][1]:g}"]
    for at in range(count):
        before, here, there, after = (points[(at + shift) % count] for shift in (-1, 0, 1, 2))
        first = (here[0] + (there[0] - before[0]) / 6, here[1] + (there[1] - before[1]) / 6)
        second = (there[0] - (after[0] - here[0]) / 6, there[1] - (after[1] - here[1]) / 6)
        numbers = " ".join(f"{round(value, 1):g}" for value in (*first, *second, *there))
        path.append(f"C{numbers}")
    return "".join(path) + "Z"


def spots_of(region: str, side: str | None) -> list[tuple[int, int, int]]:
    """Return the circles (x, y, radius) for a part and its side; none for a part that is not drawn.

    A part that exists twice is marked on both sides when the side is 'both', 'unknown' or missing.
    """
    if region not in REGIONS:
        return []
    offset, height, radius = REGIONS[region]
    towards = {"left": (-1,), "right": (1,)}.get(side or "", (-1, 1))
    if offset == 0:
        lean = LEAN * towards[0] if len(towards) == 1 else 0
        return [(MIDLINE + lean, height, radius)]
    return [(MIDLINE + sign * offset, height, radius) for sign in towards]


def hatch_path(x: float, y: float, radius: float, gap: float = 7) -> str:
    """Return slanting lines that fill a circle; one path, since patterns do not print alike everywhere."""
    lines, reach = [], radius - 2
    shift = -reach + gap / 2
    while shift < reach:
        half = sqrt(max(reach * reach - shift * shift, 0))
        # a chord at distance `shift` from the centre, along the direction (1, -1)
        middle_x, middle_y = x + shift / sqrt(2), y + shift / sqrt(2)
        dx = half / sqrt(2)
        lines.append(f"M{middle_x - dx:.1f} {middle_y + dx:.1f}L{middle_x + dx:.1f} {middle_y - dx:.1f}")
        shift += gap
    return "".join(lines)
