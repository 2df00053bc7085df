"""What home practice is weighed against, read from the rows once: flags, things at home, what was done well."""

import datetime as dt
from dataclasses import dataclass, field

from clients.models import CareProfile, Flag, FlagStatus
from library import wording as library_words
from library.models import Exercise
from sessions import home_rules, judging
from sessions.models.records import Entry, EntrySide


@dataclass(frozen=True)
class HomeRow:
    """One exercise of a sheet as it stands today. verdict: the stored judgement; needs: see home_rules."""

    item: dict
    exercise: Exercise
    verdict: dict
    needs: list[str]
    missing: list[str]

    @property
    def facts(self) -> dict:
        return self.exercise.current.facts

    @property
    def seconds(self) -> float:
        return home_rules.seconds(self.item, self.facts)


@dataclass(frozen=True)
class Gates:
    """What is known of a client on a day. Read it with `Gates.of`; asking it costs no query.

    noted: key of an exercise -> sides on which it was once noted at Steady or better. private: names that
    must not stand on paper (conditions on file or proposed, and who gave an instruction).
    """

    on: dt.date
    flags: list
    waiting: int
    owned: frozenset[str]
    asked: bool
    private: tuple[str, ...]
    noted: dict[int, set[str]] = field(default_factory=dict)

    @classmethod
    def of(cls, client, on: dt.date) -> "Gates":
        counting = (FlagStatus.State.ACTIVE, FlagStatus.State.PROPOSED)
        flags = list(Flag.objects.with_state().filter(client=client, state__in=counting))
        active = [flag for flag in flags if flag.state == FlagStatus.State.ACTIVE]
        care = CareProfile.objects.filter(client=client).first()
        return cls(
            on=on,
            flags=active,
            waiting=len(flags) - len(active),
            owned=frozenset(care.home_equipment if care else ()),
            asked=bool(care and care.home_equipment),
            private=tuple(name for flag in flags for name in _names(flag)),
            noted=_noted(client),
        )

    def row(self, exercise: Exercise, item: dict, place: int) -> HomeRow:
        """Weigh one exercise with its item, `place` others standing before it."""
        facts = exercise.current.facts
        item = home_rules.whole(item, facts)
        judgement = judging.judge_facts(
            self.flags, facts, self.on, sides=item["sides"], adaptations=item["adaptations"]
        )
        noted = self.noted.get(exercise.pk, set())
        needs = home_rules.needs(item, facts, judgement.verdict, owned=self.owned, noted=noted, place=place)
        missing = home_rules.missing(item, facts, self.owned)
        return HomeRow(item, exercise, judging.stored(judgement), needs, missing)

    def rows(self, items: list[dict]) -> list[HomeRow]:
        """Weigh a whole sheet, in its order, by what the exercises say now.

        One yes to a fifth exercise holds for the sheet, whatever order it is brought into.
        """
        agreed = any(item.get("beyond") for item in items)
        ids = [item["exercise"] for item in items]
        exercises = {row.public_id: row for row in Exercise.objects.with_content().filter(public_id__in=ids)}
        kept = [item for item in items if item["exercise"] in exercises]
        return [
            self.row(exercises[item["exercise"]], item, 0 if agreed else place)
            for place, item in enumerate(kept)
        ]

    def told(self, text: str) -> list[str]:
        """Return the words of a text that tell what is on file of this client."""
        return home_rules.told(text, self.private)


def may_go_home(exercise: Exercise | None) -> bool:
    """Return whether the catalogue lets an exercise go home, and it can be drawn and said on paper."""
    return not off_paper(exercise)


def off_paper(exercise: Exercise | None) -> str:
    """Return why an exercise cannot stand on a handout at all: see home_rules.off_paper."""
    version = exercise.current if exercise else None
    if version is None:
        return home_rules.STUDIO_ONLY
    return home_rules.off_paper(version.facts, version.text, version.pose)


def _names(flag) -> list[str]:
    if flag.is_instruction:
        return [flag.clinician]
    return [library_words.condition_label(flag.condition), flag.condition.replace("_", " ")]


def _noted(client) -> dict[int, set[str]]:
    done = (Entry.State.DONE, Entry.State.CHANGED)
    sides = EntrySide.objects.filter(
        entry__record__attendance__client=client,
        entry__state__in=done,
        quality__gte=home_rules.STEADY,
    )
    found: dict[int, set[str]] = {}
    for exercise, side in sides.order_by().values_list("entry__exercise_id", "side").distinct():
        found.setdefault(exercise, set()).add(side)
    return found
