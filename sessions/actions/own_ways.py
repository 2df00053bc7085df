"""Keeping what worked for a client in an exercise: cues, range, preferred settings."""

from django.db import transaction

from sessions import own_ways, record_wording
from sessions.models import Entry, OwnWay
from studio import clock
from studio.actions import audit
from studio.models import Stale

audit.register("own_way.changed", "own_way.read")

# What is written down by hand and may meet somebody else's writing.
RANGE = ("range", "range_words")


class Full(Exception):
    """As many cues as can be read are kept already."""


def worked(*, actor, client, exercise, cue: str) -> OwnWay:
    """Keep that a cue worked: it comes first from now on. Saying it twice changes nothing. Raises Full."""
    with transaction.atomic():
        row = _held(client, exercise)
        cues = own_ways.with_cue(row.cues, cue)
        if cues == row.cues:
            return row
        if len(cues) > own_ways.MOST_CUES:
            raise Full
        row.cues = cues
        return _written(actor, row, row.version, ["cues"])


def worked_in(*, actor, client, entries) -> list[Entry]:
    """Keep the notes of a client's entries as cues that worked; return the entries for which there was no room."""
    full = []
    with transaction.atomic():
        for entry in entries:
            cue = record_wording.own_note(entry)
            try:
                worked(actor=actor, client=client, exercise=entry.exercise, cue=cue)
            except Full:
                full.append(entry)
    return full


def drop(*, actor, client, exercise, cue: str) -> OwnWay:
    """Take a cue away; nothing where it is not kept."""
    with transaction.atomic():
        row = _held(client, exercise)
        cues = own_ways.without_cue(row.cues, cue)
        if cues == row.cues:
            return row
        row.cues = cues
        return _written(actor, row, row.version, ["cues"])


def set_range(*, actor, client, exercise, values: dict, expected: int) -> OwnWay:
    """Write down how far this client goes. values: the fields of RANGE. expected: the version that was read, 0
    for none yet. Raises Stale.
    """
    with transaction.atomic():
        row = _held(client, exercise)
        if (0 if row.pk is None else row.version) != expected:
            raise Stale(row)
        for name in RANGE:
            setattr(row, name, values[name])
        return _written(actor, row, row.version, list(RANGE))


def set_limit(*, actor, client, exercise, limit: dict, expected: int) -> OwnWay:
    """Write down how far this client goes, as it is drawn; an empty one is the whole way. limit: see
    sessions.own_limits. expected: as in set_range. Raises Stale.
    """
    with transaction.atomic():
        row = _held(client, exercise)
        if (0 if row.pk is None else row.version) != expected:
            raise Stale(row)
        row.limit = limit
        return _written(actor, row, row.version, ["limit"])


def prefer(*, actor, client, exercise, setting: dict) -> OwnWay:
    """Mark a setting as the one to begin with; an empty one takes the mark away."""
    with transaction.atomic():
        row = _held(client, exercise)
        if row.setting == setting:
            return row
        row.setting = setting
        return _written(actor, row, row.version, ["setting"])


def last_setting(client_id: int, exercise) -> dict:
    """Return the springs and gear this client last worked with in this exercise, or an empty setting."""
    done = Entry.objects.filter(record__attendance__client=client_id, exercise=exercise)
    last = done.exclude(state=Entry.State.SKIPPED).exclude(setting={}).order_by("-at").first()
    return last.setting if last else {}


def preferred(client_id: int) -> dict[int, dict]:
    """Return the settings marked for a client, by key of the exercise; one query."""
    kept = OwnWay.objects.filter(client=client_id).exclude(setting={})
    return dict(kept.values_list("exercise", "setting"))


def setting_for(client_id: int, exercise) -> dict:
    """Return what to begin with: the preferred setting, else the last, else an empty one."""
    kept = OwnWay.objects.of(client_id, exercise)
    return kept.setting if kept and kept.setting else last_setting(client_id, exercise)


def _held(client, exercise) -> OwnWay:
    return OwnWay.objects.of(client.pk, exercise) or OwnWay(client=client, exercise=exercise)


def _written(actor, row: OwnWay, version: int, fields: list[str]) -> OwnWay:
    if row.pk is None:
        row.changed_at, row.changed_by = clock.now(), actor.person
        row.save()
    else:
        row.save_version(version, fields, by=actor.person, at=clock.now())
    audit.write(actor, "own_way.changed", row, fields=fields)
    return row
