"""Verdicts through time as strips of SVG written by hand: avoid solid, modify hatched, watch dotted, none a line.

Plain computation. Every kind has a pattern of its own, so that the strip is read without colour; it is
painted by classes (static/css/verdicts.css). Lengths are units of the drawing, y grows downward.
"""

from collections.abc import Iterable, Sequence
from html import escape

WIDTH, EDGE = 720, 14
HIGH, FACE = 30, 56
_HATCH, _DOTS = 13, 12


def _x(day: float, days: int) -> float:
    return EDGE + (WIDTH - 2 * EDGE) * day / days


def strip(
    spans: Iterable[tuple[int, int, str]], days: int, *, marks: Sequence[int] = (), words: str = ""
) -> str:
    """Return the strip of one demand.

    spans: (first day, first day no longer, verdict), counted from the first day of the strip; days: its
    length; marks: the days at which a dashed line stands; words: what the strip says, for who cannot see it.
    """
    parts = [_band(_x(first, days), _x(min(end, days), days), verdict) for first, end, verdict in spans]
    parts += [_shape("mark", f"M{_x(mark, days):.1f} 0V{HIGH}") for mark in marks]
    return _svg(HIGH, "".join(parts), words)


def axis(
    days: int, *, marks: Sequence[tuple[int, str]], labels: Sequence[tuple[int, str]], words: str
) -> str:
    """Return the line above the strips: weeks as ticks, a number in a disc at each mark, words at some days.

    Two marks so near that their discs would touch share one line, the second disc a little higher.
    """
    base, parts, last, up = FACE - 8, [], -99.0, False
    parts.append(_shape("base", f"M{EDGE} {base}H{WIDTH - EDGE}"))
    parts.append(_shape("tick", "".join(f"M{_x(d, days):.1f} {base}v-5" for d in range(0, days + 1, 7))))
    for day, label in labels:
        x = _x(day, days)
        place = "start" if x < 40 else "end" if x > WIDTH - 60 else "middle"
        parts.append(f'<text class="bd-text" x="{x:.1f}" y="16" text-anchor="{place}">{escape(label)}</text>')
    for day, label in marks:
        x = _x(day, days)
        up = x - last < 24 and not up
        last, y = x, base - (9 if up else 0)
        parts.append(f'<circle class="bd-disc" cx="{x:.1f}" cy="{y - 6}" r="12"/>')
        parts.append(f'<text class="bd-no" x="{x:.1f}" y="{y}" text-anchor="middle">{escape(label)}</text>')
    return _svg(FACE, "".join(parts), words)


def sample(verdict: str) -> str:
    """Return a short strip of one verdict, for the key beside its word."""
    return f'<svg class="band-key" viewBox="0 0 64 {HIGH}" aria-hidden="true">{_band(1, 63, verdict)}</svg>'


def _svg(high: int, inside: str, words: str) -> str:
    said = f'role="img" aria-label="{escape(words)}"' if words else 'aria-hidden="true"'
    return f'<svg class="band" viewBox="0 0 {WIDTH} {high}" {said}>{inside}</svg>'


def _shape(kind: str, path: str) -> str:
    return f'<path class="bd-{kind}" d="{path}"/>'


def _band(left: float, right: float, verdict: str) -> str:
    if verdict == "none":
        return _shape("none", f"M{left:.1f} {HIGH / 2}H{right:.1f}")
    box = f"M{left + 1:.1f} 4H{max(right - 1, left + 1.5):.1f}V{HIGH - 4}H{left + 1:.1f}z"
    inside = {"modify": _hatch, "watch": _dots}.get(verdict)
    pattern = inside(left, right) if inside else ""
    return _shape(verdict, box) + (_shape(f"{verdict}-in", pattern) if pattern else "")


def _hatch(left: float, right: float) -> str:
    """Lines rising to the right, all inside the box; one short one where there is no room for more."""
    rise, path, x = HIGH - 14, "", left + 6
    while x + rise < right - 4:
        path += f"M{x:.1f} {HIGH - 7}l{rise} -{rise}"
        x += _HATCH
    if not path and right - left >= 10:
        return f"M{left + 3:.1f} {HIGH - 8}L{right - 3:.1f} 8"
    return path


def _dots(left: float, right: float) -> str:
    path, x = "", left + 9
    while x < right - 5:
        path += f"M{x:.1f} {HIGH / 2}h0.1"
        x += _DOTS
    return path or (f"M{(left + right) / 2:.1f} {HIGH / 2}h0.1" if right - left >= 8 else "")
