"""Charts as SVG written by hand: two panels facing each other, and the gap between the sides. Plain computation.

Everything is drawn from plain values on one scale for both sides; a `paint` (sessions.chart_paints) says how a
part looks. Words, names of months and numbers in words come in from outside. Lengths are units of the drawing,
y grows downward, and coordinates are rounded to a tenth.
"""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from html import escape
from math import floor, log10

SIDES = ("left", "right")
OTHER = {"left": "right", "right": "left"}
STEPS = 5
_LETTER = 9.2  # width of a letter at 17 units, on the wide side


@dataclass(frozen=True)
class Point:
    on: dt.date
    value: Decimal


@dataclass(frozen=True)
class Band:
    """A stretch of days with its word, both ends included."""

    first: dt.date
    last: dt.date
    word: str


@dataclass(frozen=True)
class Line:
    """A level to reach, with its words."""

    value: Decimal
    words: str


@dataclass(frozen=True)
class Chart:
    """What the drawings need. `limit` is the noise either way, None where nobody knows it. `lowest` is the value
    under which nothing can be, such as no seconds at all; None where there is none.

    words: tick (a value with its unit), month (a date as the name under the axis), title and desc by drawing.
    """

    points: Mapping[str, Sequence[Point]]
    first: dt.date
    last: dt.date
    limit: Decimal | None = None
    lowest: Decimal | None = None
    goals: Mapping[str, Line] = field(default_factory=dict)
    bands: Mapping[str, Sequence[Band]] = field(default_factory=dict)
    sessions: Sequence[dt.date] = ()
    tick_words: Callable = str
    month_words: Callable = str

    def panel_points(self, side: str) -> Sequence[Point]:
        return self.points.get(side, ())


@dataclass(frozen=True)
class Frame:
    """The field of one drawing: width, height and the margins round the plot."""

    width: float = 470
    height: float = 276
    top: float = 34
    foot: float = 42
    edge: float = 16
    letter: float = _LETTER
    # Whether the panel also carries the numbers of the axis, for screens so narrow that the panels stand one
    # over the other.
    numbered: bool = False


WIDE = Frame()
TALL = Frame(height=470, letter=11.4, numbered=True)
GAP_WIDE = Frame(width=1004, height=182, foot=36)
GAP_TALL = Frame(width=1004, height=232, top=44, foot=42, letter=11.4)


@dataclass(frozen=True)
class Scale:
    """A straight scale from low..high to start..end, for values or for dates."""

    low: object
    high: object
    start: float
    end: float

    def __call__(self, value) -> float:
        span = _number(self.high) - _number(self.low)
        return self.start + (self.end - self.start) * (_number(value) - _number(self.low)) / span


def _number(value) -> float:
    return float(value.toordinal() if isinstance(value, dt.date) else value)


def days(chart: Chart, frame: Frame, right_margin: float | None = None) -> Scale:
    """Return the scale of dates; one day alone stands in the middle of the week round it."""
    first, last = chart.first, chart.last
    if first >= last:
        first, last = first - dt.timedelta(days=3), first + dt.timedelta(days=3)
    end = frame.width - (frame.edge if right_margin is None else right_margin)
    return Scale(first, last, frame.edge, end)


def reach(chart: Chart) -> tuple[Decimal, Decimal]:
    """Return the lowest and highest value that must fit, of both sides, ribbons and goals, with some air."""
    wide = chart.limit or Decimal(0)
    values = [p.value for side in SIDES for p in chart.panel_points(side)]
    levels = [v + w for v in values for w in (-wide, wide)] + [line.value for line in chart.goals.values()]
    low, high = min(levels), max(levels)
    if chart.lowest is not None:
        low = max(low, chart.lowest)
    air = max((high - low) * Decimal("0.04"), Decimal("0.5"))
    return low - air, high + air


