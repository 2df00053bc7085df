"""What to do instead: for one exercise the nearest others that train the same, ranked, each with why.

Plain computation. The ranking is common practice, no source; it is a list of questions asked in order, so
that whoever reads it can say why one stands before another:

1. Does it train the first skill of the exercise? What shares only another skill comes where nothing else is left.
2. Does it need an adaptation that takes a demand away? What needs none comes first.
3. What does the judge say of it: no rule, watch, modify. What is judged 'avoid' is left out.
4. How many of the demands that decided about the exercise does it make too, where they still count?
5. Is its apparatus at hand?
6. Is its level similar: the same, or one step easier? Then one step harder, then two easier; two harder is left out.
7. Does it carry the same idea? How many skills do they share? Does it train that skill first? Is it done
   in the same position, and on the same apparatus?
8. How near is its level? Is it an easier relative? How long does it take to set up?

Where the judge has nothing against the exercise the same questions give variety.
"""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from library import lifts, tables
from library.progressions import LEVELS
from library.verdicts import RANK, Judgement

# Mat, floor and small props are always there.
ALWAYS_THERE = frozenset({"mat", "standing", "small_prop"})
MOST_HARDER = 1
MODIFY = RANK["modify"]
# Levels harder or easier -> how similar that is; the same and one step easier count alike.
SIMILAR = {0: 0, -1: 0, 1: 1, -2: 2}


class Why(NamedTuple):
    """One reason for an alternative: a code, and what it is about ('' where the code says it all).

    same_skill (a skill), other_skill (a skill: the first one is not shared), without (a demand),
    easier_relative, same_idea (a transfer family), easier, harder, booked and free (an apparatus), floor,
    same_apparatus (an apparatus), elsewhere (an apparatus that is not at hand), with_change (an adaptation).
    """

    code: str
    about: str = ""


@dataclass(frozen=True, slots=True)
class Alternative:
    """One exercise to do instead.

    judgement: None where nobody in particular is asked for. skills: what both train, in the order of the
    exercise that is replaced. step: levels harder (positive) or easier (negative). adaptations: those the
    verdict rests on; empty for what stands as it is.
    """

    id: str
    judgement: Judgement | None
    why: tuple[Why, ...]
    skills: tuple[str, ...]
    step: int
    adaptations: tuple[str, ...] = ()


def nearest(
    exercise_id: str,
    judge_one: Callable[[str], Judgement] | None,
    *,
    judge_changed: Callable[[str, tuple[str, ...]], Judgement] | None = None,
    exercises: Mapping[str, Mapping] | None = None,
    at_hand: Mapping[str, str] | Collection[str] | None = None,
    leave_out: Collection[str] = (),
    limit: int = 6,
) -> list[Alternative]:
    """Return at most `limit` alternatives to an exercise, the nearest first; never one judged 'avoid'.

    judge_one: id -> judgement for the client on the day; None asks for nobody in particular. judge_changed:
    the same with adaptations; with it, exercises whose verdict rests on one adaptation are proposed after
    all others. exercises: id -> facts of those that may be proposed, the exercise itself among them or in the
    shipped library; None takes that library. at_hand: apparatus -> 'booked' or 'free' (a bare collection
    counts as booked); None where nobody asks. leave_out: ids never proposed, and nor is what nobody has
    classified (its demands None).

    Raises LookupError for an exercise that nobody knows.
    """
    shelf = tables.exercises() if exercises is None else exercises
    facts = shelf.get(exercise_id) or tables.exercise(exercise_id)
    search = _Search(facts, judge_one, judge_changed, _places(at_hand))
    others = [
        (place, fact)
        for place, (key, fact) in enumerate(shelf.items())
        if key != exercise_id
        and key not in leave_out
        and fact["demands"] is not None
        and level_step(facts, fact) <= MOST_HARDER
    ]
    main = facts["skills"][0]
    for skills in ((main,), facts["skills"][1:]):
        sharing = [(place, fact) for place, fact in others if not set(skills).isdisjoint(fact["skills"])]
        found = search.ranked(sharing, limit)
        if found:
            return found
    return []


def level_step(facts: Mapping, other: Mapping) -> int:
    """Return how many levels the other exercise is harder (positive) or easier (negative)."""
    return LEVELS.index(other["level"]) - LEVELS.index(facts["level"])


def is_easier_relative(facts: Mapping, other: Mapping) -> bool:
    """Return whether the data call the other exercise a way down from this one."""
    return other["id"] in facts["regression_to"] or other["id"] in facts["progression_of"]


def offending(judgement: Judgement | None) -> tuple[str, ...]:
    """Return the demands that made an exercise 'avoid' or 'modify'; none where it is neither."""
    if judgement is None or RANK[judgement.verdict] < MODIFY:
        return ()
    return tuple(part.demand for part in judgement.demands.values() if part.verdict == judgement.verdict)


