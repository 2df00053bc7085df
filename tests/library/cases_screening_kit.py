"""Builders for the verdict cases, and the words the cases are written in.

The forty demand ids and the nineteen that have a left and a right are typed here by hand from the closed
list of demands (a working definition of this trade: common practice, no source), so that a demand added or
lost elsewhere shows.
"""

from datetime import date
from types import SimpleNamespace

UNSIDED = (
    "loaded_spinal_flexion",
    "end_range_spinal_flexion",
    "spinal_extension_end_range",
    "spinal_extension_loaded",
    "end_range_rotation",
    "loaded_rotation",
    "lateral_flexion_loaded",
    "leg_lowering_long_lever",
    "head_lifted_neck_flexion",
    "neck_end_range",
    "neck_shoulder_weight_bearing",
    "inversion",
    "prone_lying",
    "supine_lying_long",
    "rapid_position_change",
    "jump_impact",
    "breath_hold_strain",
    "near_maximal_effort",
    "sustained_vigorous_pace",
    "standing_balance",
    "elevated_unstable_platform",
)

SIDED = (
    "side_lying",
    "kneeling_load",
    "wrist_weight_bearing",
    "isometric_grip",
    "overhead_reach",
    "shoulder_loaded_end_range",
    "shoulder_weight_bearing",
    "arm_push_pull_loaded",
    "hip_flexion_past_90",
    "hip_adduction_past_midline",
    "hip_internal_rotation",
    "hip_external_rotation_end_range",
    "hip_end_range_extension",
    "hip_wide_abduction",
    "deep_knee_flexion_loaded",
    "knee_locked_extension_loaded",
    "closed_chain_single_leg",
    "ankle_end_range_loaded",
    "passive_end_range_stretch",
)

DEMANDS = UNSIDED + SIDED

STRICTEST_FIRST = ("avoid", "modify", "watch", "none")


def flag(
    condition=None,
    *,
    instruction=None,
    verdict=None,
    words=None,
    by=None,
    until=None,
    side=None,
    on=None,
    due=None,
):
    """One flag of a client: a condition of the table, or a clinician's instruction.

    `on` is an ISO date, 'long_ago' or None (not known); `until` and `due` are ISO dates or None.
    """
    return SimpleNamespace(
        condition=condition,
        instruction=instruction,
        verdict=verdict,
        words=words,
        by=by,
        until=_day(until),
        side=side,
        on=on if on == "long_ago" else _day(on),
        due=_day(due),
    )


def ex(id, demands, demand_sides=None):
    """An exercise that is in no library: its id, its demands and the side each sided demand loads."""
    return SimpleNamespace(id=id, demands=list(demands), demand_sides=dict(demand_sides or {}))


def case(id, source, *, flags, exercise, on, verdict, side=None, demands=None):
    """One case: who (`flags`) does what (`exercise`) when (`on`, ISO date), and the verdict expected.

    `side` is what the record calls the side, None for both. Demands not named in `demands` are not checked.
    """
    return {
        "id": id,
        "source": source,
        "flags": list(flags),
        "exercise": exercise,
        "on": _day(on),
        "side": side,
        "verdict": verdict,
        "demands": dict(demands or {}),
    }


def want(avoid="", modify="", watch=""):
    """The verdicts of one condition over all forty demands; whatever is not named must have no rule."""
    verdicts = {}
    for verdict, ids in (("avoid", avoid), ("modify", modify), ("watch", watch)):
        for demand in ids.split():
            if demand not in DEMANDS or demand in verdicts:
                raise ValueError(f"{demand}: unknown or named twice")
            verdicts[demand] = verdict
    return {demand: verdicts.get(demand, "none") for demand in DEMANDS}


NOTHING = want()


def one(demand, verdict):
    """A single expected demand, and the exercise's own verdict, which must be the same."""
    return {"verdict": verdict, "demands": {demand: verdict}}


def ongoing(condition, source, wanted):
    """The cases of a condition that has no left and right and no date."""
    return [_sheet(f"{condition}-ongoing", source, wanted, flag(condition))]


def ongoing_sided(condition, source, wanted, *, other):
    """The cases of a left-sided condition without a date; `other` is expected when the right side works."""
    mine = flag(condition, side="left")
    return [
        _sheet(f"{condition}-ongoing-same-side", source, wanted, mine, side="left"),
        _sheet(f"{condition}-ongoing-other-side", source, other, mine, side="right"),
        _sheet(
            f"{condition}-ongoing-side-unknown", source, wanted, flag(condition, side="unknown"), side="right"
        ),
    ]


def windowed(condition, source, event, rows, *, unknown, long_ago, side=None, other=None):
    """The cases of a condition with a date.

    `rows` are (whole days since the event, ISO date of the session, verdicts expected). The two must agree:
    a slip of the pen raises ValueError. Day -1 is a session before the event. `other` is one more row, for
    the side that is not affected.
    """
    mine = flag(condition, on=event, side=side)
    cases = []
    for days, on, wanted in rows:
        _agree(condition, event, on, days)
        cases.append(_sheet(f"{condition}-day-{days}", source, wanted, mine, on=on, side=side))
    if other:
        days, on, wanted = other
        _agree(condition, event, on, days)
        cases.append(_sheet(f"{condition}-day-{days}-other-side", source, wanted, mine, on=on, side="right"))
    cases.append(_sheet(f"{condition}-date-unknown", source, unknown, flag(condition, side=side), side=side))
    cases.append(
        _sheet(
            f"{condition}-long-ago", source, long_ago, flag(condition, on="long_ago", side=side), side=side
        )
    )
    return cases


def pregnant(source, due, rows, *, unknown=None, name="pregnancy"):
    """The cases of a pregnancy due on `due`; `rows` are (age as 16w0d, ISO date of the session, verdicts).

    The age is 280 days less the days that are left, and must agree with the date (standard obstetric dating).
    """
    cases = []
    for age, on, wanted in rows:
        weeks, days = age.rstrip("d").split("w")
        _agree(name, on, due, 280 - 7 * int(weeks) - int(days))
        cases.append(_sheet(f"{name}-{age}", source, wanted, flag("pregnancy", due=due), on=on))
    if unknown:
        cases.append(_sheet(f"{name}-due-date-unknown", source, unknown, flag("pregnancy")))
    return cases


def _sheet(id, source, wanted, mine, *, on="2026-11-25", side=None):
    """One flag against an exercise that makes all forty demands, on the recorded side where there is one."""
    loaded = "named" if side else "both"
    everything = ex("x", DEMANDS, dict.fromkeys(SIDED, loaded))
    verdict = min(wanted.values(), key=STRICTEST_FIRST.index)
    return case(
        id, source, flags=[mine], exercise=everything, on=on, side=side, verdict=verdict, demands=wanted
    )


def _agree(condition, event, on, days):
    """Raise ValueError unless `on` is `days` whole days after `event`."""
    counted = (_day(on) - _day(event)).days
    if counted != days:
        raise ValueError(f"{condition}: {on} is {counted} days after {event}, not {days}")


def _day(text):
    """An ISO date as a date; None stays None."""
    return None if text is None else date.fromisoformat(text)
