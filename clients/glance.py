"""A client's flags at a glance: chips with their reasons, and what to ask before the start. Plain computation."""

import datetime as dt
from collections.abc import Iterable

from clients import wording
from library import wording as library_words
from library.precautions import chips, clearance


def glance(flags: Iterable, on: dt.date, *, table=None) -> list[dict]:
    """Return flags at a glance, strictest first: dicts of verdict and text for the flag chips.

    table: the rule table in force; None is the table as shipped.

    What a clinician has lifted to 'No rule' is left out: it belongs to the sheet of its exercise.
    """
    return [
        {"verdict": chip.verdict, "text": chip_text(chip)}
        for chip in chips(flags, on, table=table)
        if chip.verdict != "none"
    ]


def chip_text(chip) -> str:
    """Return the few words of a chip: what it is about, and the side where only one is meant."""
    label = wording.about_label(chip.exercise) if chip.exercise else library_words.chip_label(chip)
    label = label[:1].lower() + label[1:]
    if chip.side not in ("left", "right"):
        return label
    return f"{label}, {library_words.side_word(chip.side)}"


def sheets(flags: Iterable, on: dt.date, *, table=None) -> list[dict]:
    """Return every chip with its reasons, as `verdict_sheet` shows them; the lifted ones come last."""
    return [_sheet(chip) for chip in chips(flags, on, table=table)]


def _sheet(chip) -> dict:
    return {
        "verdict": chip.verdict,
        "text": chip_text(chip),
        "rows": reason_rows(chip.reasons),
    }


def reason_rows(reasons: Iterable) -> list[dict]:
    """Return the reasons of a verdict in words, as `verdict_sheet` lists them."""
    return [_reason(reason) for reason in reasons]


def _reason(reason) -> dict:
    what = library_words.demand_label(reason.demand) if reason.demand else ""
    return {
        "verdict": reason.verdict,
        "demand": what or (wording.about_label(reason.exercise) if reason.exercise else ""),
        "flag": library_words.reason_title(reason),
        "rule": reason.rule or "",
        "text": library_words.reason_text(reason),
        "adaptation": library_words.reason_adaptation(reason),
        "until": library_words.reason_until(reason),
        "sources": library_words.reason_sources(reason),
        "sure": library_words.how_sure(reason),
        "by": library_words.said_by(reason),
        "outranked": library_words.outranked_words(reason),
    }


def before_start(flags: Iterable, on: dt.date) -> list[dict]:
    """Return what to ask or to have in writing before the start, strictest first.

    Each is a dict of level ('written_before_start' or 'ask'), words, condition, note and until (a phrase).
    """
    rows = []
    for found in clearance(flags, on):
        last_day = found.until - dt.timedelta(days=1) if found.until else None
        rows.append(
            {
                "level": found.level,
                "words": library_words.level_words(found.level),
                "condition": library_words.condition_label(found.condition),
                "note": wording.table_note(found.note),
                "until": library_words.until_words(last_day),
            }
        )
    return rows
