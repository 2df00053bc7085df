"""The page of a condition in words: when each rule holds, stop signs, what to ask the clinic. No client here.

Everything said about health is the rule table's, looked up as it stands there; only the frame is ours.
"""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import bands, condition_page, tables, vocabulary_wording, wording
from library.reason_wording import NO_SOURCE, source_short
from library.rule_wording import rule_window, span, window_words
from library.stricter import Window
from library.verdicts import VERDICTS

HEADINGS = {
    "avoid": gettext_lazy("Leave out"),
    "modify": gettext_lazy("Change"),
    "watch": gettext_lazy("Watch"),
}
EVIDENCE = {
    "good": gettext_lazy("Sources: good"),
    "moderate": gettext_lazy("Sources: moderate"),
    "thin": gettext_lazy("Sources: thin"),
}
ACTIONS = {
    "EMERGENCY": gettext_lazy("Emergency number, now"),
    "SAME_DAY": gettext_lazy("Do not start; medical advice today"),
    "REFER": gettext_lazy("Leave that work out; see a professional"),
    "DEFER": gettext_lazy("Not today; come back well"),
}
COUNTED_FROM = {
    "event_days": gettext_lazy("Days are counted from: %(event)s."),
    "gestation_days": gettext_lazy("Weeks are weeks of pregnancy, counted back from the due date."),
}


def said(text: str) -> str:
    """A sentence of the table in the language of the page; empty for none."""
    return _(text) if text else ""


def counted_from(row: dict) -> str:
    """From which day a condition counts; empty where it counts none."""
    words = COUNTED_FROM.get(row["window_basis"])
    return words % {"event": said(row["event_label"] or "")} if words else ""


def sections(condition: str, table: tables.Table) -> list[dict]:
    """Return what to leave out, change and watch: heading, verdict and rows by demand, each with its rules."""
    return [
        {
            "verdict": verdict,
            "heading": HEADINGS[verdict],
            "meaning": wording.verdict_meaning(verdict),
            "demands": [_demand(demand, rules) for demand, rules in demands.items()],
        }
        for verdict, demands in condition_page.rules_by_verdict(condition, table).items()
    ]


def _demand(demand: str, rules: list) -> dict:
    changes = dict.fromkeys(said(rule.adaptation) for rule in rules if rule.adaptation)
    return {
        "label": wording.demand_label(demand),
        "short": wording.demand_short(demand),
        "changes": list(changes),
        "rules": [
            {
                "id": rule.id,
                "when": rule_window(rule),
                "always": rule.basis == "ongoing",
                "text": said(rule.reason),
                "sure": wording.how_sure(rule),
                "own": rule.support == tables.STUDIO,
                "sources": [source_short(key) for key in rule.sources if key != NO_SOURCE],
            }
            for rule in rules
        ],
    }


def clinic(row: dict) -> dict:
    """Return what to ask the clinic: `rows` of level in words and for how long, and the table's `note`."""
    asks = row["clearance"]
    until, basis = asks["until_day"], row["window_basis"]
    rows = [_level(asks["level"], Window(basis, None, until) if until else None)]
    if until:
        rows.append(_level(asks.get("then_level", "none"), Window(basis, until, None)))
    return {"rows": rows, "note": said(asks["note"]), "asks": asks["level"] != "none"}


def _level(level: str, window: Window | None) -> dict:
    silent = _("The table asks for no word of a clinic. Ask when something has changed.")
    words = silent if level == "none" else wording.level_words(level)
    return {"level": level, "words": words, "when": window_words(window) if window else ""}


def picture(condition: str, table: tables.Table) -> dict | None:
    """Return the picture of the windows in time: axis, rows (short label, strip), or None where none follow days."""
    rows = condition_page.tracks(condition, table)
    if not rows:
        return None
    days = condition_page.days_shown(condition, table)
    marks = sorted({first for _demand, spans in rows for first, _end, _verdict in spans[1:]})
    pregnant = table.conditions[condition]["window_basis"] == "gestation_days"
    start = _("start of pregnancy") if pregnant else _("day 0")
    labels = [(0, start), *((mark, span(mark)) for mark in _apart(marks, days))]
    return {
        "axis": bands.axis(days, marks=[], labels=labels, words=""),
        "key": band_key(),
        "rows": [
            {
                "label": wording.demand_short(demand),
                "svg": bands.strip(spans, days, marks=marks, words=_strip_words(spans, table, condition)),
            }
            for demand, spans in rows
        ],
    }


def band_key() -> list[tuple[str, str]]:
    """Return what the patterns of the strips mean: word and sample."""
    return [(wording.verdict_word(verdict), bands.sample(verdict)) for verdict in VERDICTS]


def _apart(marks: list[int], days: int) -> list[int]:
    """Return the marks whose words have room beside those before them."""
    room, found = days / 7, []
    for mark in marks:
        if mark - (found[-1] if found else 0) >= room:
            found.append(mark)
    return found


def _strip_words(spans, table, condition) -> str:
    basis = table.conditions[condition]["window_basis"]
    last = spans[-1][1]
    said = [
        _("%(when)s: %(verdict)s")
        % {
            "when": window_words(Window(basis, first or None, None if end == last else end)),
            "verdict": wording.verdict_word(verdict),
        }
        for first, end, verdict in spans
    ]
    return "; ".join(said)


def library_left(condition: str, table: tables.Table) -> dict:
    """Return the library's exercises counted by verdict: `stages` in time, and `shelves` by apparatus and home.

    The shelves are those of the day not known, where the strictest of every window counts.
    """
    found = condition_page.stages(condition, table)
    unknown = found[0]
    shelves = [
        {"name": vocabulary_wording.apparatus(name), "counts": _counts(counts)}
        for name, counts in unknown.by_apparatus.items()
    ]
    shelves.append({"name": _("All"), "counts": _counts(unknown.all), "whole": True})
    shelves.append({"name": _("Of these, may go home"), "counts": _counts(unknown.home), "whole": True})
    stages = [
        {"name": window_words(one.window), "counts": _counts(one.all), "home": _counts(one.home)}
        for one in found[1:]
    ]
    return {"shelves": shelves, "stages": stages, "verdicts": [wording.verdict_word(one) for one in VERDICTS]}


def _counts(counts) -> list[int]:
    return [counts.get(verdict, 0) for verdict in VERDICTS]


def stop_signs() -> list[dict]:
    """Return the signs at which to stop during a session, with what to do."""
    rows = tables.rule_data()["stop_in_session"]
    return [{"text": said(row["short"]), "action": said(row["action"])} for row in rows]


def check_in() -> list[dict]:
    """Return the signs at check-in by what to do, most urgent first."""
    data = tables.rule_data()
    return [
        {
            "action": ACTIONS[action],
            "signs": [said(row["text"]) for row in data["red_flags"] if row["action"] == action],
        }
        for action in data["action_order"]
    ]


def sources(condition: str, table: tables.Table) -> list[str]:
    """Return every source of a condition's rules in full, each once, in order of the table."""
    used = {key for rule in table.rules_of.get(condition, ()) for key in rule.sources}
    return [_full(key) for key in table.sources if key in used]


def _full(key: str) -> str:
    row = tables.rule_table().sources[key]
    words = wording.source_words(key)
    if row.get("copy") == "secondary":
        return _("%(citation)s (checked on a secondary copy)") % {"citation": words}
    return words
