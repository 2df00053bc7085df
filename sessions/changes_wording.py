"""What changes when, in words and as a picture: the coming weeks of a client."""

import datetime as dt
from collections.abc import Iterable
from itertools import groupby

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from clients import wording as clients_words
from library import bands, changes, tables
from library import wording as library_words
from library.condition_wording import band_key
from library.verdicts import RANK


def page(flags: Iterable, start: dt.date, weeks: int, *, table=None) -> dict:
    """Return what the page shows of the time from `start` on.

    Keys: axis, rows (label, side, svg), key, days (on, words, steps) and total, how many verdicts change.
    """
    flags, days = list(flags), weeks * 7
    rows = changes.tracks(flags, start, days, table=table)
    found = changes.changes(flags, start, days, table=table)
    dates = sorted({change.on for change in found})
    numbers = {on: number for number, on in enumerate(dates, 1)}
    marks = [(on - start).days for on in dates]
    return {
        "axis": _axis(start, days, [((on - start).days, str(numbers[on])) for on in dates]),
        "rows": [_row(row, start, days, marks) for row in rows],
        "key": band_key(),
        "days": [
            {"on": on, "number": numbers[on], "in": _in_words((on - start).days), "steps": _steps(together)}
            for on, together in groupby(found, key=lambda change: change.on)
        ],
        "total": len(found),
    }


def subject_words(subject: str) -> str:
    """What a verdict is about, short: a demand, an exercise, or what was written."""
    if subject in tables.rule_table().demands:
        return library_words.demand_short(subject)
    return clients_words.about_label(subject) if subject else _("A flag without a condition")


def _axis(start: dt.date, days: int, marks) -> str:
    every = 28 if days <= 140 else 56
    spots = range(0, days - every // 3, every)
    labels = [(n, _short(start + dt.timedelta(days=n)) if n else _("today")) for n in spots]
    labels.append((days, _short(start + dt.timedelta(days=days))))
    return bands.axis(days, marks=marks, labels=labels, words="")


def _short(day: dt.date) -> str:
    return date_format(day, "j M")


def _row(row: changes.Track, start: dt.date, days: int, marks) -> dict:
    spans = [((s.first - start).days, (s.end - start).days, s.verdict) for s in row.spans]
    said = [
        _("from %(day)s: %(verdict)s")
        % {"day": _short(span.first), "verdict": library_words.verdict_word(span.verdict)}
        for span in row.spans
    ]
    return {
        "label": subject_words(row.demand),
        "side": row.side,
        "svg": bands.strip(spans, days, marks=marks, words="; ".join(said)),
    }


def _in_words(days: int) -> str:
    weeks, rest = divmod(days, 7)
    parts = []
    if weeks:
        parts.append(ngettext("%(n)d week", "%(n)d weeks", weeks) % {"n": weeks})
    if rest:
        parts.append(ngettext("%(n)d day", "%(n)d days", rest) % {"n": rest})
    return _("in %(time)s") % {"time": " ".join(parts)}


def _steps(together) -> list[dict]:
    """Return the changes of one day, what becomes stricter first."""
    steps = [
        {
            "label": subject_words(change.demand),
            "side": change.side,
            "before": library_words.verdict_word(change.before),
            "verdict": change.after,
            "stricter": RANK[change.after] > RANK[change.before],
        }
        for change in together
    ]
    return sorted(steps, key=lambda step: (not step["stricter"], -RANK[step["verdict"]]))
