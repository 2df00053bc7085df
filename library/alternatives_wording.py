"""Why an alternative is one, in a few words, through gettext."""

from collections.abc import Iterable, Sequence

from django.utils.translation import gettext as _

from library import facts_wording, vocabulary_wording, wording
from library.alternatives import Why

# More than this is not read between two repetitions.
MOST_SHOWN = 4


def why_words(why: Why) -> str:
    """Return one reason in words: 'Same skill: balance', 'On the reformer you have booked'."""
    code, about = why
    return _WORDS[code](about)


def whys(reasons: Iterable[Why]) -> list[str]:
    """Return the first few reasons in words, in their order; of several demands left out only the first."""
    kept, demands = [], 0
    for why in reasons:
        demands += why.code == "without"
        if why.code != "without" or demands == 1:
            kept.append(why_words(why))
    return kept[:MOST_SHOWN]


def apart(lists: Sequence[Sequence[str]]) -> tuple[list[str], list[list[str]]]:
    """Return what all of some lists of reasons say, to be said once above them, and what each says besides.

    Of one list alone, or of none, nothing is common.
    """
    common = [words for words in lists[0] if all(words in other for other in lists)] if len(lists) > 1 else []
    return common, [[words for words in one if words not in common] for one in lists]


def _skill(about: str) -> str:
    return _lower(vocabulary_wording.label("skill", about))


def _apparatus(about: str) -> str:
    return _lower(vocabulary_wording.apparatus(about))


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]


_WORDS = {
    "same_skill": lambda about: _("Same skill: %(skill)s") % {"skill": _skill(about)},
    "other_skill": lambda about: _("Shares: %(skill)s") % {"skill": _skill(about)},
    "without": lambda about: _("Without: %(demand)s") % {"demand": _lower(wording.demand_short(about))},
    "with_change": lambda about: (
        _("Only with: %(change)s") % {"change": _lower(vocabulary_wording.adaptation(about))}
    ),
    "easier_relative": lambda _about: _("Easier relative"),
    "easier": lambda _about: _("Easier"),
    "harder": lambda _about: _("One level harder"),
    "same_idea": lambda about: (
        _("Same idea: %(idea)s") % {"idea": _lower(facts_wording.transfer_family(about))}
    ),
    "booked": lambda about: _("On the %(apparatus)s you have booked") % {"apparatus": _apparatus(about)},
    "free": lambda about: (
        _("On the %(apparatus)s that is free in this room") % {"apparatus": _apparatus(about)}
    ),
    "elsewhere": lambda about: (
        _("Needs the %(apparatus)s, which is not at hand") % {"apparatus": _apparatus(about)}
    ),
    "same_apparatus": lambda _about: _("On the same apparatus"),
    "floor": lambda _about: _("On the floor"),
}
