"""What is said about passes: how many are left, what became of a pass, what its ledger holds."""

from django.utils.formats import date_format, number_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sessions.passes import Standing
from studio import money


def left_words(standing: Standing) -> str:
    """Return what is left in two or three words, for a narrow column: '4 left', 'last one', 'no pass'."""
    words = {
        "last": _("last one"),
        "none": _("none left"),
        "ended": _("pass ended"),
        "no_pass": _("no pass"),
    }
    return words.get(standing.kind) or _("%(n)d left") % {"n": standing.left}


def on_the_pass(standing: Standing) -> str:
    """Return the same where nothing around it says what is counted: '4 left on the pass'."""
    words = {"last": _("last one on the pass"), "none": _("none left on the pass")}
    if standing.kind == "left":
        return _("%(n)d left on the pass") % {"n": standing.left}
    return words.get(standing.kind) or left_words(standing)


def drawn_words(used: int, ahead: int, free: int) -> str:
    """Return the drawing of a pass in words: '5 used, 3 booked ahead, 2 free', without what is nought."""
    parts = []
    if used:
        parts.append(_("%(n)d used") % {"n": used})
    if ahead:
        parts.append(_("%(n)d booked ahead") % {"n": ahead})
    if free:
        parts.append(_("%(n)d free") % {"n": free})
    return ", ".join(parts)


def state_words(state: str, first_day, last_day) -> str:
    """Return what a pass is now, and until when. Days are plain dates; last_day may be None."""
    if state == "used_up":
        return _("Used up.")
    if state == "to_begin":
        return _("Counts from %(day)s.") % {"day": _day(first_day)}
    if not last_day:
        return _("No last day.")
    if state == "ended":
        return _("Ended on %(day)s.") % {"day": _day(last_day)}
    return _("Last day %(day)s.") % {"day": _day(last_day)}


def beyond_words(count: int) -> str:
    """Return the sentence about coming bookings that no pass will pay for."""
    return ngettext(
        "%(n)d coming booking is not on a pass yet.", "%(n)d coming bookings are not on a pass yet.", count
    ) % {"n": count}


def came_words(came: str) -> str:
    """Return the sentence for the desk when a pass holds no session for a booking; empty otherwise.

    came: see sessions.actions.passes.follow.
    """
    return _("No session was left on the pass. This one is to pay.") if came == "none_left" else ""


def price_words(minor: int | None, currency: str) -> str:
    """Return a price as the studio writes numbers, with the letters of its currency; a dash for none."""
    if minor is None:
        return "–"
    amount = number_format(money.from_minor(minor, currency), money.places(currency), use_l10n=True)
    return f"{amount} {currency}"


def signed(delta: int) -> str:
    """Return a change with its sign, a real minus."""
    return f"+{delta}" if delta > 0 else f"−{-delta}"


def _day(day) -> str:
    return date_format(day, "j F Y")
