"""What a handout says, as plain values: the payload that is kept with its PDF for ever.

A payload is made once, by `build`, when a handout is issued; `as_json` and `from_json` take it to the
database and back without loss. It holds words for the client and nothing of the health record: no flag,
condition, reason or goal has a place in it, and `from_json` refuses keys it does not know.

Words that depend on the language (doses, days, dates, the stop box) are not in it: they are made from its
numbers and ISO dates when the page is set, in the payload's own language.
"""

from dataclasses import asdict, fields
from datetime import date, timedelta
from typing import Any

from sessions import handout_checks
from sessions.handout_checks import MOST, MOST_AGREED, HandoutError
from sessions.handout_limits import Limit, Limits, as_given
from sessions.handout_parts import Count, Dose, Handout, Item, Often

SCHEMA = 1


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
    problems = list(handout_checks.found(handout, MOST_AGREED if more_agreed else MOST))
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
    try:
        values["items"] = tuple(_item(item) for item in values.get("items", ()))
        handout = Handout(**values)
    except TypeError as error:
        raise HandoutError([("payload", "missing", None)]) from error
    problems = list(handout_checks.found(handout, MOST_AGREED))
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
