"""The poses of the exercise library, read from ``library/data/poses/``: one file per apparatus."""

import json
from functools import cache
from pathlib import Path

FOLDER = Path(__file__).resolve().parent.parent / "data" / "poses"


@cache
def all_poses() -> dict[str, dict]:
    """Every stored pose by its exercise key. The result is shared: do not change it.

    Raises ValueError when a key occurs twice.
    """
    poses: dict[str, dict] = {}
    for path in sorted(FOLDER.glob("*.json")):
        for pose in json.loads(path.read_text(encoding="utf-8"))["poses"]:
            if pose["key"] in poses:
                raise ValueError(f"pose {pose['key']} is stored twice")
            poses[pose["key"]] = pose
    return poses
