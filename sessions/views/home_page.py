"""What the page of a client's home practice shows: the rows of the sheet, and one thing beside them."""

from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.functional import cached_property
from django.utils.translation import gettext as _

from clients.models import Client
from library import vocabulary_wording
from library.models import Exercise
from library.progressions import LEVELS
from library.views.finder import Finder, Hit
from sessions import (
    home_rules,
    home_wording,
    neighbours,
    own_limits,
    own_way_wording,
    plan_wording,
    wording,
)
from sessions.actions import handouts as handout_actions
from sessions.forms.finding import HomeFindForm
from sessions.forms.home_practice import ItemForm, WholeForm
from sessions.models import (
    Gates,
    Handout,
    HomePractice,
    HomeRow,
    OwnWay,
    may_go_home,
    open_call_backs,
)
from sessions.views import home_instead
from studio import clock
from studio.actions import audit

# As many as a hand finds without typing; more would be scrolled past, and each brings a drawing.
MOST_FOUND = 20


class HomePage:
    """One client's home practice as a request sees it, loaded once in a fixed number of queries."""

    def __init__(self, request, client: str):
        person = request.user
        self.request = request
        self.client = Client.objects.with_desk_marks().get_seen(person, client)
        self.today = clock.today(request.studio.zone)
        practices = HomePractice.objects.seen_by(person).filter(client=self.client)
        self.practice = practices.select_related("changed_by").first()
        self.gates = Gates.of(self.client, self.today)

    @property
    def version(self) -> int:
        return self.practice.version if self.practice else 0

    @cached_property
    def limits(self) -> dict[int, dict]:
        """Return how far the client goes, by key of the exercise."""
        return OwnWay.objects.seen_by(self.request.user).limits_of(self.client.pk)

    @cached_property
    def rows(self) -> list[HomeRow]:
        return self.gates.rows(self.practice.items if self.practice else [])

    @property
    def unsettled(self) -> list[int]:
        return [number for number, row in enumerate(self.rows, 1) if row.needs]

    @property
    def url(self) -> str:
        return reverse("sessions:home_practice", args=[self.client.public_id])

    def exercise(self, public_id: str) -> Exercise | None:
        """Return an exercise by its public id, or None: what cannot be found cannot go home either."""
        exercises = Exercise.objects.seen_by(self.request.user).with_content()
        return exercises.filter(public_id=public_id).first()

    def place_of(self, exercise: Exercise) -> int | None:
        places = (n for n, row in enumerate(self.rows) if row.exercise.pk == exercise.pk)
        return next(places, None)

    # What stands beside the rows.

    def item_sheet(self, exercise: Exercise, *, data=None, conflict=None) -> dict:
        """Return the side sheet of one exercise: its reasons and its form, whether on the sheet or new."""
        place = self.place_of(exercise)
        new = place is None
        own = self._own(exercise)
        facts = exercise.current.facts
        if new:
            item, before = home_rules.usual(exercise.public_id, facts), len(self.rows)
            item["cue"] = own["cue"] if own else ""
        else:
            asks = home_rules.BEYOND in self.rows[place].needs
            item, before = self.rows[place].item, home_rules.MOST if asks else 0
        form = self._item_form(exercise, item, before, data)
        row = form.row or self.gates.row(exercise, item, before, self.rows)
        reasons = wording.sheet(row.verdict)
        usual = [one["adaptation"] for one in reasons["rows"] if one["verdict"] == row.verdict["verdict"]]
        refused = self._refused(exercise, row)
        return {
            "kind": "item",
            "new": new,
            "own": own,
            "number": None if new else place + 1,
            "row": row,
            "needs": row.needs,
            "figure_side": self._figure_side(row.item),
            **self._how_far(row, own),
            "reasons": reasons,
            "usual": [words for words in dict.fromkeys(usual) if words][:3],
            "refused": refused,
            "instead": home_instead.rows(self, exercise) if refused else None,
            **self._offers(row),
            "lift": plan_wording.lift_words(row.verdict),
            "spell": self._spell(row, place),
            "full": new and len(self.rows) >= home_rules.MOST_AGREED,
            "form": form,
            "conflict": conflict,
            "first": place == 0,
            "last": place == len(self.rows) - 1,
        }

    def _own(self, exercise: Exercise) -> dict | None:
        """Return what has worked for the client in an exercise: its first cue is proposed for the page."""
        kept = OwnWay.objects.seen_by(self.request.user).of(self.client.pk, exercise)
        return own_way_wording.shown(kept)

    @staticmethod
    def _how_far(row: HomeRow, own: dict | None) -> dict:
        """Return how far the client goes in an exercise: what to draw, and each side of the sheet in words."""
        limits, pose = (own or {}).get("limit", {}), row.exercise.current.pose
        if not limits or not pose:
            return {"limits": {}}
        sides = {"both": ("left", "right"), "": ("both",)}.get(row.item["sides"], (row.item["sides"],))
        apart = len(sides) > 1 and own_limits.differ(limits)
        return {
            "limits": limits,
            "how_far": own_way_wording.pictures(pose, sides, limits),
            "sides_apart": apart,
        }

    def _item_form(self, exercise: Exercise, item: dict, before: int, data) -> ItemForm:
        """Return the form of an exercise with `before` others before it, looked at already."""
        form = ItemForm(
            data,
            exercise=exercise,
            gates=self.gates,
            item=item,
            place=before,
            version=self.version,
            today=self.today,
            sheet=self.rows,
        )
        form.is_valid()
        return form

    def _offers(self, row: HomeRow) -> dict:
        """Return what would lift here: one touch for each way that was tried, and the words of those not yet."""
        ways = self.gates.lifting(row, self.rows)
        return {
            "offers": [
                {"codes": " ".join(codes), "words": plan_wording.offer_words(codes, verdict)}
                for codes, verdict, tried in ways
                if tried
            ],
            "untried": [home_wording.untried(codes) for codes, _verdict, tried in ways if not tried],
        }

    def _refused(self, exercise: Exercise, row: HomeRow) -> bool:
        """Return whether it is to be avoided whichever side is chosen."""
        sides = ("both", "left", "right") if row.item["sides"] else ("",)
        tried = (self.gates.row(exercise, {**row.item, "sides": side}, 0, self.rows) for side in sides)
        avoids = all(home_rules.AVOID in one.needs for one in tried)
        return avoids and not self.gates.may_be_lifted(row, self.rows)

    def whole_form(self, data=None) -> WholeForm:
        return WholeForm(
            data,
            instance=self.practice,
            gates=self.gates,
            version=self.version,
            look_again=handout_actions.look_again(self.client, self.practice, self.today),
            today=self.today,
        )

    def whole_sheet(self, *, form=None, conflict=None) -> dict:
        return {"kind": "whole", "form": form or self.whole_form(), "conflict": conflict}

    def picker(self, wish) -> dict:
        """Return the side sheet for finding an exercise: what was asked for, and what was found."""
        form = HomeFindForm(wish, prefix_id="home", carried=[("add", "1")])
        candidates: dict[int, dict] = {}

        def stays(asked, exercise) -> bool:
            return self._stays(asked, exercise, candidates)

        finder = Finder(self.request.user, form, also=stays)
        found = self._ordered(form, finder.hits, candidates)
        return {
            "kind": "add",
            **finder.context(),
            "words": form.words_typed,
            "found": found[:MOST_FOUND],
            "more": max(len(found) - MOST_FOUND, 0),
            "full": len(self.rows) >= home_rules.MOST_AGREED,
            "fifth": len(self.rows) == home_rules.MOST,
        }

    @cached_property
    def _there(self) -> set[int]:
        return {row.exercise.pk for row in self.rows}

    def _stays(self, form: HomeFindForm, exercise: Exercise, candidates: dict[int, dict]) -> bool:
        """Return whether an exercise may be offered. An 'avoid' shows only to who types something."""
        if exercise.pk in self._there or not may_go_home(exercise):
            return False
        if exercise.pk not in candidates:
            candidates[exercise.pk] = self._candidate(exercise)
        one = candidates[exercise.pk]
        if form.by_verdict and form.leaves_out(one["verdict"]):
            return False
        return bool(form.words_typed) or not one["refused"]

    @staticmethod
    def _ordered(form: HomeFindForm, hits: list[Hit], candidates: dict[int, dict]) -> list[dict]:
        """Return what was found: by words best first, else done well here first. What is refused comes last."""
        found = [{**candidates[hit.exercise.pk], "hit": hit} for hit in hits]
        if form.words_typed:
            return sorted(found, key=lambda one: one["refused"])
        return sorted(
            found,
            key=lambda one: (
                one["refused"],
                not one["steady"],
                bool(one["row"].missing),
                LEVELS.index(one["row"].facts["level"]),
            ),
        )

    def _candidate(self, exercise: Exercise) -> dict:
        item = home_rules.usual(exercise.public_id, exercise.current.facts)
        row = self.gates.row(exercise, item, len(self.rows), self.rows)
        return {
            "row": row,
            "name": exercise.current.name,
            "level": vocabulary_wording.level(row.facts["level"]),
            "refused": home_rules.AVOID in row.needs and not self.gates.may_be_lifted(row, self.rows),
            "steady": home_rules.TAUGHT not in row.needs,
            "missing": home_wording.needed_things(row.missing),
            "verdict": row.verdict["verdict"],
            "text": wording.chip_text(row.verdict),
        }

    def conflict(self, pairs: list[dict]) -> dict:
        """Return what components/conflict.html shows; pairs that are alike are left out."""
        practice = self.practice
        when = timezone.localtime(practice.changed_at) if practice and practice.changed_at else None
        return {
            "who": (practice and practice.changed_by) or _("Somebody"),
            "when": date_format(when, "H:i") if when else "",
            "pairs": [pair for pair in pairs if pair["theirs"] != pair["yours"]],
        }

    # Answers.

    def asked_side(self) -> dict:
        """Return what the address asks for, else the first row to settle, else the picker or the whole."""
        asked = self.request.GET
        if asked.get("exercise"):
            exercise = self.exercise(asked["exercise"])
            if exercise and (may_go_home(exercise) or self.place_of(exercise) is not None):
                return self.item_sheet(exercise)
        if "add" in asked or "words" in asked:
            return self.picker(asked)
        if "whole" not in asked and self.unsettled:
            return self.item_sheet(self.rows[self.unsettled[0] - 1].exercise)
        return self.whole_sheet() if "whole" in asked or self.rows else self.picker({})

    def render(self, side: dict | None = None, *, status: int = 200, focus: str = ""):
        """Answer with the whole page, or for htmx with the part that is replaced."""
        if self.request.method in ("GET", "HEAD"):
            audit.write(self.request.actor, "home_practice.read", self.client)
        target = self.request.htmx.target if self.request.htmx else None
        names = {"plan": "_home.html", "plan-side": "_home_side.html", "home-found": "_home_found.html"}
        context = self.context(side or self.asked_side()) | {"focus": focus, "oob": target == "plan"}
        name = names.get(target, "home_practice.html")
        return render(self.request, f"sessions/{name}", context, status=status)

    def context(self, side: dict) -> dict:
        person = self.request.user
        total = sum(row.seconds for row in self.rows)
        current = Handout.objects.seen_by(person).current().light().filter(client=self.client)
        row = side.get("row")
        return {
            "page": self,
            "client": self.client,
            "rows": [self._shown(number, row) for number, row in enumerate(self.rows, 1)],
            "minutes": home_rules.minutes(total) if self.rows else 0,
            "too_long": home_rules.is_long(total),
            "most_minutes": home_rules.LONG_MINUTES,
            "waits": home_wording.look_over(len(self.rows), self.unsettled),
            "waiting": self.gates.waiting,
            "alternation": self.alternation(),
            "version": self.version,
            "whole": self._whole_words(),
            "side": side,
            "selected": row.exercise.pk if row else None,
            "handout": current.first(),
            "call_backs": open_call_backs(person, self.today, client=self.client, table=self.gates.table),
            "at": "clients",
        }

    def _shown(self, number: int, row: HomeRow) -> dict:
        sides = row.item["sides"]
        limits = own_limits.done_on(self.limits.get(row.exercise.pk), (sides or "both",))
        return {
            "number": number,
            "row": row,
            "limits": limits,
            "id": row.exercise.public_id,
            "name": row.exercise.current.name,
            "dose": home_wording.dose(row.item),
            "often": home_wording.often(row.item),
            "changes": home_wording.changes(row.item),
            "drawn_sides": own_limits.drawn_sides(limits, sides, "right" if sides else ""),
            "verdict": row.verdict["verdict"],
            "text": wording.chip_text(row.verdict),
            "needs": home_wording.needs(row),
            "without": plan_wording.without_words(row.verdict),
            "spell": self._spell(row, number - 1),
            "minutes": home_rules.minutes(row.seconds),
        }

    def _spell(self, row: HomeRow, place: int | None) -> str:
        """Return how long the exercise's spell on the back is, where it is long and a rule speaks of it."""
        speaks = (
            row.verdict["demands"].get(self.gates.table.supine_demand, {}).get("verdict", "none") != "none"
        )
        which = len(self.rows) if place is None else place
        return plan_wording.spell_words(row.around, which) if speaks else ""

    def alternation(self) -> dict | None:
        """Return an order in which positions change, where the sheet is to change them and does not."""
        lies = [neighbours.is_on_the_back(row.judged) for row in self.rows]
        pairs = home_rules.together(lies)
        if not self.gates.alternates or not pairs:
            return None
        order = home_rules.alternated(lies)
        rows = [self.rows[place] for place in order]
        names = [row.exercise.current.name for row in rows]
        better = len(home_rules.together([lies[place] for place in order])) < len(pairs)
        return {
            "words": home_wording.same_position(pairs, names) if better else home_wording.no_change(pairs),
            "order": " ".join(row.exercise.public_id for row in rows) if better else "",
        }

    @staticmethod
    def _figure_side(item: dict) -> str | None:
        return {"both": "right", "": None}.get(item["sides"], item["sides"])

    def _whole_words(self) -> dict:
        practice = self.practice
        return {
            "moment": practice.moment if practice else "",
            "look_again": handout_actions.look_again(self.client, practice, self.today),
            "large_print": bool(practice and practice.large_print),
        }
