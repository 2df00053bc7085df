"""The one clock of the project. Everything that needs the time asks here, so that tests can set it."""

import datetime as dt
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from zoneinfo import ZoneInfo


def _machine_time() -> dt.datetime:
    return dt.datetime.now(dt.UTC)


_source: Callable[[], dt.datetime] = _machine_time


def now() -> dt.datetime:
    """Return the present instant in UTC."""
    return _source()


def today(zone: str) -> dt.date:
    """Return the calendar date at the present instant in a time zone (an IANA name)."""
    return now().astimezone(ZoneInfo(zone)).date()


@contextmanager
def at(instant: dt.datetime) -> Iterator[None]:
    """Hold the clock at an instant for the length of a `with` block (tests and the demo)."""
    global _source
    before, _source = _source, lambda: instant
    try:
        yield
    finally:
        _source = before
