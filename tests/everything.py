"""One row of every kind about four clients, and everybody signed in: laid once for a file of tests.

For files that only ask, hundreds of times. What a test writes is undone after it, as always; the rows
here are undone after the file. A file takes them by importing `things`, the browsers and whatever else it uses.
"""

import copy
import datetime as dt

import pytest
from django.db import transaction
from django.test import Client as Browser

from clients.models import Touch
from sessions import pdf
from sessions.demo import factories as f
from studio import clock
from studio.models import Staff
from tests.people import PEOPLE, signed_in

NOW = dt.datetime(2026, 11, 25, 10, 15, tzinfo=dt.UTC)

# Words that stand only in health rows; no page of the desk may show one of them.
PLANTED = {
    "flag": "Plantedflagnote",
    "words": "Plantedinstruction",
    "clinician": "Plantedclinician",
    "answer": "Plantedanswer",
    "goal": "Plantedgoal",
    "measure": "Plantedmeasurenote",
    "note": "Plantedplannote",
    "keep": "Plantedkeepreason",
    "next": "Plantednexttime",
    "said": "Plantedsentence",
    "entry": "Plantedentrynote",
    "incident": "Plantedincident",
    "own": "Plantedowncue",
}


def everything_about(client, instructor, when="10:00") -> dict:
    """Make one row of every kind about a client and return part of a path -> id."""
    f.CareProfileFactory(client=client, touch=Touch.ASK)
    submission = f.SubmissionFactory(client=client, answers={"free": PLANTED["answer"]})
    flag = f.FlagFactory(
        client=client, condition="frozen_shoulder", side="left", on="long_ago", note=PLANTED["flag"]
    )
    f.InstructionFactory(client=client, words=PLANTED["words"], clinician=PLANTED["clinician"])
    goal = f.GoalFactory(client=client, words=PLANTED["goal"])
    measurement = f.MeasurementFactory(client=client, note=PLANTED["measure"])
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
    f.OwnWayFactory(
        client=client,
        exercise__key="mat_pelvic_curl",
        cues=[PLANTED["own"]],
        limit={"both": {"by": "share", "value": 50}},
    )
    incident = f.IncidentFactory(attendance=attendance)
    f.IncidentNoteFactory(incident=incident, words=PLANTED["incident"])
    practice = f.HomePracticeFactory(client=client, exercises=["mat_pelvic_curl", "mat_clam"])
    handout = f.HandoutFactory(client=client, attendance=attendance)
    return {
        "client": client.public_id,
        "submission": submission.public_id,
        "flag": flag.public_id,
        "goal": goal.public_id,
        "measure": measurement.measure,
        "measurement": measurement.public_id,
        "booking": attendance.booking.public_id,
        "attendance": attendance.public_id,
        "item": item.public_id,
        "entry": entry.pk,
        "incident": incident.public_id,
        "handout": handout.public_id,
        "sold": f.PassFactory(client=client).public_id,
        "plan": plan.public_id,
        "record": record.public_id,
        "practice": practice.public_id,
        "device": f.DeviceFactory().public_id,
        "sign_in": f.StaffSessionFactory(person=instructor).public_id,
        "room": attendance.booking.room.public_id,
        "person": instructor.public_id,
        "kind": "consent",
        "unit": unit.public_id,
        "spring": f.SpringFactory().public_id,
        "rule": f.StudioRuleFactory().public_id,
        "review": f.TableReviewFactory().public_id,
        "condition": "frozen_shoulder",
        "skill": "trunk_flexor_strength",
        "family": "tf_bridge",
        "exercise": f.ExerciseFactory(key="mat_pelvic_curl").public_id,
        "draft": f.DraftFactory().public_id,
        "step": "demands",
        "offered": f.OfferedSetFactory().public_id,
    }


class Laid:
    """The rows behind the fixtures: ids by part of a path, and what each browser keeps once signed in."""

    def __init__(self):
        f.StudioFactory()
        people = {name: f.StaffFactory(**facts) for name, facts in PEOPLE.items()}
        self.keys = {name: person.pk for name, person in people.items()}
        teacher, owner = people["instructor"], people["owner"]
        self.things = everything_about(f.ClientFactory(), teacher)
        self.of_the_owner = everything_about(f.ClientFactory(), owner, "16:00")
        self.others = everything_about(f.ClientFactory(), teacher, "14:00")
        left = f.ClientFactory()
        self.of_one_who_left = everything_about(left, teacher, "12:00")
        left.archived_on = NOW.date()
        left.save()
        self._cookies = {name: signed_in(person).cookies for name, person in people.items()}

    def browser(self, name: str) -> Browser:
        """Return a new browser in which this person is signed in."""
        browser = Browser()
        browser.cookies = copy.deepcopy(self._cookies[name])
        return browser


@pytest.fixture(scope="module")
def laid(django_db_setup, django_db_blocker):
    with (
        django_db_blocker.unblock(),
        transaction.atomic(),
        clock.at(NOW),
        pytest.MonkeyPatch.context() as patch,
    ):
        # Who may open what is asked here, many times over; how a PDF is made has tests of its own.
        patch.setattr(pdf, "make_pdf", lambda html, style="handout", **patience: b"%PDF-1.7 not set here")
        f.start_over()
        yield Laid()
        transaction.set_rollback(True)


@pytest.fixture
def things(laid, now):
    return dict(laid.things)


# The same as `things` about another client, in a session that the owner teaches and records.
@pytest.fixture
def things_of_the_owner(laid, now):
    return dict(laid.of_the_owner)


# The same about somebody else.
@pytest.fixture
def others(laid, now):
    return dict(laid.others)


# The same about a client who has left.
@pytest.fixture
def things_of_one_who_left(laid, now):
    return dict(laid.of_one_who_left)


@pytest.fixture
def instructor(laid):
    return Staff.objects.get(pk=laid.keys["instructor"])


@pytest.fixture
def as_owner(laid):
    return laid.browser("owner")


@pytest.fixture
def as_instructor(laid):
    return laid.browser("instructor")


@pytest.fixture
def as_other_instructor(laid):
    return laid.browser("other_instructor")


@pytest.fixture
def as_desk(laid):
    return laid.browser("desk")


@pytest.fixture
def as_nobody(laid):
    return Browser()
