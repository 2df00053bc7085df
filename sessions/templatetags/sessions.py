"""Words for templates of the sessions app."""

from django import template
from django.utils.translation import gettext as _

from library import wording

register = template.Library()


@register.filter
def flag_name(flag) -> str:
    """Return what a flag is, with its side: a condition, or who says what."""
    if flag.is_instruction:
        name = _("%(who)s: %(words)s") % {"who": flag.clinician, "words": flag.words}
    else:
        name = wording.condition_label(flag.condition)
    side = wording.side_word(flag.side)
    return _("%(condition)s, %(side)s") % {"condition": name, "side": side} if side else name
