"""What the progress page says, through gettext: changes, gaps, what happened, quality, the table."""

import datetime as dt

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from library import measure_wording
from library import wording as library_words
from sessions import record_wording
from sessions.progress import (
    Happened,
    Progress,
    QualityRow,
    SideStory,
    SpringsMoved,
    Test,
    behind,
    steps_moved,
)
from studio import wording as studio_wording

SIDES = ("left", "right")


def day(on: dt.date, today: dt.date) -> str:
    """Return a day without a year where it cannot be mistaken: within the last eleven months."""
    near = abs((today - on).days) < 335
    return date_format(on, "j M" if near else "j M Y")


def days(first: dt.date, last: dt.date | None, today: dt.date) -> str:
    """Return one day, or a stretch of days."""
    if last is None or last == first:
        return day(first, today)
    return _("%(first)s to %(last)s") % {"first": day(first, today), "last": day(last, today)}


def side_words(name: str) -> str:
    return str(studio_wording.SIDES[name])


def head(of, story: SideStory | None) -> dict | None:
    """Return a side's heading: newest value, its change since the first test, and what that rests on."""
    if story is None:
        return None
    return {
        "number": measure_wording.number(of, story.value),
        "unit": of.unit,
        "change": measure_wording.change_words(of, story.change) if story.change else _("one test so far"),
    }


def goal_line(of, goal, today: dt.date) -> str:
    """Return the words of a goal's line: 'Goal 10 cm by July', with the year where it is not the next one."""
    value = _("%(number)s %(unit)s") % {
        "number": measure_wording.limit_number(goal.target_value),
        "unit": of.unit,
    }
    if goal.target_on is None:
        return _("Goal %(value)s") % {"value": value}
    near = abs((goal.target_on - today).days) < 335
    return _("Goal %(value)s by %(when)s") % {
        "value": value,
        "when": date_format(goal.target_on, "F" if near else "F Y"),
    }


def gap_heading(of, shown: Progress) -> str:
    """Return 'Gap, 5.0 to 2.5 cm', or 'Gap, 2.5 cm' after one test of both sides."""
    if not shown.gaps:
        return _("Gap")
    first, last = (abs(gap.amount) for gap in (shown.gaps[0][1], shown.gaps[-1][1]))
    now = measure_wording.value_words(of, last)
    if len(shown.gaps) == 1:
        return _("Gap, %(now)s") % {"now": now}
    return _("Gap, %(first)s to %(now)s") % {"first": measure_wording.number(of, first), "now": now}


def gap_strip(of, shown: Progress) -> dict:
    """Return the gap in one line for a strip: words, the side behind and how plainly ('lot' or 'little')."""
    if not shown.gaps:
        return {"words": _("only one side taken"), "behind": ""}
    gap = shown.gaps[-1][1]
    said = measure_wording.gap_words(of, gap)
    if len(shown.gaps) > 1 and gap.kind == "differ":
        was = measure_wording.number(of, abs(shown.gaps[0][1].amount))
        said = _("%(gap)s, was %(was)s") % {"gap": said, "was": was}
    return {"words": said, "behind": gap.behind}


def sides_line(of, test: Test) -> str:
    """Return 'L 8.5 cm, R 11.0 cm', leaving out a side that was not taken."""
    said = [
        f"{studio_wording.SIDES_SHORT[name]} {measure_wording.value_words(of, test.side(name))}"
        for name in SIDES
        if test.side(name) is not None
    ]
    return ", ".join(said)


# What changed


def changed(of, shown: Progress, extra: dict, today: dt.date) -> list[str]:
    """Return what changed, in sentences: both sides, the gap, trends, quality, springs, sessions."""
    lines = [_side_line(of, story, today) for story in shown.sides.values()]
    if shown.gap_change:
        lines.append(_gap_line(of, shown))
    lines += [line for row in extra["quality"] if (line := quality_line(row, extra["names"]))]
    if extra["springs"]:
        lines.append(_springs_line(extra["springs"], extra["names"]))
    lines.append(_sessions_line(extra["sessions"], extra["missed"]))
    return lines


