"""Import models from here."""

from library.models.apparatus import ApparatusUnit, Kind, SpringGrade, StudioSpring
from library.models.drafts import ExerciseDraft
from library.models.exercises import Exercise, ExerciseVersion, LibraryLoad
from library.models.rules import StudioRule, StudioRuleEnd, TableReview, TableReviewEnd, table_in_force
from library.models.sets import OfferedSet

__all__ = [
    "ApparatusUnit",
    "Exercise",
    "ExerciseDraft",
    "ExerciseVersion",
    "Kind",
    "LibraryLoad",
    "OfferedSet",
    "SpringGrade",
    "StudioRule",
    "StudioRuleEnd",
    "StudioSpring",
    "TableReview",
    "TableReviewEnd",
    "table_in_force",
]
