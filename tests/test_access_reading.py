"""What a page shows and writes when it is read: health readings are written down, the desk sees none.

The addresses and who may use them stand in tests/test_access.py, the rows behind them in tests/everything.py.
Source: OWASP verification standard 5.0, 16.3 (what is logged), 8.2.1; GDPR article 5(1)(c).
"""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from studio.models import AuditEntry
from studio.roles import FRONT_DESK
from tests.everything import PLANTED, as_desk, as_instructor, as_owner, instructor, laid, things
from tests.test_access import BROWSERS, HEALTH, HEALTH_WORDS, NOBODY, ROWS

__all__ = ["as_desk", "as_instructor", "as_owner", "instructor", "laid", "things"]
pytestmark = pytest.mark.django_db

# Pages for those who read health that show none that is on file: a form to fill in, a question that is
# answered with nothing while nothing has changed.
EMPTY_FORMS = {
    "clients:flag_add",
    "clients:instruction_add",
    "sessions:record_stop",
    "sessions:record_flags_changed",
}
# Pages about the rule table and the exercises: they speak of no client.
OF_NOBODY = {
    "library:own",
    "library:own_new",
    "library:own_look",
    "library:own_step",
    "library:own_figure",
    "library:sets",
    "library:rules",
    "library:conditions",
    "library:condition",
    "sessions:questions_pdf",
    "sessions:questions_print",
}
# What an address has to be asked with, so that it shows anything.
ASKED = {"sessions:record_far": {"item": "item"}}


@pytest.mark.parametrize(
    ("address", "method", "who"),
    [
        r
        for r in ROWS
        if r.values[1] == "GET" and r.values[2] == HEALTH and r.values[0].name not in EMPTY_FORMS | OF_NOBODY
    ],
)
def test_reading_health_is_written_down(address, method, who, things, instructor, as_instructor):
    asked = {name: things[value] for name, value in ASKED.get(address.name, {}).items()}
    assert as_instructor.get(address.path(things), asked).status_code == 200
    entries = AuditEntry.objects.filter(person=instructor).exclude(action__startswith="access.")
    assert entries.exists()
    assert {entry.thing_id for entry in entries} & {str(value) for value in things.values()}


def test_the_clients_page_is_written_down_where_it_shows_health(things, instructor, as_instructor, as_desk):
    page = reverse("sessions:client", kwargs={"client": things["client"]})
    as_desk.get(page)
    assert not AuditEntry.objects.exists()
    as_instructor.get(page)
    assert AuditEntry.objects.filter(person=instructor, thing_id=things["client"]).exists()


WRITES = re.compile(r'^(INSERT|UPDATE|DELETE|REPLACE)[^"]*"(\w+)"')
MAY_BE_WRITTEN = {"studio_auditentry", "django_session"}


@pytest.mark.parametrize(("address", "method", "who"), [r for r in ROWS if r.values[1] == "GET"])
def test_reading_changes_nothing(address, method, who, things, request):
    for role in who - {NOBODY}:
        browser = request.getfixturevalue(BROWSERS[role])
        with CaptureQueriesContext(connection) as queries:
            browser.get(address.path(things))
        written = {m[2] for q in queries if (m := WRITES.match(q["sql"]))} - MAY_BE_WRITTEN
        assert not written, role


@pytest.mark.parametrize(
    ("address", "method", "who"), [r for r in ROWS if r.values[1] == "GET" and FRONT_DESK in r.values[2]]
)
def test_the_desk_is_shown_nothing_of_health(address, method, who, things, as_desk):
    answer = as_desk.get(address.path(things), follow=True)
    page = answer.content.decode(errors="replace")
    # The library and the help are about exercises in general, not about a client.
    general = address.name.startswith(("library:", "studio:"))
    for word in (*PLANTED.values(), *(() if general else HEALTH_WORDS)):
        assert word not in page, word


def test_the_planted_words_are_where_an_instructor_reads_them(things, as_instructor):
    """Otherwise the test above would find nothing because nothing is there."""
    page = as_instructor.get(reverse("sessions:client", kwargs={"client": things["client"]})).content.decode()
    assert PLANTED["goal"] in page
    assert "frozen" in page.casefold()
