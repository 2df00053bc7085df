"""The open questions for a licensed clinician in words, as the printed page holds them."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from library import (
    measure_wording,
    measures,
    open_questions,
    rule_wording,
    tables,
    vocabulary_wording,
    wording,
)

# Rules beyond this many are counted and not listed.
LISTED = 8


def sheet(table: tables.Table) -> dict:
    """Return what the page holds: version, counts as (words, number), questions, the studio's own rules."""
    counted = open_questions.counts(table)
    return {
        "version": table.version,
        "counts": _counts(counted),
        "questions": [
            {
                "number": number,
                "about": _(one.about),
                "ask": _(one.ask).format(**counted),
                "touches": _touches(one, table),
            }
            for number, one in enumerate(open_questions.questions(), start=1)
        ],
        "own": [_own(rule) for rule in table.rules if rule.support == tables.STUDIO],
    }


def _counts(counted) -> list[tuple[str, int]]:
    words = {
        "rules": _("Rules in all"),
        "direct": _("that a source speaks of directly"),
        "by_extension": _("reasoned from a source that speaks of something near"),
        "from_memory": _("from memory of a publication, not read again"),
        "practice": _("common practice, no source"),
        "studio": _("rules of this studio"),
        "conditions": _("Conditions"),
        "demands": _("Kinds of movement"),
        "lifts": _("Changes that take a movement away"),
        "lifts_practice": _("of these, common practice, no source"),
    }
    return [(text, counted[key]) for key, text in words.items() if counted[key] or key != "studio"]


def _touches(one: open_questions.Question, table: tables.Table) -> list[str]:
    """Return the lines under a question: conditions, movements, changes, signs, tests, and what the rules say."""
    lines = [
        "; ".join(map(wording.condition_label, one.conditions)),
        "; ".join(map(wording.demand_label, one.demands)),
        "; ".join(_adaptations(one.lifts)),
        "; ".join(_signs(one.red_flags)),
        "; ".join(measure_wording.words(measures.measure(key)).name for key in one.measures),
        _rules(one, table),
    ]
    return [line for line in lines if line]


def _rules(one: open_questions.Question, table: tables.Table) -> str:
    """Return what each rule says; only how many there are where they would fill the page."""
    if len(one.rules) > LISTED:
        return ngettext("%(n)d rule", "%(n)d rules", len(one.rules)) % {"n": len(one.rules)}
    said = [_rule(rule, len(one.demands) != 1) for rule in table.rules if rule.id in one.rules]
    return "; ".join(said)


def _rule(rule: tables.Rule, with_demand: bool) -> str:
    facts = {
        "rule": rule.id,
        "demand": wording.demand_short(rule.demand),
        "verdict": wording.verdict_word(rule.verdict),
        "when": rule_wording.rule_window(rule),
    }
    if with_demand:
        return _("%(rule)s %(demand)s: %(verdict)s, %(when)s") % facts
    return _("%(rule)s: %(verdict)s, %(when)s") % facts


def _adaptations(lifts: tuple[str, ...]) -> list[str]:
    rows = {row["id"]: row["adaptation"] for row in tables.adaptation_lifts()}
    return list(dict.fromkeys(vocabulary_wording.label("adaptation", rows[key]) for key in lifts))


def _signs(red_flags: tuple[str, ...]) -> list[str]:
    rows = {row["id"]: row["text"] for row in tables.rule_data()["red_flags"]}
    return [_(rows[key]) for key in red_flags]


def _own(rule: tables.Rule) -> dict:
    return {
        "verdict": wording.verdict_word(rule.verdict),
        "demand": wording.demand_label(rule.demand),
        "condition": wording.condition_label(rule.condition),
        "when": rule_wording.rule_window(rule),
        "reason": rule.reason,
        "made": wording.how_sure(rule),
    }
