"""What home practice is weighed against, read from the rows once: flags, things at home, what was done well."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field

from clients.models import CareProfile, Flag, FlagStatus
from library import wording as library_words
from library.models import Exercise, table_in_force
from library.tables import Table
from library.vocabulary_wording import ADAPTATIONS_AT_HOME
from sessions import home_rules, judging, planning, recording
from sessions.models.plans import Plan
from sessions.models.records import Entry, EntrySide
from studio.models import Studio


@dataclass(frozen=True)
class HomeRow:
    """One exercise of a sheet as it stands today.

    verdict: the stored judgement, in its place in the printed order. needs: see home_rules. judged: the row as
    the judge takes it, with `around`, what its neighbours make of it.
    """

    item: dict
    exercise: Exercise
    verdict: dict
    needs: list[str]
    missing: list[str]
    judged: judging.PlanRow
    around: judging.Place

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
    must not stand on paper (conditions on file or proposed, and who gave an instruction). done_with: key of an
    exercise -> the adaptations of each time it was done in the studio. Neither counts where a sign to stop was
    felt. pace: of minutes on the back, as in a plan. table: the rule table in force.
    """

    on: dt.date
    flags: list
    waiting: int
    owned: frozenset[str]
    asked: bool
    private: tuple[str, ...]
    noted: dict[int, set[str]] = field(default_factory=dict)
    done_with: dict[int, set[frozenset[str]]] = field(default_factory=dict)
    pace: planning.Pace = planning.Pace()
    table: Table | None = None

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
            done_with=_done_with(client),
            pace=Plan.pace(Studio.objects.first()),
            table=table_in_force(),
        )

    def row(self, exercise: Exercise, item: dict, place: int, sheet: Sequence[HomeRow] = ()) -> HomeRow:
        """Weigh one exercise with its item, `place` others standing before it.

        sheet: the rows it stands among, in its own place there, or else at their end.
        """
        row = judged_row(exercise, item)
        rows = [other.judged for other in sheet]
        which = next((n for n, other in enumerate(sheet) if other.exercise.pk == exercise.pk), None)
        if which is None:
            last = judging.tail(rows, self.pace)
            around = judging.at_the_end(last, row, self.pace, before=len(rows) - len(last))
        else:
            around = judging.places([*rows[:which], row, *rows[which + 1 :]], self.pace)[which]
        return self._weighed(exercise, item, place, row, *judging.on_a_sheet([around]))

    def _weighed(self, exercise, item, place, row, around) -> HomeRow:
        facts = exercise.current.facts
        item = home_rules.whole(item, facts)
        verdict = judging.judged(self.flags, row, around, self.on, table=self.table)
        needs = home_rules.needs(
            item,
            facts,
            verdict["verdict"],
            owned=self.owned,
            noted=self.noted.get(exercise.pk, set()),
            place=place,
            untried=self._is_untried(exercise, verdict),
        )
        missing = home_rules.missing(item, facts, self.owned)
        return HomeRow(item, exercise, verdict, needs, missing, row, around)

    def _is_untried(self, exercise: Exercise, verdict: dict) -> bool:
        """Return whether an 'avoid' is lifted by adaptations that were not done with it in the studio yet."""
        done = self.done_with.get(exercise.pk, ())
        return verdict["without"] == "avoid" and not any(set(verdict["carries"]) <= one for one in done)

    def lifting(self, row: HomeRow, sheet: Sequence[HomeRow] = ()) -> list[tuple]:
        """Return what would lift a row's verdict and can be said on paper: (codes, verdict, tried) of each way.

        tried: it was done so in the studio, as an 'avoid' asks for before it goes home.
        """
        rows = [other.judged for other in sheet]
        which = next((n for n, other in enumerate(sheet) if other.exercise.pk == row.exercise.pk), len(rows))
        rows[which : which + 1] = [row.judged]
        found = judging.lifting(self.flags, rows, which, self.on, pace=self.pace, table=self.table)
        tried = self.done_with.get(row.exercise.pk, ())
        asks = row.verdict["verdict"] == "avoid"
        return [
            (codes, verdict, not asks or any(set(codes) <= done for done in tried))
            for codes, verdict in found
            if set(codes) <= set(ADAPTATIONS_AT_HOME)
        ]

    def may_be_lifted(self, row: HomeRow, sheet: Sequence[HomeRow] = ()) -> bool:
        """Return whether a change that was tried here would take the 'avoid' from a row."""
        return any(tried for _codes, _verdict, tried in self.lifting(row, sheet))

    @property
    def alternates(self) -> bool:
        """Return whether the sheet is to change position from exercise to exercise: in pregnancy it is."""
        return any(flag.condition == "pregnancy" for flag in self.flags)

    def rows(self, items: list[dict]) -> list[HomeRow]:
        """Weigh a whole sheet, in its order, by what the exercises say now.

        One yes to a fifth exercise holds for the sheet, whatever order it is brought into.
        """
        agreed = any(item.get("beyond") for item in items)
        ids = [item["exercise"] for item in items]
        exercises = {row.public_id: row for row in Exercise.objects.with_content().filter(public_id__in=ids)}
        kept = [item for item in items if item["exercise"] in exercises]
        judged = [judged_row(exercises[item["exercise"]], item) for item in kept]
        places = judging.on_a_sheet(judging.places(judged, self.pace))
        placed = zip(kept, judged, places, strict=True)
        return [
            self._weighed(exercises[item["exercise"]], item, 0 if agreed else place, row, around)
            for place, (item, row, around) in enumerate(placed)
        ]

    def told(self, text: str) -> list[str]:
        """Return the words of a text that tell what is on file of this client."""
        return home_rules.told(text, self.private)


def judged_row(exercise: Exercise, item: dict) -> judging.PlanRow:
    """Return an item of a sheet as the judge takes it."""
    facts = exercise.current.facts
    item = home_rules.whole(item, facts)
    return judging.PlanRow(
        home_rules.counted(item, facts), sides=item["sides"], adaptations=tuple(item["adaptations"])
    )


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


def _done_with(client) -> dict[int, set[frozenset[str]]]:
    # An entry that was broken off for a sign is kept as changed: it is no proof that it goes well.
    done = Entry.objects.filter(
        record__attendance__client=client, state__in=(Entry.State.DONE, Entry.State.CHANGED)
    ).exclude(adaptations=[])
    sides = list(done.order_by().values_list("pk", "exercise_id", "adaptations", "sides__felt"))
    stopped = {entry for entry, _exercise, _codes, felt in sides if recording.is_stop(felt)}
    found: dict[int, set[frozenset[str]]] = {}
    for entry, exercise, codes, _felt in sides:
        if entry not in stopped:
            found.setdefault(exercise, set()).add(frozenset(codes))
    return found


def _noted(client) -> dict[int, set[str]]:
    done = (Entry.State.DONE, Entry.State.CHANGED)
    sides = EntrySide.objects.filter(
        entry__record__attendance__client=client,
        entry__state__in=done,
        quality__gte=home_rules.STEADY,
    )
    found: dict[int, set[str]] = {}
    for exercise, side, felt in sides.order_by().values_list("entry__exercise_id", "side", "felt"):
        if not recording.is_stop(felt):
            found.setdefault(exercise, set()).add(side)
    return found
