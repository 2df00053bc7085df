"""A client's own limit in words, and its numbers as people read them.

limit: see library.body.limits; limits: a dict of limits by side, {"both": …} or {"left": …, "right": …}, of
which one may be missing. Angles of limbs are said as a goniometer reads them; everything else is counted from
where it starts.
"""

from django.utils.formats import number_format
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library.body import limits as ranges

SIDES = ("left", "right")
_MEASURES = {
    "hip": gettext_lazy("hip bend"),
    "hip_out": gettext_lazy("leg out to the side"),
    "hip_turn": gettext_lazy("leg turned out"),
    "knee": gettext_lazy("knee bend"),
    "ankle": gettext_lazy("foot pulled up"),
    "toes": gettext_lazy("toes pulled up"),
    "blade": gettext_lazy("shoulder blade forward"),
    "shoulder": gettext_lazy("arm raised"),
    "shoulder_out": gettext_lazy("arm out to the side"),
    "shoulder_turn": gettext_lazy("arm turned out"),
    "elbow": gettext_lazy("elbow bend"),
    "wrist": gettext_lazy("wrist bend"),
    "lean": gettext_lazy("tilt of the trunk"),
    "roll": gettext_lazy("roll of the body"),
    "face": gettext_lazy("turn of the body"),
    "list": gettext_lazy("tilt of the pelvis"),
    "low_curl": gettext_lazy("bend of the low back"),
    "up_curl": gettext_lazy("bend of the upper back"),
    "side": gettext_lazy("side bend"),
    "twist": gettext_lazy("turn of the trunk"),
    "nod": gettext_lazy("nod of the head"),
    "neck_side": gettext_lazy("head to the side"),
    "neck_turn": gettext_lazy("turn of the head"),
    "pedal": gettext_lazy("way of the pedal"),
    "pushbar": gettext_lazy("way of the push-through bar"),
}


def measure(driver: str) -> str:
    """What a driver measures: 'knee bend', 'turn of the trunk', 'way of the pedal'."""
    return str(_MEASURES.get(ranges.angle(driver), _("the way it goes")))


def shown(value: float, driver: str, start: float) -> float:
    """The number that people read for a value of a driver that starts at ``start``."""
    return value if ranges.is_measured(driver) else abs(value - start)


def value_of(number: float, leading: ranges.Lead) -> float:
    """The driver's value behind a number that was read or typed: `shown` the other way round."""
    if ranges.is_measured(leading.driver):
        return number
    return leading.start + (number if leading.end >= leading.start else -number)


def degrees(number: float) -> str:
    """'60°', '-12°', without a decimal that says nothing."""
    return _("%(n)s°") % {"n": number_format(round(number), use_l10n=True)}


def way_words(leading: ranges.Lead) -> str:
    """From where to where it goes: 'Knee bend goes from 112° to 6°.'"""
    start, end = (
        degrees(shown(value, leading.driver, leading.start)) for value in (leading.start, leading.end)
    )
    words = _("%(measure)s goes from %(start)s to %(end)s.")
    return capfirst(words % {"measure": measure(leading.driver), "start": start, "end": end})


def per_cent_only_words(pose: dict) -> str:
    """Why a limit of a pose that nothing leads far enough is set in per cent only."""
    driver = pose.get("driver", "")
    if not driver:
        return _("Nothing that is read in degrees leads this movement, so it is set in per cent of the way.")
    words = _(
        "%(measure)s leads this movement and changes by less than %(least)s: too little to stop at a degree. So it is "
        "set in per cent of the way."
    )
    return capfirst(words % {"measure": measure(driver), "least": degrees(ranges.LEAST_DEGREES)})


def limit_words(limit: dict) -> str:
    """'half way', '30 % of the way', 'knee bend 60°'."""
    if limit["by"] == ranges.BY_SHARE:
        quarters = {25: _("a quarter of the way"), 50: _("half way"), 75: _("three quarters of the way")}
        per_cent = _("%(n)d %% of the way") % {"n": limit["value"]}
        return quarters.get(limit["value"], per_cent)
    number = shown(limit["value"], limit["of"], limit["from"])
    return _("%(measure)s %(degrees)s") % {"measure": measure(limit["of"]), "degrees": degrees(number)}


def limits_words(limits: dict | None) -> str:
    """'half way'; 'left half way, right knee bend 60°'; '' without a limit."""
    if not limits:
        return ""
    if "both" in limits:
        return limit_words(limits["both"])
    said = {"left": _("left %(limit)s"), "right": _("right %(limit)s")}
    return ", ".join(said[side] % {"limit": limit_words(limits[side])} for side in SIDES if side in limits)


def effect_words(held: ranges.Held, leading: ranges.Lead | None) -> str:
    """What there is to say about what a limit does; '' where it does what it says."""
    if held.effect == ranges.UNKNOWN:
        return _("The drawing has changed since this limit was set. Set it again.")
    if held.effect == ranges.PARTLY:
        return "" if held.drawn else _("It cannot be drawn at this limit. The picture shows the whole way.")
    if leading is None:
        nothing, whole = _("Nothing is left of the movement."), _("This limit changes nothing.")
        return nothing if held.effect == ranges.NOTHING_LEFT else whole
    if held.effect == ranges.NOTHING_LEFT:
        words, end = _("Nothing is left of the movement: it starts at %(n)s."), leading.start
    else:
        words, end = _("This limit changes nothing: the movement ends at %(n)s anyway."), leading.end
    return words % {"n": degrees(shown(end, leading.driver, leading.start))}
