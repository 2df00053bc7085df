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
from dataclasses import replace
from datetime import date
from types import MappingProxyType

from library import lifts, supine, tables
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
    "supine_spells",
    "window_end",
]

OPPOSITE = {"left": "right", "right": "left"}
NO_CAPS = {sides: tuple((side, None) for side in sides) for sides in (("left",), ("right",), ONE_SIDE)}


def judge(flags, exercise, on, *, side=None, adaptations=(), supine_seconds=None, table=None) -> Judgement:
    """Judge one exercise for one client on one date.

    `flags`: the client's flags (see `library.flag_dates`). `exercise`: a library id, or any object
    with `id`, `demands` and `demand_sides`, and `adaptations` and `sides` where they are others than
    the library says. `side`: what the record calls the side, 'left' or 'right'; anything else, and
    sides that alternate, judges both and the strictest counts. `adaptations`: codes chosen for this
    exercise; one that lifts nothing here, or that nobody knows, changes nothing. `supine_seconds`:
    planned length of the spell on the back (see `supine_spells`); None is unknown and counts as long.
    `table`: a `library.tables.Table` or a mapping of its shape; None is the table as shipped.

    Raises LookupError for an exercise id that is not in the library and TypeError where `on` is no
    date; nothing about a client's flags raises.
    """
    table, day = _table(table), _day(on)
    spell = "short" if supine_seconds is not None and supine_seconds <= table.supine_limit_s else "long"
    flags_read = standing(tuple(map(flag_values, flags or ())), day, spell, table)
    exercise_id, demands, demand_sides = _exercise_facts(exercise)
    effect = _effect(exercise, exercise_id, adaptations) if adaptations else lifts.NOTHING
    one_side = side in ONE_SIDE and not effect.both_sides and not _alternates(exercise, exercise_id)
    record_sides = (side,) if one_side else ONE_SIDE

    whole = _whole(flags_read, exercise_id, demands is None, record_sides)
    caps = _caps(flags_read, exercise_id, record_sides)
    found = {
        demand: _demand_verdict(flags_read, table, demand, demand_sides.get(demand), caps, effect)
        for demand in demands or ()
    }
    for demand, adaptation in effect.added.items():
        part = _demand_verdict(flags_read, table, demand, "both", caps, effect)
        found[demand] = part if demand in found else replace(part, added_by=adaptation)
    rank = max((RANK[part.verdict] for part in (*whole, *found.values())), default=0)
    return Judgement(
        verdict=BY_RANK[rank],
        demands=found,
        exercise_reasons=whole,
        exercise=exercise_id,
        on=day,
        side=side if side in ONE_SIDE else None,
        spell=spell,
        table_version=table.version,
        carries=_rests_on(found, rank) if effect.lifted else (),
    )


def supine_spells(plan, pace: float) -> list[int]:
    """Seconds of each spell flat on the back in a plan, in order (see `library.supine`).

    `plan`: in order, (exercise id, repetitions, adaptations) for an entry, a number for a pause off the
    back in seconds. Repetitions are per side; None is the middle of the usual range. `pace` stretches
    the bare time of an entry, e.g. 1.6. Raises LookupError for an id that is not in the library.
    """
    return supine.lengths(supine.pause(entry) if _is_pause(entry) else _entry(entry, pace) for entry in plan)


def _is_pause(entry) -> bool:
    return isinstance(entry, int | float)


def _entry(entry, pace) -> supine.Row:
    exercise_id, repetitions, adaptations = entry
    facts = tables.exercise(exercise_id)
    return supine.row(facts, supine.planned_seconds(facts, repetitions, pace), adaptations)


def _effect(exercise, exercise_id, adaptations) -> lifts.Effect:
    listed = None if isinstance(exercise, str) else getattr(exercise, "adaptations", None)
    effect = lifts.effect(lifts.chosen(exercise_id, adaptations, listed=listed))
    return _lying(effect) if supine.LIES_DOWN in lifts.codes(adaptations) else effect


def _lying(effect: lifts.Effect) -> lifts.Effect:
    """What is done lying after all is done on the back, whatever else was chosen (as in `supine.row`).

    No row says so: rows are there for adaptations that take a demand away.
    """
    flat = tables.rule_table().supine_demand
    lifted = {demand: ways for demand, ways in effect.lifted.items() if demand != flat}
    added = {flat: supine.LIES_DOWN, **effect.added}
    return effect._replace(lifted=MappingProxyType(lifted), added=MappingProxyType(added))


def _alternates(exercise, exercise_id) -> bool:
    """Do sides change every time, by the exercise's own word or else the library's?"""
    sides = None if isinstance(exercise, str) else getattr(exercise, "sides", None)
    return (sides or tables.exercises().get(exercise_id, {}).get("sides")) == "alternating"


