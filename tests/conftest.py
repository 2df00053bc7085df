"""Fixtures that every test may use: the clock, the standing cast, a client signed in as each of them."""

import datetime as dt

import pytest
from django.db.backends.sqlite3.operations import DatabaseOperations

from studio import clock

# The standing cast: owner, instructor, other_instructor, desk, as_owner … (tests/people.py).
pytest_plugins = ["tests.people"]

# A Wednesday in winter: 10:15 in London as in UTC.
NOW = dt.datetime(2026, 11, 25, 10, 15, tzinfo=dt.UTC)


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
