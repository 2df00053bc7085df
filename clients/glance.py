"""A client's flags at a glance: chips with their reasons, and what to ask before the start. Plain computation."""

import datetime as dt
import hashlib
import json
from collections.abc import Iterable
from functools import lru_cache

from clients import wording
from library import tables
from library import wording as library_words
from library.flag_dates import flag_facts, flag_values
from library.glance import AT_FIRST
from library.precautions import chips, clearance
from library.reason_wording import reason_row
from studio.wording import language, more_words

# Clients whose flags were looked at last: a day's people, each on two or three pages.
KEPT = 64


def glance(flags: Iterable, on: dt.date, *, table=None) -> list[dict]:
    """Return flags at a glance, strictest first: dicts of verdict and text for the flag chips.

    table: the rule table in force; None is the table as shipped.

    What a clinician has lifted to 'No rule' is left out: it belongs to the sheet of its exercise.
    Kept like `care`, and shared: do not change it.
    """
    return list(_glance(_read(flags), on, table or tables.rule_table(), language()))


def _read(flags: Iterable) -> tuple[tuple, ...]:
    """Return all of the flags that the judge reads: what is kept under it follows from it."""
    return tuple(map(flag_values, flags))


@lru_cache(maxsize=KEPT)
def _glance(read: tuple, on: dt.date, table, _language: str) -> tuple[dict, ...]:
    return tuple(
        {"verdict": chip.verdict, "text": chip_text(chip)}
        for chip in chips(map(flag_facts, read), on, table=table)
        if chip.verdict != "none"
    )


def chip_text(chip) -> str:
    """Return the few words of a chip: what it is about, and the side where only one is meant."""
    label = wording.about_label(chip.exercise) if chip.exercise else library_words.chip_label(chip)
    label = label[:1].lower() + label[1:]
    if chip.side not in ("left", "right"):
        return label
    return f"{label}, {library_words.side_word(chip.side)}"


def care(flags: Iterable, on: dt.date, *, table=None, whole: bool = True) -> dict:
    """Return what to take care of, strictest first, as a page shows it.

    Keys: first (sheets for `verdict_sheet`), left (how many more), left_words ('18 more: 2 Avoid, 16 Modify'),
    groups (the others under the parts of the body or of the work they are about; empty unless `whole`), mark
    (the same for the same words, and for no others).
    What a clinician has lifted to 'No rule' counts nowhere and stands last in its group.
    It is kept for the last clients, by what their flags say, day, table and language, and shared: do not change it.
    """
    return _care(_read(flags), on, table or tables.rule_table(), whole, language())


@lru_cache(maxsize=KEPT)
def _care(read: tuple, on: dt.date, table, whole: bool, _language: str) -> dict:
    found = chips(map(flag_facts, read), on, table=table)
    counting = [chip for chip in found if chip.verdict != "none"]
    first = counting[:AT_FIRST]
    others = counting[AT_FIRST:]
    lifted = [chip for chip in found if chip.verdict == "none"]
    told = {
        "first": [_sheet(chip) for chip in first],
        "left": len(others),
        "left_words": more_words(chip.verdict for chip in others),
        "groups": _grouped([*others, *lifted]) if whole else [],
    }
    return {**told, "mark": hashlib.sha256(json.dumps(told).encode()).hexdigest()[:24]}


def _grouped(found: list) -> list[dict]:
    """Return chips under the groups of the table, the group with the strictest chip first."""
    groups: dict[str, list] = {}
    for chip in found:
        row = tables.rule_table().demands.get(chip.demand)
        groups.setdefault(row["group"] if row else "", []).append(_sheet(chip))
    named = [(str(wording.DEMAND_GROUPS.get(group, "")), rows) for group, rows in groups.items()]
    return [{"label": label, "sheets": rows} for label, rows in named]


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
    return reason_row(reason, wording.about_label(reason.exercise) if reason.exercise else "")


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
