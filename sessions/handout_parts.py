"""The parts of a handout's payload: plain values that never change once made. See sessions.handout."""

from dataclasses import dataclass
from typing import Any

from sessions.handout_limits import Limits

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
    def sides(self) -> tuple[str | None, ...]:
        """The sides that are done, left first; (None,) for work without sides."""
        return tuple(side for side in ("left", "right") if getattr(self, side)) or (None,)

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
