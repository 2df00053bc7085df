"""Home practice in words, through gettext: what is still needed, doses and days, handouts called back."""

import datetime as dt
from types import SimpleNamespace

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from library import vocabulary_wording
from sessions import home_rules, plan_wording, wording

# What may stand in for a thing at home (common practice, no source).
INSTEAD = {
    "band": gettext_lazy("A long towel or a belt stands in where it is pulled, not where it is pushed."),
    "small_ball": gettext_lazy("A firm cushion stands in."),
    "ring": gettext_lazy("A ball or a cushion between knees or palms stands in."),
    "roller": gettext_lazy("Lying down, a rolled towel stands in."),
    "sturdy_chair": gettext_lazy("To sit on, the edge of a bed stands in; to hold on to, nothing does."),
    "step": gettext_lazy("The lowest stair stands in where there is a rail."),
    "wall": gettext_lazy("A closed door stands in."),
}
# What an instructor asks before it goes on the page.
ASK = {
    "band": gettext_lazy("A loop or a flat one? Any latex allergy?"),
    "sturdy_chair": gettext_lazy("No wheels, and a floor that does not slip?"),
    "step": gettext_lazy("A rail or a wall within reach?"),
    "wall": gettext_lazy("Nothing hanging on it, no rug in front?"),
}
# What the choice of how often says for weekdays by name.
CHOSEN_DAYS = "days"
# A Monday, to name weekdays by.
_MONDAY = dt.date(2024, 1, 1)


def weekday(number: int) -> str:
    """Return a weekday in short, Monday is 0."""
    return date_format(_MONDAY + dt.timedelta(days=number), "D")


def weekday_choices() -> list[tuple[int, str]]:
    return [(number, weekday(number)) for number in range(7)]


def per_week_choices() -> list[tuple[str, str]]:
    return [
        ("7", _("Every day")),
        ("4", _("Four days")),
        ("3", _("Three days")),
        (CHOSEN_DAYS, _("On these days")),
    ]


def often(item: dict) -> str:
    """Return how often: 'every day', '4 days a week' or the days by name."""
    if item["per_week"] == 7 or (not item["per_week"] and len(item["days"]) == 7):
        return _("every day")
    if item["per_week"]:
        return ngettext("%(n)d day a week", "%(n)d days a week", item["per_week"]) % {"n": item["per_week"]}
    return ", ".join(weekday(number) for number in item["days"])


def dose(item: dict) -> str:
    """Return the dose in words: '8 times', '8 each side', '10 left, 8 right'."""
    return wording.dose(SimpleNamespace(**item))


def changes(item: dict) -> str:
    """Return what is changed for this client, as it will stand on the page."""
    return " ".join(
        [*map(vocabulary_wording.adaptation_at_home, item["adaptations"]), item["change"]]
    ).strip()


def needed_things(props) -> str:
    """Return 'needs a ring'; empty where nothing is missing."""
    names = [_("a %(thing)s") % {"thing": vocabulary_wording.home_prop(prop)} for prop in props]
    return _("needs %(things)s") % {"things": _(" and ").join(names)} if names else ""


def has_it_label(props) -> str:
    """Return the words beside the tick that the client has it after all."""
    names = ", ".join(vocabulary_wording.home_prop(prop) for prop in props)
    return _("They have it: %(things)s") % {"things": names}


def has_it_help(props) -> str:
    return " ".join(str(table[prop]) for prop in props for table in (ASK, INSTEAD) if prop in table)


def taught_label(facts: dict, on: dt.date | None) -> str:
    """Return what an instructor says yes to where no Steady is on record. on: the day it was said, or None."""
    if on:
        day = date_format(on, "DATE_FORMAT")
        if facts["level"] == "foundation":
            return _("Taught here on %(day)s") % {"day": day}
        return _("Seen done here at Steady or better by %(day)s") % {"day": day}
    return _("%(question)s Yes.") % {"question": taught_question(facts)}


def taught_question(facts: dict) -> str:
    if facts["level"] == "foundation":
        return _("Not yet done here at Steady or better: taught today?")
    return _("Not yet noted here at Steady or better: have you seen it done so?")


def need(code: str, row) -> str:
    """Return one thing that keeps a row from going home, as a short phrase. row: a HomeRow."""
    if code == home_rules.PROPS:
        return needed_things(row.missing)
    if code == home_rules.TAUGHT:
        return taught_question(row.facts)
    if code == home_rules.UNTRIED:
        return _("first done here with: %(change)s") % {
            "change": plan_wording.changes_words(row.verdict["carries"])
        }
    return {
        home_rules.AVOID: _("not for home now"),
        home_rules.CHANGE: _("needs a change in their words"),
        home_rules.BEYOND: _("a fifth exercise: needs your yes"),
    }[code]


def needs(row) -> list[str]:
    return [need(code, row) for code in row.needs]


def beyond_label() -> str:
    return _("A fifth exercise, all the same")


def beyond_help() -> str:
    return _("Two to four are done better than more.")


