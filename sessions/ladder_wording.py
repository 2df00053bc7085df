"""How far a client is with an exercise, in words, through gettext."""

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from studio.wording import VERDICTS

KINDS = {
    "secure": gettext_lazy("Secure"),
    "working": gettext_lazy("In work"),
    "next": gettext_lazy("May be next"),
}


def box_words(kind: str, verdict: str) -> str:
    """Return the line of a box: how far, and what the rules say where they say something."""
    parts = [str(KINDS[kind])] if kind else []
    if verdict in ("avoid", "modify", "watch"):
        parts.append(str(VERDICTS[verdict]))
    return " · ".join(parts)


def last_words(day) -> str:
    """Return when an exercise was last done; empty when never."""
    return _("last done %(day)s") % {"day": date_format(day, "j M Y")} if day else ""
