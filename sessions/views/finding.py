"""A client's finder: the library's search, each exercise with what the rules say for this client on a day."""

from django.http import Http404
from django.shortcuts import render
from django.urls import reverse
from django.utils.functional import cached_property
from django.utils.translation import gettext as _
from django_htmx.http import replace_url

from clients import glance
from clients.models import CareProfile, Client, Flag
from library.models import table_in_force
from library.templatetags.finding import with_query
from library.views.finder import Finder, start_of
from sessions import judging, wording
from sessions.forms.finding import ClientFindForm
from sessions.models import Attendance, Plan
from studio import clock, roles
from studio.access import opens
from studio.actions import audit

audit.register("find.read")


@opens(*roles.HEALTH_READERS)
def find(request, client):
    """Search with verdicts; the day is that of `?session=`, a session of this client, else today."""
    page = FindPage(request, client)
    audit.write(request.actor, "find.read", page.client)
    if request.htmx and "why" in request.GET:
        return render(request, "sessions/_find_why.html", {"sheet": page.reasons(request.GET["why"])})
    context = page.context()
    if request.htmx and "from" in request.GET:
        return render(request, "sessions/_find_rows.html", context)
    if request.htmx:
        answer = render(request, "sessions/_find_found.html", context)
        return replace_url(answer, with_query(page.url, context["query"]))
    return render(request, "sessions/find.html", context)


class FindPage:
    """One search for one client. Loaded once, in a fixed number of queries."""

    def __init__(self, request, client: str):
        person = request.user
        self.request = request
        self.client = Client.objects.get_seen(person, client)
        self.attendance = self._asked_session(person)
        self.flags = list(Flag.objects.seen_by(person).active().filter(client=self.client))
        care = CareProfile.objects.seen_by(person).filter(client=self.client).first()
        self.owned = care.home_equipment if care else ()
        self.table = table_in_force()
        self._verdicts: dict[int, judging.Judgement] = {}
        session = self.attendance.public_id if self.attendance else ""
        self.form = ClientFindForm(request.GET, carried=[("session", session)], owned=self.owned)
        self.finder = Finder(person, self.form, also=self._stays)

    def _asked_session(self, person):
        asked = self.request.GET.get("session")
        if not asked:
            return None
        attendance = Attendance.objects.with_booking().get_seen(person, asked)
        if attendance.client_id != self.client.pk:
            raise Http404(_("There is nothing here."))
        return attendance

    @property
    def url(self) -> str:
        return reverse("sessions:find", args=[self.client.public_id])

    @property
    def day(self):
        return self.attendance.booking.wall_day if self.attendance else clock.today(self.request.studio.zone)

    def judged(self, exercise):
        """Return the judgement of an exercise as it is usually done, both sides, without a plan around it."""
        if exercise.pk not in self._verdicts:
            facts = exercise.current.facts
            self._verdicts[exercise.pk] = judging.judge_facts(self.flags, facts, self.day, table=self.table)
        return self._verdicts[exercise.pk]

    def _stays(self, form, exercise) -> bool:
        return not form.by_verdict or not form.leaves_out(self.judged(exercise).verdict)

    @cached_property
    def open_plan(self):
        """Return the plan of the session asked for while rows can be added to it, or None."""
        if not self.attendance:
            return None
        plans = Plan.objects.seen_by(self.request.user).filter(attendance=self.attendance)
        return plans.filter(approved_at=None).first()

    def context(self) -> dict:
        stretch = self.finder.page(start_of(self.request))
        return {
            **self.finder.context(),
            "client": self.client,
            "attendance": self.attendance,
            "open_plan": self.open_plan,
            "day": self.day,
            "is_today": self.day == clock.today(self.request.studio.zone),
            "find_url": self.url,
            "rows": [self._row(hit) for hit in stretch["hits"]],
            "next": stretch["next"],
            "start": start_of(self.request),
            "cares": glance.care(self.flags, self.day, table=self.table, whole=False),
            "flagged": bool(self.flags),
            "owned": self.owned,
            "at": "clients",
        }

    def _row(self, hit) -> dict:
        stored = judging.stored(self.judged(hit.exercise))
        asked = hit.exercise.public_id == self.request.GET.get("why")
        return {
            "hit": hit,
            "verdict": stored["verdict"],
            "text": wording.chip_text(stored),
            "sheet": wording.sheet(stored) if asked else None,
        }

    def reasons(self, exercise: str) -> dict:
        """Return the whole answer for one exercise of the shelf, or 404."""
        found = [one for one in self.finder.shelf if one.public_id == exercise]
        if not found:
            raise Http404(_("There is nothing here."))
        return wording.sheet(judging.stored(self.judged(found[0])))
