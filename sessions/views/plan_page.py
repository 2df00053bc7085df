"""What the page of a plan shows: rows with their judgements, the sums, and the side sheet beside them."""

from dataclasses import replace

from django.http import Http404
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.functional import cached_property
from django.utils.translation import gettext as _

from clients import glance
from clients.models import Flag
from library import accessories, vocabulary_wording
from library.models import Kind, StudioSpring, table_in_force
from sessions import judging, own_limits, own_way_wording, plan_wording, planning, wording
from sessions.actions import plans as plan_actions
from sessions.forms.plans import KeepForm, PlanItemForm
from sessions.models import Attendance, OwnWay, Plan, PlanSwap, Record
from sessions.views.plan_picker import Picker
from studio import clock
from studio.actions import audit

audit.register("plan.read")


class PlanPage:
    """One client's plan as a request sees it. Everything is loaded once, in a fixed number of queries."""

    def __init__(self, request, attendance: str):
        person = request.user
        self.request = request
        self.attendance = Attendance.objects.with_booking().get_seen(person, attendance)
        self.booking, self.client = self.attendance.booking, self.attendance.client
        self.booked = list(self.booking.units.all())
        plans = Plan.objects.seen_by(person).filter(attendance=self.attendance).with_items()
        self.plan = plans.select_related("approved_by", "changed_by").first()
        if self.plan:
            self.plan.attendance = self.attendance
        self.flags = list(Flag.objects.seen_by(person).active().filter(client=self.client))

    @cached_property
    def last(self):
        """Return the record of the client's last session before this one, or None."""
        before = Record.objects.seen_by(self.request.user).filter(
            attendance__client=self.client,
            attendance__booking__starts_at__lt=self.booking.starts_at,
            finished_at__isnull=False,
        )
        newest_first = before.select_related("attendance__booking").order_by(
            "-attendance__booking__starts_at"
        )
        return newest_first.first()

    @property
    def pace(self):
        return Plan.pace(self.request.studio)

    @cached_property
    def tail(self):
        """Return the rows that a further one would join: those from the last break on, as the judge takes them."""
        items = self.plan.items.all() if self.plan else ()
        return judging.tail([item.as_judged() for item in items], self.pace)

    @cached_property
    def table(self):
        """Return the rule table in force, looked up once for the page."""
        self.request.rule_table = table_in_force()
        return self.request.rule_table

    @property
    def approved(self) -> bool:
        return bool(self.plan and self.plan.approved_at)

    def item(self, public_id: str):
        """Return a row of this very plan, or 404."""
        found = [item for item in (self.plan.items.all() if self.plan else ()) if item.public_id == public_id]
        if not found:
            raise Http404(_("There is nothing here."))
        return found[0]

    @cached_property
    def limits(self) -> dict[int, dict]:
        """Return how far the client goes, by key of the exercise."""
        return OwnWay.objects.seen_by(self.request.user).limits_of(self.client.pk)

    # Rows and sums.

    @cached_property
    def rows(self) -> list[dict]:
        if not self.plan:
            return []
        judged = plan_actions.judged_in_place(
            self.plan, self.flags, studio=self.request.studio, table=self.table
        )
        return [self._row(n, *one) for n, one in enumerate(judged, 1)]

    def _row(self, number, item, live, place) -> dict:
        shown = item.verdict if self.approved else live
        settled = self.approved or plan_actions.is_settled(item, live)
        facts = item.content.facts
        limits = own_limits.done_on(self.limits.get(item.exercise_id), (item.sides or "both",))
        return {
            "number": number,
            "item": item,
            "id": item.public_id,
            "name": item.content.name,
            "url": self.url("plan_item", item.public_id),
            "place": item.unit.name if item.unit else vocabulary_wording.apparatus(facts["apparatus"]),
            "not_booked": self._not_booked(item, facts),
            "out_of_use": self._out_of_use(item, facts),
            "sprung": facts["spring_role"] is not None,
            "springs": wording.springs_of(item.setting),
            "dose": wording.dose(item),
            "drawn_sides": own_limits.drawn_sides(limits, item.sides, item.first_side),
            "minutes": planning.shown_minutes(planning.row_seconds(item.as_row(), self.pace)),
            "verdict": shown["verdict"],
            "text": wording.chip_text(shown),
            "shown": shown,
            "live": live,
            "moved_on": self.approved and not judging.same_substance(shown, live),
            "settled": settled,
            "kept": shown["verdict"] == "avoid" and settled,
            "lift": plan_wording.lift_words(shown),
            "without": plan_wording.without_words(shown),
            "spell": self._spell(number, place, shown),
            "change": plan_wording.change_words(place, number),
            "pause": plan_wording.pause_words(item.pause),
            "limits": limits,
        }

    def _spell(self, number, place, shown) -> str:
        """Return how long the row's spell on the back is, where it is long and a rule speaks of it."""
        speaks = shown["demands"].get(self.table.supine_demand, {}).get("verdict", "none") != "none"
        return plan_wording.spell_words(place, number - 1) if speaks else ""

    def _not_booked(self, item, facts) -> bool:
        """Return whether the row needs a piece of apparatus that is not booked with this session."""
        kind = facts["apparatus"]
        if kind not in Kind.values:
            return False
        if item.unit:
            return item.unit not in self.booked
        return not [unit for unit in self.booked if unit.kind == kind]

    def _out_of_use(self, item, facts) -> bool:
        """Return whether the apparatus of the row is out of use, all of it that is booked for this session."""
        units = [item.unit] if item.unit else [u for u in self.booked if u.kind == facts["apparatus"]]
        return bool(units) and not any(unit.in_use for unit in units)

    @property
    def unsettled(self) -> list[dict]:
        return [row for row in self.rows if not row["settled"]]

    def url(self, name: str, *ids) -> str:
        return reverse(f"sessions:{name}", args=[self.attendance.public_id, *ids])

    # What stands in the side sheet.

    def row_sheet(self, item, *, form=None, keep_form=None, conflict=None) -> dict:
        """Return the side sheet of one row: reasons, and the forms while the plan is not approved."""
        row = next(row for row in self.rows if row["item"].pk == item.pk)
        sheet = {
            "kind": "row",
            "row": row,
            "reasons": wording.sheet(row["shown"]),
            "conflict": conflict,
            "moves": {"first": row["number"] == 1, "last": row["number"] == len(self.rows)},
            "lacks": self._lacks(item),
            "offers": [] if self.approved else self._offers(row),
            "swap": self._swap(item),
            "own": self._own(item),
        }
        if row["moved_on"]:
            sheet["now"] = wording.sheet(row["live"])
        if not self.approved:
            sheet["form"] = form or self.item_form(item)
            sheet["keep_form"] = keep_form or KeepForm(
                initial={"version": self.plan.version, "reason": item.keep_reason}
            )
        else:
            codes = item.adaptations
            sheet["changes"] = vocabulary_wording.labels("adaptation", codes)
            sheet["setting"] = wording.setting_words(item.setting)
        return sheet

    def _swap(self, item):
        """Return what stood in the row before its newest swap, or None."""
        swaps = PlanSwap.objects.seen_by(self.request.user).filter(item=item)
        return swaps.select_related("exercise__current", "by").first()

    def _own(self, item):
        """Return what has worked for the client in the exercise of the row, or None."""
        kept = OwnWay.objects.seen_by(self.request.user).of(self.client.pk, item.exercise)
        return own_way_wording.shown(kept)

    def _offers(self, row) -> list[dict]:
        """Return what would lift here, one touch each: the codes to send and the words of the button."""
        rows = [other["item"].as_judged(other["item"].exercise.current.facts) for other in self.rows]
        day, which = self.booking.wall_day, row["number"] - 1
        found = judging.lifting(self.flags, rows, which, day, pace=self.pace, table=self.table)
        return [
            {"codes": " ".join(codes), "words": plan_wording.offer_words(codes, verdict)}
            for codes, verdict in found
        ]

    def _lacks(self, item) -> list[str]:
        """Say what the exercise needs and the unit, as the studio has noted it, has not.

        Nothing while one of the booked units would do.
        """
        facts = item.exercise.current.facts
        units = [item.unit] if item.unit else [u for u in self.booked if u.kind == facts["apparatus"]]
        lacks = {unit: accessories.lacking(facts["accessories"], unit.accessories) for unit in units}
        if not all(lacks.values()):
            return []
        return [
            _("%(unit)s has no %(parts)s, as noted.") % {"unit": unit.name, "parts": ", ".join(parts)}
            for unit, parts in lacks.items()
        ]

    def item_form(self, item, data=None) -> PlanItemForm:
        kind = item.exercise.current.facts["apparatus"]
        units = [unit for unit in self.booked if unit.kind == kind]
        if item.unit and item.unit not in units:
            units.append(item.unit)
        return PlanItemForm(
            data,
            item=item,
            units=units,
            springs=StudioSpring.objects.seen_by(self.request.user).filter(kind=kind, in_use=True),
            minutes_by_sum=self._minutes_by_sum(item),
            initial={"version": self.plan.version},
        )

    def _minutes_by_sum(self, item) -> int:
        row = replace(item.as_row(), minutes=None)
        return planning.shown_minutes(planning.row_seconds(row, self.pace))

    def picker(self, wish, added=None) -> dict:
        """Return the side sheet for adding an exercise: what was asked for, and what was found."""
        return Picker(self, wish).side(added)

    def conflict(self, theirs: dict, yours: dict) -> dict:
        """Return what components/conflict.html shows: who saved first, and where the two differ."""
        return {
            "who": self.plan.changed_by or _("Somebody"),
            "when": date_format(timezone.localtime(self.plan.changed_at), "H:i"),
            "pairs": [
                {"label": label, "theirs": text, "yours": yours.get(label, "")}
                for label, text in theirs.items()
                if text != yours.get(label, "")
            ],
            "version": "",
        }

    # Answers.

    def render(self, side=None, *, status=200, focus=""):
        """Answer with the whole page, or for htmx with the part it asked to replace."""
        if self.request.method in ("GET", "HEAD"):
            audit.write(self.request.actor, "plan.read", self.plan or self.attendance)
        target = self.request.htmx.target if self.request.htmx else None
        template = {"plan": "_plan.html", "plan-side": "_plan_side.html", "plan-found": "_plan_found.html"}
        name = template.get(target, "plan.html")
        context = self.context(side, focus)
        context["oob"] = target == "plan"
        return render(self.request, f"sessions/{name}", context, status=status)

    def context(self, side=None, focus="") -> dict:
        studio, rows = self.request.studio, self.rows
        side = side or self._first_side_sheet()
        context = {
            "page": self,
            "attendance": self.attendance,
            "booking": self.booking,
            "client": self.client,
            "plan": self.plan,
            "rows": rows,
            "side": side,
            "focus": focus,
            "selected": side["row"]["id"] if side and side["kind"] in ("row", "instead") else "",
            "cares": glance.care(self.flags, self.booking.wall_day, table=self.table, whole=False),
            # The whole page shows it, the part that a touch asks for mostly does not.
            "last": lambda: self.last,
            "is_today": self.booking.wall_day == clock.today(studio.zone),
            "at": "clients",
        }
        if self.plan:
            return context | self._sums(studio) | self._approval()
        return context | self._last_entries()

    def _last_entries(self) -> dict:
        """Return what starting from last time would bring, by name, and what was skipped then."""
        entries = list(self.last.entries.select_related("exercise__current")) if self.last else []
        names = {True: [], False: []}
        for entry in entries:
            if entry.exercise.current:
                names[entry.state == entry.State.SKIPPED].append(entry.exercise.current.name)
        return {"done": names[False], "skipped": names[True]}

    def _first_side_sheet(self) -> dict | None:
        """Return what opens by itself: the first row to settle, else the picker of an empty plan."""
        if not self.plan:
            return None
        if self.unsettled:
            return self.row_sheet(self.unsettled[0]["item"])
        if not self.rows and not self.approved:
            return self.picker({})
        return None

    def _sums(self, studio) -> dict:
        planned, booked = self.plan.planned_minutes(studio), self.booking.minutes
        return {
            "planned": planned,
            "booked_minutes": booked,
            "before": round(studio.check_in_seconds / 60),
            "after": round(studio.close_seconds / 60),
            "changes": planning.changes([row["item"].as_row() for row in self.rows]),
            "minutes_words": wording.minutes_words(planned, booked),
        }

    def _approval(self) -> dict:
        waiting = [row["number"] for row in self.unsettled]
        moved_on = [row["number"] for row in self.rows if row["moved_on"]]
        return {
            "approved": self.approved,
            "waits": wording.settle_words(waiting) if waiting else "",
            "seen": judging.mark(row["live"] for row in self.rows),
            "moved_on": moved_on,
            "rules_moved": any(
                row["item"].table_version != row["live"]["table_version"]
                or row["item"].exercise_version_id != row["item"].exercise.current_id
                for row in self.rows
                if row["moved_on"]
            ),
        }
