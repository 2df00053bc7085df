"""What keeps a handout from being issued: too long, too many, missing or unknown. See sessions.handout."""

from datetime import date

from sessions.handout_limits import problems as limit_problems
from sessions.handout_parts import MEANINGS, Dose, Handout, Item

FEWEST, MOST, MOST_AGREED = 2, 4, 6
PAPERS = ("a4", "letter")

# Longest text of each kind, in characters. One exercise must fit on a page of large print and the one
# after it; the limits are ours.
LONGEST = {
    "studio": 120,
    "telephone": 40,
    "emergency": 40,
    "client": 300,
    "when": 120,
    "name": 120,
    "how": 480,
    "breath": 240,
    "easier": 240,
    "cue": 240,
    "adaptations": 240,
    "props": 40,
}
MOST_ADAPTATIONS, MOST_PROPS, MOST_WEEKS = 6, 6, 4


class HandoutError(ValueError):
    """A payload that may not be issued. `problems` holds (field, code, number) in the order found.

    field: a dotted path such as "items.0.cue"; code: one of "missing", "too_long", "too_few", "too_many",
    "unknown", "not_a_number", "not_a_date", "order"; number: the limit that was passed, or None.
    """

    def __init__(self, problems):
        self.problems = tuple(problems)
        super().__init__(
            "; ".join(f"{field}: {code} {number or ''}".strip() for field, code, number in problems)
        )


def found(handout: Handout, most: int):
    """Yield (field, code, number) for everything that keeps a handout from being issued."""
    for name in ("client", "studio", "telephone", "emergency"):
        if not getattr(handout, name):
            yield name, "missing", None
    for name in ("client", "studio", "telephone", "emergency", "when"):
        yield from _length(name, getattr(handout, name), name)
    for name, most_of_it in (("number", None), ("version", None), ("weeks", MOST_WEEKS), ("minutes", 120)):
        if not (name == "minutes" and handout.minutes is None):
            yield from _number(name, getattr(handout, name), most_of_it)
    if handout.paper not in PAPERS:
        yield "paper", "unknown", None
    if not handout.language:
        yield "language", "missing", None
    yield from _dates(handout)
    if len(handout.items) < FEWEST:
        yield "items", "too_few", FEWEST
    if len(handout.items) > most:
        yield "items", "too_many", most
    for place, item in enumerate(handout.items):
        yield from _item_problems(item, f"items.{place}.")


def _dates(handout: Handout):
    days = {}
    for name in ("issued", "start", "look_again"):
        text = getattr(handout, name)
        if text is None and name == "look_again":
            continue
        try:
            days[name] = date.fromisoformat(text)
        except (TypeError, ValueError):
            yield name, "not_a_date", None
    if "look_again" in days and "issued" in days and days["look_again"] < days["issued"]:
        yield "look_again", "order", None


def _item_problems(item: Item, path: str):
    for name in ("exercise", "name", "pose", "how"):
        if not getattr(item, name):
            yield path + name, "missing", None
    for name in ("name", "how", "breath", "easier", "cue"):
        yield from _length(path + name, getattr(item, name), name)
    for name, most in (("adaptations", MOST_ADAPTATIONS), ("props", MOST_PROPS)):
        if len(getattr(item, name)) > most:
            yield path + name, "too_many", most
        for text in getattr(item, name):
            yield from _length(path + name, text, name)
    yield from _number(path + "version", item.version, None)
    yield from _dose_problems(item.dose, path + "dose")
    for code in limit_problems(item.limits):
        yield path + "limits", code, None
    often = item.often
    if bool(often.weekdays) == (often.days is not None):
        yield path + "often", "missing" if often.days is None else "too_many", None
    elif often.weekdays and not set(often.weekdays) <= set(range(7)):
        yield path + "often", "unknown", None
    elif often.days is not None:
        yield from _number(path + "often", often.days, 7)


def _dose_problems(dose: Dose, path: str):
    sides = [count for count in (dose.left, dose.right) if count is not None]
    if dose.both is not None and sides:
        yield path, "too_many", 1
    counts = [count for count in (dose.both, *sides) if count is not None]
    if not counts:
        yield path, "missing", None
    if dose.means is not None and dose.means not in MEANINGS:
        yield path, "unknown", None
    for count in counts:
        if count.times is None and count.seconds is None:
            yield path, "missing", None
        if count.times is not None:
            yield from _number(path, count.times, 100)
        if count.seconds is not None:
            yield from _number(path, count.seconds, 600)


def _length(field: str, text: str, kind: str):
    if len(text) > LONGEST[kind]:
        yield field, "too_long", LONGEST[kind]


def _number(field: str, value, most: int | None):
    if not isinstance(value, int) or isinstance(value, bool) or value < 1:
        yield field, "not_a_number", None
    elif most is not None and value > most:
        yield field, "too_many", most
