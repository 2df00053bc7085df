"""One reason of a verdict as the sheet of reasons shows it: who, why, what helps, until when, how sure."""

import re
from datetime import date

from django.utils.translation import gettext as _

from library import tables, vocabulary_wording, wording

# What the table writes where there is no source; how sure a rule is says it already.
NO_SOURCE = "CP"
_ASIDE = re.compile(r"\s*\([^()]*\)")


def reason_row(reason, about: str = "") -> dict:
    """Return a reason in words.

    reason: a `library.verdicts.Reason`, or one as it was stored with a plan, whose `until` is the last day
    as text and which may lack newer fields. about: what the reason is about where it names no demand.
    Keys: verdict, demand, condition (id, or ''), flag, rule, text, adaptation, until, sources, sure, by,
    outranked, held (what it rests on while an adaptation is kept).
    """
    return {
        "verdict": reason.verdict,
        "demand": wording.demand_label(reason.demand) if reason.demand else about,
        "condition": reason.condition if reason.condition in tables.rule_table().conditions else "",
        "flag": wording.reason_title(reason),
        "rule": reason.rule or "",
        "text": wording.reason_text(reason),
        "adaptation": wording.reason_adaptation(reason),
        "until": wording.until_words(_last_day(reason)),
        "sources": [source_short(key) for key in reason.sources if key != NO_SOURCE],
        "sure": wording.how_sure(reason),
        "by": wording.said_by(reason),
        "outranked": wording.outranked_words(reason),
        "held": held_words(reason),
    }


def _last_day(reason) -> date | None:
    if isinstance(reason.until, str):
        return date.fromisoformat(reason.until) if reason.until else None
    return getattr(reason, "last_day", reason.until)


def held_words(reason) -> str:
    """What a softened reason rests on: the adaptation, and the verdict without it; empty for any other."""
    adaptation = getattr(reason, "lifted_by", None)
    if not adaptation:
        return ""
    change = vocabulary_wording.adaptation(adaptation)
    if reason.before_lift == "modify":
        return _("The change “%(change)s” is there for this. Keep it.") % {"change": change}
    return _("Rests on the change “%(change)s”. Without it: %(verdict)s.") % {
        "change": change,
        "verdict": wording.verdict_word(reason.before_lift or "avoid"),
    }


def source_short(key: str) -> str:
    """A source by its short name: the citation without what stands in brackets, and how it was read."""
    row = tables.rule_table().sources.get(key)
    if row is None:
        return key
    name = _ASIDE.sub("", _(row["citation"])).removesuffix(", abstract")
    if row["kind"] == "from_memory":
        return _("%(citation)s (from memory)") % {"citation": name}
    if row.get("copy") == "secondary":
        return _("%(citation)s (checked on a secondary copy)") % {"citation": name}
    return name
