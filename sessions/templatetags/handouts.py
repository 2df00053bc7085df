"""The words and figures of a printed handout, made from its payload.

`{% handout_sheet payload as sheet %}` gives the template its pages. Everything a person typed is a plain
string that the template escapes; the only ready-made markup is the drawn figures and the stop box.
"""

import re
from dataclasses import replace
from datetime import date
from html import unescape

from django import template
from django.utils import translation
from django.utils.dates import WEEKDAYS, WEEKDAYS_ABBR
from django.utils.formats import date_format
from django.utils.html import conditional_escape, format_html, strip_tags
from django.utils.text import Truncator, capfirst
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sessions import handout, handout_checks, handout_layout
from sessions.templatetags import handout_figures

register = template.Library()
RUNNING = 40


@register.simple_tag
def handout_sheet(payload):
    """Return a dict for templates/handouts/handout.html: language, texts and pages of a Handout."""
    with translation.override(payload.language):
        return _sheet(payload)


def side_words(means: str | None) -> tuple[str, str]:
    """Return the words for left and right of an exercise, by what its sides mean."""
    return {
        "working_leg": (_("left leg"), _("right leg")),
        "stance_leg": (_("standing on left"), _("standing on right")),
        "front_leg": (_("left leg in front"), _("right leg in front")),
        "rear_leg": (_("left leg behind"), _("right leg behind")),
        "working_arm": (_("left arm"), _("right arm")),
        "bends_towards": (_("bend left"), _("bend right")),
        "turns_towards": (_("turn left"), _("turn right")),
        "upper_side": (_("left side up"), _("right side up")),
        "support_side": (_("left arm down"), _("right arm down")),
    }.get(means, (_("left"), _("right")))


def dose_words(dose) -> dict:
    """Return {"both": "8 times"} or {"left": "left leg 6", "right": "right leg 6"} (either may be missing).

    "rounds" is there when both sides hold equally often: "2 times each side", said once.
    """
    if not dose.has_sides:
        return {"both": _amount(dose.both, bare=False)}
    counts = [count for count in (dose.left, dose.right) if count]
    rounds = {count.times if count.seconds else None for count in counts}
    once = len(rounds) == 1 and None not in rounds and len(counts) == 2
    words = {
        key: f"{word} {_amount(replace(count, times=None) if once else count, bare=True)}"
        for key, word, count in zip(
            ("left", "right"), side_words(dose.means), (dose.left, dose.right), strict=True
        )
        if count
    }
    times = rounds.pop()
    if once and times > 1:
        words["rounds"] = ngettext("%d time each side", "%d times each side", times) % times
    return words


def often_words(often) -> str:
    """Return how often: "every day", "four days a week" or the days by name."""
    if often.weekdays and len(often.weekdays) < 7:
        return ", ".join(str(WEEKDAYS_ABBR[day]) for day in often.weekdays)
    return {
        1: _("one day a week"),
        2: _("two days a week"),
        3: _("three days a week"),
        4: _("four days a week"),
        5: _("five days a week"),
        6: _("six days a week"),
    }.get(often.days, _("every day"))


def _amount(count, *, bare: bool) -> str:
    """Return a count in words; `bare` leaves "times" out, where the side's name stands before it."""
    seconds = ngettext("%d second", "%d seconds", count.seconds) % count.seconds if count.seconds else ""
    if count.times is None or (seconds and count.times == 1):
        return seconds
    if bare and not seconds:
        return str(count.times)
    times = ngettext("%d time", "%d times", count.times) % count.times
    return _("{times} {seconds}").format(times=times, seconds=seconds) if seconds else times


def _sheet(payload) -> dict:
    sizes = handout_layout.MEASURES[payload.paper, payload.large]
    exercises = [_exercise(number, item) for number, item in enumerate(payload.items, 1)]
    opening, stop, foot = _opening(payload), _stop(payload), _foot(payload)
    running = _running(payload)
    words = handout_layout.Words(
        exercises=tuple(
            (each["title"], each["dose_pieces"], each["runs"], each["shape"]) for each in exercises
        ),
        rows=tuple(item.name for item in payload.items),
        weeks=payload.weeks,
        opening=tuple(opening),
        sender=() if payload.large else (payload.studio, payload.telephone),
        head=running,
        stop=tuple(_runs(paragraph) for paragraph in stop),
        foot=tuple(foot(9, 9)),
        sides=tuple(len(item.drawn_sides) for item in payload.items),
    )
    plan = handout_layout.plan(words, sizes)
    last = len(plan.pages)
    pages = []
    for number, blocks in enumerate(plan.pages, 1):
        whole = number == last or not payload.large
        pages.append(
            {
                "first": number == 1,
                "blocks": [_block(block, exercises, payload, sizes) for block in blocks],
                "stop": stop if whole else stop[:1],
                "foot": foot(number, last)[: 3 if whole else 2],
                "stack": " two" if plan.foot_stacked and whole else "",
                "foot_is_new": number == 1 or (payload.large and whole),
            }
        )
    return {
        "language": payload.language,
        "title": _("Home practice from {studio}, {date}").format(
            studio=payload.studio, date=date_format(date.fromisoformat(payload.issued))
        ),
        "issued": payload.issued,
        "paper": payload.paper,
        "large": payload.large,
        "client": payload.client,
        "studio": payload.studio,
        "telephone": payload.telephone,
        "opening": opening,
        "running": running,
        "pages": pages,
    }


