"""Left and right as two bars that grow outward from the midline. Plain computation."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from sessions.charts import SIDES, Frame, num, shape, svg

FRAME = Frame(width=340, height=42)
TOP, FOOT = 6.0, 36.0
# Half of what is left free between the two bars.
SPINE = 2.0
ROUND = 15.0
# How much of its track the longest value takes.
FULL = Decimal("0.9")


@dataclass(frozen=True)
class Strip:
    """Newest value, first value and goal of each side, in the unit of the measure; what is missing is left out."""

    now: Mapping[str, Decimal]
    was: Mapping[str, Decimal] = field(default_factory=dict)
    goals: Mapping[str, Decimal] = field(default_factory=dict)

    @property
    def base(self) -> Decimal:
        """Return where the bars begin: nought, or under the lowest value by a tenth where there are minus values."""
        lowest = min(self._all())
        return Decimal(0) if lowest >= 0 else lowest - max((max(self._all()) - lowest) / 10, Decimal(1))

    def share(self, value: Decimal) -> float:
        """Return how much of its track a value takes, 0 to 1; one scale for both sides."""
        span = max(self._all()) - self.base
        return float((value - self.base) / span * FULL) if span else 0.0

    def _all(self) -> Sequence[Decimal]:
        return [*self.now.values(), *self.was.values(), *self.goals.values()]


def track(side: str, length: float) -> str:
    """Return a bar of a length from the midline outward: flat at the midline, round at its own end."""
    middle, way = FRAME.width / 2, -1 if side == "left" else 1
    start, bend = middle + way * SPINE, 0 if side == "left" else 1
    curve = min(ROUND, length)
    straight = way * (length - curve)
    high = FOOT - TOP
    half = num(high / 2)
    arc = f"a{num(curve)} {half} 0 0 {bend}"
    outer = f"{arc} {num(way * curve)} {half}{arc} {num(-way * curve)} {half}"
    return f"M{num(start)} {num(TOP)}h{num(straight)}{outer}h{num(-straight)}z"


def at(side: str, length: float) -> float:
    """Return the x of a length from the midline outward."""
    return FRAME.width / 2 + (-1 if side == "left" else 1) * (SPINE + length)


def strip(of: Strip, paint, *, name="", title="", desc="") -> str:
    """Return the drawing: both tracks, both bars, a dotted tick for the first test, a solid one for the goal."""
    whole, parts = FRAME.width / 2 - SPINE, []
    for side in SIDES:
        parts.append(shape(paint, "step.off", track(side, whole)))
        if side in of.now:
            parts.append(shape(paint, f"step.{side}", track(side, whole * of.share(of.now[side]))))
        if side in of.was:
            x = at(side, whole * of.share(of.was[side]))
            parts.append(shape(paint, "was", f"M{num(x)} {num(TOP + 5)}V{num(FOOT - 4)}"))
        if side in of.goals:
            x = at(side, whole * of.share(of.goals[side]))
            parts.append(shape(paint, "goal", f"M{num(x)} 1V{num(FRAME.height - 1)}"))
    return svg(FRAME, name, title, desc, "".join(parts))
