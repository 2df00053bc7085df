"""What a plan says of its rows' neighbours, and of the adaptations they rest on, through gettext."""

from collections.abc import Iterable, Sequence

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from library import tables, vocabulary_wording
from sessions import planning
from sessions.neighbours import Place
from studio.wording import VERDICTS


def _lower(label: str) -> str:
    return label[:1].lower() + label[1:]


def verdict_word(verdict: str) -> str:
    """Return a verdict as it stands inside a sentence: 'avoid', 'modify', 'watch', 'No rule'."""
    word = str(VERDICTS[verdict])
    return word if verdict == "none" else _lower(word)


def changes_words(codes: Iterable[str]) -> str:
    """Return adaptations in one line, e.g. 'Trunk raised on a wedge, slower'."""
    labels = vocabulary_wording.labels("adaptation", codes)
    return ", ".join([*labels[:1], *map(_lower, labels[1:])])


def lift_words(verdict: dict) -> str:
    """Return what a stored verdict rests on, 'Trunk raised on a wedge: without it avoid'; '' for nothing."""
    without = without_words(verdict)
    if not without:
        return ""
    return _("%(change)s: %(without)s") % {"change": changes_words(verdict["carries"]), "without": without}


def without_words(verdict: dict) -> str:
    """Return what a row would be without what its chip names: 'without it avoid'; '' where it rests on nothing."""
    codes = verdict.get("carries")
    if not codes or not verdict.get("without"):
        return ""
    words = {"verdict": verdict_word(verdict["without"])}
    return _("without them %(verdict)s") % words if len(codes) > 1 else _("without it %(verdict)s") % words


def becomes_words(planned: dict, now: dict) -> str:
    """Return what a row becomes where it is done with other changes than planned."""
    words = {"now": verdict_word(now["verdict"]), "planned": verdict_word(planned["verdict"])}
    if now["verdict"] == planned["verdict"]:
        return _("Done so it is as planned: %(now)s.") % words
    return _("Done so it becomes %(now)s. As planned: %(planned)s.") % words


def with_words(codes: Sequence[str]) -> str:
    """Return what the chip of a row says that rests on adaptations: 'with trunk raised on a wedge'."""
    return _("with %(change)s") % {"change": _lower(changes_words(codes))}


def offer_words(codes: Sequence[str], verdict: str) -> str:
    """Return what a one-touch button promises: 'With trunk raised on a wedge: modify'."""
    words = {"change": _lower(changes_words(codes)), "verdict": verdict_word(verdict)}
    return _("With %(change)s: %(verdict)s") % words


def spell_words(place: Place, which: int) -> str:
    """Return how long a row's spell on the back is, where it is a long one: '4 min on the back with 2 and 3'.

    which: the place of the row (from 0), which is not named among its neighbours.
    """
    if not place.together or place.supine_seconds <= tables.rule_table().supine_limit_s:
        return ""
    minutes = planning.whole_minutes(place.supine_seconds)
    others = [str(other + 1) for other in place.together if other != which]
    if not others:
        return ngettext("%(n)d min on the back", "%(n)d min on the back", minutes) % {"n": minutes}
    *before, last = others
    named = _("%(rows)s and %(last)s") % {"rows": ", ".join(before), "last": last} if before else last
    words = {"n": minutes, "rows": named}
    return (
        ngettext("%(n)d min on the back with %(rows)s", "%(n)d min on the back with %(rows)s", minutes)
        % words
    )


def change_words(place: Place, number: int) -> str:
    """Return what makes a row a quick change of position; '' where it is none. number: of the row, from 1."""
    if not place.added:
        return ""
    return _(
        "Straight after %(n)d it is a quick change of position. A rest of 30 s between makes it slow."
    ) % {"n": number - 1}


def pause_words(seconds: int) -> str:
    """Return a rest that is written into a plan: '60 s rest on the side or sitting'; '' for none."""
    if not seconds:
        return ""
    if seconds % 60 or seconds == 60:
        return _("%(n)d s rest on the side or sitting") % {"n": seconds}
    return _("%(n)d min rest on the side or sitting") % {"n": seconds // 60}
