"""Two or three versions of one exercise side by side: which fields differ, and who changed them. Plain computation.

A field is (part, name): ("facts", "level"), ("text", "steps"), ("client", "how") or ("pose", "").
"""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

Field = tuple[str, str]
CLIENT, POSE = "client", "pose"
# Which fields are chosen together: one without the other would not hold.
TOGETHER = {("facts", "demand_sides"): ("facts", "demands")}


class Apart(NamedTuple):
    """One field of which both sides speak: as both began, as the studio has it, as it now ships. None: not there."""

    field: Field
    base: object
    ours: object
    theirs: object

    @property
    def both_changed(self) -> bool:
        return self.ours != self.base


def fields(payload: Mapping) -> dict[Field, object]:
    """Return every field of a payload, in its order; the id is left out."""
    text = payload["text"]
    found = {("facts", name): value for name, value in payload["facts"].items() if name != "id"}
    found |= {("text", name): value for name, value in text.items() if name not in ("id", "client")}
    found |= {(CLIENT, name): value for name, value in text.get("client", {}).items()}
    if payload.get("pose"):
        found[POSE, ""] = payload["pose"]
    return found


def differing(before: Mapping | None, after: Mapping) -> list[tuple[Field, object, object]]:
    """Return (field, before, after) where two payloads differ. before: None where there was nothing."""
    old, new = fields(before) if before else {}, fields(after)
    every = dict.fromkeys([*old, *new])
    return [(field, old.get(field), new.get(field)) for field in every if old.get(field) != new.get(field)]


def apart(base: Mapping | None, ours: Mapping, theirs: Mapping) -> list[Apart]:
    """Return the fields of which the shipped text has changed and the studio's says something else.

    base: the shipped payload from which the studio's was made. What only the studio changed is not among them,
    nor what both changed alike.
    """
    began, mine, new = (fields(one) if one else {} for one in (base, ours, theirs))
    every = dict.fromkeys([*mine, *new, *began])
    rows = [Apart(field, began.get(field), mine.get(field), new.get(field)) for field in every]
    return [row for row in rows if row.theirs != row.base and row.ours != row.theirs]


def merged(ours: Mapping, theirs: Mapping, take: Iterable[Field]) -> dict:
    """Return the studio's payload with these fields as they now ship."""
    take = set(take)
    take |= {field for field, leader in TOGETHER.items() if leader in take}
    new = fields(theirs)
    facts, text = dict(ours["facts"]), dict(ours["text"])
    client, pose = dict(text.pop("client", {})), ours.get("pose")
    parts = {"facts": facts, "text": text, CLIENT: client}
    for part, name in take:
        if part == POSE:
            pose = new.get((part, name))
        elif (part, name) in new:
            parts[part][name] = new[part, name]
        else:
            parts[part].pop(name, None)
    if client:
        text["client"] = client
    return {"facts": facts, "text": text, "pose": pose}
