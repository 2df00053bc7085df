"""What is kept of a client's own way in an exercise, in words.

own: anything with cues, range, range_words, setting and limit, or None.
"""

from django.utils.translation import gettext as _

from library import limit_wording
from library.body import limits as ranges
from sessions import own_limits, wording


def range_words(own) -> str:
    """Return 'medium, to the tape', or '' where nothing is noted."""
    if own is None:
        return ""
    step = str(own.get_range_display()) if own.range else ""
    if step and own.range_words:
        return _("%(step)s, %(words)s") % {"step": step, "words": own.range_words}
    return step or own.range_words


def shown(own) -> dict | None:
    """Return cues, range and preferred setting as the screens show them; None where nothing is kept."""
    if own is None or not (own.cues or own.range or own.range_words or own.setting or own.limit):
        return None
    return {
        "cue": own.cues[0] if own.cues else "",
        "cues": own.cues,
        "range": range_words(own),
        "setting": wording.setting_words(own.setting),
        "limit": own.limit,
        "limit_words": limit_wording.limits_words(own.limit),
    }


def pictures(pose: dict, sides, limits: dict | None) -> list[dict]:
    """Return how far it goes on each of some sides ('left', 'right', 'both'), as screens draw and say it.

    Each has `side`, `limits` (what to draw it with), `words`, and `about`: what there is to say where the limit has
    no effect, leaves nothing, or cannot be drawn.
    """
    leading = ranges.lead(pose)
    rows = []
    for side in sides:
        limit = own_limits.of_side(limits, side)
        rows.append(
            {
                "side": side,
                "limits": {side: limit} if limit else {},
                "words": limit_wording.limit_words(limit) if limit else _("the whole way"),
                "about": limit_wording.effect_words(ranges.held(pose, limit), leading) if limit else "",
            }
        )
    return rows
