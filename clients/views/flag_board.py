"""The board of flags made ready for the page: by state, with what each says and how it came about."""

import datetime as dt

from clients import glance, wording
from clients.intake_form import UNSETTLED, to_ask
from clients.models import Flag, Submission
from library.models import table_in_force

# Headings of the states in the order in which an instructor needs them.
SHOWN = ("proposed", "active", "resting", "ended")


def board(person, client, today: dt.date, failed=None) -> dict:
    """Return what the board shows of a client's flags.

    failed: (flag, form) of a step that was refused, so that its words and its error stand at that flag.
    Keys: proposed, active, resting, ended (lists of cards), glance, before_start, asks.
    """
    flags = list(Flag.objects.seen_by(person).filter(client=client).with_history())
    replaced = {flag.replaces_id for flag in flags if flag.replaces_id}
    table = table_in_force()
    cards = {state: [] for state in SHOWN}
    for flag in flags:
        form = failed[1] if failed and failed[0].pk == flag.pk else None
        cards[flag.state or "proposed"].append(_card(flag, today, table, form, flag.pk in replaced))
    cards["ended"].reverse()
    counting = [flag for flag in flags if flag.state == "active"]
    answers = Submission.objects.seen_by(person).filter(client=client).values_list("answers", flat=True)
    asked_of = [flag for flag in flags if flag.state in ("proposed", "active") and flag.condition]
    return {
        **cards,
        "anything": bool(flags),
        "glance": glance.glance(counting, today, table=table),
        "before_start": glance.before_start(asked_of, today),
        "asks": [wording.ask_words(ask) for ask in to_ask(answers)],
        "has_form": bool(answers),
    }


def _card(flag: Flag, today: dt.date, table, form, replaced: bool) -> dict:
    statuses = list(flag.statuses.all())
    cares = {} if flag.about == UNSETTLED else glance.care([flag], today, table=table)
    over = bool(flag.until_on and flag.until_on < today)
    return {
        "flag": flag,
        "title": wording.flag_title(flag),
        "dates": wording.when_words(flag, today),
        "said": wording.said_words(flag),
        "verdict": flag.verdict,
        "over": over,
        "unsettled": flag.about == UNSETTLED,
        "replaced": replaced,
        "cares": cares,
        "statuses": statuses,
        "version": len(statuses),
        "reason": form.data.get("reason", "") if form else "",
        "error": " ".join(form.errors.get("reason", ())) if form else "",
        "failed_state": form.data.get("state") if form else "",
    }
