"""The gap between the sides, test by test, over the band in which it counts as even. Plain computation."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from sessions.charts import (
    Chart,
    Frame,
    Scale,
    bands_drawn,
    days,
    half_disc,
    month_names,
    num,
    shape,
    svg,
    text,
)

# At least so much is kept free at the right for the newest gap in large figures.
ROOM_FOR_LAST = 150


@dataclass(frozen=True)
class GapPoint:
    """How far apart the sides were on a day; `behind` is 'left', 'right' or '' when level."""

    on: dt.date
    size: Decimal
    behind: str


def scale(gaps: Sequence[GapPoint], limit: Decimal | None, frame: Frame) -> Scale:
    """Return the scale of gaps: it begins at nought, and the even band is always inside."""
    most = max([gap.size for gap in gaps] + [(limit or Decimal(0)) * Decimal("1.15"), Decimal(1)])
    return Scale(Decimal(0), most * Decimal("1.05"), frame.height - frame.foot, frame.top)


def gap(
    chart: Chart, gaps: Sequence[GapPoint], frame: Frame, paint, *, words, even="", name="", title="", desc=""
):
    """Return the drawing: a stem for each test, and the half disc of the side that is behind.

    words(size, unit) names a gap; `even` is what stands in the band.
    """
    # The words of the band stand there too.
    room = max(ROOM_FOR_LAST, len(even) * frame.letter + 24)
    x, y = days(chart, frame, room), scale(gaps, chart.limit, frame)
    base = y(Decimal(0))
    seen = {(band.first, band.last): band for side in ("left", "right") for band in chart.bands.get(side, ())}
    parts = [bands_drawn(list(seen.values()), x, frame.top, base, frame, paint, False)]
    if chart.limit:
        level = y(chart.limit)
        parts.append(shape(paint, "even.band", f"M0 {num(level)}H{num(frame.width)}V{num(base)}H0z"))
        parts.append(shape(paint, "even.line", f"M0 {num(level)}H{num(frame.width)}"))
    parts.append(shape(paint, "base", f"M0 {num(base)}H{num(frame.width)}"))
    parts.append(_stems(gaps, x, y, base, paint))
    at_words, at_newest = places(gaps, chart.limit, y, base)
    parts.append(_labels(gaps, x, y, frame, paint, words, at_newest, y(chart.limit) if chart.limit else None))
    if chart.limit and even:
        parts.append(text(paint, "text.even", frame.width - 8, at_words, even, "end"))
    parts.append(month_names(chart, frame, x, paint))
    return svg(frame, name, title, desc, "".join(parts))


def places(gaps: Sequence[GapPoint], limit: Decimal | None, y: Scale, base: float) -> tuple[float, float]:
    """Return the base lines of the band's words and of the newest gap, so that neither covers the other.

    A newest gap inside the band stands over its line; in a tall band it stands under the words.
    """
    newest = min(y(gaps[-1].size) + 8, base - 6) if gaps else base
    if not limit:
        return base, newest
    level = y(limit)
    words = (level + base) / 2 + 6
    if base - level >= 90:
        return level + 24, max(newest, level + 60) if newest > level - 4 else newest
    return words, min(newest, level - 8)


def _stems(gaps, x, y, base, paint) -> str:
    radius = 8 if len(gaps) <= 20 else 5.5
    drawn = ""
    for side in ("left", "right"):
        lean = radius * 0.4 * (1 if side == "left" else -1)
        of_side = [one for one in gaps if one.behind == side]
        stems = "".join(f"M{num(x(one.on))} {num(base)}V{num(y(one.size))}" for one in of_side)
        discs = "".join(half_disc(x(one.on) + lean, y(one.size), side, radius) for one in of_side)
        drawn += shape(paint, f"stem.{side}", stems) + shape(paint, f"half.{side}", discs)
    level = "".join(
        half_disc(x(one.on) - 1, base, "left", radius) + half_disc(x(one.on) + 1, base, "right", radius)
        for one in gaps
        if not one.behind
    )
    return drawn + shape(paint, "half.even", level)


def _labels(gaps, x, y, frame, paint, words, level, line) -> str:
    """Return the newest gap in large figures, and the first, largest and smallest where there is room."""
    if not gaps:
        return ""
    last = gaps[-1]
    drawn = text(paint, "text.big", x(last.on) + 20, level, words(last.size, True))
    taken = [x(last.on)]
    wanted = [gaps[0], max(gaps, key=lambda one: (one.size, one.on)), min(gaps, key=lambda one: one.size)]
    for one in wanted:
        at = x(one.on)
        if all(abs(at - other) > frame.letter * 5 for other in taken):
            taken.append(at)
            foot = y(one.size) - 14
            # Letters that the line of the band would cross stand over it.
            foot = line - 6 if line is not None and foot - 13 < line < foot + 2 else foot
            drawn += text(paint, "text.bold", at, foot, words(one.size, False), "middle")
    return drawn
