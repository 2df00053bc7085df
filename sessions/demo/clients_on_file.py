"""The demo's clients on file: contact, paper form, flags confirmed and turned later, goals and their numbers."""

import datetime as dt
from decimal import Decimal

from django.db.models import Q

from clients.actions import care, flags, goals, intake, people
from clients.intake_form import NO, NOT_SURE, YES, groups
from clients.models import CareProfile, Flag, Submission
from sessions.demo.cast import CLIENTS
from sessions.demo.people import DESK


def on_file_at(demo, person) -> dt.datetime:
    """Return when a client came to the desk for the first time."""
    number = CLIENTS.index(person)
    day = demo.day(-person.form_weeks_ago, number % 5)
    return demo.at(day, "10:00") + dt.timedelta(minutes=20 * number)


def plan_for(demo, person) -> None:
    """Put down all steps about one client: on file, form, flags, goals, each a while after the other."""
    on_file = on_file_at(demo, person)
    day = on_file.date()
    demo.then(on_file, lambda: _add(demo, person))
    if person.told is None:
        return
    demo.then(on_file + dt.timedelta(minutes=15), lambda: _record(demo, person, day))
    demo.then(on_file + dt.timedelta(hours=26), lambda: _confirm(demo, person))
    demo.then(on_file + dt.timedelta(hours=27), lambda: _care(demo, person))
    for aim in person.aims:
        first = aim.ratings[0][0]
        said_at = demo.at(demo.day(-first, 1), "13:00")
        _aim(demo, person, aim, max(said_at, on_file + dt.timedelta(hours=27)))
    for turn in person.turns:
        demo.then(
            demo.at(demo.day(turn.week, turn.day), "13:30"), lambda turn=turn: _turn(demo, person, turn)
        )


def _add(demo, person) -> None:
    name, telephone = person.emergency
    demo.clients[person.key] = people.add(
        actor=demo.actor(DESK),
        contact={
            "full_name": person.full_name,
            "call_name": person.call_name,
            "birth_date": person.born,
            "telephone": person.telephone,
            "email": "",
            "emergency_name": name,
            "emergency_telephone": telephone,
        },
    )


def _record(demo, person, day: dt.date) -> None:
    """The desk types the paper form, once."""
    intake.record(
        actor=demo.actor(DESK),
        studio=demo.studio,
        client=demo.clients[person.key],
        given_by=Submission.GivenBy.PAPER,
        given_on=day,
        answers=answers_of(demo, person),
    )


def answers_of(demo, person) -> dict:
    """Return a client's answers in the shape of clients.intake_form."""
    ticked = {told.condition: _told(demo, told) for told in person.told}
    answered = {}
    for group, questions in groups():
        named = any(question.id in ticked for question in questions)
        answered[group] = YES if named else NOT_SURE if group in person.not_sure else NO
    answers = {
        "groups": answered,
        "conditions": ticked,
        "home": list(person.home),
        "touch": person.touch,
        **person.texts,
    }
    if person.limit:
        limit = person.limit
        answers["limits"] = {
            "words": limit.words,
            "by": limit.by,
            "dated": demo.day(-limit.weeks_ago, 1).isoformat(),
        }
    return answers


def _told(demo, told) -> dict:
    facts = {"side": told.side}
    if told.due_in is not None:
        facts["due"] = demo.day(told.due_in).isoformat()
    if told.weeks_ago is not None:
        facts |= {"when": "date", "on": demo.day(-told.weeks_ago).isoformat()}
    if told.long_ago:
        facts["when"] = "long_ago"
    return facts


def _turn(demo, person, turn) -> None:
    """Something changed: a condition or an instruction more, or one that ends or rests."""
    actor, client = demo.actor(person.instructor), demo.clients[person.key]
    if turn.told:
        flags.add(actor=actor, client=client, fields={**_condition(demo, turn.told), "note": turn.note})
    elif turn.limit:
        flags.add(actor=actor, client=client, fields=_instruction(demo, turn.limit))
    else:
        ways = {"ended": turn.ends, "resting": turn.rests, "active": turn.wakes}
        [(state, name)] = [(state, name) for state, name in ways.items() if name]
        before = "resting" if turn.wakes else "active"
        about = Q(condition=name) | Q(about=name)
        flag = Flag.objects.with_state().get(about, client=client, state=before)
        steps = flag.statuses.count()
        flags.set_state(actor=actor, flag=flag, state=state, reason=turn.reason, expected=steps)
    demo.shelf.forget(client)