def _side_line(of, story: SideStory, today: dt.date) -> str:
    side = side_words(story.side)
    if story.change is None:
        value = measure_wording.value_words(of, story.value)
        return _("%(side)s: %(value)s on %(day)s, one test so far.") % {
            "side": side, "value": value, "day": day(story.last.on, today),
        }  # fmt: skip
    said = _("%(side)s, since %(day)s: %(sentence)s") % {
        "side": side,
        "day": day(story.first.on, today),
        "sentence": _lower(measure_wording.change_sentence(of, story.change)),
    }
    seen = ""
    if story.change.kind == "real":
        seen = (
            _("Seen in two tests running.")
            if story.confirmed
            else _("Seen once: test again before you lean on it.")
        )
    return " ".join(part for part in (said, seen, _trend(of, story)) if part)


def _gap_line(of, shown: Progress) -> str:
    gap, moved = shown.gaps[-1][1], shown.gap_change
    return _("Between the sides: %(gap)s. Since the first test: %(change)s.") % {
        "gap": measure_wording.gap_words(of, gap),
        "change": measure_wording.gap_change_words(of, moved),
    }


def _trend(of, story: SideStory) -> str:
    """Return the trend over all tests as a sentence; empty with too few to say."""
    if story.trend.kind == "too_few":
        return ""
    return _("Over all tests: %(trend)s.") % {"trend": measure_wording.trend_words(of, story.trend)}


def quality_line(row: QualityRow, names: dict) -> str:
    """Return how the steps of an exercise moved on each side; empty where nothing counts as changed."""
    said = []
    for place, side in enumerate(SIDES, start=1):
        moved = steps_moved([time[place] for time in row.times])
        if moved and moved.changed:
            values = {
                "side": _lower(side_words(side)),
                "first": _step(moved.first),
                "last": _step(moved.last),
            }
            said.append(_("%(side)s from %(first)s to %(last)s") % values)
    if not said:
        return ""
    return _("%(exercise)s: %(sides)s.") % {"exercise": names.get(row.exercise, ""), "sides": ", ".join(said)}


def quality_words(row: QualityRow) -> list[dict]:
    """Return for each side its steps in a sentence: first and newest, the middle, how often up, same, down."""
    found = []
    for place, side in enumerate(SIDES, start=1):
        moved = steps_moved([time[place] for time in row.times])
        if moved is None:
            found.append({"side": side, "words": _("noted once or not at all")})
            continue
        found.append(
            {
                "side": side,
                "words": _(
                    "%(first)s to %(last)s, the middle one %(middle)s: %(up)d up, %(same)d same, %(down)d down"
                )
                % {
                    "first": _step(moved.first),
                    "last": _step(moved.last),
                    "middle": _step(moved.middle),
                    "up": moved.up,
                    "same": moved.same,
                    "down": moved.down,
                },
            }
        )
    return found


def _step(value: int) -> str:
    return str(studio_wording.QUALITY[value])


def _springs_line(moves: list[SpringsMoved], names: dict) -> str:
    exercises = sorted({names.get(move.exercise, "") for move in moves})
    shown = ", ".join(exercises[:3])
    more = len(exercises) - 3
    if more > 0:
        shown = ngettext("%(names)s and %(n)d more", "%(names)s and %(n)d more", more) % {
            "names": shown,
            "n": more,
        }
    return _("Other springs than before: %(exercises)s.") % {"exercises": shown}


def _sessions_line(count: int, missed: int) -> str:
    said = ngettext("%(n)d session in this time.", "%(n)d sessions in this time.", count) % {"n": count}
    if not missed:
        return said
    weeks = ngettext("%(n)d week without one.", "%(n)d weeks without one.", missed) % {"n": missed}
    return f"{said} {weeks}"


