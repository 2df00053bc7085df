"""Putting home practice together: every change is one step, refused when somebody else took one first."""

from django.db import transaction

from sessions import home_rules
from sessions.models import Gates, HomePractice, HomeRow, may_go_home
from studio import clock
from studio.actions import audit
from studio.models import Stale

audit.register("home_practice.read", "home_practice.changed")


class NotForHome(Exception):
    """An item may not go on the sheet. `row` says what it needs; None where it is no exercise for home."""

    def __init__(self, row: HomeRow | None = None):
        super().__init__("not for home")
        self.row = row


def save_item(*, actor, client, exercise, item: dict, expected: int, today) -> HomePractice:
    """Put an exercise on the client's sheet, or change it there.

    item: keys as in sessions.home_rules. expected: version of the sheet that was read, 0 for none yet.
    Raises NotForHome while anything is needed, and Stale.
    """
    with transaction.atomic():
        practice = _held(client, expected)
        items = home_rules.placed(practice.items, item)
        if not may_go_home(exercise) or len(items) > home_rules.MOST_AGREED:
            raise NotForHome
        gates = Gates.of(client, today)
        rows = gates.rows(items)
        weighed = _among(rows, item)
        if weighed.needs:
            raise NotForHome(weighed)
        practice.items = items
        return _written(actor, practice, expected, ["items"])


def remove_item(*, actor, client, exercise_id: str, expected: int) -> HomePractice:
    with transaction.atomic():
        practice = _held(client, expected)
        practice.items = home_rules.without(practice.items, exercise_id)
        return _written(actor, practice, expected, ["items"])


def move_item(*, actor, client, exercise_id: str, by: int, expected: int) -> HomePractice:
    """Move an exercise a place earlier (by -1) or later (1)."""
    with transaction.atomic():
        practice = _held(client, expected)
        practice.items = home_rules.moved(practice.items, exercise_id, by)
        return _written(actor, practice, expected, ["items"])


def order_items(*, actor, client, exercises: list[str], expected: int) -> HomePractice:
    """Bring the exercises into the order of these public ids."""
    with transaction.atomic():
        practice = _held(client, expected)
        practice.items = home_rules.ordered(practice.items, exercises)
        return _written(actor, practice, expected, ["items"])


def save_whole(
    *, actor, client, moment: str, look_again_on, large_print: bool, expected: int
) -> HomePractice:
    """Save what holds for the sheet as a whole."""
    with transaction.atomic():
        practice = _held(client, expected)
        practice.moment, practice.look_again_on, practice.large_print = moment, look_again_on, large_print
        return _written(actor, practice, expected, ["moment", "look_again_on", "large_print"])


def _among(rows: list[HomeRow], item: dict) -> HomeRow:
    return next(row for row in rows if row.item["exercise"] == item["exercise"])


def _held(client, expected: int) -> HomePractice:
    """Return the client's sheet at the expected version; an unsaved one where there is none yet."""
    practice = HomePractice.objects.filter(client=client).first()
    if (practice.version if practice else 0) != expected:
        raise Stale(practice)
    return practice or HomePractice(client=client)


def _written(actor, practice: HomePractice, expected: int, fields: list[str]) -> HomePractice:
    if not expected:
        practice.changed_by, practice.changed_at = actor.person, clock.now()
        practice.save(force_insert=True)
    else:
        practice.save_version(expected, fields, by=actor.person, at=clock.now())
    audit.write(actor, "home_practice.changed", practice, fields=fields)
    return practice
