"""The present moment as factories take it."""

import datetime as dt

from studio import clock

ZONE = "Europe/London"


def now(_row=None) -> dt.datetime:
    return clock.now()


def today(_row=None) -> dt.date:
    return clock.today(ZONE)
