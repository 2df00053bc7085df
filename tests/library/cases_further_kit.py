"""Builders for the further verdict cases: exercises of the library, adaptations, minutes on the back.

A case is the one of `cases_screening_kit.case`, which this reuses, with more keys:

`adaptations`    codes chosen for the exercise.
`supine_seconds` planned seconds of the spell on the back; None is not known and counts as long.
`springs`        grade hooked on, or None.
`between`        (start position before, start position of the exercise, seconds in between), or None.
`holds`          the adaptation that a demand's verdict carries, per demand named in `demands`; None for none.
`carries`        the adaptations the exercise's verdict rests on: without them it would be stricter.

Expected verdicts are typed by hand from published advice as laid out in the condition tables ('screening Rnnn'
is the line there, 'Snn' and 'Mnn' its publication, found or from memory; 'screening 4.1' how lines combine and
minutes add up; 'lifts Lnn' the row of an adaptation; 'sides', 'demands', 'springs' how exercises are classified;
'CP': common practice, no source).
"""

from datetime import date, timedelta

from .cases_screening_kit import case, flag

TODAY = date(2026, 11, 25)


def had(condition, days=None, side=None):
    """A flag: an event so many days ago (negative: still to come), 'ago' for long ago, None not known."""
    if days == "ago":
        return flag(condition, on="long_ago", side=side)
    on = None if days is None else (TODAY - timedelta(days=days)).isoformat()
    return flag(condition, on=on, side=side)


def weeks(condition, number, side=None):
    """A flag: an event so many whole weeks ago."""
    return had(condition, 7 * number, side)


def pregnant(age):
    """A pregnancy of an age such as 16w0d: 280 days at the due date (screening 3.1, S30)."""
    whole, days = age.rstrip("d").split("w")
    left = 280 - 7 * int(whole) - int(days)
    return flag("pregnancy", due=(TODAY + timedelta(days=left)).isoformat())


def word(about, verdict, *, side=None, until=None):
    """A clinician's instruction on a demand or an exercise; `until` in days from today, the last day it holds."""
    last = None if until is None else (TODAY + timedelta(days=until)).isoformat()
    return flag(
        instruction=about, verdict=verdict, words="As in the letter", by="Dr Osei", until=last, side=side
    )


def dated(about, verdict, days):
    """A clinician's instruction dated so many days from today."""
    made = word(about, verdict)
    made.on = TODAY + timedelta(days=days)
    return made


def row(
    id,
    source,
    flags,
    exercise,
    verdict,
    demands="",
    *,
    side=None,
    adaptations="",
    supine=None,
    springs=None,
    between=None,
    carries="",
):
    """One case. `demands`: 'demand=verdict' or, for one that an adaptation lifts, 'demand=verdict@adaptation'."""
    wanted, holds = {}, {}
    for part in demands.split():
        demand, _, said = part.partition("=")
        wanted[demand], _, adaptation = said.partition("@")
        holds[demand] = adaptation or None
    made = case(
        id,
        source,
        flags=flags if isinstance(flags, list) else [flags],
        exercise=exercise,
        on=TODAY.isoformat(),
        side=side,
        verdict=verdict,
        demands=wanted,
    )
    more = {"adaptations": tuple(adaptations.split()), "supine_seconds": supine, "springs": springs}
    return {**made, **more, "between": between, "holds": holds, "carries": set(carries.split())}


def around(condition, limit, exercise, verdicts, lines, *, side=None, record=None):
    """The day before a limit in weeks, the limit and the day after: windows are half-open.

    `verdicts`: 'demand before after', each the verdict of the demand, or 'demand's/exercise's' where they
    differ. `lines`: lines of the table and their publications. `side` is affected, `record` is done.
    """
    demand, before, after = verdicts.split()
    made = []
    for days in (7 * limit - 1, 7 * limit, 7 * limit + 1):
        one, _, whole = (before if days < 7 * limit else after).partition("/")
        made.append(
            row(
                f"{condition}-day-{days}-{exercise}",
                f"screening {lines}",
                had(condition, days, side),
                exercise,
                whole or one,
                f"{demand}={one}",
                side=record,
            )
        )
    return made
