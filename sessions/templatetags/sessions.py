"""Words for templates of the sessions app."""

from functools import lru_cache

from django import template
from django.template.loader import render_to_string
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from library import vocabulary_wording, wording
from sessions.models.records import Range

register = template.Library()
RANGES = dict(Range.choices)


@register.filter
def flag_name(flag) -> str:
    """Return what a flag is, with its side: a condition, or who says what."""
    if flag.is_instruction:
        name = _("%(who)s: %(words)s") % {"who": flag.clinician, "words": flag.words}
    else:
        name = wording.condition_label(flag.condition)
    side = wording.side_word(flag.side)
    return _("%(condition)s, %(side)s") % {"condition": name, "side": side} if side else name


@register.filter
def instruction_words(flag) -> str:
    """Return a clinician's words, with the side they are about."""
    side = wording.side_word(flag.side)
    return (
        _("%(condition)s, %(side)s") % {"condition": flag.words.rstrip("."), "side": side}
        if side
        else flag.words
    )


@register.filter
def pick(mapping, key):
    """Return the value of a key that is only known at run time, or None."""
    return mapping.get(key) if mapping else None


@register.filter
def pick_named(mapping, prefix):
    """Return the entries whose names begin with a prefix, by the rest of the name."""
    return {name.removeprefix(prefix): value for name, value in mapping.items() if name.startswith(prefix)}


@register.filter
def prefixed(name, prefix):
    """Return a field's name from its side and what is counted: 'left' with 'reps_' is 'reps_left'."""
    return f"{prefix}{name}"


@register.filter
def apparatus_name(kind):
    """Return the kind of apparatus in words."""
    return vocabulary_wording.label("apparatus", kind) if kind else ""


@register.simple_tag
def side_numbers(side) -> str:
    """Show the numbers of one side (EntrySide or None): repetitions, seconds, range; a dash where none was noted."""
    numbers = (side.repetitions, side.seconds, side.range) if side else (None, None, "")
    return _numbers(*numbers, get_language())


# A page of the story shows more than a hundred of them and few differ.
@lru_cache(maxsize=512)
def _numbers(repetitions: int | None, seconds: int | None, range_: str, _language: str | None) -> str:
    context = {"repetitions": repetitions, "seconds": seconds, "range": RANGES.get(range_, "")}
    return render_to_string("sessions/_side_numbers.html", context)