def springs_words(springs) -> str:
    """Return springs in words: '2 heavy + 1 medium'."""
    return " + ".join(f"{count} {studio_wording.SPRING_GRADES[grade]}" for grade, count in springs)


# The story line


def happened(one: Happened, of, names: dict, today: dt.date) -> dict:
    """Return a point of the story line: kind, when, title and a line under it."""
    title, text = _TELL[one.kind](one.thing, of, names)
    return {"kind": one.kind, "when": days(one.on, one.until, today), "title": title, "text": text}


def _flare(thing, _of, _names):
    if thing["what"] == "incident":
        text = _("The session ended there.") if thing["stopped"] else _("The exercise ended there.")
        title = record_wording.sign_words(thing["sign"]) or _("Stopped")
        return _with_side(title, thing["side"]), text
    if thing["what"] == "spell":
        spell = thing["spell"]
        numbers = _("Pain %(most)d of 10, %(before)d before it.") % {
            "most": spell.most,
            "before": spell.before,
        }
        said = _("“%(words)s”") % {"words": spell.said} if spell.said else ""
        return _("Flare-up"), f"{said} {numbers}".strip()
    text = "" if thing["ended"] else _("Not over yet.")
    return _with_side(library_words.condition_label(thing["condition"]), thing["side"]), text


def _note(thing, _of, _names):
    return _with_side(thing["clinician"] or _("A clinician’s word"), thing["side"]), thing["words"]


def _load(moves, _of, names):
    first = moves[0]
    ways = {move.way for move in moves}
    title = {"up": _("Springs up"), "down": _("Springs down")}.get(
        ways.pop() if len(ways) == 1 else "", _("Springs changed")
    )
    text = _("%(exercise)s, %(before)s to %(after)s.") % {
        "exercise": names.get(first.exercise, ""),
        "before": springs_words(first.before),
        "after": springs_words(first.after),
    }
    more = len(moves) - 1
    if more:
        text += " " + ngettext("And %(n)d more.", "And %(n)d more.", more) % {"n": more}
    return title, text


def _test(thing, of, _names):
    test, changes = thing["test"], thing["changes"]
    said = [f"{sides_line(of, test)}."]
    for side, change in changes.items():
        if change.kind == "real":
            said.append(
                _("%(side)s %(change)s since the test before.")
                % {"side": side_words(side), "change": measure_wording.change_words(of, change)}
            )
    return _("Test %(n)d") % {"n": test.number}, " ".join(said)


def _goal(thing, _of, _names):
    titles = {"set": _("Goal set"), "reached": _("Goal reached"), "put_aside": _("Goal put aside")}
    return titles[thing["what"]], thing["words"]


_TELL = {"flare": _flare, "note": _note, "load": _load, "test": _test, "goal": _goal}


def _with_side(title: str, side: str) -> str:
    word = library_words.side_word(side) if side in ("left", "right") else ""
    return _("%(what)s, %(side)s") % {"what": title, "side": word} if word else title


# The table


def table(of, shown: Progress, today: dt.date) -> list[dict]:
    """Return the same numbers as rows, oldest first: number, day, both sides and the gap in words."""
    gaps = {test.number: gap for test, gap in shown.gaps}
    rows = []
    for test in sorted((*shown.older, *shown.tests), key=lambda one: one.number):
        gap = gaps.get(test.number)
        rows.append(
            {
                "number": test.number,
                "day": date_format(test.on, "j M Y"),
                **{
                    side: "–" if test.side(side) is None else measure_wording.value_words(of, test.side(side))
                    for side in SIDES
                },
                "gap": measure_wording.gap_words(of, gap) if gap else _no_gap(test, shown),
                "behind": behind(of, gap) if gap else "",
            }
        )
    return rows


def _no_gap(test: Test, shown: Progress) -> str:
    return _("taken in another way: not drawn") if test in shown.older else _("one side only")


def _lower(words: str) -> str:
    return words[:1].lower() + words[1:]
