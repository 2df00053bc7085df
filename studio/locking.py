"""When a screen locks, how long a sign-in lasts, and which PINs are too easy.

Sources: NIST SP 800-63B-4, 2.2.3 (a lighter way back while the overall limit runs) and 3.2.10 (activation
secrets: at least 4 and better 6 digits, at most 10 wrong tries, a list of what is refused). Twelve hours and
five tries for one person on one device are the studio's own choice.
"""

import datetime as dt
import re

OVERALL = dt.timedelta(hours=12)
WRONG_HERE = 5
WRONG_EVERYWHERE = 10
PIN_LENGTH = 6

OPEN, LOCKED, OVER = "open", "locked", "over"

# The ten commonest of six digits in leaked lists, from memory, and shapes on the keys.
_COMMON = """
    123456 654321 111111 000000 123123 666666 121212 112233 789456 159753
    123321 147258 258369 147852 369258 456123 987456 159357 696969 131313
"""
COMMON_PINS = frozenset(_COMMON.split())


def idle_limit(kind: str, *, tablet: int, desk: int, at_work: bool) -> dt.timedelta:
    """Return how long a screen stays open without a touch.

    kind: "tablet", "desk", or "" for a browser nobody enrolled, which gets the shorter of the two.
    tablet, desk: the owner's minutes. at_work: whether this person is recording a session right now.
    """
    if at_work:
        return dt.timedelta(minutes=max(tablet, desk))
    return dt.timedelta(minutes={"tablet": tablet, "desk": desk}.get(kind, min(tablet, desk)))


def is_over(now: dt.datetime, full_at: dt.datetime) -> bool:
    """Return whether the overall limit has run out since the passphrase was typed."""
    return now - full_at >= OVERALL


def is_idle(now: dt.datetime, seen_at: dt.datetime, limit: dt.timedelta) -> bool:
    """Return whether nobody has touched the screen for the whole limit."""
    return now - seen_at >= limit


def pin_problem(pin: str) -> str:
    """Return what is wrong with a new PIN: "", "length", "same", "run", "repeat", "year" or "common"."""
    if not re.fullmatch(f"[0-9]{{{PIN_LENGTH}}}", pin):
        return "length"
    if len(set(pin)) == 1:
        return "same"
    steps = {(int(b) - int(a)) % 10 for a, b in zip(pin, pin[1:], strict=False)}
    if steps in ({1}, {9}):
        return "run"
    if pin == pin[:3] * 2 or pin == pin[:2] * 3 or all(pin[i] == pin[i + 1] for i in (0, 2, 4)):
        return "repeat"
    if pin in COMMON_PINS:
        return "common"
    if re.search(r"^(19|20)\d\d|(19|20)\d\d$", pin):
        return "year"
    return ""
