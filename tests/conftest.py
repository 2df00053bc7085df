"""Fixtures that every test may use: the clock, the standing cast, a client signed in as each of them."""

import datetime as dt
import gc

import pytest
from django.db.backends.sqlite3.operations import DatabaseOperations

from studio import clock

# The standing cast: owner, instructor, other_instructor, desk, as_owner … (tests/people.py).
pytest_plugins = ["tests.people"]

# A Wednesday in winter: 10:15 in London as in UTC.
NOW = dt.datetime(2026, 11, 25, 10, 15, tzinfo=dt.UTC)


# Files that take long, the longest first: begun last, one would keep a single core busy at the end of a run.
LONG = (
    "test_demo",
    "test_serving",
    "test_access",
    "test_demo_any_day",
    "test_handout_pages",
    "test_limits",
    "test_progress_pdf",
    "test_handouts",
    "test_first_run",
    "test_pdf_worker",
    "test_precautions_properties",
    "test_handout_pdf",
    "test_finding",
    "test_exercise_sets",
    "test_contents",
    "test_own_pages",
    "test_access_reading",
    "test_record_screens",
    "test_upgrades",
    "test_network",
    "test_home_practice",
    "test_map_layout",
    "test_changes",
)


# What is read and collected stays until the end: looking through it for rubbish, over and over, is a tenth of a run.
gc.disable()


def pytest_collection_finish():
    """Set aside what has been collected; from here on rubbish is looked for, less often than usual."""
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)
    gc.enable()


def pytest_collection_modifyitems(items):
    """Put the tests of the long files first and leave the order within a file as it is."""
    places = {name: number for number, name in enumerate(LONG)}
    items.sort(key=lambda item: places.get(item.path.stem, len(LONG)))


@pytest.fixture
def now():
    """Hold the project's clock at Wednesday 25 November 2026, 10:15."""
    with clock.at(NOW):
        yield NOW


@pytest.fixture(autouse=True, scope="session")
def _flush_past_the_guards():
    """Let the test runner empty tables between transactional tests.

    The append-only triggers refuse every delete, as they should; only the emptying between tests takes
    them off for a moment and puts them back.
    """
    plain = DatabaseOperations.execute_sql_flush

    def flush(self, sql_list):
        with self.connection.cursor() as cursor:
            cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
            triggers = cursor.fetchall()
            for name, _sql in triggers:
                cursor.execute(f'DROP TRIGGER "{name}"')
        plain(self, sql_list)
        with self.connection.cursor() as cursor:
            for _name, sql in triggers:
                cursor.execute(sql)

    DatabaseOperations.execute_sql_flush = flush
    yield
    DatabaseOperations.execute_sql_flush = plain
