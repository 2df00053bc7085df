"""What the buttons of the page of a figure change in what was typed; all else in it stays. Plain computation.

`data` is what was posted, by field name, and is changed in place.
"""

from library import own_figure
from library.body.filing import PHASES


def change_contacts(data, word: str, where: str, most: int) -> None:
    """Add an empty contact to a phase (`add`, 'end') or take one out (`drop`, 'end:1') of what was posted."""
    phase, _colon, place = where.partition(":")
    typed = data.get(f"{phase}-n", "")
    if phase not in PHASES or not typed.isdecimal() or len(typed) > 3:
        return
    count = min(int(typed), most)
    if word == "add":
        data[f"{phase}-n"] = str(min(count + 1, most))
        return
    if not place.isdecimal() or len(place) > 3 or int(place) >= count:
        return
    for later in range(int(place), count):
        for key in own_figure.CONTACT:
            data.pop(f"{phase}-t{later}-{key}", None)
            following = data.get(f"{phase}-t{later + 1}-{key}")
            if following is not None and later + 1 < count:
                data[f"{phase}-t{later}-{key}"] = following
    data[f"{phase}-n"] = str(count - 1)


def add_middle(data) -> None:
    """Put a middle position between what was posted: angles half way, contacts and what follows as at the end."""
    if data.get("middle"):
        return
    data["middle"], data["at"] = "1", "50"
    for row, _part, _angle in own_figure.rows():
        first, last = (data.get(f"{name}-{row}", "") for name in ("start", "end"))
        data[f"middle-{row}"] = _half_way(first, last)
        if data.get(f"end-{row}-f"):
            data[f"middle-{row}-f"] = "on"
    for name in [one for one in data if one.startswith("end-t") or one == "end-n"]:
        data[f"middle-{name.removeprefix('end-')}"] = data[name]


def _half_way(first: str, last: str) -> str:
    if not first and not last:
        return ""
    try:
        return f"{(float(first or 0) + float(last or 0)) / 2:g}"
    except ValueError:
        return last
