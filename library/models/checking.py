"""The shelf as the rules of the data files look at it."""

from library import tables
from library.models.shelf import shelf_of
from library.own_exercise import Library


def library_of(person) -> Library:
    """Return what an exercise is checked against: every exercise as it now stands, shipped or the studio's."""
    on_shelf = {one.key: one.current.facts for one in shelf_of(person)}
    return Library(
        facts={**tables.exercises(), **on_shelf},
        vocab=tables.vocab(),
        demands=tables.rule_table().demands,
        families=tables.transfer_families(),
    )


def names_of(person) -> dict[str, str]:
    """Return key -> name of every exercise on the shelf, by name."""
    names = {one.key: one.current.name for one in shelf_of(person)}
    return dict(sorted(names.items(), key=lambda pair: pair[1].casefold()))
