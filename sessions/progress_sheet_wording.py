"""The printed page of a client's progress: its words and drawings in grey, and as much as one page holds."""

import datetime as dt

from django.utils.formats import date_format
from django.utils.text import Truncator
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from library import measure_wording
from sessions import chart_paints, chart_wording, charts, progress_paper
from sessions.progress import Progress, by_weight

LONGEST = 100


def sheet(
    shown: Progress, drawn: charts.Chart, told: dict, *, client: str, studio: str, paper: str, today: dt.date
) -> dict:
    """Return what templates/print/progress.html needs beside the words of the page on the screen.

    told: of those words heads, limit, limit_words, gap_heading, changed, happened and table. paper: 'a4' or
    'letter'. The title of the document names no client: browsers make file names of it.
    """
    name = measure_wording.words(shown.measure).name
    days = _("{first} to {last}").format(first=_full(drawn.first), last=_full(drawn.last))
    hatched = any(drawn.bands.values())
    made = {
        "title": _("{measure}, {studio}, {date}").format(measure=name, studio=studio, date=_full(today)),
        "paper": paper,
        "studio": studio,
        "days": days,
        "printed": today.isoformat(),
        "key": _key(told["limit"], hatched),
        "foot": _foot(told["limit_words"], today),
        "row_head": (_("Test"), _("Day"), _("Left"), _("Right"), _("Gap")),
    }
    if not shown.tests:
        return made
    events = [one for one in told["happened"] if one["kind"] != "test"]
    weighty = by_weight([one["kind"] for one in events])
    events = [_event(one) for one in events]
    rows = [
        tuple(str(row[key]) for key in ("number", "day", "left", "right", "gap")) for row in told["table"]
    ]
    words = progress_paper.Words(
        title=name,
        name=client,
        sender=(studio, days),
        heads=_heads(told["heads"]),
        key=made["key"],
        gap=bool(shown.gaps),
        foot=made["foot"],
        changed=told["changed"],
        events=[_runs(events[place]) for place in weighty],
        rows=rows,
        row_head=made["row_head"],
    )
    plan = progress_paper.plan(words, paper)
    return made | {
        "panels": chart_wording.panels(
            shown, drawn, charts.WIDE, chart_paints.GREY, today, "print", axis_told=True
        ),
        "gap_drawn": chart_wording.gap(shown, drawn, charts.GAP_WIDE, chart_paints.GREY, "print"),
        "changed": told["changed"][: plan.changed],
        "changed_more": _more(len(told["changed"]) - plan.changed),
        "events": [events[place] for place in sorted(weighty[: plan.events])],
        "events_more": _more(len(events) - plan.events),
        "rows": rows[len(rows) - plan.rows :],
        "rows_more": _more(len(rows) - plan.rows),
        "rows_left": plan.rows_left,
    }


def _heads(heads: dict) -> tuple[tuple[str, str, str], ...]:
    """Return what stands over each panel: change, newest value, unit."""
    return tuple(
        (head["change"], head["number"], head["unit"]) if head else (_("not taken"), "", "")
        for head in heads.values()
    )


def _full(on: dt.date) -> str:
    return date_format(on, "j M Y")


def _event(one: dict) -> dict:
    head = _("{when}: {what}").format(when=one["when"], what=one["title"])
    return {"head": head, "text": Truncator(one["text"]).chars(LONGEST)}


def _runs(event: dict) -> tuple[tuple[bool, str], ...]:
    return ((True, event["head"]), (False, f". {event['text']}"))


def _more(count: int) -> str:
    if not count:
        return ""
    return ngettext(
        "{n} more stands on the screen only.", "{n} more stand on the screen only.", count
    ).format(n=count)


def _key(limit: str, hatched: bool) -> str:
    said = [
        _("Grey ribbon: within noise, {limit} either way.").format(limit=limit)
        if limit
        else _("Noise not known: cannot say."),
        _("Left solid, right dashed, the other side dotted. Small ticks: sessions."),
    ]
    return " ".join([*said, _("Hatched: flare-up.")] if hatched else said)


def _foot(limit_words: str, today: dt.date) -> str:
    return " ".join(
        (
            limit_words,
            _("Measured in a studio, with a tape or a watch."),
            _("This is no diagnosis and does not replace advice from a doctor or physiotherapist."),
            _("Printed {day}.").format(day=_full(today)),
        )
    )
