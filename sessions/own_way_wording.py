"""What is kept of a client's own way in an exercise, in words.

own: anything with cues, range, range_words and setting, or None.
"""

from django.utils.translation import gettext as _

from sessions import wording


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
    if own is None or not (own.cues or own.range or own.range_words or own.setting):
        return None
    return {
        "cue": own.cues[0] if own.cues else "",
        "cues": own.cues,
        "range": range_words(own),
        "setting": wording.setting_words(own.setting),
    }