def off_paper(code: str) -> str:
    """Return what to say where an exercise cannot be put on a handout. code: see home_rules.off_paper."""
    return {
        home_rules.STUDIO_ONLY: _("That exercise is not for home. Choose one from the list."),
        home_rules.UNCLASSIFIED: _(
            "Not yet classified: say in the library what it asks of the body, then send it home."
        ),
        home_rules.NO_WORDS: _("Its words for the client are not written yet. Choose one from the list."),
        home_rules.NO_DRAWING: _("It is not drawn yet, so it cannot be printed. Choose one from the list."),
    }[code]


def refusal(code: str) -> str:
    """Return what to do at the field, where a form is sent without what it needs."""
    return {
        home_rules.AVOID: _("Avoid: this one cannot go home. Choose another."),
        home_rules.UNTRIED: _("Do it here once with this change and record it; then it may go home."),
        home_rules.CHANGE: _("Choose a change, or say one in their words."),
        home_rules.PROPS: _("Ask whether they have it, and tick. Or choose another exercise."),
        home_rules.TAUGHT: _("Tick this if it is so. If not, it goes home another time."),
        home_rules.BEYOND: _("Tick this if you mean it, or take one off the sheet first."),
    }[code]


def told(words: list[str]) -> str:
    """Return what to do where typed words tell what is on file."""
    named = ", ".join(_("“%(word)s”") % {"word": word} for word in words)
    return _("This page lies about at home. Leave out %(words)s.") % {"words": named}


def same_position(pairs: list[tuple[int, int]], order: list[str]) -> str:
    """Return what to say where exercises on the back follow each other. pairs: of places from 0; order: names."""
    named = ", ".join(_("%(one)d and %(other)d") % {"one": a + 1, "other": b + 1} for a, b in pairs)
    return _("On the back one after the other: %(rows)s. Changing positions: %(order)s.") % {
        "rows": named,
        "order": ", ".join(order),
    }


def no_change(pairs: list[tuple[int, int]]) -> str:
    """Return what to say where no order would change positions better. pairs: of places from 0."""
    named = ", ".join(_("%(one)d and %(other)d") % {"one": a + 1, "other": b + 1} for a, b in pairs)
    return _("On the back one after the other: %(rows)s. Put something on the side or sitting between.") % {
        "rows": named
    }


def untried(codes) -> str:
    """Return what would let an exercise go home that is to be avoided now."""
    changes = plan_wording.changes_words(codes)
    return _("%(change)s: once it was done here so, it may go home.") % {"change": changes}


def look_over(count: int, unsettled: list[int]) -> str:
    """Return what stands in the way of the handout; empty where nothing does."""
    if count < home_rules.FEWEST:
        return _("Two exercises at least")
    if count > home_rules.MOST_AGREED:
        return _("Five exercises at most")
    if unsettled:
        return _("Settle %(rows)s first") % {"rows": ", ".join(str(number) for number in unsettled)}
    return ""


def called_back(verdict: str) -> str:
    """Return what has become of exercises of a handout, to stand before their names."""
    return {
        "avoid": _("Now to be left out"),
        "modify": _("Now only with a change"),
        "watch": _("Now to be watched"),
    }[verdict]


def problem(field: str, code: str, number: int | None) -> str:
    """Return one reason why no handout can be made, by the codes of sessions.handout."""
    missing = {
        "telephone": _("The studio’s telephone number is missing. The owner adds it in the settings."),
        "emergency": _("The emergency number is missing. The owner adds it in the settings."),
        "client": _("What to call the client is missing. Add it with the contact."),
    }
    if code == "missing" and field in missing:
        return missing[field]
    if code == "order":
        return _("The day of looking again has gone by. Choose another.")
    if field == "items":
        return _("A handout holds two to five exercises.")
    head, _dot, rest = field.partition(".")
    place, _dot, part = rest.partition(".")
    if head == "items" and place.isdigit():
        return _exercise_problem(int(place) + 1, part, code, number)
    if code == "too_long":
        return _("Shorten it to %(n)d letters: %(field)s.") % {"n": number, "field": _part(head)}
    return _("The page cannot be made: %(field)s.") % {"field": _part(head)}


def _exercise_problem(place: int, part: str, code: str, number: int | None) -> str:
    words = {"place": place, "part": _part(part), "n": number}
    if code == "too_long":
        return _("Exercise %(place)d, %(part)s: shorten it to %(n)d letters.") % words
    if code == "too_many":
        return _("Exercise %(place)d, %(part)s: %(n)d at most.") % words
    return _("Exercise %(place)d cannot be printed: %(part)s.") % words


def _part(name: str) -> str:
    """Return a part of the page in words; one without words shows as it is called."""
    words = {
        "when": _("when in the day"),
        "client": _("what to call the client"),
        "studio": _("the studio’s name"),
        "look_again": _("the day of looking again"),
        "name": _("its name"),
        "pose": _("its drawing"),
        "how": _("how it is done"),
        "breath": _("its breath"),
        "easier": _("its easier way"),
        "cue": _("the cue"),
        "adaptations": _("the changes"),
        "props": _("what it needs"),
        "dose": _("the dose"),
        "often": _("how often"),
    }
    return words.get(name, name)
