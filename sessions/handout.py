"""What a handout says, as plain values: the payload that is kept with its PDF for ever.

A payload is made once, by `build`, when a handout is issued; `as_json` and `from_json` take it to the
database and back without loss. It holds words for the client and nothing of the health record: no flag,
condition, reason or goal has a place in it, and `from_json` refuses keys it does not know.

Words that depend on the language (doses, days, dates, the stop box) are not in it: they are made from its
numbers and ISO dates when the page is set, in the payload's own language.
"""

from dataclasses import asdict, dataclass, fields
from datetime import date, timedelta
from typing import Any

from sessions.handout_limits import Limit, Limits, as_given, problems

SCHEMA = 1
FEWEST, MOST, MOST_AGREED = 2, 4, 6
PAPERS = ("a4", "letter")

# What left and right mean in an exercise: the library's words, and None for a bare left and right.
MEANINGS = (
    "working_leg",
    "stance_leg",
    "front_leg",
    "rear_leg",
    "working_arm",
    "bends_towards",
    "turns_towards",
    "upper_side",
    "support_side",
)

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


@dataclass(frozen=True)
class Count:
    """How much: so many times, or a hold in seconds, or a hold so many times. At least one is given."""

    times: int | None = None
    seconds: int | None = None


@dataclass(frozen=True)
class Dose:
    """Either `both` (work without sides), or `left` and `right`; one of the two may be missing.

    `means` says what left and right are (MEANINGS).
    """

    both: Count | None = None
    left: Count | None = None
    right: Count | None = None
    means: str | None = None

    @property
    def has_sides(self) -> bool:
        return self.both is None

    @property
    def drawn_side(self) -> str | None:
        """The side that the figures show: right work where there is any (figures are drawn so)."""
        if not self.has_sides:
            return None
        return "left" if self.right is None else "right"


@dataclass(frozen=True)
class Often:
    """Either `days` a week (1 to 7) or fixed `weekdays` (0 is Monday)."""

    days: int | None = None
    weekdays: tuple[int, ...] = ()


@dataclass(frozen=True)
class Item:
    """One exercise as the client is to do it. `pose` is the exercise's pose record, untouched."""

    exercise: str
    version: int
    name: str
    pose: dict[str, Any]
    dose: Dose
    often: Often
    how: str
    breath: str = ""
    easier: str = ""
    cue: str = ""
    adaptations: tuple[str, ...] = ()
    props: tuple[str, ...] = ()
    limits: Limits = Limits()

    @property
    def drawn_sides(self) -> tuple[str | None, ...]:
        """The sides that are drawn: both, left first, where they go differently far; else the one of the dose."""
        dose = self.dose
        if dose.left and dose.right and self.limits.of("left") != self.limits.of("right"):
            return ("left", "right")
        return (dose.drawn_side,)


@dataclass(frozen=True)
class Handout:
    """A whole handout. Dates are ISO text; `start` is the first day of the calendar's first row."""

    number: int
    version: int
    issued: str
    look_again: str | None
    start: str
    weeks: int
    language: str
    paper: str
    large: bool
    studio: str
    telephone: str
    emergency: str
    client: str
    when: str
    minutes: int | None
    items: tuple[Item, ...]


def build(
    *,
    number: int,
    version: int,
    issued: date,
    client: str,
    studio: str,
    telephone: str,
    emergency: str,
    items: list[dict],
    look_again: date | None = None,
    start: date | None = None,
    weeks: int = 2,
    language: str = "en-gb",
    paper: str = "a4",
    large: bool = False,
    when: str = "",
    minutes: int | None = None,
    more_agreed: bool = False,
) -> Handout:
    """Return the payload of a handout, or raise HandoutError with everything that is wrong.

    client: what to call them (a first name; never the full name). when: the moment it hangs on, as the
    instructor typed it ("after a walk"). minutes: the sum, rounded. start: any day, usually the day of
    issue; pass a Monday for rows of whole calendar weeks: days before `issued` stay blank.
    more_agreed: somebody said yes to more than MOST exercises.

    items: one dict each, keys as in Item:
        exercise, version, name, pose; how, breath, easier (the client's texts of that version);
        cue (the instructor's own), adaptations (whole sentences), props (names of things needed);
        dose: {"both": {"times": 8}} or {"left": {"seconds": 20}, "right": {"seconds": 20},
              "means": "working_leg"}; a count may hold times and seconds together (3 holds of 20 s);
        often: {"days": 4} or {"weekdays": [0, 2, 4]};
        limits: how far the client goes, by sides as sessions.own_limits keeps it; left out for the whole way.
    """
    handout = Handout(
        number=number,
        version=version,
        issued=_iso(issued),
        look_again=_iso(look_again) if look_again else None,
        start=_iso(start or issued),
        weeks=weeks,
        language=language,
        paper=paper,
        large=bool(large),
        studio=studio.strip(),
        telephone=telephone.strip(),
        emergency=emergency.strip(),
        client=client.strip(),
        when=when.strip(),
        minutes=minutes,
        items=tuple(_item(item) for item in items),
    )
    problems = list(_problems(handout, MOST_AGREED if more_agreed else MOST))
    if problems:
        raise HandoutError(problems)
    return handout


