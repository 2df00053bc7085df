"""The demo, laid once in a run of tests by whoever asks first, and copied page by page after that.

Laying takes many seconds, and several files look at the same studio at the same moment. One handout in six gets
its PDF, the first among them, the others the page it would be made from.
"""

import contextlib
import datetime as dt
import itertools
import os
import sqlite3
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.db import connection, transaction

from sessions.actions import handouts
from sessions.demo import laying
from studio.setup.locks import try_lock

# A Wednesday, shortly before half past ten: somebody has arrived and one session has just ended.
NOW = dt.datetime(2026, 11, 25, 10, 26, tzinfo=dt.UTC)
SAMPLE = 6


def sampling(make):
    """Return a maker of PDFs that sets one page in six, the first among them, and keeps the HTML of the others."""
    count = itertools.count()

    def sampled(html: str, **patience) -> bytes:
        return html.encode() if next(count) % SAMPLE else make(html, **patience)

    return sampled


@pytest.fixture(scope="session")
def laid_rows(tmp_path_factory, django_db_setup, django_db_blocker) -> Path:
    """The path of a database file with the demo in it, as at NOW; one for all processes of a run."""
    folder = tmp_path_factory.getbasetemp()
    if os.environ.get("PYTEST_XDIST_WORKER"):
        folder = folder.parent
    path = folder / "laid.sqlite3"
    with _alone(folder / "laid.lock"):
        if not path.exists():
            with django_db_blocker.unblock(), put_back():
                _lay(path)
    return path


@contextlib.contextmanager
def _alone(lock: Path) -> Iterator[None]:
    with lock.open("a") as handle:
        while not try_lock(handle):
            time.sleep(0.1)
        yield


def _lay(path: Path) -> None:
    with transaction.atomic(), pytest.MonkeyPatch.context() as patch:
        patch.setattr(handouts, "pdf_of", sampling(handouts.pdf_of))
        laying.lay(NOW)
    whole = path.with_suffix(".part")
    with contextlib.closing(sqlite3.connect(whole)) as copy:
        connection.connection.backup(copy)
    whole.rename(path)


@contextlib.contextmanager
def put_back() -> Iterator[None]:
    """Leave the test database at the end as it is now. Not within a transaction."""
    connection.ensure_connection()
    with contextlib.closing(sqlite3.connect(":memory:")) as blank:
        connection.connection.backup(blank)
        yield
        blank.backup(connection.connection)


def fill_from(path: Path) -> None:
    """Have the test database hold what the file holds. Not within a transaction."""
    connection.ensure_connection()
    with contextlib.closing(sqlite3.connect(path)) as copy:
        copy.backup(connection.connection)
