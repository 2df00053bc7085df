"""Handouts out in the world that new flags, a new date, or a lower limit of the client's have made wrong."""

import datetime as dt
from dataclasses import dataclass

from clients.models import Flag
from library.models import ExerciseVersion, table_in_force
from sessions import handout as paper
from sessions import judging
from sessions.call_backs import is_closed, wrong_items
from sessions.models.home_practice import Handout
from sessions.models.own_ways import OwnWay
from sessions.shortened import Shortened, shortened


@dataclass(frozen=True)
class CallBack:
    """A handout to be called back. exercises: dicts of name, before, verdict (the stored judgement now), those
    judged stricter now. shortened: those that its page shows farther than the client is to go by now.
    """

    client: object
    handout: Handout
    exercises: list[dict]
    flag_ids: list[int]
    shortened: list[Shortened]

    @property
    def reasons(self) -> list[dict]:
        """Return every reason that counts, as sessions.judging stores it."""
        reasons = (reason for one in self.exercises for reason in one["verdict"]["reasons"])
        return [reason for reason in reasons if not reason["outranked"]]

    @property
    def verdicts(self) -> dict[str, str]:
        return {one["key"]: one["verdict"]["verdict"] for one in self.exercises}

    @property
    def limits(self) -> dict[str, dict]:
        """Return library id -> the client's limits now, of what goes less far."""
        return {one.key: one.now for one in self.shortened}


def open_call_backs(person, day: dt.date, *, client=None, table=None) -> list[CallBack]:
    """Return every current handout that has become wrong and that nobody has dealt with, oldest first.

    person: who looks; who reads no health sees none. client: only this one's. table: the rule table
    in force, looked up where it is not given. Six queries with that one and one more where limits were changed
    since, or one where nothing was issued.
    """
    if not person.reads_health:
        return []
    handouts = Handout.objects.seen_by(person).current().defer("pdf", "payload").select_related("client")
    if client is not None:
        handouts = handouts.filter(client=client)
    handouts = [h for h in handouts.prefetch_related("call_backs_closed").order_by("issued_at") if h.verdicts]
    if not handouts:
        return []
    clients = {handout.client_id for handout in handouts}
    flags = _flags(Flag.objects.seen_by(person), clients)
    limits = _limits(OwnWay.objects.seen_by(person), clients)
    less = _shortened(handouts, limits)
    handouts = [h for h in handouts if h.client_id in flags or h.pk in less]
    if not handouts:
        return []
    facts = _facts(handouts)
    table = table or table_in_force()
    found = (
        _call_back(h, flags.get(h.client_id, []), less.get(h.pk, []), facts, day, table) for h in handouts
    )
    return [call_back for call_back in found if call_back]


def is_called_back(handout: Handout, day: dt.date) -> bool:
    """Return whether a current handout waits to be called back: all the front desk is told of it, no cause."""
    if Handout.objects.filter(replaces=handout).exists() or not handout.verdicts:
        return False
    clients = {handout.client_id}
    flags = _flags(Flag.objects.all(), clients).get(handout.client_id, [])
    less = _shortened([handout], _limits(OwnWay.objects.all(), clients)).get(handout.pk, [])
    if not flags and not less:
        return False
    return _call_back(handout, flags, less, _facts([handout]), day, table_in_force()) is not None


def _flags(rows, clients: set[int]) -> dict[int, list]:
    found: dict[int, list] = {}
    for flag in rows.active().filter(client__in=clients):
        found.setdefault(flag.client_id, []).append(flag)
    return found


def _limits(rows, clients: set[int]) -> dict[int, dict[str, dict]]:
    """Return client -> library id -> how far the client goes in it, as it is kept now."""
    found: dict[int, dict[str, dict]] = {}
    kept = rows.filter(client__in=clients).exclude(limit={})
    for client, key, limit in kept.values_list("client", "exercise__key", "limit"):
        found.setdefault(client, {})[key] = limit
    return found


def _shortened(handouts, limits: dict[int, dict]) -> dict[int, list[Shortened]]:
    """Return handout -> what goes less far now than on its page; pages are read only where a limit is another."""
    changed = [h for h in handouts if _is_another(h.verdicts, limits.get(h.client_id, {}))]
    if not changed:
        return {}
    ids = [handout.pk for handout in changed]
    payloads = dict(Handout.objects.filter(pk__in=ids).values_list("pk", "payload"))
    closed = {h.pk: [one.limits for one in h.call_backs_closed.all()] for h in changed}
    found = {h.pk: shortened(_items(payloads[h.pk]), limits[h.client_id], closed[h.pk]) for h in changed}
    return {pk: less for pk, less in found.items() if less}


def _is_another(verdicts: list[dict], limits: dict[str, dict]) -> bool:
    """Return whether a client has a limit in an exercise that is not the one it was issued with."""
    return any(
        limits.get(item["exercise"]) and limits[item["exercise"]] != item.get("limits") for item in verdicts
    )


def _items(payload: dict) -> tuple:
    try:
        return paper.from_json(payload).items
    except paper.HandoutError:
        return ()


def _facts(handouts) -> dict[int, dict]:
    """Return version -> its name, its facts and, where the exercise has moved on, those it has now."""
    ids = {item["version_id"] for handout in handouts for item in handout.verdicts}
    rows = ExerciseVersion.objects.filter(pk__in=ids).values_list(
        "pk", "exercise__current_id", "payload__facts", "exercise__current__payload__facts"
    )
    return {pk: [issued] if current == pk else [issued, now] for pk, current, issued, now in rows}


def _call_back(
    handout: Handout, flags: list, less: list[Shortened], facts: dict, day: dt.date, table
) -> CallBack | None:
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
    if is_closed(closings, flag_ids, wrong):
        wrong = []
    if not wrong and not less:
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
    return CallBack(handout.client, handout, exercises, flag_ids, less)
