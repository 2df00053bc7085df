"""Verdicts, demands, conditions and their reasons in words for the screen, through gettext.

Words that are data (a rule's reason, a demand's label) are looked up as they stand in the data files;
words of our own are written here. No word here gives a permission.
"""

from datetime import date

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, pgettext

from library import tables
from library.verdicts import Chip, Reason

VERDICT_WORDS = {
    "avoid": gettext_lazy("Avoid"),
    "modify": gettext_lazy("Modify"),
    "watch": gettext_lazy("Watch"),
    "none": gettext_lazy("No rule"),
}
VERDICT_MEANINGS = {
    "avoid": gettext_lazy("Leave it out for now."),
    "modify": gettext_lazy("Only with the change that is named."),
    "watch": gettext_lazy("Ask how it feels, look on, and stop if signs come up."),
    "none": gettext_lazy("The table is silent here. That is not a permission."),
}
LEVEL_WORDS = {
    "none": gettext_lazy("Nothing more to ask"),
    "ask": gettext_lazy("Ask what the clinic has said, and write it down"),
    "written_before_start": gettext_lazy("A clinician's written word before the start"),
}
SUPPORT_WORDS = {
    "direct": gettext_lazy("A source speaks of this directly."),
    "by_extension": gettext_lazy("Reasoned from a source that speaks of something near it."),
    "from_memory": gettext_lazy("From memory of a publication, not read again."),
    "practice": gettext_lazy("Common practice, no source."),
}
ASK_WORDS = {
    "not_in_table": gettext_lazy("Not in the table: ask."),
    "unclassified": gettext_lazy(
        "Nobody has yet noted what this exercise asks of the body: ask before using it."
    ),
}
NOT_REVIEWED = gettext_lazy("The rule table has not been reviewed by a licensed clinician.")


def verdict_word(verdict: str) -> str:
    """'Avoid', 'Modify', 'Watch' or 'No rule'."""
    return str(VERDICT_WORDS[verdict])


def verdict_meaning(verdict: str) -> str:
    """What the verdict asks of the instructor, in a sentence."""
    return str(VERDICT_MEANINGS[verdict])


def level_words(level: str) -> str:
    """What a clearance level asks for."""
    return str(LEVEL_WORDS[level])


def support_words(support: str) -> str:
    """How sure a rule is, in a sentence; empty where the data does not say."""
    return str(SUPPORT_WORDS.get(support, ""))


def how_sure(reason) -> str:
    """How sure a reason is, in a sentence; a rule of the studio's own says whose it is, and since when.

    reason: a `library.verdicts.Reason`, or one as it was stored, whose `since` is then text or missing.
    """
    if reason.support != tables.STUDIO:
        return support_words(reason.support)
    since = getattr(reason, "since", None)
    if not (reason.by and since):
        return _("Rule of this studio.")
    day = since if isinstance(since, date) else date.fromisoformat(since)
    made = {"who": reason.by, "day": date_format(day, "DATE_FORMAT")}
    return _("Rule of this studio, by %(who)s, on %(day)s.") % made


def said_by(reason) -> str:
    """Whose word a reason is, besides the rules; empty for a rule."""
    return "" if reason.kind == "rule" else reason.by


def review_words(table_version: str, review) -> str:
    """Return who has reviewed the rule table, in a sentence.

    table_version: of the table in force. review: a row with name, profession, on and table_version, or None.
    A review of another version says only that: it never speaks for the table as it stands.
    """
    if review is None:
        return str(NOT_REVIEWED)
    who = {
        "name": review.name,
        "profession": review.profession,
        "day": date_format(review.on, "DATE_FORMAT"),
    }
    if review.table_version == table_version:
        return _("Rule table reviewed by %(name)s, %(profession)s, on %(day)s.") % who
    return (
        _(
            "Rule table reviewed in an earlier version, by %(name)s, %(profession)s, on %(day)s: not as it is now."
        )
        % who
    )


def demand_short(demand: str) -> str:
    """The label of a demand in at most four words. A demand outside the table shows its id."""
    return _data(tables.rule_table().demands, demand, "short")


def demand_label(demand: str) -> str:
    """The full label of a demand."""
    return _data(tables.rule_table().demands, demand, "label")


def demand_definition(demand: str) -> str:
    """What the demand means, in a sentence."""
    return _data(tables.rule_table().demands, demand, "definition")


def condition_label(condition: str) -> str:
    """The name of a condition. One outside the table shows what was written."""
    return _data(tables.rule_table().conditions, condition, "label")


def condition_group_label(group: str) -> str:
    """The heading under which a condition is listed."""
    rows = {row["id"]: row for row in tables.rule_data()["condition_groups"]}
    return _data(rows, group, "label")


def _data(rows, key, field) -> str:
    row = rows.get(key)
    return _(row[field]) if row and row[field] else str(key or "")


def side_word(side: str | None) -> str:
    """The affected side in words; empty where no side matters."""
    words = {
        "left": pgettext("side of the body", "left"),
        "right": pgettext("side of the body", "right"),
        "both": pgettext("sides of the body", "both sides"),
        "unknown": pgettext("side of the body", "side not known"),
    }
    return words.get(side, "")


def reason_title(reason: Reason) -> str:
    """Where a reason comes from: the condition with its side, or who gave the instruction."""
    if reason.kind == "instruction":
        return _("%(who)s says") % {"who": reason.by} if reason.by else _("A clinician's instruction")
    if reason.code == "unclassified":
        return _("Not yet classified")
    name = condition_label(reason.condition) or demand_label(reason.demand) or _("A flag without a condition")
    side = side_word(reason.side)
    return _("%(condition)s, %(side)s") % {"condition": name, "side": side} if side else name


def reason_text(reason: Reason) -> str:
    """Why, in a sentence: the rule's reason, the clinician's words, or what is not known."""
    if reason.kind == "instruction":
        return reason.words or verdict_meaning(reason.verdict)
    if reason.kind == "ask":
        return str(ASK_WORDS[reason.code])
    return _(reason.text)


def reason_adaptation(reason: Reason) -> str:
    """The usual way round what a rule speaks of; empty where it names none."""
    return _(reason.adaptation) if reason.adaptation else ""


def until_words(last_day) -> str:
    """'last day 3 March 2026' in the language of the page; empty for None. That day still counts."""
    if last_day is None:
        return ""
    return _("last day %(day)s") % {"day": date_format(last_day, "DATE_FORMAT")}


def outranked_words(reason: Reason) -> str:
    """The remark beside a rule that a clinician's word has lifted; empty for one that counts."""
    return _("A clinician's word stands in its place.") if reason.outranked else ""


def source_words(key: str) -> str:
    """One source of the table as a citation."""
    row = tables.rule_table().sources.get(key)
    if row is None:
        return key
    if row["kind"] == "from_memory":
        return _("%(citation)s (from memory)") % {"citation": row["citation"]}
    return _(row["citation"])


def chip_label(chip: Chip) -> str:
    """What a chip is about, short; empty for an exercise, whose name the caller knows."""
    if chip.demand:
        return demand_short(chip.demand)
    if chip.exercise:
        return ""
    return condition_label(chip.condition) or _("A flag without a condition")
