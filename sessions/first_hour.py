"""The first hour: from an empty studio to the first printed home practice, as a list of steps.

Plain computation: what is there comes in as flags, what to show goes out.
"""

from collections.abc import Mapping
from dataclasses import dataclass

# In the order in which one needs the other. Each is done when a row of its kind is there.
STEPS = (
    "room",
    "apparatus",
    "springs",
    "people",
    "client",
    "form",
    "booking",
    "plan",
    "session",
    "handout",
)
# A studio of one works without the others; mat work needs no springs.
MAY_STAY_OPEN = ("apparatus", "springs", "people")


@dataclass(frozen=True)
class Step:
    """One line of the card. `next` marks the first that is not done; `can_begin` that what it needs is there."""

    key: str
    done: bool
    next: bool
    can_begin: bool


# What has to be there before a step has a page to go to.
NEEDS = {
    "apparatus": ("room",),
    "form": ("client",),
    "booking": ("client", "room"),
    "plan": ("booking",),
    "session": ("booking",),
    "handout": ("client",),
}


def steps(there: Mapping[str, bool]) -> list[Step]:
    """Return all steps in order. there: step -> whether a row of its kind is in the database."""
    open_ones = [key for key in STEPS if not there[key]]
    ready = [key for key in open_ones if all(there[need] for need in NEEDS.get(key, ()))]
    first = ready[0] if ready else None
    return [
        Step(key, there[key], key == first, all(there[need] for need in NEEDS.get(key, ()))) for key in STEPS
    ]


def is_over(there: Mapping[str, bool]) -> bool:
    """Return whether the path has been walked: everything that has to be there is there."""
    return all(there[key] for key in STEPS if key not in MAY_STAY_OPEN)
