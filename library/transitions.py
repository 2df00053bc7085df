"""What going from one exercise to the next asks for. Plain computation.

Getting up from lying, or lying down, in one go is a quick change of position. Half a minute in
between, sitting or as a pause, makes it a slow one. Common practice, no source.
"""

QUICK = "rapid_position_change"
QUICK_BELOW_S = 30
# Upside-down work begins and ends on the back or hanging, so it counts as lying.
LYING = frozenset({"supine", "prone", "side_lying", "inverted"})
UPRIGHT = "standing"


def added(before: str | None, after: str | None, pause_s: float | None = 0) -> tuple[str, ...]:
    """Demands that going from one start position straight to another adds.

    `before`, `after`: start positions of the library; None (nothing before, nothing after) and
    unknown ones add nothing. `pause_s`: seconds in between; None counts as no pause.
    """
    straight = (before in LYING and after == UPRIGHT) or (before == UPRIGHT and after in LYING)
    return (QUICK,) if straight and (pause_s or 0) < QUICK_BELOW_S else ()
