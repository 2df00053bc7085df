"""How far a client goes, as a handout's payload keeps it beside its pose. See library.body.limits."""

from dataclasses import dataclass
from typing import Any

from library.body import limits as ranges


@dataclass(frozen=True)
class Limit:
    """A share of the way in per cent, or a value of what leads the movement, with what it started from."""

    by: str
    value: float
    of: str = ""
    start: float | None = None

    def as_kept(self) -> dict[str, Any]:
        """Return it as it is kept for a client."""
        if self.by == ranges.BY_SHARE:
            return {"by": self.by, "value": self.value}
        return {"by": self.by, "value": self.value, "of": self.of, "from": self.start}


@dataclass(frozen=True)
class Limits:
    """How far the client goes on each side; None is the whole way."""

    both: Limit | None = None
    left: Limit | None = None
    right: Limit | None = None

    def of(self, side: str | None) -> dict[str, Any] | None:
        """Return the limit of a side as it is kept for a client. None for work without sides: whichever is set."""
        own = (self.left or self.right) if side is None else getattr(self, side)
        found = (self.both or own) if side is None else (own or self.both)
        return found and found.as_kept()

    def as_kept(self) -> dict[str, Any]:
        """Return all of them as they are kept for a client."""
        sides = {"both": self.both, "left": self.left, "right": self.right}
        return {side: limit.as_kept() for side, limit in sides.items() if limit}


def as_given(values: dict | None) -> dict[str, dict]:
    """Return limits by side in the names of Limit, from how a client's or a payload's are kept."""
    return {
        side: {"start" if name == "from" else name: value for name, value in limit.items()}
        for side, limit in (values or {}).items()
        if limit
    }


def problems(limits: Limits):
    """Yield the codes of what is wrong with limits."""
    for limit in (limits.both, limits.left, limits.right):
        if limit is None:
            continue
        if not isinstance(limit.value, int | float) or isinstance(limit.value, bool):
            yield "not_a_number"
        elif limit.by == ranges.BY_SHARE:
            if not 0 < limit.value <= 100:
                yield "unknown"
        elif limit.by != ranges.BY_DEGREES or not limit.of or limit.start is None:
            yield "unknown"
