"""How the demo's people are told: the shapes of its data. Plain data, no rows.

Weeks are counted from the Monday the demo is laid for: `weeks_ago` 3 is the week of three Mondays before,
`week` -3 the same one. Everything clinical here is made up for the show; the verdicts beside it come from the
rule table.
"""

from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True)
class Worker:
    """Somebody who works in the demo studio. roles: fields of Staff that are true."""

    sign_in_name: str
    full_name: str
    call_name: str
    roles: tuple[str, ...]
    words: str


@dataclass(frozen=True)
class Told:
    """A condition ticked on the paper form, and what became of the flag it suggests.

    weeks_ago: weeks from the event to Monday; long_ago: happened, no date wanted. due_in: weeks to the due
    date. becomes: the state an instructor gave it ('proposed' is left as it is).
    """

    condition: str
    side: str = ""
    weeks_ago: int | None = None
    long_ago: bool = False
    due_in: int | None = None
    becomes: str = "active"
    reason: str = ""


@dataclass(frozen=True)
class Limit:
    """What a clinician has said, with the demand or exercise it is about, and its last day."""

    words: str
    by: str
    weeks_ago: int
    about: str
    verdict: str
    side: str
    until_in: int


@dataclass(frozen=True)
class Turn:
    """Something about flags that came up later, on the Friday of a week after the morning's sessions.

    One of: `told`, a condition put on file; `limit`, a clinician's instruction put on file; `ends`, `rests`
    or `wakes`, the condition or the demand whose flag takes that step for a reason.
    """

    week: int
    told: Told | None = None
    limit: Limit | None = None
    ends: str = ""
    rests: str = ""
    wakes: str = ""
    reason: str = ""
    note: str = ""
    day: int = 4


@dataclass(frozen=True)
class Reach:
    """The number a goal is to come to: a measure, 'left', 'right' or 'both', in the measure's unit; by: the week."""

    measure: str
    side: str
    value: float
    by: int


@dataclass(frozen=True)
class Aim:
    """A goal in the client's words with their numbers, one for each pair (weeks ago, 0 to 10).

    closed: (weeks ago, 'reached' or 'put_aside').
    """

    words: str
    ratings: tuple[tuple[int, int], ...]
    closed: tuple[int, str] | None = None
    reach: Reach | None = None


@dataclass(frozen=True)
class Flare:
    """A bad spell, first and last week: quality and springs go down for its length."""

    first: int
    last: int
    said: str
    next_time: str


@dataclass(frozen=True)
class Stopped:
    """A sign that came up in the session of a week, in which exercise, on which side, and the note on it.

    added: (week, sentence) that the instructor added to the record later.
    """

    week: int
    exercise: str
    sign: str
    side: str
    words: str
    next_time: str
    leave_out: str = ""
    added: tuple[int, str] | None = None


@dataclass(frozen=True)
class HomeItem:
    """An exercise taken home: what is changed in it, and the cue in words for the client."""

    exercise: str
    change: str = ""
    cue: str = ""
    per_week: int = 7
    repetitions: int | None = None


@dataclass(frozen=True)
class HomeSheet:
    """A home practice, put together at the end of the first session in a week or after it."""

    week: int
    moment: str
    items: tuple[HomeItem, ...]
    issued: bool = True


@dataclass(frozen=True)
class Work:
    """A client's sessions.

    exercises: library ids, the first ones in every session, the others in turn. kept: exercise -> the reason
    typed for keeping it against an 'avoid'. lifts: exercise -> the adaptations that are written in where its
    demand would be too much. rests: exercise -> seconds of rest written after it. behind: the side that lags,
    by `gap` steps of quality in the first week and in the last. quality: steps in the first week and in the
    last, before the gap. said, later: sentences at the close in the order of the months. away: first and last
    week without a booking held.
    """

    exercises: tuple[str, ...]
    said: tuple[str, ...]
    later: tuple[str, ...]
    behind: str = ""
    gap: tuple[float, float] = (1.0, 0.3)
    quality: tuple[float, float] = (2.6, 4.2)
    kept: dict = field(default_factory=dict)
    lifts: dict = field(default_factory=dict)
    rests: dict = field(default_factory=dict)
    effort: int = 4
    pain: tuple[int, int] | None = None
    flares: tuple[Flare, ...] = ()
    away: tuple[tuple[int, int], ...] = ()
    stopped: tuple[Stopped, ...] = ()


@dataclass(frozen=True)
class Taken:
    """A measure taken every few weeks: values of left and right in the first week and in the last.

    wobble: how far a reading strays from the line, in the measure's unit.
    """

    measure: str
    left: tuple[float, float]
    right: tuple[float, float]
    wobble: float
    every: int = 6


@dataclass(frozen=True)
class Person:
    """A client of the demo studio. told is None where the paper form is still missing."""

    key: str
    full_name: str
    call_name: str
    born: date
    telephone: str
    emergency: tuple[str, str]
    form_weeks_ago: int
    instructor: str
    told: tuple[Told, ...] | None = ()
    limit: Limit | None = None
    turns: tuple[Turn, ...] = ()
    aims: tuple[Aim, ...] = ()
    touch: str = "yes"
    home: tuple[str, ...] = ()
    texts: dict = field(default_factory=dict)
    not_sure: tuple[str, ...] = ()
    size: tuple[int, int] | None = None
    work: Work | None = None
    sheets: tuple[HomeSheet, ...] = ()
    measures: tuple[Taken, ...] = ()
