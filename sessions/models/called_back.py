"""Handouts out in the world that new flags, or a new date, have made wrong."""

import datetime as dt
from dataclasses import dataclass

from clients.models import Flag
from library.models import ExerciseVersion, table_in_force
from sessions import judging
from sessions.call_backs import is_closed, wrong_items
from sessions.models.home_practice import Handout


@dataclass(frozen=True)
class CallBack:
    """A handout to be called back. exercises: dicts of name, before, verdict (the stored judgement now)."""

    client: object
    handout: Handout
    exercises: list[dict]
    flag_ids: list[int]

    @property
    def reasons(self) -> list[dict]:
        """Return every reason that counts, as sessions.judging stores it."""
        reasons = (reason for one in self.exercises for reason in one["verdict"]["reasons"])
        return [reason for reason in reasons if not reason["outranked"]]

    @property
    def verdicts(self) -> dict[str, str]:
        return {one["key"]: one["verdict"]["verdict"] for one in self.exercises}


def open_call_backs(person, day: dt.date, *, client=None, table=None) -> list[CallBack]:
    """Return every current handout that has become wrong and that nobody has dealt with, oldest first.

    person: who looks; who reads no health sees none. client: only this one's. table: the rule table
    in force, looked up where it is not given. Five queries with that one, or one where nothing was issued.
    """
    if not person.reads_health:
        return []
    handouts = Handout.objects.seen_by(person).current().defer("pdf", "payload").select_related("client")
    if client is not None:
        handouts = handouts.filter(client=client)
    handouts = [h for h in handouts.prefetch_related("call_backs_closed").order_by("issued_at") if h.verdicts]
    if not handouts:
        return []
    flags = _flags(person, handouts)
    handouts = [handout for handout in handouts if handout.client_id in flags]
    facts = _facts(handouts)
    table = table or table_in_force()
    found = (_call_back(handout, flags[handout.client_id], facts, day, table) for handout in handouts)
    return [call_back for call_back in found if call_back]


def is_called_back(handout: Handout, day: dt.date) -> bool:
    """Return whether a current handout waits to be called back: all the front desk is told of it, no cause."""
    if Handout.objects.filter(replaces=handout).exists() or not handout.verdicts:
        return False
    flags = list(Flag.objects.active().filter(client=handout.client_id))
    return bool(flags) and _call_back(handout, flags, _facts([handout]), day, table_in_force()) is not None


def _flags(person, handouts) -> dict[int, list]:
    clients = {handout.client_id for handout in handouts}
    found: dict[int, list] = {}
    for flag in Flag.objects.seen_by(person).active().filter(client__in=clients):
        found.setdefault(flag.client_id, []).append(flag)
    return found


def _facts(handouts) -> dict[int, dict]:
    """Return version -> its name, its facts and, where the exercise has moved on, those it has now."""
    ids = {item["version_id"] for handout in handouts for item in handout.verdicts}
    rows = ExerciseVersion.objects.filter(pk__in=ids).values_list(
        "pk", "exercise__current_id", "payload__facts", "exercise__current__payload__facts"
    )
    return {pk: [issued] if current == pk else [issued, now] for pk, current, issued, now in rows}


def _call_back(handout: Handout, flags: list, facts: dict, day: dt.date, table) -> CallBack | None:
    items = [
        {
            "key": item["exercise"],
            "facts": facts[item["version_id"]],
            "sides": item["sides"],
            "adaptations": item["adaptations"],
            "seconds": item.get("seconds"),
            "verdict": item["verdict"]["verdict"],
        }
        for item in handout.verdicts
    ]
    wrong = wrong_items(items, flags, day, table=table)
    flag_ids = [flag.pk for flag in flags]
    closings = [(one.flag_ids, one.verdicts) for one in handout.call_backs_closed.all()]
    if not wrong or is_closed(closings, flag_ids, wrong):
        return None
    names = {item["key"]: item["facts"][0]["name"] for item in items}
    exercises = [
        {
            "key": one.key,
            "name": names[one.key],
            "before": one.before,
            "verdict": judging.stored(one.judgement),
        }
        for one in wrong
    ]
    return CallBack(handout.client, handout, exercises, flag_ids)
