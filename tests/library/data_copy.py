"""A copy of the library's data files that a test may break."""

import json
import shutil
from pathlib import Path

from library import contents

PARTS = ("exercises", "en", "poses")
BESIDES = ("demands.json", "conditions.json")


def copied(to: Path) -> Path:
    """Copy everything a payload is made from and checked against, and return the folder."""
    for part in PARTS:
        shutil.copytree(contents.DATA / part, to / part)
    (to / "rules").mkdir()
    for name in BESIDES:
        shutil.copy(contents.DATA / "rules" / name, to / "rules")
    return to


def rewrite(folder: Path, file: str, change) -> None:
    """Apply `change` to the parsed content of one file."""
    path = folder / file
    data = json.loads(path.read_text(encoding="utf-8"))
    change(data)
    path.write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")


def row(rows: list, wanted: str) -> dict:
    """Return the row of this id, or of this key in the files of poses."""
    return next(one for one in rows if one.get("id", one.get("key")) == wanted)


def rows_in(data) -> list:
    """Return the rows of a parsed file, whatever they are listed under."""
    if isinstance(data, list):
        return data
    return next(value for value in data.values() if isinstance(value, list))