def as_json(handout: Handout) -> dict[str, Any]:
    """Return the payload as JSON types only: what is kept beside the PDF."""
    return {"schema": SCHEMA, **_listed(asdict(handout))}


def from_json(payload: dict[str, Any]) -> Handout:
    """Return the handout of a kept payload. Raises HandoutError for a key or value it does not know."""
    values = dict(payload)
    if values.pop("schema", None) != SCHEMA:
        raise HandoutError([("schema", "unknown", None)])
    _refuse_strangers(values, Handout, "")
    values["items"] = tuple(_item(item) for item in values.get("items", ()))
    try:
        handout = Handout(**values)
    except TypeError as error:
        raise HandoutError([("payload", "missing", None)]) from error
    problems = list(_problems(handout, MOST_AGREED))
    if problems:
        raise HandoutError(problems)
    return handout


def calendar(handout: Handout) -> tuple[tuple[date, ...], ...]:
    """Return the weeks of the tick calendar: `weeks` rows of seven dates, from `start` on."""
    first = date.fromisoformat(handout.start)
    return tuple(
        tuple(first + timedelta(days=7 * week + day) for day in range(7)) for week in range(handout.weeks)
    )


def marks(handout: Handout, item: Item, days: tuple[date, ...]) -> tuple[str, ...]:
    """Return what a row of the calendar holds on each day: "whole", "halves", "left", "right" or "".

    A day before the handout was issued is blank, and so is a day off.
    """
    first, issued = date.fromisoformat(handout.start), date.fromisoformat(handout.issued)
    shape = _shape(item.dose)
    return tuple(shape if day >= issued and is_on(item.often, first, day) else "" for day in days)


def is_on(often: Often, first: date, day: date) -> bool:
    """Say whether `day` is a day of practice, counting weeks from `first`.

    So many days a week without named days are spread as evenly as whole days allow: the days
    round(7 i / n), i from 0 to n - 1, of each week.
    """
    if often.weekdays:
        return day.weekday() in often.weekdays
    days = often.days or 7
    return (day - first).days % 7 in {round(7 * turn / days) for turn in range(days)}


def _shape(dose: Dose) -> str:
    if not dose.has_sides:
        return "whole"
    if dose.left is not None and dose.right is not None:
        return "halves"
    return "right" if dose.left is None else "left"


def _iso(day: date) -> str:
    if type(day) is not date:
        raise TypeError(f"a plain date is needed, not {day!r}")
    return day.isoformat()


def _listed(value):
    if isinstance(value, dict):
        return {key: _listed(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_listed(inner) for inner in value]
    return value


def _refuse_strangers(values: dict, kind: type, path: str) -> None:
    strangers = sorted(set(values) - {field.name for field in fields(kind)})
    if strangers:
        raise HandoutError([(f"{path}{name}", "unknown", None) for name in strangers])


def _made(kind: type, values: dict | None, path: str):
    """Return `kind` made of a dict, or None for nothing."""
    if values is None:
        return None
    _refuse_strangers(values, kind, path)
    return kind(**values)


def _item(values: dict) -> Item:
    _refuse_strangers(values, Item, "items.")
    dose, often = dict(values.get("dose") or {}), dict(values.get("often") or {})
    _refuse_strangers(dose, Dose, "dose.")
    counts = {side: _made(Count, dose.get(side), "dose.") for side in ("both", "left", "right")}
    often["weekdays"] = tuple(sorted(set(often.get("weekdays") or ())))
    texts = {key: str(values.get(key) or "").strip() for key in ("name", "how", "breath", "easier", "cue")}
    lists = {key: _sentences(values.get(key)) for key in ("adaptations", "props")}
    return Item(
        exercise=values.get("exercise", ""),
        version=values.get("version", 0),
        pose=values.get("pose") or {},
        dose=Dose(**counts, means=dose.get("means")),
        often=_made(Often, often, "often."),
        limits=_limits(values.get("limits")),
        **texts,
        **lists,
    )


def _limits(values: dict | None) -> Limits:
    sides = as_given(values)
    _refuse_strangers(sides, Limits, "limits.")
    return Limits(**{side: _made(Limit, limit, "limits.") for side, limit in sides.items()})


def _sentences(values) -> tuple[str, ...]:
    return tuple(text.strip() for text in values or () if text.strip())


def _problems(handout: Handout, most: int):
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
    for code in problems(item.limits):
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
