"""What the sessions app says, through gettext: judgements, chips, settings, doses."""

from types import SimpleNamespace

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from clients.glance import glance  # noqa: F401 - the pages of this app take it from here
from library import wording as library_words
from library.reason_wording import reason_row
from sessions import plan_wording


def _with_side(label: str, side: str | None) -> str:
    label = label[:1].lower() + label[1:]
    if side not in ("left", "right"):
        return label
    return _("%(what)s, %(side)s") % {"what": label, "side": library_words.side_word(side)}


def sheet(verdict: dict | None) -> dict:
    """Return a stored judgement (sessions.judging.stored) as the verdict sheet shows it.

    Keys: verdict, text (chip words), rows (library.reason_wording.reason_row).
    """
    if not verdict:
        return {"verdict": "none", "text": "", "rows": []}
    rows = [reason_row(SimpleNamespace(**reason)) for reason in verdict["reasons"]]
    return {"verdict": verdict["verdict"], "text": chip_text(verdict), "rows": rows}


def chip_text(verdict: dict) -> str:
    """Return the few words of a row's chip: what it rests on, or the first demand that decides, and its side."""
    if verdict.get("carries"):
        return plan_wording.with_words(verdict["carries"])
    deciding = [r for r in verdict["reasons"] if r["verdict"] == verdict["verdict"] and not r["outranked"]]
    if not deciding or verdict["verdict"] == "none":
        return ""
    first = deciding[0]
    if first["demand"]:
        return _with_side(library_words.demand_short(first["demand"]), first["side"])
    if first["kind"] == "instruction":
        return _("%(who)s says so") % {"who": first["by"]} if first["by"] else _("a clinician says so")
    return _("not in the table: ask")


def springs_of(setting: dict) -> list[dict]:
    """Return the springs of a setting as the coils need them: grade, count and the studio's name."""
    return [
        {"grade": s["grade"], "count": s["count"], "name": s["name"]}
        for s in setting.get("springs", [])
        if s.get("count")
    ]


_FREE = {
    "gear": gettext_lazy("gear"),
    "bar": gettext_lazy("bar"),
    "strap": gettext_lazy("strap"),
    "box": gettext_lazy("box"),
}


def setting_words(setting: dict) -> str:
    """Return a setting in one line: springs under the studio's names, then gear, bar, strap and box."""
    parts = [
        _("%(n)d %(spring)s") % {"n": s["count"], "spring": s["name"]}
        for s in setting.get("springs", [])
        if s.get("count")
    ]
    parts += [f"{word} {setting[key]}" for key, word in _FREE.items() if setting.get(key)]
    return ", ".join(parts)


def minutes_words(planned: int, booked: int) -> str:
    """Return how a plan stands against the booked length, both in whole minutes."""
    spare = booked - planned
    if spare < 0:
        return ngettext("%(n)d minute over", "%(n)d minutes over", -spare) % {"n": -spare}
    return ngettext("%(n)d minute free", "%(n)d minutes free", spare) % {"n": spare}


def amount(repetitions: int | None, seconds: int | None) -> str:
    """Return a bare dose: '8', '30 s' or '3 × 30 s'; a dash where nothing is said."""
    if not seconds:
        return str(repetitions) if repetitions else "–"
    held = _("%(n)d s") % {"n": seconds}
    return _("%(n)d × %(held)s") % {"n": repetitions, "held": held} if (repetitions or 1) > 1 else held


def dose(row) -> str:
    """Return the dose of a plan row in words: '8 times', '8 each side', '6 left, 8 right', '8 left only'."""
    left = amount(row.repetitions, row.seconds)
    if not row.sides:
        if row.seconds or not row.repetitions:
            return left
        return ngettext("%(n)d time", "%(n)d times", row.repetitions) % {"n": row.repetitions}
    if row.sides == "left":
        return _("%(amount)s left only") % {"amount": left}
    if row.sides == "right":
        return _("%(amount)s right only") % {"amount": left}
    right = amount(_first(row.repetitions_right, row.repetitions), _first(row.seconds_right, row.seconds))
    if right == left:
        return _("%(amount)s each side") % {"amount": left}
    return _("%(left)s left, %(right)s right") % {"left": left, "right": right}


def _first(*values):
    return next((value for value in values if value is not None), None)


def settle_words(numbers: list[int]) -> str:
    """Return what an approval still waits for, by the numbers of the rows to be settled."""
    if len(numbers) > 3:
        return _("Settle %(n)d rows, then approve") % {"n": len(numbers)}
    *before, last = [str(number) for number in numbers]
    named = _("%(rows)s and %(last)s") % {"rows": ", ".join(before), "last": last} if before else last
    return _("Settle %(rows)s, then approve") % {"rows": named}
