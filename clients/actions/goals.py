"""The client's goals: words, numbers, and what became of them."""

import datetime as dt
from decimal import Decimal

from django.db import transaction

from clients.models import Goal, GoalRating
from clients.models.measures import TENTHS
from studio import clock
from studio.actions import audit

audit.register("goal.added", "goal.changed", "goal.rated", "goals.read")


def add(*, actor: audit.Actor, client, words: str, on: dt.date, rating: int | None = None) -> Goal:
    """Put a goal on file in the client's words, with a first number where one was given."""
    with transaction.atomic():
        goal = Goal.objects.create(client=client, words=words, set_on=on)
        if rating is not None:
            GoalRating.objects.create(goal=goal, on=on, value=rating, author=actor.person)
        audit.write(actor, "goal.added", goal)
    return goal


def change_words(*, actor: audit.Actor, goal: Goal, words: str, expected: int) -> None:
    """Change the words of a goal. Raises studio.models.Stale when somebody else saved since they were read."""
    with transaction.atomic():
        goal.words = words
        goal.save_version(expected, ["words"], by=actor.person, at=clock.now())
        audit.write(actor, "goal.changed", goal, fields=["words"])


def aim(
    *,
    actor: audit.Actor,
    goal: Goal,
    measure: str,
    side: str,
    target: Decimal | None,
    by: dt.date | None,
    expected: int,
) -> None:
    """Set the number a goal is to reach, in the unit of the measure, or take it off with measure "".

    Raises Stale like `change_words`.
    """
    fields = ["measure", "side", "target", "target_on"]
    with transaction.atomic():
        goal.measure = measure
        goal.side = side if measure else ""
        goal.target = int(target * TENTHS) if measure else None
        goal.target_on = by if measure else None
        goal.save_version(expected, fields, by=actor.person, at=clock.now())
        audit.write(actor, "goal.changed", goal, fields=fields)


def set_state(*, actor: audit.Actor, goal: Goal, state: str, on: dt.date, expected: int) -> None:
    """Mark a goal reached or put aside, or open it again. Raises Stale like `change_words`."""
    with transaction.atomic():
        goal.state = state
        goal.closed_on = None if state == Goal.State.OPEN else on
        goal.save_version(expected, ["state", "closed_on"], by=actor.person, at=clock.now())
        audit.write(actor, "goal.changed", goal, fields=["state"])


def rate(*, actor: audit.Actor, goal: Goal, value: int, on: dt.date) -> GoalRating:
    """Note the client's own number for a goal on a day, 0 to 10. A second one on a day stands beside the first."""
    with transaction.atomic():
        rating = GoalRating.objects.create(goal=goal, on=on, value=value, author=actor.person)
        audit.write(actor, "goal.rated", goal)
    return rating
