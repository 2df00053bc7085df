"""Import models from here. Plans, records and home practice hang on attendances (named by string)."""

from sessions.models.bookings import Attendance, Booking
from sessions.models.home_practice import CallBackClosed, Handout, HomePractice
from sessions.models.plans import Plan, PlanItem
from sessions.models.records import (
    STOP_FELT,
    Addition,
    Entry,
    EntrySide,
    Felt,
    Incident,
    IncidentNote,
    Quality,
    Range,
    Record,
)

__all__ = [
    "STOP_FELT",
    "Addition",
    "Attendance",
    "Booking",
    "CallBackClosed",
    "Entry",
    "EntrySide",
    "Felt",
    "Handout",
    "HomePractice",
    "Incident",
    "IncidentNote",
    "Plan",
    "PlanItem",
    "Quality",
    "Range",
    "Record",
]
