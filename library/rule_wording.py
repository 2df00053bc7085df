"""Rules of the table in words: when one holds, and what the table says of a condition and a movement."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from library import tables
from library.stricter import Window, window_of

LONG_SPELL = "long"


def window_words(window: Window) -> str:
    """Return when a rule holds: 'always', 'in the first 6 weeks', 'from 14 to 28 weeks of pregnancy'."""
    words = _gestation(window) if window.basis == "gestation_days" else _after(window)
    if not window.spell:
        return words
    minutes = tables.rule_table().supine_limit_s // 60
    spells = {
        True: ngettext("more than %(n)d minute on the back", "more than %(n)d minutes on the back", minutes),
        False: ngettext("up to %(n)d minute on the back", "up to %(n)d minutes on the back", minutes),
    }
    spell = spells[window.spell == LONG_SPELL] % {"n": minutes}
    return _("%(when)s, %(spell)s") % {"when": words, "spell": spell}


def rule_window(rule: tables.Rule) -> str:
    """Return when a rule of the table holds."""
    return window_words(window_of(rule))


def _after(window: Window) -> str:
    first, end = window.from_day, window.to_day
    if window.basis == "ongoing" or (not first and end is None):
        return _("always")
    if not first:
        return _("in the first %(end)s") % {"end": span(end)}
    if end is None:
        return _("from %(first)s on") % {"first": span(first)}
    return _("from %(first)s to %(end)s") % {"first": span(first), "end": span(end)}


def _gestation(window: Window) -> str:
    first, end = window.from_day, window.to_day
    if not first and end is None:
        return _("all through pregnancy")
    if not first:
        return _("up to %(end)s of pregnancy") % {"end": span(end)}
    if end is None:
        return _("from %(first)s of pregnancy on") % {"first": span(first)}
    return _("from %(first)s to %(end)s of pregnancy") % {"first": span(first), "end": span(end)}


def span(days: int) -> str:
    """Return a number of days in words, in weeks where they are whole."""
    weeks, rest = divmod(days, 7)
    if rest or not weeks:
        return ngettext("%(n)d day", "%(n)d days", days) % {"n": days}
    return ngettext("%(n)d week", "%(n)d weeks", weeks) % {"n": weeks}
