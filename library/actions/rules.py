"""What the owner adds to the rule table: a stricter rule, its end, a clinician's review, taking one back."""

import datetime as dt

from django.db import IntegrityError, transaction

from library.models import StudioRule, StudioRuleEnd, TableReview, TableReviewEnd, table_in_force
from library.stricter import Window, said, stricter_than
from studio import clock
from studio.actions import audit

audit.register("rule.added", "rule.ended", "review.recorded", "review.withdrawn")


class NotStricter(Exception):
    """The table says as much already. `says` is the verdict it gives all through the window."""

    def __init__(self, says: str):
        super().__init__("the table says as much already")
        self.says = says


class Over(Exception):
    """Somebody else ended it first."""


def make_stricter(
    *,
    actor: audit.Actor,
    today: dt.date,
    condition: str,
    demand: str,
    verdict: str,
    window: Window,
    reason: str,
    adaptation: str = "",
    raises: str = "",
) -> StudioRule:
    """Add a rule of the studio and return it. today: the day in the studio's time zone.

    raises: id of the rule whose window it takes over, if any. Raises NotStricter where the table in force says
    as much or more on every day of the window: nothing here ever makes a verdict laxer.
    """
    with transaction.atomic():
        says = said(table_in_force(), condition, demand, window)
        if verdict not in stricter_than(says):
            raise NotStricter(says)
        rule = StudioRule.objects.create(
            condition=condition,
            demand=demand,
            verdict=verdict,
            raises=raises,
            **{**window._asdict(), "spell": window.spell or ""},
            reason=reason,
            adaptation=adaptation,
            on=today,
            at=clock.now(),
            by=actor.person,
        )
        audit.write(actor, "rule.added", rule, fields=["condition", "demand", "verdict", "window", "reason"])
    return rule


def end_rule(*, actor: audit.Actor, rule: StudioRule, reason: str) -> None:
    """End a rule of the studio: the table speaks alone again. Raises Over when it has ended already."""
    with transaction.atomic():
        _end(StudioRuleEnd(rule=rule, reason=reason, at=clock.now(), by=actor.person))
        audit.write(actor, "rule.ended", rule, fields=["reason"])


def record_review(*, actor: audit.Actor, values: dict) -> TableReview:
    """Keep that a licensed clinician has looked at one version of the table.

    values: name, profession, registration, on, table_version, looked_at.
    """
    with transaction.atomic():
        review = TableReview.objects.create(**values, at=clock.now(), by=actor.person)
        audit.write(actor, "review.recorded", review, fields=list(values))
    return review


def withdraw_review(*, actor: audit.Actor, review: TableReview, reason: str) -> None:
    """Take a review back: nothing says any more that the table was looked at. Raises Over when it was before."""
    with transaction.atomic():
        _end(TableReviewEnd(review=review, reason=reason, at=clock.now(), by=actor.person))
        audit.write(actor, "review.withdrawn", review, fields=["reason"])


def _end(row) -> None:
    try:
        with transaction.atomic():
            row.save()
    except IntegrityError:
        raise Over from None