def _condition(demo, told) -> dict:
    """Return a condition as the fields of a flag."""
    fields = {"condition": told.condition, "side": told.side}
    if told.due_in is not None:
        fields["due_on"] = demo.day(told.due_in)
    if told.weeks_ago is not None:
        fields |= {"when": "date", "event_on": demo.day(-told.weeks_ago, -2)}
    return fields


def _confirm(demo, person) -> None:
    """An instructor goes through what the form suggests: this counts, that rests, this stays to be asked."""
    actor, client = demo.actor(person.instructor), demo.clients[person.key]
    becomes = {told.condition: told for told in person.told}
    for flag in client.flags.all():
        if flag.is_instruction:
            _sort_words(demo, person, actor, flag)
            continue
        told = becomes[flag.condition]
        if told.becomes == "proposed":
            continue
        flags.set_state(actor=actor, flag=flag, state="active", reason="", expected=1)
        if told.becomes != "active":
            flags.set_state(actor=actor, flag=flag, state=told.becomes, reason=told.reason, expected=2)
    demo.shelf.forget(client)


def _sort_words(demo, person, actor, flag) -> None:
    """Put a clinician's words under the demand they are about, with the verdict and the last day."""
    fields = _instruction(demo, person.limit)
    flags.change(actor=actor, flag=flag, fields=fields, reason="Sorted from the form.", expected=1)


def _instruction(demo, limit) -> dict:
    """Return a clinician's words as the fields of a flag."""
    return {
        "about": limit.about,
        "verdict": limit.verdict,
        "words": limit.words,
        "clinician": limit.by,
        "dated": demo.day(-limit.weeks_ago, 1),
        "until_on": demo.day(limit.until_in),
        "side": limit.side,
    }


def _care(demo, person) -> None:
    if not person.size:
        return
    client = demo.clients[person.key]
    there = CareProfile.objects.filter(client=client).first()
    stature, mass = person.size
    care.change(
        actor=demo.actor(person.instructor),
        client=client,
        fields={"stature_mm": stature, "mass_g": mass},
        expected=there.version if there else 0,
    )


def _aim(demo, person, aim, said_at: dt.datetime) -> None:
    """The goal with its first number, then the client's later numbers on the Tuesday of their weeks."""
    (_week, first), *later = aim.ratings
    made = {}

    def add():
        made["goal"] = goals.add(
            actor=demo.actor(person.instructor),
            client=demo.clients[person.key],
            words=aim.words,
            on=said_at.date(),
            rating=first,
        )
        if aim.reach:
            _reach(demo, person, made["goal"], aim.reach)

    demo.then(said_at, add)
    for weeks_ago, value in later:
        day = demo.day(-weeks_ago, 1)

        def rate(day=day, value=value):
            goals.rate(actor=demo.actor(person.instructor), goal=made["goal"], value=value, on=day)

        demo.then(demo.at(day, "13:00"), rate)
    if aim.closed:
        weeks_ago, state = aim.closed
        day = demo.day(-weeks_ago, 1)
        demo.then(demo.at(day, "13:10"), lambda: _close(demo, person, made["goal"], state, day))


def _reach(demo, person, goal, reach) -> None:
    """The number that the goal is to come to, agreed when it was set."""
    goals.aim(
        actor=demo.actor(person.instructor),
        goal=goal,
        measure=reach.measure,
        side=reach.side,
        target=Decimal(str(reach.value)),
        by=demo.day(reach.by, 4),
        expected=goal.version,
    )


def _close(demo, person, goal, state: str, day: dt.date) -> None:
    actor = demo.actor(person.instructor)
    goals.set_state(actor=actor, goal=goal, state=state, on=day, expected=goal.version)
