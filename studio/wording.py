"""The words for the codes that every app shares; one subject, one word, on every screen."""

from django.utils.translation import get_language, gettext, ngettext
from django.utils.translation import gettext_lazy as _

VERDICTS = {"avoid": _("Avoid"), "modify": _("Modify"), "watch": _("Watch"), "none": _("No rule")}
# Always in this order; "none" is silence of the rules and never a permission.
STRICTEST_FIRST = tuple(VERDICTS)

SIDES = {"left": _("Left"), "right": _("Right"), "both": _("Both sides"), "unknown": _("side not known")}
SIDES_SHORT = {"left": _("L"), "right": _("R")}
SIDES_AFTER_COMMA = {"left": _("left"), "right": _("right"), "both": _("both sides")}

SPRING_GRADES = {
    "very_light": _("very light"),
    "light": _("light"),
    "medium": _("medium"),
    "heavy": _("heavy"),
    "very_heavy": _("very heavy"),
}

QUALITY = {1: _("Lost"), 2: _("Shaky"), 3: _("Steady"), 4: _("Clean"), 5: _("Easy")}
EFFORT_ENDS = (_("resting"), _("could not do more"))

FELT = {
    "stretch": _("Stretch"),
    "muscle_work": _("Muscle work"),
    "pinch": _("Pinch"),
    "tingling": _("Tingling"),
    "numb_or_weak": _("Numb or weak"),
    "pain": _("Pain"),
}
# These open the stop sheet before anything else can be saved.
STOP_SIGNS = ("tingling", "numb_or_weak", "pain")

BOOKING_STATES = {
    "booked": _("booked"),
    "arrived": _("arrived"),
    "done": _("done"),
    "cancelled_in_time": _("cancelled in time"),
    "cancelled_late": _("cancelled late"),
    "no_show": _("no-show"),
}


def language() -> str:
    """Return the language in use: words that are kept are kept under it."""
    return get_language() or ""


def waiting(seconds: int | None) -> str:
    """Return the sentence for too many wrong tries; None stands for a sign-in that is shut."""
    if seconds is None:
        return gettext("This sign-in is shut after too many tries. The owner can open it again.")
    if seconds < 60:
        return ngettext(
            "Too many tries. Wait %(n)d second.", "Too many tries. Wait %(n)d seconds.", seconds
        ) % {"n": seconds}
    minutes = -(-seconds // 60)
    words = ngettext("Too many tries. Wait %(n)d minute.", "Too many tries. Wait %(n)d minutes.", minutes)
    return words % {"n": minutes}


def more_words(verdicts) -> str:
    """What stands behind the first chips: '18 more: 2 Avoid, 13 Modify, 3 Watch'; '' for nothing."""
    verdicts = list(verdicts)
    if not verdicts:
        return ""
    counts = [(VERDICTS[verdict], verdicts.count(verdict)) for verdict in STRICTEST_FIRST]
    parts = ", ".join(f"{n} {word}" for word, n in counts if n)
    words = ngettext("%(count)d more: %(parts)s", "%(count)d more: %(parts)s", len(verdicts))
    return words % {"count": len(verdicts), "parts": parts}
