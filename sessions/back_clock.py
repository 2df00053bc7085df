"""How long a client has been lying flat on the back while a session runs, by the server's times. Plain computation.

The clock begins when the first row flat on the back is begun, which is when the row before it was put down.
It stops with a row, or a written rest, of at least a minute off the back (the table's break). A shorter one, a
row with the trunk raised and a skipped one let it run on: in doubt it shows more, not less.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Step:
    """One row that was put down. at: when; skipped: it was not done; pause: seconds of rest written after it."""

    at: dt.datetime
    lies_flat: bool
    ends_spell: bool
    pause: int = 0
    skipped: bool = False


def lying_since(
    done: Sequence[Step], started: dt.datetime, *, break_s: int, down: dt.datetime | None = None
) -> dt.datetime:
    """Return since when a client has been on the back, whose present row lies flat.

    done: the rows put down so far, in their order. started: of the session. break_s: seconds off the back
    that end a spell. down: when the instructor last said that the client lies down only now.
    """
    begun = [started, *(step.at for step in done)]
    since = _after(done[-1]) if done else started
    for step, start in zip(reversed(done), reversed(begun[:-1]), strict=True):
        if not step.skipped:
            if step.pause >= break_s:
                break
            if step.lies_flat:
                since = min(since, start)
            elif step.ends_spell and (step.at - start).total_seconds() >= break_s:
                break
    return max(since, down) if down else since


def _after(step: Step) -> dt.datetime:
    """Return when the row after a step begins: at once, or when the rest that is written there is over."""
    return step.at + dt.timedelta(seconds=0 if step.skipped else step.pause)
