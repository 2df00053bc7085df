"""Who may open what: every address and method, against the authorisation matrix of the house.

The matrix follows data minimisation (GDPR article 5(1)(c)); that every route is listed and closed by default is the
OWASP verification standard 5.0, 8.1.1, 8.2.1, 8.2.2, 8.2.3, 8.3.1. A new address fails these tests until it has a
line in TABLE: its name, and for each method who may use it. If its path has a part that THINGS does not know, add
the part there.
"""

import datetime as dt
import re

import pytest
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext
from django.urls import get_resolver, reverse
from django.urls.resolvers import URLPattern

from clients.models import Touch
from sessions.demo import factories as f
from studio.roles import FRONT_DESK, INSTRUCTOR, OWNER

pytestmark = pytest.mark.django_db

NOBODY = "nobody"
BROWSERS = {OWNER: "as_owner", INSTRUCTOR: "as_instructor", FRONT_DESK: "as_desk", NOBODY: "as_nobody"}
STAFF = {OWNER, INSTRUCTOR, FRONT_DESK}
HEALTH = {OWNER, INSTRUCTOR}
ANYONE = STAFF | {NOBODY}

TABLE = {
    # coming in
    "studio:sign_in": {"GET": ANYONE, "POST": ANYONE},
    "studio:sign_out": {"POST": STAFF},
    "studio:first_owner": {"GET": ANYONE, "POST": ANYONE},
    "studio:help": {"GET": STAFF},
    # matrix row 11, the library
    "library:list": {"GET": STAFF},
    "library:exercise": {"GET": STAFF},
    # matrix rows 1 and 2, clients and their contacts
    "clients:list": {"GET": STAFF, "POST": STAFF},
    "clients:new": {"GET": STAFF, "POST": STAFF},
    "clients:contact": {"GET": STAFF, "POST": STAFF},
    # the client's page is two pages: the desk's holds no health
    "sessions:client": {"GET": STAFF},
    # matrix row 9
    "sessions:timeline": {"GET": HEALTH},
    # matrix row 12, bookings
    "sessions:today": {"GET": STAFF},
    "sessions:bookings": {"GET": STAFF},
    "sessions:booking_new": {"GET": STAFF, "POST": STAFF},
    "sessions:ask_first": {"GET": STAFF},
    "sessions:booking": {"GET": STAFF},
    "sessions:booking_change": {"GET": STAFF, "POST": STAFF},
    "sessions:attendance_state": {"POST": STAFF},
}

# What a form must hold at least to be more than a bad request, where an empty one is not answered at all.
BODIES = {
    "sessions:attendance_state": {"state": "done", "version": 1},
}

# Words that stand only in health rows; no page of the desk may show one of them.
PLANTED = {
    "flag": "Plantedflagnote",
    "words": "Plantedinstruction",
    "clinician": "Plantedclinician",
    "answer": "Plantedanswer",
    "goal": "Plantedgoal",
    "note": "Plantedplannote",
    "keep": "Plantedkeepreason",
    "next": "Plantednexttime",
    "said": "Plantedsentence",
    "entry": "Plantedentrynote",
    "incident": "Plantedincident",
}
# What the page of a health reader says of the planted flag, in words of the rule table or the touch list.
HEALTH_WORDS = ("frozen", "Frozen", str(Touch.ASK.label), "pregnan", "Pregnan")


class Address:
    """One address of the house: its name, its view, the parts of its path that name a thing."""

    def __init__(self, name, pattern, parts):
        self.name, self.view, self.parts = name, pattern.callback, parts
        self.methods = getattr(pattern.callback, "methods", None)

    def path(self, things: dict) -> str:
        missing = set(self.parts) - set(things)
        assert not missing, f"{self.name}: say in THINGS which row stands for {missing}"
        return reverse(self.name, kwargs={part: things[part] for part in self.parts})


def walk(patterns, names=(), parts=()):
    for pattern in patterns:
        here = (*parts, *pattern.pattern.regex.groupindex)
        if isinstance(pattern, URLPattern):
            yield Address(":".join((*names, pattern.name)), pattern, here)
        else:
            inside = (*names, pattern.namespace) if pattern.namespace else names
            yield from walk(pattern.url_patterns, inside, here)


ADDRESSES = {address.name: address for address in walk(get_resolver().url_patterns)}
ROWS = [
    pytest.param(ADDRESSES[name], method, who, id=f"{method}-{name}")
    for name, methods in TABLE.items()
    for method, who in methods.items()
    if name in ADDRESSES
]


def test_every_address_has_a_line_and_every_line_an_address():
    assert set(ADDRESSES) - set(TABLE) == set(), "give the new address a line in TABLE"
    assert set(TABLE) - set(ADDRESSES) == set(), "take the line out of TABLE"


@pytest.mark.parametrize("address", ADDRESSES.values(), ids=lambda address: address.name)
def test_every_method_has_its_entry(address):
    assert address.methods is not None, "mark the view with @opens"
    assert set(address.methods) == set(TABLE[address.name])


@pytest.mark.parametrize("address", ADDRESSES.values(), ids=lambda address: address.name)
def test_what_the_view_declares_is_what_the_table_says(address):
    assert set(address.view.opens_to) == set().union(*TABLE[address.name].values())


