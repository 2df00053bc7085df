"""One exercise for one client: the rules on a day, the last time, how to teach it, and what stands around it."""

from django.shortcuts import render

from library import alternatives
from library.views.maps import NOBODYS
from library.views.reading import around
from sessions import judging, wording
from sessions.models import Entry
from sessions.views.for_client import ForClient
from sessions.views.instead import listed, row
from sessions.views.own_way import own_way_context
from sessions.views.timeline import entry_shown
from studio import roles
from studio.access import opens
from studio.actions import audit


@opens(*roles.HEALTH_READERS)
def client_exercise(request, client, exercise):
    """The day is that of `?session=`, a session of this client, else today. Outside a plan: both sides, long."""
    hand = ForClient(request, client)
    key = hand.shelf.key_of(exercise)
    shown = hand.shelf.rows[key]
    context = {
        **hand.context(),
        "exercise": shown,
        "facts": shown.current.facts,
        "text": shown.current.text,
        "sheet": wording.sheet(judging.stored(hand.judge(key))),
        "last": _last(hand, shown),
        "family": shown.current.facts["transfer_family"],
        "ways": _ways(hand, key),
        **own_way_context(request.user, hand.client, shown),
        **listed([row(one, hand.shelf.rows[one.id]) for one in _nearest(hand, key)]),
    }
    audit.write(request.actor, "find.read", hand.client)
    return render(request, "sessions/client_exercise.html", context)


def _nearest(hand: ForClient, key: str) -> list[alternatives.Alternative]:
    units = hand.attendance.booking.units.all() if hand.attendance else None
    return alternatives.nearest(
        key,
        hand.judge,
        judge_changed=hand.judge,
        exercises=hand.shelf.facts,
        at_hand=None if units is None else {unit.kind for unit in units if unit.in_use},
    )


def _last(hand: ForClient, exercise) -> dict | None:
    """Return the last time this client did it as the record shows it, with its day; None when never."""
    done = Entry.objects.seen_by(hand.person).last_of(hand.client, exercise)
    if done is None:
        return None
    return {"on": done.record.attendance.booking.wall_day, "row": entry_shown(done)}


def _ways(hand: ForClient, key: str) -> dict[str, list[dict]]:
    """Return what stands before it, after it and beside it, each with what there is to say for this client."""
    found = around(key, hand.shelf)
    standing = hand.standings({one.key for rows in found.values() for one in rows})
    return {
        way: [
            {"exercise": one, "url": hand.url(one), "standing": standing.get(one.key, NOBODYS)}
            for one in rows
        ]
        for way, rows in found.items()
    }