def _opening(payload) -> list[str]:
    """Return the lines under the title."""
    what = {"client": payload.client, "minutes": payload.minutes, "when": payload.when.rstrip(". ")}
    if payload.minutes and payload.when:
        line = ngettext(
            "For {client}. About {minutes} minute, {when}.",
            "For {client}. About {minutes} minutes, {when}.",
            payload.minutes,
        )
    elif payload.minutes:
        line = ngettext(
            "For {client}. About {minutes} minute.", "For {client}. About {minutes} minutes.", payload.minutes
        )
    else:
        line = _("For {client}. When: {when}.") if payload.when else _("For {client}.")
    lines = [line.format(**what)]
    return [*lines, f"{payload.studio}, {payload.telephone}"] if payload.large else lines


def _running(payload) -> tuple[str, str]:
    """Return the head of later pages. It only repeats, so a very long name or studio is cut short here."""
    client, studio = (Truncator(text).chars(RUNNING) for text in (payload.client, payload.studio))
    sender = payload.telephone if payload.large else f"{studio}, {payload.telephone}"
    return _("Home practice for {client}").format(client=client), sender


def _stop(payload) -> list[str]:
    """Return the paragraphs of the stop box: urgent signs with the emergency number always first."""
    return [
        format_html(
            _(
                '<b>Stop and call the emergency number, <span class="nb">{emergency}</span>,</b> if you have '
                "chest pain, sudden weakness, trouble speaking, or new numbness between the legs."
            ),
            emergency=payload.emergency,
        ),
        format_html(
            _(
                '<b>Stop and ring us, <span class="nb">{telephone}</span>,</b> if you feel faint, an arm or leg '
                "tingles or is numb, or pain is new, lasts an hour or is worse next day."
            ),
            telephone=payload.telephone,
        ),
        conditional_escape(_("This page does not replace advice from your doctor or physiotherapist.")),
    ]


def _runs(markup: str) -> tuple[tuple[bool, str], ...]:
    """Return a paragraph of the stop box as (bold, text): every other piece between b tags is bold."""
    pieces = re.split(r"</?b>", markup)
    return tuple((place % 2 == 1, unescape(strip_tags(piece))) for place, piece in enumerate(pieces))


def _foot(payload):
    issued = date_format(date.fromisoformat(payload.issued))
    made = _("handout {number}, version {version}, issued {date}").format(
        number=payload.number, version=payload.version, date=issued
    )
    again = ""
    if payload.look_again:
        day = date_format(date.fromisoformat(payload.look_again), "MONTH_DAY_FORMAT")
        again = _("we look at it again on {date}").format(date=day)

    def pieces(number: int, last: int) -> list[str]:
        page = _("page {number} of {last}").format(number=number, last=last)
        return [page, made, again] if again else [page, made]

    return pieces


def _exercise(number: int, item) -> dict:
    """Return one exercise: its title, figures, dose and paragraphs, as markup and as plain text."""
    dose = dose_words(item.dose)
    often = ", ".join(words for words in (dose.pop("rounds", ""), often_words(item.often)) if words)
    paragraphs = _paragraphs(item)
    return {
        "title": f"{number}. {item.name}",
        "item": item,
        "dose": dose,
        "often": often,
        "dose_pieces": (*dose.values(), often),
        "shape": handout_figures.shape(item),
        "paragraphs": paragraphs,
        "runs": tuple(tuple((bool(kind), text) for kind, text in parts) for parts in paragraphs),
    }


def _paragraphs(item) -> list[list[tuple[str, str]]]:
    """Return paragraphs of (kind, text) runs; kind "strong" is set bold.

    Adaptations stand in the sentence flow of their exercise, in bold, unless that would make one long block.
    """
    how = [("", text) for text in (item.how, item.cue) if text]
    far = handout_figures.how_far(item, side_words(item.dose.means))
    adaptations = [("strong", text) for text in (*far, *item.adaptations)]
    if sum(len(text) for _kind, text in how + adaptations) > handout_checks.LONGEST["how"]:
        paragraphs = [[run] for run in how + adaptations]
    else:
        paragraphs = [how + adaptations]
    for label, text in (
        (_("You need."), capfirst(", ".join(item.props)) + "." if item.props else ""),
        (_("Breath."), item.breath),
        (_("Easier."), item.easier),
    ):
        if text:
            paragraphs.append([("strong", label), ("", text)])
    return paragraphs


def _block(block, exercises: list[dict], payload, sizes) -> dict:
    if block.kind == "calendar":
        return {"kind": "calendar", **_calendar(block.weeks, payload)}
    exercise, (start, stop) = exercises[block.index], block.paragraphs
    made = {"kind": block.kind, **exercise, "paragraphs": exercise["paragraphs"][start:stop]}
    if block.kind == "exercise":
        figures = handout_figures.rows(exercise["item"], sizes.figure, block.panel - sizes.frame)
        made |= {"figures": figures, "panel": block.panel}
    else:
        made["title"] = _("{title}, continued").format(title=exercise["title"])
    return made


def _calendar(weeks: tuple[int, ...], payload) -> dict:
    rows = handout.calendar(payload)
    days = tuple(day for week in weeks for day in rows[week])
    return {
        "heading": weeks[0] == 0,
        "sided": any(item.dose.has_sides for item in payload.items),
        "days": [
            {"letter": str(WEEKDAYS[day.weekday()])[:1], "number": day.day, "turn": place and place % 7 == 0}
            for place, day in enumerate(days)
        ],
        "rows": [
            {
                "name": item.name,
                "cells": [
                    {"mark": mark, "turn": place and place % 7 == 0}
                    for place, mark in enumerate(handout.marks(payload, item, days))
                ],
            }
            for item in payload.items
        ],
    }
