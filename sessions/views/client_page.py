"""One client: for instructors everything at a glance, for the front desk contact, form and bookings."""

from django.shortcuts import render

from clients import glance
from clients.models import CareProfile, Client, Flag, Goal, Submission
from library import measure_wording, regions
from library.models import table_in_force
from sessions.models import Attendance, Entry, Handout, Record, open_call_backs
from sessions.views import passes, progress_page
from sessions.views.handouts import shown_call_back, shown_items
from sessions.views.timeline import session_shown
from studio import clock
from studio.access import opens
from studio.actions import audit

audit.register("client.read")

LAST_SESSIONS = 3
# Of a session so many rows stand on the page.
ROWS_OF_A_SESSION = 4
ROWS_OF_AN_EARLIER_ONE = 2


@opens()
def client(request, client):
    client = Client.objects.with_desk_marks().get_seen(request.user, client)
    if request.user.reads_health:
        return _for_instructor(request, client)
    return _for_desk(request, client)


def _attendances(request, client):
    return Attendance.objects.seen_by(request.user).filter(client=client).with_booking()


def _for_desk(request, client):
    """Contact, form, bookings: this page is given nothing of the client's health."""
    today = clock.today(request.studio.zone)
    attendances = _attendances(request, client)
    coming = attendances.filter(booking__wall_day__gte=today).order_by("booking__starts_at")
    past = attendances.filter(booking__wall_day__lt=today).order_by("-booking__starts_at")
    context = {
        "client": client,
        "today": today,
        "coming": passes.give_words(request.user, coming, 12),
        "past": passes.give_words(request.user, past, 12),
        "passes": passes.drawn(request.user, client, today, running=True),
        "pass_words": passes.left_for(request.user, [client.pk], today).get(client.pk),
        "beyond": passes.beyond(request.user, client, today),
        "handouts": Handout.objects.seen_by(request.user).current().filter(client=client).defer("pdf"),
        "at": "clients",
    }
    return render(request, "sessions/desk_client.html", context)


def _for_instructor(request, client):
    person, today = request.user, clock.today(request.studio.zone)
    flags = list(Flag.objects.seen_by(person).filter(client=client).with_state())
    active = [flag for flag in flags if flag.state == "active"]
    coming = _attendances(request, client).filter(
        booking__wall_day__gte=today, state__in=("booked", "arrived")
    )
    following = coming.order_by("booking__starts_at").first()
    records = (
        Record.objects.seen_by(person)
        .filter(attendance__client=client)
        .exclude(attendance=following)
        .select_related("attendance__booking__instructor")
        .order_by("-attendance__booking__starts_at")
        .with_story()[:LAST_SESSIONS]
    )
    handout = Handout.objects.seen_by(person).current().filter(client=client).defer("pdf", "verdicts").first()
    strips = progress_page.strips(person, client)
    table = request.rule_table = table_in_force()
    context = {
        "client": client,
        "pass_words": passes.left_for(person, [client.pk], today).get(client.pk),
        "age": _age(client.birth_date, today),
        "today": today,
        "active": active,
        "proposed": [flag for flag in flags if flag.state == "proposed"],
        **_care(active, today, table),
        "care": CareProfile.objects.seen_by(person).filter(client=client).first(),
        "goals": _goals(person, client),
        "submission": Submission.objects.seen_by(person).filter(client=client).first(),
        "strips": strips,
        "strip_goals": any(one["goal"] for one in strips),
        "sessions": _sessions(records),
        "session_count": _attendances(request, client).filter(state="done").count(),
        "next": following,
        "begun": following and Record.objects.seen_by(person).filter(attendance=following).exists(),
        "handout": handout,
        "practice": shown_items(handout.payload) if handout else [],
        "call_backs": [
            shown_call_back(one) for one in open_call_backs(person, today, client=client, table=table)
        ],
        "at": "clients",
    }
    audit.write(request.actor, "client.read", client)
    return render(request, "sessions/client.html", context)


def _goals(person, client) -> list:
    """Return the open goals with their ratings, each with `aim_words`, the number it is to reach."""
    goals = Goal.objects.seen_by(person).filter(client=client, state="open").prefetch_related("ratings")
    for goal in goals:
        goal.aim_words = measure_wording.goal_words(goal)
    return goals


def _care(active, today, table) -> dict:
    """Return what to take care of: chips with their reasons, strictest first, and the flags with their places."""
    return {
        "cares": glance.care(active, today, table=table),
        "spots": regions.spots(active),
        "numbered": [{"flag": flag, "numbers": numbers} for flag, numbers in regions.numbered(active)],
    }


def _sessions(records) -> list[dict]:
    """Return the sessions, newest first: the last one told more fully than those before it."""
    most = [ROWS_OF_A_SESSION] + [ROWS_OF_AN_EARLIER_ONE] * len(records)
    return [_session(record, rows) for record, rows in zip(records, most, strict=False)]


def _session(record, most: int) -> dict:
    """Return a session with the rows worth a glance, in their order: first those that tell left from right."""
    shown = session_shown(record)
    done = [row for row in shown["rows"] if row["entry"].state != Entry.State.SKIPPED]
    telling = sorted(done, key=lambda row: (not row["sided"], not any(row["quality"].values())))
    rows = sorted(telling[:most], key=lambda row: row["entry"].sequence)
    return {**shown, "rows": rows, "more": len(done) - len(rows)}


def _age(born, today) -> int:
    """Return the age in whole years; somebody born on 29 February has the birthday on 1 March."""
    return today.year - born.year - ((today.month, today.day) < (born.month, born.day))
