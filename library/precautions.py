"""The judge: what a client's flags say about an exercise on a date.

Plain computation over the rule table of `library.tables`. It flags movement demands for the
instructor's attention; it does not diagnose, and a clinician's word comes first.

How the answers combine:

- The strictest verdict wins over all flags; every reason is kept.
- A rule of a sided condition on a sided demand counts only where the demand loads the affected
  side. An unknown side, or both, counts as affected; so does every demand without sides.
- A clinician's instruction on a demand decides that demand in place of the table, stricter or laxer,
  through the day it names as 'until', on the side it names. Two on one demand: the stricter.
- An instruction on the exercise decides for the exercise as a whole. Stricter, it stands by itself.
  Laxer, it lowers what the table says of each demand to its own verdict, but not what a clinician
  says of one: a stricter word on a demand still shows and still counts.
- Where it is in doubt what a clinician meant, the instruction may make things stricter and lifts
  nothing: no verdict with it, a date later than the day that is judged, or a side 'unknown'.
- What the table does not know is never silent: a condition or a demand outside it, or an exercise
  that nobody has classified, answers 'watch' with a reason that says to ask. An instruction whose
  subject is no demand is taken for one on an exercise; `chips` shows it whatever it names.
"""

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType

from library import tables
from library.flag_dates import (
    LONG_AGO,
    ONE_SIDE,
    Clearance,
    clearance,
    flag_values,
    gestation,
    plain_date,
    window_end,
)
from library.standing import UNCLASSIFIED, Standing, ask, standing
from library.verdicts import (
    BY_RANK,
    RANK,
    Chip,
    DemandVerdict,
    Judgement,
    Reason,
    last_end,
    reason_order,
    strictest,
)

__all__ = [
    "LONG_AGO",
    "Chip",
    "Clearance",
    "DemandVerdict",
    "Judgement",
    "Reason",
    "chips",
    "clearance",
    "gestation",
    "judge",
    "strictest",
    "window_end",
]

OPPOSITE = {"left": "right", "right": "left"}
NO_CAPS = {sides: tuple((side, None) for side in sides) for sides in (("left",), ("right",), ONE_SIDE)}


def judge(flags, exercise, on, *, side=None, adaptations=(), supine_seconds=None, table=None) -> Judgement:
    """Judge one exercise for one client on one date.

    `flags`: the client's flags (see `library.flag_dates`). `exercise`: a library id, or any object
    with `id`, `demands` and `demand_sides`. `side`: what the record calls the side, 'left' or
    'right'; anything else judges both and the strictest counts. `supine_seconds`: planned length of
    the spell on the back; None is unknown and counts as long. `table`: a `library.tables.Table` or a
    mapping of its shape; None is the table as shipped.

    `adaptations` is accepted and changes nothing yet: which change takes which demand away is filled
    in by a later step. Until then the ordinary verdict stands, whatever was chosen.

    Raises LookupError for an exercise id that is not in the library and TypeError where `on` is no
    date; nothing about a client's flags raises.
    """
    table, day = _table(table), _day(on)
    spell = "short" if supine_seconds is not None and supine_seconds <= table.supine_limit_s else "long"
    flags_read = standing(tuple(map(flag_values, flags or ())), day, spell, table)
    exercise_id, demands, demand_sides = _exercise_facts(exercise)
    record_sides = (side,) if side in ONE_SIDE else ONE_SIDE

    whole = _whole(flags_read, exercise_id, demands is None, record_sides)
    caps = _caps(flags_read, exercise_id, record_sides)
    found = {
        demand: _demand_verdict(flags_read, table, demand, demand_sides.get(demand), caps)
        for demand in demands or ()
    }
    ranks = [RANK[part.verdict] for part in (*whole, *found.values())]
    return Judgement(
        verdict=BY_RANK[max(ranks, default=0)],
        demands=found,
        exercise_reasons=whole,
        exercise=exercise_id,
        on=day,
        side=side if side in ONE_SIDE else None,
        spell=spell,
        table_version=table.version,
    )


def chips(flags, on, *, table=None) -> list[Chip]:
    """Flags at a glance: one line per demand over all flags, whatever the exercise, strictest first.

    Within a verdict: a clinician's word on an exercise, what the table does not know, then demands
    with more reasons before those with fewer. A demand that a clinician has lifted to 'none' comes
    last. Time on the back counts as long.
    """
    table = _table(table)
    flags_read = standing(tuple(map(flag_values, flags or ())), _day(on), "long", table)
    subjects = [d for d in table.demands if d in flags_read.rules or d in flags_read.demand_words]
    found = [_demand_chip(flags_read, table, demand) for demand in subjects]
    for exercise_id, entries in flags_read.exercise_words.items():
        reasons = tuple(entry.reason for entry in entries)
        verdict = reasons[0].verdict
        found.append(Chip(verdict, reasons, exercise=exercise_id, until=last_end(reasons, verdict)))
    for condition in {reason.condition for reason in flags_read.asks}:
        reasons = tuple(reason for reason in flags_read.asks if reason.condition == condition)
        found.append(Chip("watch", reasons, condition=condition))
    return sorted(found, key=lambda chip: _chip_order(chip, table))


def _demand_chip(flags_read: Standing, table, demand) -> Chip:
    rules, words = flags_read.rules.get(demand, ()), flags_read.demand_words.get(demand, ())
    reasons, sides = _weigh(rules, words, NO_CAPS[ONE_SIDE])
    verdict = BY_RANK[max(sides.values())]
    side = None
    if table.is_sided(demand):
        if sides["left"] != sides["right"]:
            side = max(sides, key=sides.__getitem__)
        elif any(r.side for r in reasons if r.verdict == verdict and not r.outranked):
            side = "both"
    until = last_end(reasons, verdict)
    return Chip(verdict, reasons, demand, side=side, until=until, sides=_in_words(sides))


