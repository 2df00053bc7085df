"""What is wrong or doubtful about a pose, as sentences that say what to do, through gettext."""

from django.utils.translation import gettext as _

from library import figure_wording
from library.body.shape import LARGEST_ANGLE, Complaint


def plain(one: Complaint) -> str:
    """Return a complaint for somebody who teaches: points, angles and surfaces in words."""
    return _said(
        one, figure_wording.angle_or_point(one.kind, one.where), figure_wording.solid_name(one.inside)
    )


def coded(one: Complaint) -> str:
    """Return a complaint with the codes of the pose files."""
    return _said(one, one.where, one.inside)


def phase_name(phase: str) -> str:
    """Return the name of a phase; the way between them, and the whole pose, have one too."""
    if phase in figure_wording.PHASES:
        return str(figure_wording.PHASES[phase])
    return _("On the way") if phase == "way" else _("Figure")


def _said(one: Complaint, where: str, inside: str) -> str:
    values = {
        "phase": phase_name(one.phase),
        "where": where,
        "most": round(one.value),
        "cm": round(one.value * 100, 1),
        "degrees": round(one.value),
        "inside": inside,
        "limit": LARGEST_ANGLE,
    }
    return _sentences()[one.kind] % values


def _sentences() -> dict[str, str]:
    return {
        "no_pose": _("%(phase)s: a figure needs a start and an end, each with its angles and what touches."),
        "unknown_entry": _("%(phase)s: “%(where)s” is not known here. Take it out or put it right."),
        "too_many": _("%(phase)s: %(where)s holds too much. Leave some out."),
        "unknown_angle": _("%(phase)s: there is no angle “%(where)s”. Choose one from the list."),
        "no_number": _("%(phase)s: %(where)s needs a number, degrees from -%(limit)s to %(limit)s."),
        "unknown_point": _("%(phase)s: there is no point “%(where)s”. Choose one from the list."),
        "unknown_surface": _("%(phase)s: there is no “%(where)s” here to touch. Choose another surface."),
        "no_contact": _("%(phase)s: nothing touches. Say at least one thing that rests on something."),
        "out_of_reach": _(
            "%(phase)s: %(where)s, %(cm)s cm away from where it should touch. Change an angle near it, let one "
            "more angle follow, or move the contact or take it out."
        ),
        "not_met": _(
            "%(phase)s: %(where)s, %(cm)s cm away from where it should touch in the stored angles. Solve it again."
        ),
        "no_drawing": _("%(phase)s: this cannot be drawn. Look at %(where)s."),
        "out_of_range": _(
            "%(phase)s: %(where)s is at %(degrees)s degrees, beyond the usual range. Look again."
        ),
        "inside": _(
            "%(phase)s: %(where)s, %(cm)s cm inside %(inside)s. Change an angle, or add a middle position."
        ),
        "still": _("%(phase)s: it is the same as the start. Change what moves."),
    }
