"""How a client's measures went over time: left faces right, and what happened meanwhile."""

import datetime as dt
import logging
from urllib.parse import urlencode

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.translation import gettext as _

from clients.models import Client
from library import measure_wording, measures
from sessions import chart_paints, chart_wording, charts, pdf, progress_sheet_wording, progress_wording
from sessions import progress as sums
from sessions.forms.progress import RangeForm
from sessions.views import progress_page as rows
from studio import clock
from studio.access import opens
from studio.actions import audit
from studio.roles import INSTRUCTOR, OWNER

audit.register("progress.read")

# So much of what happened stands on the line; the rest is one touch away.
ON_THE_LINE = 5
IN_THE_LIST = 60

log = logging.getLogger(__name__)


@opens(OWNER, INSTRUCTOR)
def progress(request, client):
    """The page: one measure at a time, chosen by the tabs."""
    client = Client.objects.get_seen(request.user, client)
    asked = _asked(request)
    context = _shown(request, client, asked)
    if context["shown"].tests:
        context |= _drawn(context, chart_paints.PAGE)
    audit.write(request.actor, "progress.read", client)
    status = 422 if asked["form"].errors else 200
    return render(request, "sessions/progress.html", context, status=status)


@opens(OWNER, INSTRUCTOR)
def progress_pdf(request, client):
    """The same on one page in grey, as a PDF; where none can be made, the page for the browser's own print."""
    client = Client.objects.get_seen(request.user, client)
    asked = _asked(request)
    context = _printed(request, client, asked)
    html = render_to_string("print/progress.html", context | {"for_pdf": True})
    try:
        data = pdf.make_pdf(html, "progress")
    except pdf.PdfError as error:
        log.warning("a page of progress goes to the browser's print: %s", error)
        place = reverse("sessions:progress_print", kwargs={"client": client.public_id})
        return redirect(f"{place}?{_query(context['of'], asked)}")
    audit.write(request.actor, "progress.read", client)
    answer = HttpResponse(data, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="progress-{context["today"].isoformat()}.pdf"'
    answer["Cache-Control"] = "no-store"
    return answer


@opens(OWNER, INSTRUCTOR)
def progress_print(request, client):
    """That page for the browser's own print, on a machine that makes no PDFs."""
    client = Client.objects.get_seen(request.user, client)
    context = _printed(request, client, _asked(request))
    audit.write(request.actor, "progress.read", client)
    return render(request, "print/progress.html", context)


def _asked(request) -> dict:
    """Return what the address asks for: measure, dates and the form that holds them."""
    known = measures.all_measures()
    key = request.GET.get("measure", "")
    form = RangeForm(request.GET or None)
    dates = form.cleaned_data if form.is_bound and form.is_valid() else {}
    return {
        "measure": known.get(key),
        "form": form,
        "from": dates.get("from"),
        "to": dates.get("to"),
    }


def _shown(request, client, asked) -> dict:
    """Return everything a page says of one measure, without the drawings."""
    person, zone = request.user, request.studio.zone
    today = clock.today(zone)
    taken = rows.readings(person, client)
    of = asked["measure"] or measures.measure(_first_taken(taken))
    shown = sums.progress(of, taken[of.id], asked["from"], asked["to"] or today)
    days = rows.session_days(person, client)
    first, last = _ends(shown, days, asked, today)
    stretches, notes = rows.flag_rows(person, client, zone, last)
    spells = rows.pain_spells(person, client)
    between = [day for day in days if first <= day <= last]
    extra = _between(person, client, first, last, between)
    quality, names = extra["quality"], extra["names"]
    events = [
        *notes,
        *rows.incidents(person, client, zone),
        *rows.goals(person, client),
        *_of_stretches(stretches),
        *_of_spells(spells),
        *_of_springs(extra["springs"]),
        *_of_tests(shown),
    ]
    # What came after the newest test and session is told too, though no drawing reaches there.
    happened = sums.story(events, first, asked["to"] or today)
    return {
        "client": client,
        "today": today,
        "of": of,
        "words": measure_wording.words(of),
        "shown": shown,
        "first": first,
        "last": last,
        "goals": {
            side: charts.Line(goal.target_value, progress_wording.goal_line(of, goal, today))
            for side, goal in rows.goal_lines(person, client).get(of.id, {}).items()
        },
        "bad_times": _bad_times(stretches, spells),
        "days": between,
        "heads": {side: progress_wording.head(of, shown.sides.get(side)) for side in sums.SIDES},
        "gap_heading": progress_wording.gap_heading(of, shown),
        "gap": progress_wording.gap_strip(of, shown),
        "limit": chart_wording.limit_words(of) if of.limit else "",
        "limit_words": measure_wording.limit_words(of),
        "sources": [measure_wording.source_words(key) for key in of.sources],
        "changed": progress_wording.changed(of, shown, extra, today),
        "table": progress_wording.table(of, shown, today),
        "quality": quality,
        "names": names,
        "line": [
            progress_wording.happened(one, of, names, today) for one in sums.picked(happened, ON_THE_LINE)
        ],
        "happened": [progress_wording.happened(one, of, names, today) for one in happened[-IN_THE_LIST:]],
        "earlier": max(len(happened) - IN_THE_LIST, 0),
        "tabs": _tabs(client, of, asked),
        "ranges": _ranges(client, of, asked, today),
        "query": _query(of, asked),
        "form": asked["form"],
        "asked": asked,
        "at": "clients",
    }


def _between(person, client, first, last, days) -> dict:
    """Return what was done between two days: quality and springs of the exercises, their names, the sessions."""
    done = rows.done(person, client, first, last)
    quality, springs = sums.quality_rows(done), sums.springs_moved(done)
    keys = [row.exercise for row in quality] + [one.exercise for one in springs]
    return {
        "quality": quality,
        "springs": springs,
        "names": rows.exercise_names(person, keys),
        "sessions": len(days),
        "missed": sums.missed_weeks(days, first, last),
    }


def _first_taken(taken) -> str:
    """Return the measure to show where none was asked for: the first that was ever taken, else the first."""
    return next((key for key, found in taken.items() if found), next(iter(taken)))


def _ends(shown, days, asked, today) -> tuple[dt.date, dt.date]:
    """Return the days between which everything is shown: as asked, else from the first test to today's end."""
    tests = [test.on for test in (*shown.older, *shown.tests)]
    first = asked["from"] or (min(tests) if tests else min(days, default=today))
    newest = max([day for day in days if day <= today] + tests, default=today)
    last = asked["to"] or max(newest, first)
    return min(first, last), last


def _of_stretches(stretches) -> list[sums.Happened]:
    return [
        sums.Happened(
            one.first,
            "flare",
            {"what": "stretch", "condition": one.key, "side": one.side, "ended": one.ended},
            one.last if one.ended else None,
        )
        for one in stretches
    ]


def _of_spells(spells) -> list[sums.Happened]:
    return [
        sums.Happened(one.first, "flare", {"what": "spell", "spell": one}, one.last if one.ended else None)
        for one in spells
    ]


def _bad_times(stretches, spells) -> list[tuple]:
    """Return what is hatched: (side or '', first day, last day)."""
    return [(one.side, one.first, one.hatched_to) for one in stretches] + [
        ("", one.first, one.last) for one in spells
    ]


def _of_springs(moves) -> list[sums.Happened]:
    """Return the changes of springs, one point of the line a day."""
    by_day = {}
    for move in moves:
        by_day.setdefault(move.on, []).append(move)
    return [sums.Happened(day, "load", found) for day, found in by_day.items()]


def _of_tests(shown) -> list[sums.Happened]:
    found, before = [], None
    for test in shown.tests:
        found.append(
            sums.Happened(test.on, "test", {"test": test, "changes": _since(shown.measure, before, test)})
        )
        before = test
    return found


def _since(of, before, test) -> dict:
    """Return each side's change since the test before, where both have it."""
    if before is None:
        return {}
    pairs = {side: (before.side(side), test.side(side)) for side in sums.SIDES}
    return {side: measures.change(of, *pair) for side, pair in pairs.items() if None not in pair}


def _query(of, asked, **other) -> str:
    """Return the part of an address that asks for a measure and a stretch of days."""
    wanted = {"measure": of.id, "from": asked["from"], "to": asked["to"]} | other
    return urlencode({name: value for name, value in wanted.items() if value})


def _tabs(client, of, asked) -> list[dict]:
    place = reverse("sessions:progress", kwargs={"client": client.public_id})
    return [
        {
            "name": measure_wording.words(one).short,
            "url": f"{place}?{_query(one, asked)}",
            "current": one.id == of.id,
        }
        for one in measures.all_measures().values()
    ]


def _ranges(client, of, asked, today) -> list[dict]:
    """Return the usual stretches of days as links."""
    place = reverse("sessions:progress", kwargs={"client": client.public_id})
    year = today - dt.timedelta(days=365)
    wanted = (
        (_("All of it"), None),
        (_("12 months"), year),
        (_("3 months"), today - dt.timedelta(days=91)),
    )
    return [
        {
            "name": name,
            "url": f"{place}?{_query(of, asked, **{'from': first, 'to': None})}",
            "current": asked["from"] == first and asked["to"] is None,
        }
        for name, first in wanted
    ]


def _chart(context) -> charts.Chart:
    return chart_wording.chart(
        context["shown"],
        context["first"],
        context["last"],
        goals=context["goals"],
        bad_times=context["bad_times"],
        sessions=context["days"],
    )


def _drawn(context, paint) -> dict:
    """Return the drawings of the page, for wide and for tall screens."""
    shown, drawn, today = context["shown"], _chart(context), context["today"]
    return {
        "wide": chart_wording.panels(shown, drawn, charts.WIDE, paint, today, "wide"),
        "tall": chart_wording.panels(shown, drawn, charts.TALL, paint, today, "tall"),
        "gap_wide": chart_wording.gap(shown, drawn, charts.GAP_WIDE, paint, "wide"),
        "gap_tall": chart_wording.gap(shown, drawn, charts.GAP_TALL, paint, "tall"),
        "hatched": any(drawn.bands.values()),
        "stairs": _stairs(context, paint),
    }


def _printed(request, client, asked) -> dict:
    """Return what the printed page says and shows."""
    context, studio = _shown(request, client, asked), request.studio
    made = progress_sheet_wording.sheet(
        context["shown"],
        _chart(context),
        context,
        client=client.full_name,
        studio=studio.name,
        paper=studio.paper,
        today=context["today"],
    )
    return context | {"sheet": made}


def _stairs(context, paint) -> list[dict]:
    names = context["names"]
    return [
        {
            "name": names.get(row.exercise, ""),
            "drawn": chart_wording.steps(row, names, paint, f"steps-{place}"),
            "sides": progress_wording.quality_words(row),
            "times": len(row.times),
        }
        for place, row in enumerate(context["quality"])
    ]
