"""The drawings of the progress page with their words: titles, descriptions, months, numbers under the axis."""

import datetime as dt
from dataclasses import replace

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from library import measure_wording
from sessions import chart_gap, chart_steps, chart_strips, charts, progress_wording
from sessions.progress import Progress, QualityRow, behind

SIDES = ("left", "right")


def chart(
    shown: Progress, first: dt.date, last: dt.date, *, goals=None, bad_times=(), sessions=()
) -> charts.Chart:
    """Return the chart of a measure between two days; a bad time (side, first, last) without a side is on both."""
    of = shown.measure
    long = (last - first).days > 366
    years = charts.spans_years(first, last)

    def month_words(on: dt.date) -> str:
        return date_format(on, "Y" if years or (long and on.month == 1) else "M")

    def tick_words(value, with_unit: bool) -> str:
        number = measure_wording.limit_number(value) if with_unit else measure_wording.number(of, value)
        number = f"−{measure_wording.limit_number(-value)}" if with_unit and value < 0 else number
        return _("%(number)s %(unit)s") % {"number": number, "unit": of.unit} if with_unit else number

    bands = {
        side: [
            charts.Band(begun, ended, _("Flare-up"))
            for whose, begun, ended in bad_times
            if whose not in SIDES or whose == side
        ]
        for side in SIDES
    }
    points = {
        side: [charts.Point(t.on, t.side(side)) for t in shown.tests if t.side(side) is not None]
        for side in SIDES
    }
    return charts.Chart(
        points=points,
        first=first,
        last=last,
        limit=of.limit,
        lowest=of.minimum if of.scale == "ratio" else None,
        goals=goals or {},
        bands=bands,
        sessions=sessions,
        tick_words=tick_words,
        month_words=month_words,
    )


def panels(
    shown: Progress,
    drawn: charts.Chart,
    frame: charts.Frame,
    paint,
    today: dt.date,
    name: str,
    *,
    axis_told: bool = False,
) -> dict:
    """Return left panel, axis and right panel. name: begins the ids, one for each drawing of a page.

    axis_told: the axis gets a title too, as every drawing of a tagged PDF needs one.
    """
    frame = frame if any(drawn.bands.values()) else replace(frame, top=18)
    found = {
        side: charts.panel(
            drawn,
            side,
            frame,
            paint,
            name=f"{name}-{side}",
            title=_panel_title(shown, side),
            desc=_panel_desc(shown, side, today),
        )
        for side in SIDES
    }
    told = _axis_told(drawn, name) if axis_told else {}
    return {**found, "axis": charts.axis(drawn, frame, paint, **told)}


def _axis_told(drawn: charts.Chart, name: str) -> dict:
    values = [drawn.tick_words(value, True) for value in charts.ticks(*charts.reach(drawn))]
    ends = {"low": values[0], "high": values[-1]}
    return {
        "name": f"{name}-axis",
        "title": _("Scale of both sides, %(low)s to %(high)s") % ends,
        "desc": ", ".join(values),
    }


def _panel_title(shown: Progress, side: str) -> str:
    words = measure_wording.words(shown.measure)
    return _("%(measure)s, %(side)s") % {
        "measure": words.name,
        "side": progress_wording.side_words(side).lower(),
    }


def _panel_desc(shown: Progress, side: str, today: dt.date) -> str:
    story = shown.sides.get(side)
    if story is None:
        return _("This side was not taken.")
    of = shown.measure
    count = sum(test.side(side) is not None for test in shown.tests)
    said = ngettext("%(n)d test.", "%(n)d tests.", count) % {"n": count}
    ends = [
        _("%(value)s on %(day)s") % {
            "value": measure_wording.value_words(of, test.side(side)),
            "day": progress_wording.day(test.on, today),
        }
        for test in dict.fromkeys((story.first, story.last))
    ]  # fmt: skip
    change = f" {measure_wording.change_sentence(of, story.change)}" if story.change else ""
    return f"{said} {', '.join(ends)}.{change}"


def gap(shown: Progress, drawn: charts.Chart, frame: charts.Frame, paint, name: str) -> str:
    """Return the drawing of the gap; empty while no test has both sides."""
    if not shown.gaps:
        return ""
    of = shown.measure
    points = [chart_gap.GapPoint(test.on, abs(one.amount), behind(of, one)) for test, one in shown.gaps]

    def words(size, unit: bool) -> str:
        return measure_wording.value_words(of, size) if unit else measure_wording.number(of, size)

    even = _("Even, under %(limit)s") % {"limit": limit_words(of)} if of.limit else ""
    newest = measure_wording.gap_sentence(of, shown.gaps[-1][1])
    return chart_gap.gap(
        drawn,
        points,
        frame,
        paint,
        words=words,
        even=even,
        name=f"{name}-gap",
        title=_("Gap between the sides"),
        desc=f"{progress_wording.gap_heading(of, shown)}. {newest}",
    )


def limit_words(of) -> str:
    return _("%(number)s %(unit)s") % {"number": measure_wording.limit_number(of.limit), "unit": of.unit}


def steps(row: QualityRow, names: dict, paint, name: str) -> str:
    """Return the stairs of an exercise on both sides."""
    times = [chart_steps.Time(*time) for time in row.times]
    said = [
        f"{progress_wording.side_words(one['side'])}: {one['words']}."
        for one in progress_wording.quality_words(row)
    ]
    return chart_steps.steps(
        times,
        paint,
        day_words=lambda on: date_format(on, "j M"),
        name=name,
        title=_("Quality of %(exercise)s, time by time") % {"exercise": names.get(row.exercise, "")},
        desc=" ".join(said),
    )


def strip(shown: Progress, paint, goals=None) -> dict:
    """Return a measure as a strip: name, the gap in a line, both values with what they were, and the drawing."""
    of, words = shown.measure, measure_wording.words(shown.measure)
    stories = shown.sides
    drawn = chart_strips.Strip(
        now={side: story.value for side, story in stories.items()},
        was={side: story.was for side, story in stories.items() if story.change},
        goals=goals or {},
    )
    gap = progress_wording.gap_strip(of, shown)
    sides = {
        side: {
            "now": measure_wording.value_words(of, story.value),
            "was": measure_wording.value_words(of, story.was) if story.change else "",
        }
        for side, story in stories.items()
    }
    said = [
        _("%(side)s %(value)s") % {"side": progress_wording.side_words(side), "value": values["now"]}
        for side, values in sides.items()
    ]
    return {
        "id": of.id,
        "name": words.name,
        "gap": gap,
        "sides": sides,
        "goal": bool(goals),
        "drawn": chart_strips.strip(
            drawn, paint, name=f"strip-{of.id}", title=words.name, desc=f"{', '.join(said)}: {gap['words']}."
        ),
    }