def _rests_on(found: Mapping[str, DemandVerdict], rank: int) -> tuple[str, ...]:
    """The adaptations without which the exercise would be judged more strictly, each once."""
    resting = (part for part in found.values() if part.without and RANK[part.without] > rank)
    return tuple(dict.fromkeys(code for part in resting for code in _carried(part.reasons)))


def _carried(reasons) -> tuple[str, ...]:
    """The adaptations that soften some of the reasons, in the order of the reasons, each once."""
    return tuple(dict.fromkeys(reason.lifted_by for reason in reasons if reason.lifted_by))


def chips(flags, on, *, table=None) -> list[Chip]:
    """Flags at a glance: one line per demand over all flags, whatever the exercise, strictest first.

    Within a verdict: a clinician's word on an exercise, what the table does not know, then demands
    with more reasons before those with fewer. A demand that a clinician has lifted to 'none' comes
    last. Time on the back counts as long.
    """
    table = _table(table)
    flags_read = standing(tuple(map(flag_values, flags or ())), _day(on), "long", table)
    kept = flags_read.chips
    if not kept:
        kept[:] = _chips(flags_read, table)
    return list(kept)


def _chips(flags_read: Standing, table) -> list[Chip]:
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


def _demand_verdict(flags_read: Standing, table, demand, means, caps, effect) -> DemandVerdict:
    """One demand, weighed once per client and day: many exercises load it alike."""
    lifted = effect.lifted.get(demand, ())
    key = (demand, means, caps, lifted)
    found = flags_read.memo.get(key)
    if found is None:
        found = _new_demand_verdict(flags_read, table, demand, means, caps, lifted)
        flags_read.memo[key] = found
    return found


def _new_demand_verdict(flags_read: Standing, table, demand, means, caps, lifted) -> DemandVerdict:
    if demand not in table.demands:
        return DemandVerdict(demand, "watch", (ask(None, demand=demand),))
    sided = table.is_sided(demand)
    places = [(body, cap) for record, cap in caps for body in _loaded(means if sided else None, record)]
    rules, words = flags_read.rules.get(demand, ()), flags_read.demand_words.get(demand, ())
    reasons, sides = _weigh(rules, words, places, lifted)
    loads = None
    if sided:
        loads = "both" if len(sides) == 2 else next(iter(sides))
    verdict = BY_RANK[max(sides.values())]
    held = DemandVerdict(demand, verdict, reasons, loads=loads, sides=_in_words(sides))
    carried = _carried(r for r in reasons if r.verdict == verdict)
    if not carried:
        return held
    _, without = _weigh(rules, words, places)
    return replace(held, carries=carried[0], without=BY_RANK[max(without.values())])


def _loaded(means: str | None, record_side: str) -> tuple[str, ...]:
    """The sides of the body that a demand loads, from what `demand_sides` says: 'named', 'other', 'both'."""
    if means == "named":
        return (record_side,)
    if means == "other":
        return (OPPOSITE[record_side],)
    return ONE_SIDE


def _weigh(rules, words, places, lifted=()) -> tuple[tuple[Reason, ...], dict[str, int]]:
    """Weigh the reasons at each place (side of the body, cap of the exercise or None).

    Returns the reasons that speak to any of the places, and the rank per side of the body. A rule is
    overruled where, at every place it speaks to, a clinician's laxer word stands in its stead. One
    that is not, and is stricter than 'watch', is softened where an adaptation of `lifted` does so.
    """
    ruling = [e for e in words if e.rules]
    adding = [e for e in words if not e.rules]
    limits = [(side, cap, _rank(ruling, side, default=None)) for side, cap in places]
    limits = [(side, cap if word is None else word, word) for side, cap, word in limits]
    counting, reasons = [], [e.reason for e in words if any(getattr(e, side) for side, _ in places)]
    for entry in rules:
        here = [limit for side, limit, _ in limits if getattr(entry, side)]
        if not here:
            continue
        rank = RANK[entry.reason.verdict]
        if all(limit is not None and rank > limit for limit in here):
            reasons.append(entry.reason.overruled())
        else:
            entry = _softened(entry, lifted)
            reasons.append(entry.reason)
        counting.append(entry)
    sides = {}
    for side, limit, word in limits:
        from_table = _rank(counting, side)
        if limit is not None:
            from_table = min(from_table, limit)
        sides[side] = max(sides.get(side, 0), from_table, word or 0, _rank(adding, side))
    return tuple(sorted(reasons, key=reason_order)), sides


def _softened(entry, lifted):
    """The rule as it counts with the first adaptation that softens it, or as it is."""
    if not lifted or entry.reason.verdict == "watch":
        return entry
    for adaptation, not_for in lifted:
        if entry.reason.condition not in not_for:
            return entry._replace(reason=entry.reason.carried(adaptation))
    return entry


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
