"""A map of exercises as SVG written by hand: boxes that lead to their page, and lines. Plain computation.

Parts look by classes (static/css/maps.css); no colour is written here. Words come in ready.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from html import escape

from library.map_layout import FOOT_LINE, LINE, Box, Layout, curves

# Where the foot of the letters is, within a line.
_BASE, _FOOT_BASE = 14.5, 13.5
_CURRENT = ' aria-current="true"'


@dataclass(frozen=True)
class Mark:
    """What a box says under the name, and where it leads.

    foot: small lines under the name; the last one in bold where `strong`. kind: '', 'secure', 'working', 'next'.
    """

    url: str
    foot: tuple[str, ...]
    kind: str = ""
    strong: bool = False


def svg(layout: Layout, marks: Mapping[str, Mark], title: str, focus: str = "") -> str:
    """Draw a layout. marks: id -> Mark. title: the text alternative of the whole. focus: the one it is about."""
    lines = sorted(layout.lines, key=lambda line: focus in (line.below, line.above))
    parts = [
        f'<svg class="map" viewBox="0 0 {layout.width:g} {layout.height:g}" width="{layout.width:g}" '
        f'height="{layout.height:g}" role="group" aria-label="{escape(title)}">',
        '<g fill="none" stroke-width="1.6" aria-hidden="true">',
        *(_line(line, focus) for line in lines),
        "</g>",
        *(_box(box, marks[box.id], box.id == focus) for box in reversed(layout.boxes)),
        "</svg>",
    ]
    return "".join(parts)


def _line(line, focus: str) -> str:
    x, y = line.points[0]
    way = [f"M{x:g} {y:g}"]
    for number, (_start, one, two, end) in enumerate(curves(line)):
        if number:
            way.append(f"L{_start[0]:g} {_start[1]:g}")
        way.append("C" + " ".join(f"{a:g} {b:g}" for a, b in (one, two, end)))
    kind = "map-soft" if line.soft else "map-firm"
    here = " is-here" if focus and focus in (line.below, line.above) else ""
    dash = ' stroke-dasharray="2 5"' if line.soft else ""
    return f'<path class="{kind}{here}" d="{"".join(way)}"{dash}/>'


def _box(box: Box, mark: Mark, here: bool) -> str:
    middle = box.x + box.width / 2
    foot = [line for line in mark.foot if line]
    tall = LINE * len(box.lines) + FOOT_LINE * len(foot)
    y = box.y + (box.height - tall) / 2
    words = []
    for line in box.lines:
        words.append(f'<text class="map-name" x="{middle:g}" y="{y + _BASE:g}">{escape(line)}</text>')
        y += LINE
    for number, line in enumerate(foot):
        strong = " is-strong" if mark.strong and number == len(mark.foot) - 1 else ""
        words.append(
            f'<text class="map-foot{strong}" x="{middle:g}" y="{y + _FOOT_BASE:g}">{escape(line)}</text>'
        )
        y += FOOT_LINE
    kinds = "".join([f" is-{mark.kind}" if mark.kind else "", " is-here" if here else ""])
    return (
        f'<a class="map-box{kinds}" href="{escape(mark.url)}"{_CURRENT if here else ""}>'
        f'<rect x="{box.x:g}" y="{box.y:g}" width="{box.width:g}" height="{box.height:g}" rx="12"/>'
        f'{_inner(box, mark)}<g text-anchor="middle">{" ".join(words)}</g></a>'
    )


def _inner(box: Box, mark: Mark) -> str:
    """Return the second line round what is secure, so that the state is seen without colour as well."""
    if mark.kind != "secure":
        return ""
    x, y, width, height = box.x + 4, box.y + 4, box.width - 8, box.height - 8
    return f'<rect class="map-inner" x="{x:g}" y="{y:g}" width="{width:g}" height="{height:g}" rx="9"/>'
