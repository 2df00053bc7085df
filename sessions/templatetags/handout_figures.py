"""The figures of a printed exercise, and what is said about how far this client goes. Used by the handout's tags."""

from django.utils.safestring import mark_safe
from django.utils.text import capfirst
from django.utils.translation import gettext as _

from library.body import limits as ranges
from library.body.framing import framed, held_box
from library.pose_wording import describe


def held(item) -> dict[str | None, ranges.Held]:
    """Return the pose at the client's limit for each side that is drawn."""
    return {side: ranges.held(item.pose, item.limits.of(side)) for side in item.drawn_sides}


def shape(item) -> float:
    """Return the drawing's height for a width of one: the same for start and end, and for both sides."""
    boxes = [held_box(item.pose, [one], side) for side, one in held(item).items()]
    return max(height / width for _x, _y, width, height in boxes)


def rows(item, width: float, height: float) -> list[list[tuple[str, str]]]:
    """Return a row of (label, drawing) for each side that is drawn, left first: the start and the end.

    width, height: what a panel holds, in mm. A drawing carries its sentence as its title.
    """
    return [_row(item, side, one, (width, height)) for side, one in held(item).items()]


def _row(item, side: str | None, one: ranges.Held, room: tuple[float, float]) -> list[tuple[str, str]]:
    sentences = {
        ("start", None): _("{name}, START: how you begin."),
        ("end", None): _("{name}, END: how far you go."),
        ("start", "left"): _("{name}, START: how you begin, drawn for the left side."),
        ("end", "left"): _("{name}, END: how far you go, drawn for the left side."),
        ("start", "right"): _("{name}, START: how you begin, drawn for the right side."),
        ("end", "right"): _("{name}, END: how far you go, drawn for the right side."),
    }
    labels = {
        ("start", "left"): _("LEFT, START"),
        ("end", "left"): _("LEFT, END"),
        ("start", "right"): _("RIGHT, START"),
        ("end", "right"): _("RIGHT, END"),
    }
    plain = {"start": _("START"), "end": _("END")}
    of_a_side = len(item.drawn_sides) > 1
    return [
        (
            labels[phase, side] if of_a_side else plain[phase],
            _drawn(item, phase, side, one, sentences[phase, side].format(name=item.name), room),
        )
        for phase in ("start", "end")
    ]


def _drawn(item, phase: str, side: str | None, one: ranges.Held, title: str, room: tuple) -> str:
    # The drawing escapes its title; nothing else in it comes from a person.
    words = f"{title} {describe(one.pose, phase, side)}"
    unit = _unit(held_box(item.pose, [one], side), room)
    return mark_safe(framed(item.pose, one, phase=phase, side=side, paint="paper", title=words, unit=unit))


def _unit(box: tuple[float, float, float, float], room: tuple[float, float]) -> float:
    """Return how many mm a unit of a drawing with this view box is, in a room of so many mm."""
    _left, _top, wide, high = box
    return min(room[0] / wide, room[1] / high)


def how_far(item, side_words: tuple[str, str]) -> list[str]:
    """Return what is said about how far the client goes, a sentence for each side with a limit.

    side_words: what left and right are called in this exercise.
    """
    said = {}
    for side in item.dose.sides:
        limit = item.limits.of(side)
        if limit:
            one = ranges.held(item.pose, limit)
            if one.effect != ranges.NO_EFFECT:
                said[side] = one.drawn and one.effect == ranges.PARTLY
    if len(said) == 2 and all(said.values()):
        alike = item.limits.of("left") == item.limits.of("right")
        both = _("Both sides: only as far as the picture shows.")
        return [both if alike else _("Each side: only as far as its own picture shows.")]
    named = dict(zip(("left", "right"), side_words, strict=True))
    return [_one(item, side, named.get(side, ""), drawn) for side, drawn in said.items()]


def _one(item, side: str | None, side_word: str, drawn: bool) -> str:
    if side is None:
        return _("Only as far as the picture shows.") if drawn else _("Only as far as we showed you.")
    part = _part(item.pose.get("driver", ""), side) or capfirst(side_word)
    words = (
        _("{part}: only as far as the picture shows.")
        if drawn
        else _("{part}: only as far as we showed you.")
    )
    return words.format(part=part)


def _part(driver: str, side: str) -> str:
    """Return the part of the body that leads the movement: 'Left knee'; '' where it is no limb of that side."""
    if not driver.startswith(("r.", "both.")):
        return ""
    left = {
        "knee": _("Left knee"),
        "ankle": _("Left foot"),
        "elbow": _("Left elbow"),
        "wrist": _("Left hand"),
        "hip": _("Left leg"),
        "shoulder": _("Left arm"),
    }
    right = {
        "knee": _("Right knee"),
        "ankle": _("Right foot"),
        "elbow": _("Right elbow"),
        "wrist": _("Right hand"),
        "hip": _("Right leg"),
        "shoulder": _("Right arm"),
    }
    joint = ranges.angle(driver).partition("_")[0]
    return (left if side == "left" else right).get(joint, "")
