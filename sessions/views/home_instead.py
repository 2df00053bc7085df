"""What may go home in the place of an exercise that may not."""

from library import alternatives
from library.models.shelf import shelf_of
from sessions import judging
from sessions.models import may_go_home
from sessions.views.instead import listed, row

MOST = 4


def rows(page, exercise) -> dict:
    """Return the nearest exercises that may go home with this client, with why; none that is on the sheet.

    page: a HomePage. Time on the back counts as long: their place on the sheet is not known yet.
    """
    there = {one.exercise.key for one in page.rows}
    shelf = {one.key: one for one in shelf_of(page.request.user) if may_go_home(one) and one.key not in there}
    facts = {key: one.current.facts for key, one in shelf.items()}
    owned = page.gates.owned
    if page.gates.asked:
        facts = {key: one for key, one in facts.items() if not set(one["home_props"]) - set(owned)}
    facts[exercise.key] = exercise.current.facts

    def judge_one(key):
        return judging.judge_facts(page.gates.flags, facts[key], page.today, table=page.gates.table)

    found = alternatives.nearest(exercise.key, judge_one, exercises=facts, limit=MOST)
    return listed([row(one, shelf[one.id]) for one in found])
