"""An exercise drawn at a client's own limit: `{% load limits %}`."""

from django import template
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _

from library import limit_wording
from library.body import framing
from library.body import limits as ranges
from library.templatetags.library import exercise_figure, told

register = template.Library()


@register.simple_tag
def limited_figure(exercise, phase, side=None, limits=None, describe=False, paint="screen"):
    """Draw an exercise, or one of its versions, as `exercise_figure` does, ending where its client stops.

    limits: by side, as kept. A limit without effect, or one that cannot be drawn, leaves the whole figure.
    """
    version = getattr(exercise, "current", exercise)
    side = side if side in ("left", "right") else None
    limit = (limits or {}).get(side) or (limits or {}).get("both")
    pose = version.pose if version else None
    if not pose or not limit:
        return exercise_figure(exercise, phase, side=side, paint=paint, describe=describe)
    held = ranges.held(pose, limit)
    if held.pose is pose:
        return exercise_figure(exercise, phase, side=side, paint=paint, describe=describe)
    about = told(held.pose, phase, side) if describe else ""
    title = _title(version.name, phase, side, limit)
    return mark_safe(
        framing.framed(pose, held, phase=phase, side=side, paint=paint, title=title, description=about)
    )


@register.filter
def limit_words(limits) -> str:
    """A client's limits in words: `{{ own.limit|limit_words }}`."""
    return limit_wording.limits_words(limits)


def _title(name: str, phase: str, side: str | None, limit: dict) -> str:
    if phase == "start":
        words = {
            None: _("%(name)s, start"),
            "left": _("%(name)s, start, left"),
            "right": _("%(name)s, start, right"),
        }
    else:
        words = {
            None: _("%(name)s, as far as %(limit)s"),
            "left": _("%(name)s, left, as far as %(limit)s"),
            "right": _("%(name)s, right, as far as %(limit)s"),
        }
    return words[side] % {"name": name, "limit": limit_wording.limit_words(limit)}
