"""Import models from here. `people` comes first; `health` and `goals` rest on it."""

from clients.models.goals import Goal, GoalRating
from clients.models.health import Flag, FlagStatus, Submission
from clients.models.measures import Measurement
from clients.models.people import CareProfile, Client, OfClientQuerySet, Proportions, Touch, desk_marks

__all__ = [
    "CareProfile",
    "Client",
    "Flag",
    "FlagStatus",
    "Goal",
    "GoalRating",
    "Measurement",
    "OfClientQuerySet",
    "Proportions",
    "Submission",
    "Touch",
    "desk_marks",
]
