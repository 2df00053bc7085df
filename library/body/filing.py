"""Pose files as text: one pose after another, each phase with a line for every entry.

A phase also says what carries the weight (``rest``: segments, ``props``: points) and which points press against a
spring or a step (``push``): facts of the exercise that no drawing and no word reads.
"""

import json

POSE_KEYS = (
    "key", "scene", "camera", "driver", "track", "arrow_off", "arrow_path", "second_arrow", "ghost",
    "side", "work", "behind", "start", "middle", "end",
)  # fmt: skip
PHASES = ("start", "middle", "end")
_FIRST = ("at", "body", "both", "left", "right", "touch", "free", "push")
_LAST = ("props", "rest", "solved", "solved_hips")


def file_text(apparatus: str, note: str, poses: list[dict]) -> str:
    """The text of a file in ``library/data/poses/``.

    Raises ValueError for a pose with an entry that no pose has.
    """
    head = f'{{\n "apparatus": {_line(apparatus)},\n "note": {_line(note)},\n "poses": [\n'
    return head + ",\n".join(_pose(pose) for pose in poses) + "\n ]\n}\n"


def _pose(pose: dict) -> str:
    unknown = set(pose) - set(POSE_KEYS)
    if unknown:
        raise ValueError(f"pose {pose['key']} has {', '.join(sorted(unknown))}, which no pose has")
    rows = [
        f"   {_line(name)}: {_phase(pose[name]) if name in PHASES else _line(pose[name])}"
        for name in POSE_KEYS
        if name in pose
    ]
    return "  {\n" + ",\n".join(rows) + "\n  }"


def _phase(phase: dict) -> str:
    between = sorted(set(phase) - {*_FIRST, *_LAST})
    names = [name for name in (*_FIRST, *between, *_LAST) if name in phase]
    return "{\n" + ",\n".join(f"    {_line(name)}: {_line(phase[name])}" for name in names) + "\n   }"


def _line(value) -> str:
    return json.dumps(value, ensure_ascii=False)
