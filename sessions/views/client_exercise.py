"""One exercise for one client: what the rules say of it on a day, and the nearest that train the same."""

from django.http import Http404
from django.shortcuts import render
from django.utils.translation import gettext as _

from clients.models import Client, Flag
from library import alternatives
from library.models import Exercise, table_in_force
from library.models.shelf import shelf_of
from sessions import judging, wording
from sessions.models import Attendance
from sessions.views.instead import listed, row
from studio import clock, roles
from studio.access import opens
from studio.actions import audit


@opens(*roles.HEALTH_READERS)
def client_exercise(request, client, exercise):
    """The day is that of `?session=`, a session of this client, else today. Outside a plan: both sides, long."""
    client = Client.objects.get_seen(request.user, client)
    exercise = Exercise.objects.with_content().get_seen(request.user, exercise)
    attendance = _asked_session(request, client)
    day = attendance.booking.wall_day if attendance else clock.today(request.studio.zone)
    flags, table = list(Flag.objects.seen_by(request.user).active().filter(client=client)), table_in_force()
    shelf = {one.key: one for one in shelf_of(request.user)}
    facts = {key: one.current.facts for key, one in shelf.items()}

    def judge_one(key, adaptations=()):
        return judging.judge_facts(flags, facts[key], day, adaptations=adaptations, table=table)

    units = attendance.booking.units.all() if attendance else None
    found = alternatives.nearest(
        exercise.key,
        judge_one,
        judge_changed=judge_one,
        exercises=facts,
        at_hand=None if units is None else {unit.kind for unit in units if unit.in_use},
    )
    context = {
        "client": client,
        "exercise": exercise,
        "facts": exercise.current.facts,
        "text": exercise.current.text,
        "attendance": attendance,
        "day": day,
        "is_today": day == clock.today(request.studio.zone),
        "sheet": wording.sheet(judging.stored(judge_one(exercise.key))),
        **listed([row(one, shelf[one.id]) for one in found]),
        "at": "clients",
    }
    audit.write(request.actor, "find.read", client)
    return render(request, "sessions/client_exercise.html", context)


def _asked_session(request, client) -> Attendance | None:
    asked = request.GET.get("session")
    if not asked:
        return None
    attendance = Attendance.objects.with_booking().get_seen(request.user, asked)
    if attendance.client_id != client.pk:
        raise Http404(_("There is nothing here."))
    return attendance
