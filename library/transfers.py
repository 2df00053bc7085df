"""One idea carried over the apparatus: where each exercise of a transfer family stands. Plain computation."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from library import tables
from library.progressions import LEVELS

STAGES = ("prepare", "support", "load", "integrate")
# Column -> the apparatus whose exercises stand in it. What needs no studio apparatus and no mat work goes home.
COLUMNS = {
    "mat": ("mat",),
    "reformer": ("reformer",),
    "trapeze_table": ("trapeze_table",),
    "chair": ("chair",),
    "ladder_barrel": ("ladder_barrel",),
    "arc": ("arc",),
    "home": ("standing", "small_prop"),
}


@dataclass(frozen=True)
class Cell:
    column: str
    ids: tuple[str, ...]


@dataclass(frozen=True)
class Stage:
    """One of the four stages, with a cell for every column, empty ones too."""

    id: str
    cells: tuple[Cell, ...]


def families() -> list[str]:
    """Return the ids of the transfer families in their order."""
    return [row["id"] for row in tables.transfer_families()]


def members(family: str, facts: Mapping[str, Mapping]) -> list[str]:
    """Return the exercises of a family on the shelf: as its path goes, then the studio's own by stage and level."""
    path = next((row["path"] for row in tables.transfer_families() if row["id"] == family), ())
    known = [key for key in path if key in facts and facts[key]["transfer_family"] == family]
    own = [key for key, one in facts.items() if one.get("transfer_family") == family and key not in path]
    return known + sorted(own, key=lambda key: _place(facts[key]))


def _place(one: Mapping) -> tuple[int, int]:
    return STAGES.index(one["transfer_stage"]), LEVELS.index(one["level"])


def stages(keys: Sequence[str], facts: Mapping[str, Mapping]) -> list[Stage]:
    """Return the four stages with their cells; within a cell the order of `keys`."""
    return [
        Stage(
            stage,
            tuple(
                Cell(column, tuple(k for k in keys if _stands(facts[k], stage, kinds)))
                for column, kinds in COLUMNS.items()
            ),
        )
        for stage in STAGES
    ]


def _stands(one: Mapping, stage: str, kinds: Sequence[str]) -> bool:
    return one["transfer_stage"] == stage and one["apparatus"] in kinds


def beside(key: str, facts: Mapping[str, Mapping]) -> list[str]:
    """Return the same idea on other apparatus, one exercise for each, the nearest in stage and level."""
    one = facts[key]
    if not one.get("transfer_family"):
        return []
    here = _place(one)
    others = [k for k in members(one["transfer_family"], facts) if facts[k]["apparatus"] != one["apparatus"]]
    ranked = sorted(others, key=lambda k: [abs(a - b) for a, b in zip(_place(facts[k]), here, strict=True)])
    nearest: dict[str, str] = {}
    for other in ranked:
        nearest.setdefault(facts[other]["apparatus"], other)
    return list(nearest.values())


def row(keys: Sequence[str], facts: Mapping[str, Mapping]) -> list[Cell]:
    """Return the idea in one row, all stages together: a cell for every column."""
    return [
        Cell(column, tuple(key for key in keys if facts[key]["apparatus"] in kinds))
        for column, kinds in COLUMNS.items()
    ]
