"""What a row says when another exercise takes its place: sides, dose, where. Plain computation."""

from collections.abc import Iterable, Mapping

from sessions import planning


def values(row, old: Mapping, new: Mapping, *, affected: Iterable[str | None] = ()) -> dict:
    """Return sides and dose for the new exercise: keys sides, first_side, repetitions and the emptied rest.

    row: the plan row, with `sides` and `first_side`. old, new: the facts of both exercises. affected: the
    sides that the client's flags name. One side alone stays one side only where both exercises mean the same
    by it; otherwise both are done, so that nobody works the wrong leg. Repetitions are the usual ones.
    """
    return {
        **_sides(row, old, new, affected),
        "repetitions": planning.usual_repetitions(new),
        "seconds": None,
        "repetitions_right": None,
        "seconds_right": None,
        "minutes": None,
        "note": "",
    }


def _sides(row, old: Mapping, new: Mapping, affected) -> dict:
    if not planning.is_sided(new):
        return {"sides": "", "first_side": ""}
    if row.sides in ("left", "right") and old["side_means"] == new["side_means"]:
        return {"sides": row.sides, "first_side": row.sides}
    first = row.first_side if row.sides == "both" else ""
    return {"sides": "both", "first_side": first or planning.one_side_affected(affected) or "left"}


def the_only(kind: str, units: Iterable):
    """Return the unit of a kind where there is exactly one among these, else None."""
    found = [unit for unit in units if unit.kind == kind]
    return found[0] if len(found) == 1 else None
