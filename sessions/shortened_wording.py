"""What a page shows farther than a client is to go now, in words and as screens draw it. See sessions.shortened."""

from collections.abc import Iterable

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from library import limit_wording
from sessions.shortened import Shortened


def shown(less: Iterable[Shortened]) -> list[dict]:
    """Return the exercises: `name`, `item` as printed, and `rows`, one a side, or one where both sides are alike.

    A row has `side` ('left', 'right', 'both', or '' for work without sides), `drawn` (the side to draw), `page` and
    `now` (words), and `page_limits` and `now_limits` (what to draw them with).
    """
    return [{"name": one.item.name, "item": one.item, "rows": _rows(one)} for one in less]


def _rows(one: Shortened) -> list[dict]:
    pairs = {side: one.limits_of(side) for side in one.sides}
    if set(pairs) == {"left", "right"} and pairs["left"] == pairs["right"]:
        return [_row("both", "right", *pairs["right"])]
    return [_row(side or "", side, *pair) for side, pair in pairs.items()]


def _row(side: str, drawn: str | None, page: dict | None, now: dict | None) -> dict:
    words = {"page": _words(page), "now": _words(now)}
    said = {
        "": _("the page says %(page)s, now %(now)s"),
        "both": _("the page says %(page)s, now %(now)s"),
        "left": _("left, the page says %(page)s, now %(now)s"),
        "right": _("right, the page says %(page)s, now %(now)s"),
    }[side]
    return {
        "side": side,
        "drawn": drawn,
        **words,
        "page_limits": {"both": page} if page else {},
        "now_limits": {"both": now} if now else {},
        "words": said % words,
    }


def _words(limit: dict | None) -> str:
    return limit_wording.limit_words(limit) if limit else _("the whole way")


def goes_farther(handout) -> str:
    """Return what to say where a limit was kept that makes a handout wrong."""
    day = date_format(handout.issued_on, "j F")
    return _("The handout of %(day)s shows more than this. Call it back, or make a new one.") % {"day": day}
