"""The signs of the stop sheet, from the screening data. Plain computation.

Which sign stops what: a sign of the screening list that asks for emergency help, fainting, signs of a
stroke and words of self-harm end the session; no other exercise follows them. The felt words of the
recording screen (tingling, numb or weak, pain) are signs too.
"""

from dataclasses import dataclass
from functools import cache

from library import tables

# Of the red flags, those that may come up in the middle of a session and are not in its own list.
FROM_RED_FLAGS = ("stroke_signs", "self_harm_thoughts")
SELF_HARM = "self_harm_thoughts"
# Stopped, laid down, then decided: whether to ring is decided with the number in sight (ours).
URGENT_TOO = ("faint",)


@dataclass(frozen=True)
class Sign:
    """One sign. `short` is empty where our own words stand in its place; `action` as the data says it."""

    id: str
    short: str
    text: str
    action: str
    urgent: bool


@cache
def signs() -> tuple[Sign, ...]:
    """Return the signs of the stop sheet, those that lead with the emergency number first."""
    data = tables.rule_data()
    flags = {row["id"]: row for row in data["red_flags"]}
    rows = [*data["stop_in_session"], *(flags[name] for name in FROM_RED_FLAGS)]
    found = [
        Sign(
            id=row["id"],
            short=row.get("short", ""),
            text=row["text"],
            action=row["action"].lower(),
            urgent=row["action"].lower().startswith("emergency") or row["id"] in URGENT_TOO,
        )
        for row in rows
    ]
    return tuple(sorted(found, key=lambda sign: not sign.urgent))


def sign(sign_id: str) -> Sign | None:
    """Return the sign with this id, or None for an id that is not on the sheet."""
    return next((one for one in signs() if one.id == sign_id), None)


def ends_session(sign_id: str) -> bool:
    """Return whether the session ends whatever was chosen: the sign leads with the emergency number."""
    found = sign(sign_id)
    return found is not None and found.urgent


@cache
def guidance() -> dict[str, tuple[str, ...]]:
    """Return what to say, to do and not to do when somebody speaks of self-harm: say, do, do_not."""
    row = next(row for row in tables.rule_data()["red_flags"] if row["id"] == SELF_HARM)
    return {name: tuple(row["staff"][name]) for name in ("say", "do", "do_not")}
