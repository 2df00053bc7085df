"""The clock of the time on the back while a session runs. Times by hand; the minute that ends a spell: common
practice, no source."""

import datetime as dt

import pytest

from sessions.back_clock import Step, lying_since

START = dt.datetime(2026, 11, 25, 10, 0, tzinfo=dt.UTC)


def at(minute, second=0):
    return START + dt.timedelta(minutes=minute, seconds=second)


def flat(minute, second=0, **more):
    return Step(at(minute, second), lies_flat=True, ends_spell=False, **more)


def off(minute, second=0, **more):
    return Step(at(minute, second), lies_flat=False, ends_spell=True, **more)


def wedge(minute):
    return Step(at(minute), lies_flat=False, ends_spell=False)


@pytest.mark.parametrize(
    "done, since",
    [
        ([], at(0)),
        ([off(5)], at(5)),
        ([off(5), flat(7)], at(5)),
        ([off(5), flat(7), flat(8)], at(5)),
        ([flat(3), off(5)], at(5)),
        ([flat(3), off(3, 40)], at(0)),
        ([flat(3), wedge(6)], at(0)),
        ([off(5), flat(7, pause=60)], at(8)),
        ([off(5), flat(7, pause=30)], at(5)),
        ([off(5), flat(7), off(9, skipped=True)], at(5)),
        ([off(5, pause=120), flat(9)], at(5)),
    ],
    ids=[
        "first row: from the start",
        "after work on the side",
        "two in a row",
        "three in a row",
        "up for two minutes ends it",
        "up for forty seconds does not",
        "a raised trunk does not",
        "a rest of a minute ends it",
        "a rest of half a minute does not",
        "what is skipped changes nothing",
        "a rest before the first",
    ],
)
def test_since_when(done, since):
    assert lying_since(done, START, break_s=60) == since


def test_lies_down_only_now():
    assert lying_since([off(5)], START, break_s=60, down=at(6)) == at(6)
    assert lying_since([off(5)], START, break_s=60, down=at(2)) == at(5)