def _chip_order(chip: Chip, table) -> tuple:
    decides = sum(1 for r in chip.reasons if r.verdict == chip.verdict and not r.outranked)
    order = table.demand_order.get(chip.demand, -1)
    name = (chip.exercise or "", chip.condition or "")
    return (-RANK[chip.verdict], chip.demand is not None, -decides, order, *name)


def _whole(flags_read: Standing, exercise_id, unclassified, record_sides) -> tuple[Reason, ...]:
    """Reasons about the exercise as a whole: a clinician's word on it, and what the table does not know."""
    words = flags_read.exercise_words.get(exercise_id, ())
    if not words and not unclassified:
        return flags_read.asks
    reasons = [e.reason for e in words if any(getattr(e, side) for side in record_sides)]
    reasons.extend(flags_read.asks)
    if unclassified:
        reasons.append(ask(None, exercise=exercise_id, text=UNCLASSIFIED, code="unclassified"))
    return tuple(sorted(reasons, key=reason_order))


def _caps(flags_read: Standing, exercise_id, record_sides) -> tuple[tuple[str, int | None], ...]:
    """Per side of the record, the rank above which the table does not count for this exercise, or None."""
    words = [e for e in flags_read.exercise_words.get(exercise_id, ()) if e.rules]
    if not words:
        return NO_CAPS[record_sides]
    return tuple((side, _rank(words, side, default=None)) for side in record_sides)


def _rank(entries, side, default=0):
    return max((RANK[e.reason.verdict] for e in entries if getattr(e, side)), default=default)


def _demand_verdict(flags_read: Standing, table, demand, means, caps) -> DemandVerdict:
    """One demand, weighed once per client and day: many exercises load it alike."""
    key = (demand, means, caps)
    found = flags_read.memo.get(key)
    if found is None:
        found = flags_read.memo[key] = _new_demand_verdict(flags_read, table, demand, means, caps)
    return found


def _new_demand_verdict(flags_read: Standing, table, demand, means, caps) -> DemandVerdict:
    if demand not in table.demands:
        return DemandVerdict(demand, "watch", (ask(None, demand=demand),))
    sided = table.is_sided(demand)
    places = [(body, cap) for record, cap in caps for body in _loaded(means if sided else None, record)]
    rules, words = flags_read.rules.get(demand, ()), flags_read.demand_words.get(demand, ())
    reasons, sides = _weigh(rules, words, places)
    loads = None
    if sided:
        loads = "both" if len(sides) == 2 else next(iter(sides))
    verdict = BY_RANK[max(sides.values())]
    return DemandVerdict(demand, verdict, reasons, loads=loads, sides=_in_words(sides))


def _loaded(means: str | None, record_side: str) -> tuple[str, ...]:
    """The sides of the body that a demand loads, from what `demand_sides` says: 'named', 'other', 'both'."""
    if means == "named":
        return (record_side,)
    if means == "other":
        return (OPPOSITE[record_side],)
    return ONE_SIDE


def _weigh(rules, words, places) -> tuple[tuple[Reason, ...], dict[str, int]]:
    """Weigh the reasons at each place (side of the body, cap of the exercise or None).

    Returns the reasons that speak to any of the places, and the rank per side of the body. A rule is
    lifted where, at every place it speaks to, a clinician's laxer word stands in its stead.
    """
    ruling = [e for e in words if e.rules]
    adding = [e for e in words if not e.rules]
    sides, limits = {}, []
    for side, cap in places:
        word = _rank(ruling, side, default=None)
        limit = cap if word is None else word
        from_table = _rank(rules, side)
        if limit is not None:
            from_table = min(from_table, limit)
        sides[side] = max(sides.get(side, 0), from_table, word or 0, _rank(adding, side))
        limits.append((side, limit))
    reasons = [e.reason for e in words if any(getattr(e, side) for side, _ in places)]
    for entry in rules:
        here = [limit for side, limit in limits if getattr(entry, side)]
        if here:
            rank = RANK[entry.reason.verdict]
            lifted = all(limit is not None and rank > limit for limit in here)
            reasons.append(entry.reason.lifted() if lifted else entry.reason)
    return tuple(sorted(reasons, key=reason_order)), sides


def _in_words(sides: dict[str, int]) -> Mapping[str, str]:
    return MappingProxyType({side: BY_RANK[rank] for side, rank in sides.items()})


def _exercise_facts(exercise) -> tuple[str | None, tuple[str, ...] | None, Mapping[str, str]]:
    """Id, demands (None: not classified) and demand sides of an exercise given by id or as an object."""
    if isinstance(exercise, str):
        fact = tables.exercise(exercise)
        return fact["id"], fact["demands"], fact["demand_sides"]
    exercise_id = getattr(exercise, "id", None)
    demands = getattr(exercise, "demands", None)
    if demands is None and exercise_id in tables.exercises():
        return _exercise_facts(exercise_id)
    sides = getattr(exercise, "demand_sides", None) or {}
    return exercise_id, None if demands is None else tuple(demands), sides


def _table(table) -> tables.Table:
    if table is None:
        return tables.rule_table()
    return table if isinstance(table, tables.Table) else tables.Table(table)


def _day(on) -> date:
    day = plain_date(on)
    if day is None:
        raise TypeError(f"A verdict needs the date it is for, not {on!r}.")
    return day
