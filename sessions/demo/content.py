"""What an exercise says, as the loader stores it, for rows made without loading the whole library."""

from functools import cache

from library import contents, tables


@cache
def _shipped() -> dict[str, dict]:
    return contents.payloads()


def payload_of(key: str) -> dict:
    """Return facts, text and pose of one exercise; a plain text where none is written yet.

    LookupError where the library does not hold it.
    """
    facts = tables.exercise(key)
    return _shipped().get(key) or {"facts": facts, "text": _plain_text(facts["name"]), "pose": None}


def _plain_text(name: str) -> dict:
    """Return the smallest text a page can show."""
    empty = dict.fromkeys(("breath", "easier", "harder", "dose", "cautions"), "")
    client = {"how": name, "breath": "", "easier": ""}
    return {
        "purpose": name,
        "set_up": name,
        "steps": [name],
        "cues": [],
        "watch": [],
        "client": client,
        **empty,
    }
