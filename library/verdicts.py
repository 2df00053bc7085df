"""What a judgement is made of: verdicts in their order, reasons, and the results the screens read.

A verdict is 'avoid', 'modify', 'watch' or 'none'. 'none' means only that the table is silent; it is
never a permission.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

VERDICTS = ("avoid", "modify", "watch", "none")
RANK = {"none": 0, "watch": 1, "modify": 2, "avoid": 3}
BY_RANK = ("none", "watch", "modify", "avoid")
KIND_ORDER = {"instruction": 0, "ask": 1, "rule": 2}


def strictest(verdicts: Iterable[str]) -> str:
    """The strictest of some verdicts; 'none' for none at all. ValueError for a word that is no verdict."""
    words = list(verdicts)
    unknown = [word for word in words if word not in RANK]
    if unknown:
        raise ValueError(f"'{unknown[0]}' is not a verdict: use one of {', '.join(VERDICTS)}.")
    return max(words, key=RANK.__getitem__, default="none")


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a verdict was reached.

    `kind` is 'rule' (a line of the table), 'instruction' (a clinician's word) or 'ask' (something
    the table does not know). `flag` is the place of the flag in the flags as they were given.
    `until` is for a rule the first day on which its window no longer holds for this client, for an
    instruction the last day the clinician named; None where there is no end or no date to reckon
    from. `last_day` is the last day it counts in either case. `outranked` is true where a
    clinician's instruction stands in its place: it is shown, and it decides nothing.

    `by` is who gave the instruction, or who made a rule of the studio's own on the day `since`.
    `lifted_by` is the chosen adaptation that takes the demand away from this rule: `verdict` is then
    'modify' and `before_lift` what it is without that adaptation.
    """

    kind: str
    verdict: str
    condition: str | None = None
    rule: str | None = None
    demand: str | None = None
    exercise: str | None = None
    text: str = ""
    adaptation: str = ""
    sources: tuple[str, ...] = ()
    until: date | None = None
    side: str | None = None
    by: str = ""
    words: str = ""
    flag: int | None = None
    support: str = ""
    source_text: str = ""
    code: str = ""
    outranked: bool = False
    lifted_by: str | None = None
    before_lift: str | None = None
    since: date | None = None

    @property
    def last_day(self) -> date | None:
        """The last day on which this reason counts, or None."""
        if self.until is None:
            return None
        return self.until - timedelta(days=1) if self.kind == "rule" else self.until

    def overruled(self) -> "Reason":
        """The same reason, marked as outranked by a clinician's instruction."""
        return replace(self, outranked=True)

    def carried(self, adaptation: str) -> "Reason":
        """The same reason, softened to 'modify' while this adaptation is kept."""
        return replace(self, verdict="modify", lifted_by=adaptation, before_lift=self.verdict)


def reason_order(reason: Reason) -> tuple:
    """Sort key: what decides before what was lifted, strictest first, a clinician's word before a rule."""
    return (
        reason.outranked,
        -RANK[reason.verdict],
        KIND_ORDER[reason.kind],
        reason.condition or "",
        reason.rule or "",
        reason.demand or "",
        reason.side or "",
        reason.by,
        reason.words,
        reason.until or date.max,
    )


def last_end(reasons: Iterable[Reason], verdict: str) -> date | None:
    """When the last of the reasons that hold `verdict` ends; None where one of them has no end."""
    ends = [r.until for r in reasons if r.verdict == verdict and not r.outranked]
    return max(ends) if ends and None not in ends else None


@dataclass(frozen=True, slots=True)
class DemandVerdict:
    """The verdict on one demand of an exercise.

    `loads` says which side of the body the demand loads here: 'left', 'right', 'both', or None for
    a demand without sides. `sides` is side of the body -> verdict, for the sides that are loaded.

    `carries` is the chosen adaptation that this verdict carries because it takes the demand away,
    else None: the verdict holds only while the adaptation stays. `without` is then the verdict
    without it, as strict or stricter. `added_by` is the chosen adaptation that brings the demand
    along where the exercise itself does not make it.
    """

    demand: str
    verdict: str
    reasons: tuple[Reason, ...] = ()
    loads: str | None = None
    carries: str | None = None
    sides: Mapping[str, str] | None = None
    without: str | None = None
    added_by: str | None = None

    @property
    def until(self) -> date | None:
        """When this verdict stops, as far as the dates say; None where it has no end."""
        return last_end(self.reasons, self.verdict)


@dataclass(frozen=True, slots=True)
class Judgement:
    """The verdict on one exercise for one client on one day.

    `demands` is demand id -> `DemandVerdict`, for every demand of the exercise, in its order.
    `exercise_reasons` are those that speak to the exercise as a whole: clinician's instructions on
    it, and what the table does not know. `spell` is how the time on the back was counted.

    `carries` are the adaptations the verdict as a whole rests on: taken out, it would be stricter.
    Empty where it would be the same without them; what each demand carries stands with the demand.
    """

    verdict: str
    demands: Mapping[str, DemandVerdict]
    exercise_reasons: tuple[Reason, ...]
    exercise: str | None
    on: date
    side: str | None
    spell: str
    table_version: str
    carries: tuple[str, ...] = ()

    @property
    def reasons(self) -> tuple[Reason, ...]:
        """Every reason, strictest first; those a clinician has lifted come last."""
        found = list(self.exercise_reasons)
        for demand in self.demands.values():
            found.extend(demand.reasons)
        return tuple(sorted(found, key=reason_order))

    @property
    def deciding(self) -> tuple[Reason, ...]:
        """The reasons that hold the verdict up: as strict as it is, and not outranked."""
        return tuple(r for r in self.reasons if r.verdict == self.verdict and not r.outranked)


@dataclass(frozen=True, slots=True)
class Chip:
    """One line of 'flags at a glance': a subject with its verdict, whatever the exercise.

    Exactly one of `demand`, `exercise` (a clinician's instruction on it) and `condition` (one that
    the table does not know) names the subject; none of them does where a flag names nothing. `side`
    is the affected side of a sided demand ('left', 'right', 'both'), None where no side matters.
    """

    verdict: str
    reasons: tuple[Reason, ...]
    demand: str | None = None
    exercise: str | None = None
    condition: str | None = None
    side: str | None = None
    until: date | None = None
    sides: Mapping[str, str] | None = None
