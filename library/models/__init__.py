"""Import models from here."""

from library.models.apparatus import ApparatusUnit, Kind, SpringGrade, StudioSpring
from library.models.exercises import Exercise, ExerciseVersion, LibraryLoad

__all__ = [
    "ApparatusUnit",
    "Exercise",
    "ExerciseVersion",
    "Kind",
    "LibraryLoad",
    "SpringGrade",
    "StudioSpring",
]
