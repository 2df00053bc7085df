"""Two paints for one drawing: classes for the page, literal greys for paper.

The page's stylesheet colours the classes (static/css/figures.css). A sheet renderer may ignore page
styles in inline drawings, so on paper every role carries its own attributes. There a line has a least width in
millimetres too, whatever the size at which the drawing is set.
"""

from dataclasses import dataclass
from functools import lru_cache

_JOIN = ' stroke-linejoin="round" stroke-linecap="round"'


@dataclass(frozen=True)
class Stroke:
    """A line of the paper paint: grey, width in units of the drawing, the least it is wide on paper in mm.

    core: how much of it a paler line on top covers, in units: then each of the two rims keeps the least width.
    """

    grey: str
    width: float
    least: float
    core: float = 0.0

    def wide(self, unit: float) -> float:
        """Its width in units where a unit is so many mm; 0 for a size not known."""
        if not unit:
            return self.width
        rims = 2 if self.core else 1
        return round(max(self.width, self.core + rims * min(self.least / unit, WIDEST)), 2)


# A line of the drawing is at most so many units wide, or it would fill a thin arm.
WIDEST = 6.0
# What is to be followed with the eye is half a millimetre wide: the working limb, the arrow, a band.
# Widths in mm are of the series 0.25, 0.35, 0.5 of technical drawings (ISO 128-2, from memory).
_EDGE = Stroke("#fff", 1.8, 0.25)
_FACE = Stroke("#555", 0.9, 0.35)
_SIGN = Stroke("#111", 1.8, 0.35)
_PAPER: dict[str, tuple[str, Stroke | None]] = {
    "near": ("#222", _EDGE),
    "mid": ("#555", _EDGE),
    "far": ("#999", _EDGE),
    "hair": ("#111", None),
    "bun": ("#111", Stroke("#fff", 1.2, 0.25)),
    "ghost": ("none", Stroke("#555", 1.2, 0.35)),
    "halo": ("none", Stroke("#fff", 5.4, 1.0)),
    "work-left": ("#fff", Stroke("#111", 2, 0.5)),
    "work-right": ("#fff", Stroke("#111", 2, 0.5)),
    "bed": ("#fff", _FACE),
    "top": ("#e9e9e9", _FACE),
    "appfill": ("#fff", _FACE),
    "side": ("#fff", _FACE),
    "post": ("none", Stroke("#555", 4.2, 0.25, core=2.2)),
    "post-core": ("none", Stroke("#e9e9e9", 2.2, 0)),
    "post-far": ("none", Stroke("#999", 3.2, 0.25, core=1.6)),
    "post-far-core": ("none", Stroke("#fff", 1.6, 0)),
    "app": ("none", Stroke("#555", 1.2, 0.35)),
    "spring": ("none", Stroke("#111", 1.1, 0.35)),
    "rope": ("none", Stroke("#111", 1.4, 0.5)),
    "arrow": ("none", Stroke("#111", 2.2, 0.5)),
    "arrow-head": ("none", Stroke("#111", 2.2, 0.5)),
    "letter-left": ("#fff", _SIGN),
    "letter-right": ("#fff", _SIGN),
}
_LETTER = 'fill="#111" font-family="Radio Canada" font-weight="600" text-anchor="middle"'


# Dark lines that cross the dark body lie on a white edge, so much wider than they are.
_CROSSING, _RING = ("arrow", "arrow-head", "rope"), 1.6


@lru_cache(maxsize=256)
def paper(unit: float = 0.0) -> dict[str, str]:
    """The paper paint where a unit of the drawing is so many mm; without a size the widths of the drawing.

    Beside the roles there are white edges, as arrow-edge, to be laid under a line along the same path.
    """
    painted = {role: _written(role, *look, unit) for role, look in _PAPER.items()} | {"letter": _LETTER}
    for role in _CROSSING:
        wide = _PAPER[role][1].wide(unit)
        edge = _stroke("#fff", round(_RING * wide, 2))
        painted[f"{role}-edge"] = f'fill="none"{edge}{_JOIN}{_dots(role, wide)}'
    return painted


def _written(role: str, fill: str, stroke: Stroke | None, unit: float) -> str:
    if stroke is None:
        return f'fill="{fill}"'
    wide = stroke.wide(unit)
    said = f'fill="{fill}"{_stroke(stroke.grey, wide)}'
    return said + (_JOIN + _dots(role, wide) if fill == "none" else ' stroke-linejoin="round"')


def _stroke(grey: str, wide: float) -> str:
    return f' stroke="{grey}" stroke-width="{wide:g}"'


def _dots(role: str, wide: float) -> str:
    if role == "ghost":
        return f' stroke-dasharray="{2 * wide:g} {2.5 * wide:g}"'
    return f' stroke-dasharray=".1 {2 * wide:g}"' if role == "arrow" else ""


PAPER = paper()
ROLES = (*_PAPER, "letter")
SCREEN = {role: f'class="fg-{role}"' for role in ROLES}
SCREEN["letter"] += ' text-anchor="middle"'
PAINTS = {"screen": SCREEN, "paper": PAPER}
CLASSES = frozenset({"fg"} | {f"fg-{role}" for role in ROLES})
