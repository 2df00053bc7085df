"""What the recording screen, the stop sheet and the record say, through gettext."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sessions import phrases, stopping
from studio import wording as studio_wording

# Of what was said, a record keeps only that help was called (screening.md's rule for words of self-harm).
HELP_CALLED = "help_called"
OWN_SIGN_WORDS = {
    "stroke_signs": gettext_lazy("Face drooping, one side weak, speech slurred"),
    stopping.SELF_HARM: gettext_lazy("Speaks of ending their life or harming themselves"),
    HELP_CALLED: gettext_lazy("Help was called"),
}


def stop_signs() -> list[dict]:
    """Return the signs of the stop sheet as it shows them, the urgent ones first: id, text, urgent."""
    return [{"id": one.id, "text": sign_words(one.id), "urgent": one.urgent} for one in stopping.signs()]


def kept_sign(posted: str) -> str:
    """Return the code of a sign as an incident keeps it; '' for anything that is no sign."""
    if posted == stopping.SELF_HARM:
        return HELP_CALLED
    return posted if posted in studio_wording.STOP_SIGNS or stopping.sign(posted) else ""


def sign_words(code: str) -> str:
    """Return a sign in a few words, by the code an incident keeps."""
    if code in studio_wording.STOP_SIGNS:
        return str(studio_wording.FELT[code])
    if code in OWN_SIGN_WORDS:
        return str(OWN_SIGN_WORDS[code])
    found = stopping.sign(code)
    return _(found.short) if found else code


def sign_action(code: str) -> str:
    """Return what the screening list says to do about a sign, in its words; empty where it names none."""
    if code == HELP_CALLED:
        code = stopping.SELF_HARM
    if code in ("tingling", "numb_or_weak"):
        code = "nerve"
    found = stopping.sign(code)
    return _(found.action).capitalize() if found else ""


def is_urgent(code: str) -> bool:
    """Return whether the page about a sign leads with the emergency number."""
    return code == HELP_CALLED or stopping.ends_session(code)


def guidance(code: str) -> dict | None:
    """Return what to say, do and not do, where somebody spoke of self-harm; None for every other sign."""
    if code != HELP_CALLED:
        return None
    return {name: [_(line) for line in lines] for name, lines in stopping.guidance().items()}


def own_note(entry) -> str:
    """Return the note of an entry in the instructor's own words: what the program put before it is left away."""
    return phrases.parted(entry.note, map(str, program_words()))[1]


def program_words() -> tuple[str, ...]:
    """Return what the program itself writes into notes."""
    return _("stopped"), _("Eased: lighter spring"), _("Eased: smaller range")


def refused_start(reason: str) -> str:
    """Return why a session cannot be started, and what to do."""
    words = {
        "freed": _("This booking was cancelled. Book it again first, then start."),
        "no_show": _("This booking is down as no-show. Set it back to booked first, then start."),
        "later": _("This session is booked for another day. Open the one of today."),
    }
    return words[reason]


def felt_lines(sides: dict) -> list[dict]:
    """Return what was felt on each side, left first: dicts of side ('left', 'right', 'both') and words.

    sides: side -> anything with `felt`, a list of codes.
    """
    rows = []
    for name in ("left", "right", "both"):
        codes = [code for code in (sides[name].felt if name in sides else ()) if code in studio_wording.FELT]
        if codes:
            rows.append({"side": name, "words": ", ".join(str(studio_wording.FELT[code]) for code in codes)})
    return rows
