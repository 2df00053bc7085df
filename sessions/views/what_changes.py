"""The coming weeks of a client whose verdicts follow the date."""

from django.shortcuts import render

from clients import glance
from clients.models import Client, Flag
from library.models import table_in_force
from sessions import changes_wording
from studio import clock
from studio.access import opens
from studio.actions import audit
from studio.roles import INSTRUCTOR, OWNER

WEEKS = (8, 16, 26, 40)
AT_FIRST = 16


@opens(OWNER, INSTRUCTOR)
def what_changes(request, client):
    client = Client.objects.get_seen(request.user, client)
    flags = list(Flag.objects.seen_by(request.user).active().filter(client=client))
    today, weeks = clock.today(request.studio.zone), _weeks(request.GET.get("weeks"))
    page = {
        "client": client,
        "today": today,
        "weeks": weeks,
        "spans": WEEKS,
        "anything": bool(flags),
        "asked": [row for row in glance.before_start(flags, today) if row["until"]],
        **changes_wording.page(flags, today, weeks, table=table_in_force()),
        "at": "clients",
    }
    audit.write(request.actor, "flags.read", client)
    return render(request, "sessions/what_changes.html", page)


def _weeks(asked: str | None) -> int:
    return next((weeks for weeks in WEEKS if str(weeks) == asked), AT_FIRST)
