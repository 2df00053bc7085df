"""Parts of the client page that this app draws: what each include in templates/clients/ is given.

Each function takes rows that were read through their door and returns the context of one include.
"""

import datetime as dt

from clients import glance, intake_form, wording
from clients.forms.care import mass_words, stature_words
from library import regions
from library.models import table_in_force


def flags_part(flags, on: dt.date) -> dict:
    """Return the context of clients/_flags.html. flags: those of a client with their state."""
    flags = list(flags)
    active = [flag for flag in flags if flag.state == "active"]
    waiting = [flag for flag in flags if flag.state == "proposed"]
    return {
        "cares": glance.sheets(active, on, table=table_in_force()),
        "spots": regions.spots(active),
        "to_settle": len(waiting),
        "before_start": glance.before_start([f for f in (*active, *waiting) if f.condition], on),
    }


def answers_part(submissions) -> dict:
    """Return the context of clients/_answers.html. submissions: those of a client, newest first."""
    rows = list(submissions)
    asks = intake_form.to_ask(row.answers for row in rows)
    return {"submission": rows[0] if rows else None, "asks": [wording.ask_words(ask) for ask in asks]}


def care_part(care, measured_in: str) -> dict:
    """Return the context of clients/_care.html. care: the care profile or None."""
    if care is None:
        return {"care_rows": []}
    rows = [
        ("touch", wording.CARE["touch"], care.get_touch_display()),
        ("home", wording.CARE["home_equipment"], ", ".join(wording.home_words(care.home_equipment))),
        ("stature", wording.CARE["stature_mm"], stature_words(care.stature_mm, measured_in)),
        ("mass", wording.CARE["mass_g"], mass_words(care.mass_g, measured_in)),
    ]
    return {"care_rows": [{"key": key, "label": label, "value": value} for key, label, value in rows]}
