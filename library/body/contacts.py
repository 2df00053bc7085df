"""What the contacts of a phase name: their points, and which hands and feet touch what."""

STOOD_ON = frozenset({"mat", "floor", "carriage", "table", "step", "platform"})


def points_of(touch: dict) -> list[str]:
    """The points of a contact: one, or several of which the first to touch counts."""
    point = touch["point"]
    return [point] if isinstance(point, str) else list(point)


def first_point(touch: dict) -> str:
    """The point by which a contact is known."""
    return points_of(touch)[0]


def touching_sides(phase: dict, part: str, surfaces) -> set[str]:
    """Sides ``l`` and ``r`` whose ``part`` (palm, heel, ball) touches one of the surfaces."""
    sides: set[str] = set()
    for touch in phase.get("touch", ()):
        point = touch["point"]
        if isinstance(point, str) and touch.get("on") in surfaces and point.endswith("." + part):
            sides |= {"l", "r"} if point.startswith("mid.") else {point[0]}
    return sides


def sides_on_toes(phase: dict) -> set[str]:
    """Sides whose foot stands on its ball alone: its toes lie flat on the ground."""
    return touching_sides(phase, "ball", STOOD_ON) - touching_sides(phase, "heel", STOOD_ON)
