"""The map and the transfer view for one client: what is secure, in work and next, and what the rules say."""

from django.shortcuts import render

from library import map_wording, maps, transfers, vocabulary_wording
from library.views.maps import check_skill, idea_context, map_context, skills_of
from sessions.views.for_client import ForClient
from studio import roles
from studio.access import opens
from studio.actions import audit


@opens(*roles.HEALTH_READERS)
def client_map(request, client, exercise):
    hand = ForClient(request, client)
    key = hand.shelf.key_of(exercise)
    found = maps.of_exercise(key, hand.shelf.facts)
    page = _page(hand, found, map_wording.around(hand.shelf.names[key]))
    facts = hand.shelf.facts[key]
    page |= {"exercise": hand.shelf.rows[key], "facts": facts, "skills": skills_of(facts["skills"])}
    audit.write(request.actor, "find.read", hand.client)
    return render(request, "sessions/client_map.html", page)


@opens(*roles.HEALTH_READERS)
def client_map_skill(request, client, skill):
    hand = ForClient(request, client)
    check_skill(skill)
    found = maps.of_skill(skill, hand.shelf.facts, first=set(hand.done))
    page = _page(hand, found, map_wording.skill_title(skill))
    page |= {"skill": vocabulary_wording.label("skill", skill), "skill_key": skill}
    audit.write(request.actor, "find.read", hand.client)
    return render(request, "sessions/client_map.html", page)


def _page(hand: ForClient, found: maps.Map, title: str) -> dict:
    return {**hand.context(), **map_context(found, hand.shelf, title, hand.standings(found.ids))}


@opens(*roles.HEALTH_READERS)
def client_transfer(request, client, family):
    hand = ForClient(request, client)
    keys = transfers.members(family, hand.shelf.facts)
    page = {**hand.context(), **idea_context(family, hand.shelf, hand.standings(keys))}
    audit.write(request.actor, "find.read", hand.client)
    return render(request, "sessions/client_transfer.html", page)
