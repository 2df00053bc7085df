"""What may belong to a unit of apparatus: the parts that the library's exercises ask for, by kind."""

from functools import cache

from library import tables, vocabulary_wording


@cache
def of_kind(kind: str) -> tuple[str, ...]:
    """Return the codes of the closed list "accessories" that exercises on a kind of apparatus use, in its order."""
    used = {code for facts in tables.exercises().values() for code in _needed(facts, kind)}
    return tuple(code for code in tables.closed_list("accessories") if code in used)


def _needed(facts, kind: str):
    return facts.get("accessories", ()) if facts["apparatus"] == kind else ()


def choices(kind: str) -> list[tuple[str, str]]:
    """Return (code, words) of a kind, in the order of their words."""
    return sorted(
        ((code, vocabulary_wording.label("accessories", code)) for code in of_kind(kind)), key=lambda c: c[1]
    )


def words(codes) -> list[str]:
    """Return the words for codes as they are kept; a code that the list no longer holds is left out."""
    known = set(tables.closed_list("accessories"))
    return [vocabulary_wording.label("accessories", code) for code in codes if code in known]


def lacking(needed, has) -> list[str]:
    """Return the words for what an exercise needs and a unit has not.

    needed, has: codes. A unit on which nothing is noted lacks nothing: nobody has looked yet.
    """
    return words([code for code in needed if code not in has]) if has else []
