"""One client in hand, for the pages of the library: verdicts on a day, and what they have done of it."""

from functools import cached_property

from django.http import Http404
from django.urls import reverse
from django.utils.translation import gettext as _

from clients.models import Client, Flag
from library.models import table_in_force
from library.views.maps import Shelf, Standing
from sessions import judging, ladder, ladder_wording, wording
from sessions.models import Attendance, Entry
from studio import clock

_BOOKING = "record__attendance__booking__"
_ENTRY = ("pk", "exercise__key", "record_id", f"{_BOOKING}starts_at", f"{_BOOKING}wall_day", "state")
_SIDE = ("sides__side", "sides__quality", "sides__repetitions", "sides__felt")


class ForClient:
    """A client, the day of the session asked for by `?session=` (else today), and the shelf. 404 through the doors.

    Everything is fetched once, in a fixed number of queries.
    """

    def __init__(self, request, client: str):
        self.person = request.user
        self.client = Client.objects.get_seen(self.person, client)
        self.attendance = self._asked_session(request.GET.get("session"))
        today = clock.today(request.studio.zone)
        self.day = self.attendance.booking.wall_day if self.attendance else today
        self.is_today = self.day == today

    def _asked_session(self, asked) -> Attendance | None:
        if not asked:
            return None
        attendance = Attendance.objects.with_booking().get_seen(self.person, asked)
        if attendance.client_id != self.client.pk:
            raise Http404(_("There is nothing here."))
        return attendance

    @property
    def query(self) -> str:
        """Return what every link of these pages carries on."""
        return f"?session={self.attendance.public_id}" if self.attendance else ""

    def url(self, exercise) -> str:
        path = reverse("sessions:client_exercise", args=[self.client.public_id, exercise.public_id])
        return path + self.query

    @cached_property
    def shelf(self) -> Shelf:
        return Shelf(self.person, self.url)

    @cached_property
    def flags(self) -> list[Flag]:
        return list(Flag.objects.seen_by(self.person).active().filter(client=self.client))

    @cached_property
    def table(self):
        return table_in_force()

    def judge(self, key: str, adaptations=()):
        """Judge an exercise as it is usually done, both sides, without a plan around it."""
        facts = self.shelf.facts[key]
        return judging.judge_facts(self.flags, facts, self.day, adaptations=adaptations, table=self.table)

    @cached_property
    def done(self) -> dict[str, ladder.Standing]:
        """How far the client is with everything they have done, by exercise. Two queries, plain rows."""
        entries = Entry.objects.seen_by(self.person).filter(record__attendance__client=self.client)
        sides: dict = {}
        for entry, name, *noted in entries.exclude(sides=None).values_list("pk", *_SIDE):
            sides.setdefault(entry, {})[name] = ladder.Side(*noted)
        rows: dict[str, list[ladder.Went]] = {}
        for entry, key, record, starts_at, day, state in entries.values_list(*_ENTRY):
            skipped = state == Entry.State.SKIPPED
            went = ladder.Went((starts_at, record), day, sides.get(entry, {}), skipped)
            rows.setdefault(key, []).append(went)
        facts = self.shelf.facts
        return {key: ladder.standing(went, facts[key]) for key, went in rows.items() if key in facts}

    def standings(self, keys) -> dict[str, Standing]:
        """Return what a map or a transfer view says of some exercises for this client."""
        judged = {key: judging.stored(self.judge(key)) for key in keys}
        avoided = {key for key, one in judged.items() if one["verdict"] == "avoid"}
        coming = ladder.upcoming(self.done, self.shelf.facts, avoided) & set(keys)
        return {key: self._standing(key, one, key in coming) for key, one in judged.items()}

    def _standing(self, key, judged, comes_next) -> Standing:
        known = self.done.get(key, ladder.Standing())
        kind = ladder.NEXT if comes_next else known.kind
        return Standing(
            kind,
            str(ladder_wording.KINDS[kind]) if kind else "",
            ladder_wording.box_words(kind, judged["verdict"]),
            judged["verdict"],
            wording.chip_text(judged),
            ladder_wording.last_words(known.last),
        )

    def context(self) -> dict:
        return {
            "client": self.client,
            "attendance": self.attendance,
            "day": self.day,
            "is_today": self.is_today,
            "query": self.query,
            "at": "clients",
        }