def everything_about(client, instructor, when="10:00") -> dict:
    """Make one row of every kind about a client and return part of a path -> id."""
    f.CareProfileFactory(client=client, touch=Touch.ASK)
    submission = f.SubmissionFactory(client=client, answers={"free": PLANTED["answer"]})
    flag = f.FlagFactory(
        client=client, condition="frozen_shoulder", side="left", on="long_ago", note=PLANTED["flag"]
    )
    f.InstructionFactory(client=client, words=PLANTED["words"], clinician=PLANTED["clinician"])
    goal = f.GoalFactory(client=client, words=PLANTED["goal"])
    unit = f.UnitFactory()
    attendance = f.AttendanceFactory(
        client=client,
        booking__instructor=instructor,
        booking__wall_time=dt.time.fromisoformat(when),
        state="arrived",
    )
    attendance.booking.units.add(unit)
    plan = f.PlanFactory(attendance=attendance, exercises=["mat_pelvic_curl", "mat_clam"])
    item = plan.items.first()
    item.note, item.keep_reason = PLANTED["note"], PLANTED["keep"]
    item.save()
    record = f.RecordFactory(
        attendance=attendance, next_time=PLANTED["next"], client_words=PLANTED["said"], effort=4
    )
    entry = f.EntryFactory(record=record, note=PLANTED["entry"], both={"repetitions": 8})
    incident = f.IncidentFactory(attendance=attendance)
    f.IncidentNoteFactory(incident=incident, words=PLANTED["incident"])
    f.HomePracticeFactory(client=client, exercises=["mat_pelvic_curl", "mat_clam"])
    handout = f.HandoutFactory(client=client, attendance=attendance)
    return {
        "client": client.public_id,
        "submission": submission.public_id,
        "flag": flag.public_id,
        "goal": goal.public_id,
        "booking": attendance.booking.public_id,
        "attendance": attendance.public_id,
        "item": item.public_id,
        "entry": entry.pk,
        "incident": incident.public_id,
        "handout": handout.public_id,
        "exercise": f.ExerciseFactory(key="mat_pelvic_curl").public_id,
    }


@pytest.fixture
def things(instructor, now):
    return everything_about(f.ClientFactory(), instructor)


@pytest.fixture
def others(instructor, now):
    """The same about somebody else."""
    return everything_about(f.ClientFactory(), instructor, "14:00")


def ask(browser, method, path, body=None):
    """Make the request and undo whatever it wrote."""
    with transaction.atomic():
        answer = getattr(browser, method.lower())(path, body)
        transaction.set_rollback(True)
    return answer


def was_refused(answer, role) -> bool:
    if role == NOBODY and answer.status_code == 302:
        return answer.url.startswith(reverse("studio:sign_in"))
    return answer.status_code == 403


@pytest.mark.parametrize(("address", "method", "who"), ROWS)
def test_each_role_gets_what_the_table_says(address, method, who, things, request):
    path = address.path(things)
    for role, fixture in BROWSERS.items():
        answer = ask(request.getfixturevalue(fixture), method, path, BODIES.get(address.name))
        if role in who:
            assert answer.status_code in (200, 204, 302, 409, 422), f"{role}: {answer.status_code}"
            assert not was_refused(answer, role) or NOBODY in who, f"{role} is turned away"
        else:
            assert was_refused(answer, role), f"{role} gets in: {answer.status_code}"


WITH_PARTS = [row for row in ROWS if row.values[0].parts]


@pytest.mark.parametrize(("address", "method", "who"), WITH_PARTS)
def test_an_unknown_id_is_not_found(address, method, who, things, request):
    for part in address.parts:
        unknown = "00000000-0000-4000-8000-000000000000" if part == "entry" else "no-such-id-at-all"
        path = address.path({**things, part: unknown})
        for role in who - {NOBODY}:
            answer = ask(request.getfixturevalue(BROWSERS[role]), method, path, BODIES.get(address.name))
            assert answer.status_code == 404, role


@pytest.mark.parametrize(("address", "method", "who"), [r for r in ROWS if len(r.values[0].parts) > 1])
def test_a_thing_under_somebody_else_is_not_found(address, method, who, things, others, request):
    for part in address.parts:
        path = address.path({**things, part: others[part]})
        for role in who - {NOBODY}:
            answer = ask(request.getfixturevalue(BROWSERS[role]), method, path, BODIES.get(address.name))
            assert answer.status_code == 404, role


OF_NO_CLIENT = {"exercise", "booking"}


@pytest.mark.parametrize(
    ("address", "method", "who"), [r for r in ROWS if set(r.values[0].parts) - OF_NO_CLIENT]
)
def test_those_who_left_are_found_by_the_owner_only(address, method, who, instructor, now, request):
    client = f.ClientFactory()
    path = address.path(everything_about(client, instructor))
    client.archived_on = now.date()
    client.save()
    for role in who - {NOBODY}:
        answer = ask(request.getfixturevalue(BROWSERS[role]), method, path, BODIES.get(address.name))
        if role == OWNER:
            assert answer.status_code != 404
        else:
            assert answer.status_code == 404, role


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
