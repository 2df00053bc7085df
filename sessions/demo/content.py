"""What an exercise says, gathered from the shipped data files in the shape of `ExerciseVersion.payload`."""

import hashlib
import json
from functools import cache

from library import tables


@cache
def _rows(folder: str) -> dict[str, dict]:
    """Return every row of the JSON files of a data folder, by exercise id."""
    rows = {}
    for path in sorted((tables.DATA / folder).glob("*.json")):
        data = json.loads(path.read_text(encoding="utf-8"))
        listed = data if isinstance(data, list) else data.get("exercises", [])
        rows |= {row.get("id") or row["key"]: row for row in listed}
    return rows


def payload_of(key: str) -> dict:
    """Return facts, text and pose of one exercise. LookupError where the library does not hold it."""
    return {
        "facts": tables.exercise(key),
        "text": _rows("en").get(key) or _plain_text(key),
        "pose": _rows("poses").get(key),
    }


def content_hash(payload: dict) -> str:
    """Return the SHA-256 of a payload, written with sorted keys."""
    return hashlib.sha256(json.dumps(payload, sort_keys=True).encode()).hexdigest()


def _plain_text(key: str) -> dict:
    """Return the smallest text a page can show, for an exercise whose words are not written yet."""
    name = tables.exercise(key)["name"]
    return {
        "id": key,
        "purpose": name,
        "set_up": name,
        "steps": [name],
        "breath": "",
        "cues": [],
        "watch": [],
        "easier": "",
        "harder": "",
        "dose": "",
        "cautions": "",
        "client": {"how": name, "breath": "", "easier": ""},
    }
