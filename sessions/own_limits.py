"""How far one client goes in an exercise, by sides: plain values {"both": …} or {"left": …, "right": …}.

A limit is as library.body.limits keeps it. A side without one goes the whole way.
"""

from library.body import limits as ranges

SIDES = ("left", "right")
MOST_PER_CENT = 100


def of_side(limits: dict | None, side: str | None) -> dict | None:
    """Return the limit of a side ('left', 'right', or None for work without sides); None without one."""
    limits = limits or {}
    return limits.get(side) or limits.get("both")


def made(by_side: dict[str, dict | None]) -> dict:
    """Return limits as they are kept: sides that are alike once, as both; what has none left out."""
    set_ = {side: limit for side, limit in by_side.items() if limit}
    if set(set_) == set(SIDES) and set_["left"] == set_["right"]:
        return {"both": set_["left"]}
    return set_


def done_on(limits: dict | None, sides) -> dict:
    """Return the limits that hold for the sides something was done on ('left', 'right', 'both')."""
    limits = limits or {}
    return {side: limit for side, limit in limits.items() if side == "both" or {side, "both"} & set(sides)}


def differ(limits: dict | None) -> bool:
    """Return whether left and right go differently far."""
    return bool(limits) and "both" not in limits


def drawn_sides(limits: dict | None, sides: str, first: str) -> tuple[str | None, ...]:
    """Return the sides that are drawn of a row: both, left first, where they go differently far; else one.

    sides: as the row is done ('left', 'right', 'both', ''). first: which of both is drawn where they are alike.
    """
    if sides == "both" and differ(limits):
        return SIDES
    return ((sides if sides in SIDES else first) or None,)


def share(per_cent: int) -> dict | None:
    """Return a limit at a share of the way, in per cent; None for the whole way."""
    return None if per_cent >= MOST_PER_CENT else {"by": ranges.BY_SHARE, "value": per_cent}


def with_effect(pose: dict | None, limits: dict | None) -> dict:
    """Return the limits that stop a movement before its end, or of which the drawing cannot tell."""
    leading = ranges.lead(pose) if pose else None
    kept = {
        side: limit
        for side, limit in (limits or {}).items()
        if ranges.effect_of(ranges.share_of(limit, leading)) != ranges.NO_EFFECT
    }
    return made(kept)
