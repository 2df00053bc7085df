"""The standing cast: who works in the test studio, and a test client signed in as each of them."""

import datetime as dt

import pytest
from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.test import Client as Browser

from sessions.demo import factories
from sessions.demo.factories import StaffFactory, StudioFactory
from studio import clock
from studio.actions.sign_in import FULL_SIGN_IN
from studio.models import StaffSession
from tests import shelf

FAR = dt.datetime(9999, 1, 1, tzinfo=dt.UTC)

PEOPLE = {
    # The owner, who also teaches: may do whatever anybody may, and reads those who left.
    "owner": {
        "owner": True,
        "instructor": True,
        "sign_in_name": "linnet",
        "full_name": "Linnet Ashgrove",
        "call_name": "Linnet",
    },
    # Teaches: reads and writes health, plans, records and home practice of every client who is here.
    # Only changes the records and bookings that are this instructor's own.
    "instructor": {
        "instructor": True,
        "sign_in_name": "maris",
        "full_name": "Maris Fennelcote",
        "call_name": "Maris",
    },
    # Teaches too: may read what the first one wrote, and may not change it.
    "other_instructor": {
        "instructor": True,
        "sign_in_name": "corin",
        "full_name": "Corin Vane-Hollis",
        "call_name": "Corin",
    },
    # The front desk: clients' contacts, intake typed once from paper, bookings. Reads no health at all.
    "desk": {
        "front_desk": True,
        "sign_in_name": "juniper",
        "full_name": "Juniper Oakmantle",
        "call_name": "Juniper",
    },
}


@pytest.fixture(autouse=True)
def _same_rows_every_time():
    """Set the factories' sequences back, so that a test makes the same rows alone and in a run."""
    factories.start_over()


@pytest.fixture
def house(db):
    """The studio's settings row, open Monday to Saturday 07:00 to 20:00, in London time."""
    return StudioFactory()


@pytest.fixture
def owner(house):
    return StaffFactory(**PEOPLE["owner"])


@pytest.fixture
def instructor(house):
    return StaffFactory(**PEOPLE["instructor"])


@pytest.fixture
def other_instructor(house):
    return StaffFactory(**PEOPLE["other_instructor"])


@pytest.fixture
def desk(house):
    return StaffFactory(**PEOPLE["desk"])


def signed_in(person) -> Browser:
    """Return a test client in which this person is signed in, the passphrase just typed.

    The two rows a sign-in leaves (tests/studio/test_sign_in.py has the way there), written without the dozen
    queries around them, since most tests begin with this.
    """
    session = SessionStore()
    session[SESSION_KEY] = str(person.pk)
    session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
    session[HASH_SESSION_KEY] = person.get_session_auth_hash()
    session[FULL_SIGN_IN] = clock.now().isoformat()
    session.create()
    # Somebody who never leaves the screen: tests of the lock set their own times (tests/studio/test_locking.py).
    StaffSession.objects.create(
        person=person, session_key=session.session_key, since=clock.now(), seen_at=FAR, full_at=FAR
    )
    browser = Browser()
    browser.cookies[settings.SESSION_COOKIE_NAME] = session.session_key
    return browser


@pytest.fixture
def as_owner(owner):
    return signed_in(owner)


@pytest.fixture
def as_instructor(instructor):
    return signed_in(instructor)


@pytest.fixture
def as_other_instructor(other_instructor):
    return signed_in(other_instructor)


@pytest.fixture
def as_desk(desk):
    return signed_in(desk)


@pytest.fixture
def as_nobody(house):
    """A test client in which nobody is signed in."""
    return Browser()


@pytest.fixture
def library(db):
    """The first library, loaded as an installed studio has it."""
    shelf.load()