def ticks(low: Decimal, high: Decimal, most: int = 6) -> list[Decimal]:
    """Return round values inside low..high, steps of 1, 2 or 5 times a power of ten, at most `most` of them."""
    span = float(high - low)
    power = floor(log10(span / most))
    for step in (Decimal(m).scaleb(p) for p in (power, power + 1) for m in (1, 2, 5)):
        first = -((-low) // step) if low < 0 else -(-low // step)
        start = first * step
        if start < low:
            start += step
        found = []
        while start <= high:
            found.append(start)
            start += step
        if len(found) <= most:
            return found
    return []


def months(first: dt.date, last: dt.date, most: int = 8) -> list[dt.date]:
    """Return the middles of the months to name; every 2nd, 3rd or 6th, or whole years, when there are many.

    A middle of a year is its 1 July. Months outside first..last are left out.
    """
    middles, day = [], first.replace(day=1)
    while day <= last:
        middles.append(day.replace(day=15))
        day = (day.replace(day=28) + dt.timedelta(days=4)).replace(day=1)
    for step in (1, 2, 3, 6):
        named = [day for day in middles if (day.month - 1) % step == 0 and first <= day <= last]
        if len(named) <= most:
            return named or [first + (last - first) / 2]
    years = [dt.date(year, 7, 1) for year in range(first.year, last.year + 1)]
    every = -(-len(years) // most)
    return [day for day in years if first <= day <= last and day.year % every == 0]


def spans_years(first: dt.date, last: dt.date) -> bool:
    """Return whether the names under the axis are years: more months than the sixth of them can name."""
    return any(day.month == 7 and day.day == 1 for day in months(first, last))


def num(value: float) -> str:
    """Return a coordinate: a tenth, without a needless '.0'."""
    text = f"{value:.1f}"
    text = text.removesuffix(".0")
    return "0" if text == "-0" else text


def path(points: Sequence[tuple[float, float]], close: bool = False) -> str:
    """Return straight lines through points."""
    return "M" + "L".join(f"{num(x)} {num(y)}" for x, y in points) + ("Z" if close else "")


def half_disc(x: float, y: float, side: str, radius: float) -> str:
    """Return the half disc of a side as a path: flat at `x`, round towards the side it stands for."""
    bend = 1 if side == "left" else 0
    return f"M{num(x)} {num(y - radius)}v{num(2 * radius)}a{num(radius)} {num(radius)} 0 0 {bend} 0 {num(-2 * radius)}z"


def hatching(left: float, right: float, top: float, foot: float, gap: float = 12) -> str:
    """Return slanting lines that fill a box; one path, cut at its edges by sums."""
    high, lines = foot - top, []
    shift = left - high + gap / 2
    while shift < right:
        x0, x1 = max(shift, left), min(shift + high, right)
        if x1 - x0 > 1:
            lines.append(f"M{num(x0)} {num(foot - (x0 - shift))}L{num(x1)} {num(foot - (x1 - shift))}")
        shift += gap
    return "".join(lines)


def text(paint, role: str, x: float, y: float, words: str, anchor: str = "") -> str:
    place = f' text-anchor="{anchor}"' if anchor else ""
    return f'<text {paint[role]} x="{num(x)}" y="{num(y)}"{place}>{escape(words)}</text>'


def shape(paint, role: str, d: str) -> str:
    return f'<path {paint[role]} d="{d}"/>' if d else ""


def svg(frame: Frame, name: str, title: str, desc: str, inside: str) -> str:
    """Return a drawing with its title and description; without a title it is decoration beside a drawing."""
    box = f'viewBox="0 0 {num(frame.width)} {num(frame.height)}"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {box} '
    if not title:
        return f'{head}aria-hidden="true">{inside}</svg>'
    ids = f'aria-labelledby="{name}-t" aria-describedby="{name}-d"'
    names = f'<title id="{name}-t">{escape(title)}</title><desc id="{name}-d">{escape(desc)}</desc>'
    return f'{head}role="img" {ids}>{names}{inside}</svg>'


def _values(chart: Chart, frame: Frame) -> Scale:
    low, high = reach(chart)
    return Scale(low, high, frame.height - frame.foot, frame.top)


def _radius(count: int) -> float:
    return 7.5 if count <= 14 else 5.5 if count <= 28 else 4


def month_names(chart: Chart, frame: Frame, x: Scale, paint, most: int = 8) -> str:
    named = months(chart.first, chart.last, most)
    return "".join(
        text(paint, "text.quiet", x(day), frame.height - 8, chart.month_words(day), "middle") for day in named
    )


def bands_drawn(
    bands: Sequence[Band], x: Scale, top: float, foot: float, frame: Frame, paint, words: bool
) -> str:
    """Return hatched stretches; a word that would run into the one before it is left to the legend."""
    drawn, taken = "", 0.0
    for band in merged(bands):
        left, right = max(x(band.first), x.start), min(x(band.last), x.end)
        if right <= x.start or left >= x.end:
            continue
        right = max(right, left + 6)
        drawn += shape(paint, "hatch", hatching(left, right, top, foot))
        half = len(band.word) * frame.letter / 2
        middle = min(max((left + right) / 2, half + 2), frame.width - half - 2)
        if words and middle - half >= taken:
            drawn += text(paint, "text.care", middle, frame.top - 12, band.word, "middle")
            taken = middle + half + 8
    return drawn


def merged(bands: Sequence[Band]) -> list[Band]:
    """Return bands in order, those of one word that touch or overlap as one: hatching over hatching hides all."""
    found = []
    for band in sorted(bands, key=lambda one: (one.first, one.last)):
        before = found[-1] if found else None
        if before and before.word == band.word and band.first <= before.last + dt.timedelta(days=1):
            found[-1] = replace(before, last=max(before.last, band.last))
        else:
            found.append(band)
    return found


def ribbon(
    points: Sequence[Point], limit: Decimal, x: Scale, y: Scale, lowest=None
) -> list[tuple[float, float]]:
    """Return the outline of the noise either way: over the points and back under them, never under `lowest`."""

    def under(point: Point) -> float:
        value = point.value - limit
        return y(value if lowest is None else max(value, lowest))

    if len(points) == 1:
        only, at = points[0], x(points[0].on)
        top, foot = y(only.value + limit), under(only)
        return [(at - 9, top), (at + 9, top), (at + 9, foot), (at - 9, foot)]
    over = [(x(p.on), y(p.value + limit)) for p in points]
    return over + [(x(p.on), under(p)) for p in reversed(points)]


def _goal(chart: Chart, side: str, frame: Frame, x: Scale, y: Scale, paint) -> str:
    """Return the goal with its words where they cover the fewest points: above or under, at either end."""
    line = chart.goals.get(side)
    if line is None:
        return ""
    level, width = y(line.value), len(line.words) * frame.letter
    marks = [(x(p.on), y(p.value)) for which in SIDES for p in chart.panel_points(which)]
    places = [
        (start, level + down)
        for down in (20, -8)
        for start in (frame.edge + 2, frame.width - frame.edge - width)
    ]

    def covered(place):
        start, base = place
        inside = frame.top - 4 < base - 14 and base < frame.height - frame.foot
        near = sum(start - 12 < a < start + width + 12 and base - 26 < b < base + 12 for a, b in marks)
        return near + (0 if inside else 100)

    start, base = min(places, key=covered)
    rule = f"M{num(frame.edge)} {num(level)}H{num(frame.width - frame.edge)}"
    return shape(paint, "goal", rule) + text(paint, "text.bold", start, base, line.words)


def panel(chart: Chart, side: str, frame: Frame, paint, *, name="", title="", desc="") -> str:
    """Return one side's panel: ribbon, the other side as a ghost, goal, own line and its tests."""
    x, y = days(chart, frame), _values(chart, frame)
    own, foot = chart.panel_points(side), frame.height - frame.foot
    parts = [bands_drawn(chart.bands.get(side, ()), x, frame.top - 4, foot, frame, paint, True)]
    rules = "".join(f"M0 {num(y(v))}H{num(frame.width)}" for v in ticks(*reach(chart)))
    parts.append(shape(paint, "grid", rules))
    if own and chart.limit:
        parts.append(
            shape(paint, f"ribbon.{side}", path(ribbon(own, chart.limit, x, y, chart.lowest), close=True))
        )
    ghost = [(x(p.on), y(p.value)) for p in chart.panel_points(OTHER[side])]
    parts.append(shape(paint, "ghost", path(ghost) if len(ghost) > 1 else ""))
    parts.append(_goal(chart, side, frame, x, y, paint))
    line = [(x(p.on), y(p.value)) for p in own]
    parts.append(shape(paint, f"line.{side}", path(line) if len(line) > 1 else ""))
    radius = _radius(len(own))
    lean = radius / 3 * (1 if side == "left" else -1)
    parts.append(shape(paint, f"half.{side}", "".join(half_disc(a + lean, b, side, radius) for a, b in line)))
    parts.append(_first_value(chart, frame, line, ghost, own, paint))
    parts.append(month_names(chart, frame, x, paint))
    if frame.numbered:
        levels = [(y(value), chart.tick_words(value, True)) for value in ticks(*reach(chart))]
        parts += [text(paint, "text.tick", frame.width, level - 5, words, "end") for level, words in levels]
    parts.append(shape(paint, "tick", session_ticks(chart.sessions, x, foot + 3)))
    return svg(frame, name, title, desc, "".join(parts))


def _first_value(chart: Chart, frame: Frame, line, ghost, own, paint) -> str:
    """Return the first value under its point, or over it where the line, the ghost or the foot is in the way."""
    if len(own) < 2:
        return ""
    at, level = line[0]
    falls = line[1][1] > level + 8
    crossed = bool(ghost) and 0 < ghost[0][1] - level < 44
    over = falls or crossed or level + 36 > frame.height - frame.foot
    base = level - 14 if over else level + 31
    return text(paint, "text.quiet", max(at - 4, 0), base, chart.tick_words(own[0].value, False))


def session_ticks(sessions: Sequence[dt.date], x: Scale, top: float, height: float = 5) -> str:
    """Return a small tick for each session; those closer than three units are drawn once."""
    places = []
    for day in sorted(sessions):
        at = x(day)
        if x.start <= at <= x.end and (not places or at - places[-1] >= 3):
            places.append(at)
    return "".join(f"M{num(at)} {num(top)}v{num(height)}" for at in places)


def axis(chart: Chart, frame: Frame, paint, *, name="", title="", desc="") -> str:
    """Return the shared axis that stands on the midline between the panels; on a page it needs no title."""
    frame = replace(frame, width=78)
    y, middle = _values(chart, frame), frame.width / 2
    parts = [shape(paint, "spine", f"M{num(middle)} 4V{num(frame.height - frame.foot + 8)}")]
    for value in ticks(*reach(chart)):
        parts.append(
            f'<rect {paint["mask"]} x="0" y="{num(y(value) - 13)}" width="{num(frame.width)}" height="26"/>'
        )
        parts.append(text(paint, "text", middle, y(value) + 6, chart.tick_words(value, True), "middle"))
    return svg(frame, name, title, desc, "".join(parts))
