"""Choosing an exercise to add to a plan: the library's search, each judged as it would stand at the end of the plan."""

from clients.models import CareProfile
from library import vocabulary_wording
from library.models import Kind
from library.views.finder import Finder
from sessions import judging, wording
from sessions.actions import plans as plan_actions
from sessions.forms.finding import ClientFindForm
from sessions.models import PlanItem

# As many as a hand finds without typing; more would be scrolled past, and each brings a drawing.
MOST_FOUND = 30


class Picker:
    """The side sheet for adding. page: the PlanPage it stands on. wish: what was asked for, as in the address."""

    def __init__(self, page, wish):
        self.page = page
        care = CareProfile.objects.seen_by(page.request.user).filter(client=page.client).first()
        owned = care.home_equipment if care else ()
        self.form = ClientFindForm(wish, prefix_id="plan", owned=owned)
        self.kinds = {unit.kind for unit in page.booked}
        self._judged: dict[int, tuple] = {}
        self._row = PlanItem()
        self.finder = Finder(page.request.user, self.form, also=self._stays)

    def side(self, added=None) -> dict:
        """Return the side sheet: what was asked for, what was found, and `added`, the key just put in."""
        hits = self._ordered(self.finder.hits)
        numbers: dict[int, list[int]] = {}
        for row in self.page.rows:
            numbers.setdefault(row["item"].exercise_id, []).append(row["number"])
        return {
            "kind": "add",
            **self.finder.context(),
            "found": [self._shown(hit, numbers.get(hit.exercise.pk, [])) for hit in hits[:MOST_FOUND]],
            "more": max(len(hits) - MOST_FOUND, 0),
            "added": added,
            "version": self.page.plan.version,
            "kept": self.form.pairs(),
        }

    def _ordered(self, hits) -> list:
        """Return what can be done with what is booked first, each part in the order it was found."""
        return sorted(hits, key=lambda hit: self._not_booked(hit.facts))

    def _not_booked(self, facts) -> bool:
        return facts["apparatus"] in Kind.values and facts["apparatus"] not in self.kinds

    def _stays(self, form, exercise) -> bool:
        return not form.by_verdict or not form.leaves_out(self._judgement(exercise)[0].verdict)

    def _judgement(self, exercise) -> tuple:
        """Return the judgement of an exercise as it would stand at the end of the plan, and its place there."""
        if exercise.pk not in self._judged:
            page, row = self.page, self._usual_row(exercise)
            place = judging.at_the_end(page.tail, row, page.pace)
            judgement = judging.judge_placed(page.flags, row, place, page.booking.wall_day, table=page.table)
            self._judged[exercise.pk] = judgement, place
        return self._judged[exercise.pk]

    def _usual_row(self, exercise):
        """Return the exercise as a plan row with its usual dose. One row object serves all: 287 are weighed."""
        self._row.exercise = exercise
        for name, value in plan_actions.usual(exercise, self.page.flags).items():
            setattr(self._row, name, value)
        return self._row.as_judged()

    def judged(self, exercise) -> dict:
        """Return the same as plain values, as they would be stored."""
        judgement, place = self._judgement(exercise)
        return judging.stored(judgement, place.supine_seconds)

    def _shown(self, hit, numbers) -> dict:
        facts, judgement = hit.facts, self.judged(hit.exercise)
        return {
            "exercise": hit.exercise,
            "hit": hit,
            "name": facts["name"],
            "apparatus": vocabulary_wording.apparatus(facts["apparatus"]),
            "level": vocabulary_wording.level(facts["level"]),
            "not_booked": self._not_booked(facts),
            "numbers": numbers,
            "verdict": judgement["verdict"],
            "text": wording.chip_text(judgement),
        }