def _places(at_hand) -> Mapping[str, str] | None:
    if at_hand is None or isinstance(at_hand, Mapping):
        return at_hand
    return dict.fromkeys(at_hand, "booked")


class _Search:
    """One exercise, with what is asked of those that may stand in for it."""

    def __init__(self, facts, judge_one, judge_changed, at_hand):
        self.facts, self.at_hand = facts, at_hand
        self.judge_one, self.judge_changed = judge_one, judge_changed
        self.offending = offending(judge_one(facts["id"])) if judge_one else ()

    def ranked(self, others: Iterable[tuple[int, Mapping]], limit: int) -> list[Alternative]:
        as_they_are, held_back = [], []
        for place, fact in others:
            judgement = self.judge_one(fact["id"]) if self.judge_one else None
            if judgement and judgement.verdict == "avoid":
                held_back.append((place, fact))
            else:
                as_they_are.append((self._key(fact, judgement, place), fact, judgement, ()))
        found = sorted(as_they_are, key=lambda row: row[0])[:limit]
        if len(found) < limit:
            found += self._changed(held_back)[: limit - len(found)]
        return [self._alternative(*row[1:]) for row in found]

    def _changed(self, held_back) -> list[tuple]:
        """Those that one adaptation takes out of 'avoid', ranked among themselves."""
        rows = []
        for place, fact in held_back if self.judge_changed else ():
            codes = dict.fromkeys(row.adaptation for row in lifts.of_exercise(fact["id"]))
            judged = [(code, self.judge_changed(fact["id"], (code,))) for code in codes]
            lifted = [
                (RANK[found.verdict], code, found) for code, found in judged if found.verdict != "avoid"
            ]
            if lifted:
                _rank, code, found = min(lifted, key=lambda row: row[:2])
                rows.append((self._key(fact, found, place), fact, found, (code,)))
        return sorted(rows, key=lambda row: row[0])

    def _key(self, fact: Mapping, judgement: Judgement | None, place: int) -> tuple:
        """The questions from the third on, in their order; less is nearer. The order of the library decides at last."""
        facts, step = self.facts, level_step(self.facts, fact)
        return (
            RANK[judgement.verdict] if judgement else 0,
            self._still(judgement),
            self._far(fact),
            SIMILAR[step],
            not _same_idea(facts, fact),
            -len(_shared(facts, fact)),
            fact["skills"][0] != facts["skills"][0],
            fact["position"] != facts["position"],
            fact["apparatus"] != facts["apparatus"],
            abs(step),
            not is_easier_relative(facts, fact),
            fact["setup_s"],
            place,
        )

    def _still(self, judgement: Judgement | None) -> int:
        """How many of the offending demands it makes too, where the judge still minds them."""
        parts = [judgement.demands.get(demand) for demand in self.offending] if judgement else ()
        return sum(1 for part in parts if part and RANK[part.verdict] >= MODIFY)

    def _far(self, fact: Mapping) -> bool:
        if self.at_hand is None or fact["apparatus"] in ALWAYS_THERE:
            return False
        return fact["apparatus"] not in self.at_hand

    def _alternative(self, fact, judgement, adaptations) -> Alternative:
        shared = _shared(self.facts, fact)
        step = level_step(self.facts, fact)
        why = (*self._changes(adaptations), *self._whys(fact, judgement, shared, step))
        return Alternative(fact["id"], judgement, why, shared, step, adaptations)

    def _changes(self, adaptations) -> list[Why]:
        return [Why("with_change", code) for code in adaptations]

    def _whys(self, fact, judgement, shared, step) -> list[Why]:
        main = self.facts["skills"][0]
        whys = [Why("same_skill", main) if main in shared else Why("other_skill", shared[0])]
        made = judgement.demands if judgement else {}
        whys += [Why("without", demand) for demand in self.offending if demand not in made]
        if is_easier_relative(self.facts, fact):
            whys.append(Why("easier_relative"))
        elif step:
            whys.append(Why("harder" if step > 0 else "easier"))
        if _same_idea(self.facts, fact):
            whys.append(Why("same_idea", fact["transfer_family"]))
        return [*whys, *self._where(fact)]

    def _where(self, fact) -> list[Why]:
        apparatus = fact["apparatus"]
        if apparatus in ALWAYS_THERE:
            return [Why("floor")]
        if self.at_hand is not None:
            return [Why(self.at_hand.get(apparatus, "elsewhere"), apparatus)]
        return [Why("same_apparatus", apparatus)] if apparatus == self.facts["apparatus"] else []


def _shared(facts: Mapping, other: Mapping) -> tuple[str, ...]:
    return tuple(skill for skill in facts["skills"] if skill in other["skills"])


def _same_idea(facts: Mapping, other: Mapping) -> bool:
    return facts["transfer_family"] is not None and facts["transfer_family"] == other["transfer_family"]
